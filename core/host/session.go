package host

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/hashicorp/go-hclog"
	goplugin "github.com/hashicorp/go-plugin"
	"github.com/hashicorp/go-plugin/runner"
	"google.golang.org/grpc"

	"bygone.example/core/operation"
	"bygone.example/core/wire"
)

// Session is a set of plugins that run, one process each.
type Session struct {
	options Options
	dir     string
	plugins []*running // by name
	stop    func() bool
	unfork  func()
	closing sync.Once
}

// running is one plugin's process.
type running struct {
	found   Found
	about   wire.Description
	client  *goplugin.Client
	process *process // nil when it could not even be prepared
	line    *wire.Client
	stderr  *tail

	mu    sync.Mutex // held during a call: the contract promises one at a time
	fault *Fault     // once broken
	end   sync.Once
}

// Start starts the taken candidates together and asks each what it offers. If
// any fails, all are ended, and the error joins a *Fault for each that failed.
// Cancelling ctx, then or later, ends all at once; Close must still be called.
func Start(ctx context.Context, candidates []Found, options Options) (*Session, error) {
	s := &Session{options: options.withDefaults()}
	for _, f := range candidates {
		if f.Taken {
			s.plugins = append(s.plugins, &running{found: f, stderr: &tail{}})
		}
	}
	slices.SortFunc(s.plugins, func(a, b *running) int { return cmp.Compare(a.found.Name, b.found.Name) })
	for i := 1; i < len(s.plugins); i++ {
		if s.plugins[i].found.Name == s.plugins[i-1].found.Name {
			return nil, fmt.Errorf("plugin %s is to be started twice", s.plugins[i].found.Name)
		}
	}
	dir, err := socketDir(s.options.TempDir)
	if err != nil {
		return nil, fmt.Errorf("making a folder for the plugins' sockets: %w", err)
	}
	s.dir = dir
	var fork func(func() error) error
	fork, s.unfork = newForker()

	var wg sync.WaitGroup
	for _, r := range s.plugins {
		wg.Go(func() { r.fault = r.start(ctx, s.options, dir, fork) })
	}
	wg.Wait()
	s.stop = context.AfterFunc(ctx, s.kill)
	var faults []error
	for _, r := range s.plugins {
		if r.fault != nil {
			faults = append(faults, r.fault)
		}
	}
	if ctx.Err() != nil {
		faults = []error{context.Cause(ctx)}
	}
	if len(faults) > 0 {
		s.Close()
		return nil, errors.Join(faults...)
	}
	return s, nil
}

// maxSocketDir is how long the folder's path may be so that a socket in a
// folder in it fits the 104 bytes that systems have room for (unix(7)):
// go-plugin adds up to 42.
const maxSocketDir = 60

// socketDir makes a folder that only this user can enter.
func socketDir(in string) (string, error) {
	dir, err := os.MkdirTemp(in, "bygone-") // 0700
	if err != nil || len(dir) <= maxSocketDir {
		return dir, err
	}
	if short, err := os.MkdirTemp("/tmp", "bygone-"); err == nil {
		os.Remove(dir)
		return short, nil
	}
	return dir, nil
}

// bridge has go-plugin hand over the connection.
type bridge struct {
	goplugin.NetRPCUnsupportedPlugin
}

var _ goplugin.GRPCPlugin = bridge{}

// GRPCServer is the other end's business.
func (bridge) GRPCServer(*goplugin.GRPCBroker, *grpc.Server) error {
	return errors.New("the host serves nothing")
}

// GRPCClient returns a *wire.Client.
func (bridge) GRPCClient(_ context.Context, _ *goplugin.GRPCBroker, conn *grpc.ClientConn) (any, error) {
	return wire.NewClient(conn), nil
}

// start brings one plugin up; nil when it did.
func (r *running) start(ctx context.Context, o Options, dir string, fork func(func() error) error) *Fault {
	var late atomic.Bool
	fail := func(reason string, err error) *Fault {
		r.finish(0)
		return &Fault{Plugin: r.found.Name, Reason: reason, Stderr: r.stderr.last(), Err: err}
	}
	cmd := exec.Command(r.found.Path, r.found.Args...)
	cmd.Env = environment()
	prepared := make(chan struct{})
	r.client = goplugin.NewClient(&goplugin.ClientConfig{
		HandshakeConfig:  goplugin.HandshakeConfig{MagicCookieKey: wire.CookieKey, MagicCookieValue: wire.CookieValue},
		VersionedPlugins: map[int]goplugin.PluginSet{wire.ProtocolVersion: {wire.ServiceName: bridge{}}},
		AllowedProtocols: []goplugin.Protocol{goplugin.ProtocolGRPC},
		RunnerFunc: func(_ hclog.Logger, plain *exec.Cmd, folder string) (runner.Runner, error) {
			defer close(prepared)
			cmd.Env = append(cmd.Env, plain.Env...) // what go-plugin tells the other end
			p, err := newProcess(cmd, folder, fork)
			if err != nil {
				return nil, err
			}
			r.process = p
			return p, nil
		},
		SkipHostEnv:      true,
		UnixSocketConfig: &goplugin.UnixSocketConfig{TempDir: dir},
		StartTimeout:     o.StartTimeout + time.Second, // ours ends it first
		Stderr:           r.stderr.writer(),
		SyncStderr:       r.stderr.writer(),
		SyncStdout:       io.Discard,
		Logger:           hclog.New(&hclog.LoggerOptions{Level: hclog.Off, Output: io.Discard}),
		GRPCDialOptions: []grpc.DialOption{grpc.WithDefaultCallOptions(
			grpc.MaxCallRecvMsgSize(wire.MaxMessage), grpc.MaxCallSendMsgSize(wire.MaxMessage))},
	})
	defer time.AfterFunc(o.StartTimeout, func() {
		late.Store(true)
		<-prepared
		r.kill()
	}).Stop()
	defer context.AfterFunc(ctx, func() {
		<-prepared
		r.kill()
	})()

	protocol, err := r.client.Client()
	if err != nil {
		return fail(startReason(r.process, o.StartTimeout, late.Load(), err), err)
	}
	raw, err := protocol.Dispense(wire.ServiceName)
	if err != nil {
		return fail("it could not be spoken to: "+printable(err.Error()), err)
	}
	r.line = raw.(*wire.Client)
	about, err := r.line.Describe(ctx)
	if err != nil {
		reason := callReason(err, r.process, o.StartTimeout)
		if late.Load() {
			reason = fmt.Sprintf("it did not say what it offers within %v", o.StartTimeout)
		}
		return fail("asked what it offers: "+reason, err)
	}
	if about.Name != r.found.Name {
		return fail(fmt.Sprintf("it calls itself %s: its file would have to be called %s%s", about.Name, Prefix, about.Name), nil)
	}
	r.about = about
	return nil
}

