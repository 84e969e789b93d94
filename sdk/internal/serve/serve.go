// Package serve is the plugin's end of the line: the gRPC service over a
// declared plugin, and the process that serves it.
package serve

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"sync"

	"github.com/hashicorp/go-hclog"
	goplugin "github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
	"bygone.example/core/wire"
)

// Plugin serves p until the program that started this process is done. Stacks
// of panics go to stderr.
//
// go-plugin puts pipes in place of os.Stdout and os.Stderr. The first is well:
// what an operation prints there is thrown away. The second would lose the last
// words of a plugin that ends itself, so it is put back.
func Plugin(p *operation.Plugin, stderr io.Writer) {
	own := os.Stderr
	goplugin.Serve(&goplugin.ServeConfig{
		HandshakeConfig: goplugin.HandshakeConfig{MagicCookieKey: wire.CookieKey, MagicCookieValue: wire.CookieValue},
		VersionedPlugins: map[int]goplugin.PluginSet{
			wire.ProtocolVersion: {wire.ServiceName: &bridge{service: &service{plugin: p, stderr: stderr, ready: func() { os.Stderr = own }}}},
		},
		GRPCServer: func(options []grpc.ServerOption) *grpc.Server { return grpc.NewServer(append(options, Limits()...)...) },
		Logger:     hclog.New(&hclog.LoggerOptions{Level: hclog.Off, Output: io.Discard}),
	})
}

// Limits are the options a server of the contract needs: gRPC's own limit on
// what it receives is 4 MiB, less than a large pattern.
func Limits() []grpc.ServerOption {
	return []grpc.ServerOption{grpc.MaxRecvMsgSize(wire.MaxMessage), grpc.MaxSendMsgSize(wire.MaxMessage)}
}

// bridge hands the service to go-plugin.
type bridge struct {
	goplugin.NetRPCUnsupportedPlugin
	service pluginv1.PluginServiceServer
}

var _ goplugin.GRPCPlugin = (*bridge)(nil)

// GRPCServer registers the service.
func (b *bridge) GRPCServer(_ *goplugin.GRPCBroker, s *grpc.Server) error {
	pluginv1.RegisterPluginServiceServer(s, b.service)
	return nil
}

// GRPCClient is the other end's business.
func (*bridge) GRPCClient(context.Context, *goplugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, errors.New("a plugin does not call itself")
}

// New returns the service over p.
func New(p *operation.Plugin, stderr io.Writer) pluginv1.PluginServiceServer {
	return &service{plugin: p, stderr: stderr, ready: func() {}}
}

type service struct {
	pluginv1.UnimplementedPluginServiceServer
	plugin *operation.Plugin
	stderr io.Writer
	ready  func() // called before the first answer
	once   sync.Once
}

// Describe tells what was declared.
func (s *service) Describe(context.Context, *pluginv1.DescribeRequest) (*pluginv1.DescribeResponse, error) {
	s.once.Do(s.ready)
	m, err := wire.EncodeDescription(s.plugin)
	if err != nil {
		return nil, status.Error(codes.Internal, err.Error())
	}
	return m, nil
}

// Apply runs one operation.
func (s *service) Apply(ctx context.Context, m *pluginv1.ApplyRequest) (_ *pluginv1.ApplyResponse, err error) {
	defer s.guard("operation "+m.GetOperation(), &err)
	name, request, err := wire.DecodeRequest(m)
	if err != nil {
		return nil, status.Error(codes.InvalidArgument, err.Error())
	}
	var op *operation.Operation
	for _, o := range s.plugin.Operations {
		if o.Name == name {
			op = o
		}
	}
	if op == nil {
		return nil, status.Errorf(codes.NotFound, "there is no operation %s", name)
	}
	answer, err := op.Apply(ctx, request)
	if refusal, ok := errors.AsType[*operation.Refusal](err); ok {
		return wire.EncodeRefusal(refusal), nil
	}
	if err != nil {
		return nil, status.Error(codes.Unknown, err.Error())
	}
	if answer != nil && answer.Pattern != nil && len(answer.Lineage) == 0 {
		return nil, status.Error(codes.Internal, "the answer has no lineage, which says where each of its edges came from; where all stayed as they were it is pattern.Same")
	}
	response, err := wire.EncodeAnswer(answer)
	if err != nil {
		return nil, status.Error(codes.Internal, "the answer cannot be sent: "+err.Error())
	}
	return response, nil
}

// Survey looks for tells; a plugin that declares no survey knows none.
func (s *service) Survey(ctx context.Context, m *pluginv1.SurveyRequest) (_ *pluginv1.SurveyResponse, err error) {
	defer s.guard("survey", &err)
	request, err := wire.DecodeSurvey(m)
	if err != nil {
		return nil, status.Error(codes.InvalidArgument, err.Error())
	}
	if s.plugin.Survey == nil {
		return &pluginv1.SurveyResponse{}, nil
	}
	tells, err := s.plugin.Survey(ctx, request)
	if err != nil {
		return nil, status.Error(codes.Unknown, err.Error())
	}
	response, err := wire.EncodeTells(tells)
	if err != nil {
		return nil, status.Error(codes.Internal, "the answer cannot be sent: "+err.Error())
	}
	return response, nil
}

// guard turns a panic into a status, and tells stderr where it was. What
// panicked comes last there, because the host shows the last lines; it shows
// few, so that only the plugin's own part of the stack is told.
func (s *service) guard(doing string, err *error) {
	caught := recover()
	if caught == nil {
		return
	}
	fmt.Fprintf(s.stderr, "%spanic in plugin %s, %s: %v\n", stack(), s.plugin.Name, doing, caught)
	*err = status.Errorf(codes.Internal, "panic: %v", caught)
}

// maxFrames of a panic's stack are told, the innermost: the host keeps twelve
// lines.
const maxFrames = 10

// stack is where a panic came from, innermost first, a line for each call from
// the plugin's operation on; called by the function that has recovered.
func stack() string {
	counters := make([]uintptr, 64)
	frames := runtime.CallersFrames(counters[:runtime.Callers(1, counters)])
	var lines []string
	inPanic := false
	for len(lines) < maxFrames {
		frame, more := frames.Next()
		ours := strings.Contains(frame.Function, "/sdk/internal/serve.")
		if ours && inPanic {
			break
		}
		if strings.HasPrefix(frame.Function, "runtime.") {
			inPanic = true
		} else if inPanic {
			lines = append(lines, fmt.Sprintf("at %s (%s:%d)\n", frame.Function, frame.File, frame.Line))
		}
		if !more {
			break
		}
	}
	return strings.Join(lines, "")
}
