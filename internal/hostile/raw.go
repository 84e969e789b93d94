package hostile

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"

	"github.com/hashicorp/go-hclog"
	goplugin "github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"

	patternv1 "bygone.example/proto/gen/bygone/pattern/v1"
	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/wire"
)

// serveRaw serves without the SDK, which would not do such things: any protocol
// version, and an answer of any size.
func serveRaw(name string, version int, answer func(*pluginv1.ApplyRequest) *pluginv1.ApplyResponse) {
	goplugin.Serve(&goplugin.ServeConfig{
		HandshakeConfig:  goplugin.HandshakeConfig{MagicCookieKey: wire.CookieKey, MagicCookieValue: wire.CookieValue},
		VersionedPlugins: map[int]goplugin.PluginSet{version: {wire.ServiceName: &bridge{service: &service{name: name, answer: answer}}}},
		GRPCServer: func(options []grpc.ServerOption) *grpc.Server {
			return grpc.NewServer(append(options, grpc.MaxRecvMsgSize(math.MaxInt32), grpc.MaxSendMsgSize(math.MaxInt32))...)
		},
		Logger: hclog.New(&hclog.LoggerOptions{Level: hclog.Off, Output: io.Discard}),
	})
}

type bridge struct {
	goplugin.NetRPCUnsupportedPlugin
	service pluginv1.PluginServiceServer
}

// GRPCServer registers the service.
func (b *bridge) GRPCServer(_ *goplugin.GRPCBroker, s *grpc.Server) error {
	pluginv1.RegisterPluginServiceServer(s, b.service)
	return nil
}

// GRPCClient is not used.
func (*bridge) GRPCClient(context.Context, *goplugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, errors.New("no client here")
}

type service struct {
	pluginv1.UnimplementedPluginServiceServer
	name   string
	answer func(*pluginv1.ApplyRequest) *pluginv1.ApplyResponse
}

// Describe offers the one operation.
func (s *service) Describe(context.Context, *pluginv1.DescribeRequest) (*pluginv1.DescribeResponse, error) {
	return wire.EncodeDescription(declare(s.name, nil))
}

// Apply answers as it was told to.
func (s *service) Apply(_ context.Context, m *pluginv1.ApplyRequest) (*pluginv1.ApplyResponse, error) {
	return s.answer(m), nil
}

func altered(m *pluginv1.ApplyRequest) (*pluginv1.ApplyResponse, *pluginv1.Altered) {
	a := &pluginv1.Altered{Pattern: m.GetPattern()}
	return &pluginv1.ApplyResponse{Outcome: &pluginv1.ApplyResponse_Altered{Altered: a}}, a
}

// oversize pads the first edge's numbers to above the message limit.
func oversize(m *pluginv1.ApplyRequest) *pluginv1.ApplyResponse {
	response, a := altered(m)
	path := a.GetPattern().GetPieces()[0].GetEdges()[0].GetPath()
	path.Numbers = append(path.Numbers, make([]float64, wire.MaxMessage/8)...)
	return response
}

// manyParts sends two million empty pieces: four megabytes that would take
// hundreds to hold.
func manyParts(m *pluginv1.ApplyRequest) *pluginv1.ApplyResponse {
	response, a := altered(m)
	empty := &patternv1.Piece{}
	for range 2 * wire.MaxParts {
		a.GetPattern().Pieces = append(a.GetPattern().Pieces, empty)
	}
	return response
}

// handshake opens a socket in dir, tells its address as go-plugin would, and
// never accepts a connection there.
func handshake(dir string) {
	path := filepath.Join(dir, fmt.Sprintf("deaf%d", os.Getpid()))
	if _, err := net.Listen("unix", path); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Printf("1|%d|unix|%s|grpc|\n", wire.ProtocolVersion, path)
}

// longEnough outlives any test, and no machine.
const longEnough = 10 * time.Minute

func sleep() { time.Sleep(longEnough) }

// leaveChild starts a process that holds our outputs open, and writes its
// number to standard error.
func leaveChild(runaway bool) {
	cmd := exec.Command("sleep", strconv.Itoa(int(longEnough.Seconds())))
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	if runaway {
		runAway(cmd)
	}
	if err := cmd.Start(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Fprintf(os.Stderr, "child %d\n", cmd.Process.Pid)
}