// kill ends the plugin's processes without waiting.
func (r *running) kill() {
	if r.process != nil {
		r.process.Kill(context.Background())
	}
}

// finish ends the plugin and waits until it is gone and all it has written is
// read, giving it grace to end by itself.
func (r *running) finish(grace time.Duration) {
	r.end.Do(func() {
		if r.client == nil {
			return
		}
		if grace == 0 {
			r.kill()
		}
		gone := make(chan struct{})
		go func() {
			r.client.Kill()
			close(gone)
		}()
		steps := []func(){
			r.kill,
			func() { // something holds its outputs open
				if r.process != nil {
					r.process.abandon()
				}
			},
		}
		for _, step := range steps {
			select {
			case <-gone:
				return
			case <-time.After(endGrace):
				step()
			}
		}
		select {
		case <-gone:
		case <-time.After(endGrace): // it has been killed; there is no more to do
		}
	})
}

// kill ends all processes without waiting.
func (s *Session) kill() {
	for _, r := range s.plugins {
		r.kill()
	}
}

// Close ends all plugins, waits until they are gone, and removes their
// folder. It is safe to call more than once.
func (s *Session) Close() {
	s.closing.Do(func() {
		s.stop()
		var wg sync.WaitGroup
		for _, r := range s.plugins {
			wg.Go(func() { r.finish(endGrace) })
		}
		wg.Wait()
		s.unfork()
		os.RemoveAll(s.dir)
	})
}

// Specs returns what each plugin offers, sorted by name.
func (s *Session) Specs() []Described {
	list := make([]Described, len(s.plugins))
	for i, r := range s.plugins {
		list[i] = Described{r.found, r.about}
	}
	return list
}

// Apply runs an operation of a plugin. A *operation.Refusal is the maker's to
// act on. A *Fault means that the plugin broke; it is then ended, and every
// later call gives the same fault. Other errors mean that the request could
// not be sent, or that ctx is done.
func (s *Session) Apply(ctx context.Context, plugin, op string, request *operation.Request) (*operation.Answer, error) {
	var answer *operation.Answer
	err := s.call(ctx, plugin, op, func(ctx context.Context, line *wire.Client) (err error) {
		answer, err = line.Apply(ctx, op, request)
		return err
	})
	if err != nil {
		return nil, err
	}
	return answer, nil
}

// Survey asks a plugin for tells, with errors as for Apply.
func (s *Session) Survey(ctx context.Context, plugin string, request *operation.SurveyRequest) ([]operation.Tell, error) {
	var tells []operation.Tell
	err := s.call(ctx, plugin, "", func(ctx context.Context, line *wire.Client) (err error) {
		tells, err = line.Survey(ctx, request)
		return err
	})
	return tells, err
}

func (s *Session) call(ctx context.Context, plugin, op string, do func(context.Context, *wire.Client) error) error {
	i, ok := slices.BinarySearchFunc(s.plugins, plugin, func(r *running, name string) int { return cmp.Compare(r.found.Name, name) })
	if !ok {
		return fmt.Errorf("plugin %s was not started", plugin)
	}
	r := s.plugins[i]
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.fault != nil {
		return r.fault
	}
	limited, cancel := context.WithTimeout(ctx, s.options.CallTimeout)
	defer cancel()
	err := do(limited, r.line)
	if err == nil {
		return nil
	}
	if _, ok := errors.AsType[*operation.Refusal](err); ok {
		return err
	}
	if unsendable, ok := errors.AsType[*wire.Unsendable](err); ok {
		return fmt.Errorf("plugin %s, operation %s: the request %w", plugin, op, unsendable)
	}
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	reason := callReason(err, r.process, s.options.CallTimeout)
	r.finish(0)
	r.fault = &Fault{Plugin: plugin, Operation: op, Reason: reason, Stderr: r.stderr.last(), Err: err}
	return r.fault
}
