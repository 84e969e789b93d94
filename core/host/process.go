package host

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/hashicorp/go-plugin/runner"
)

// endGrace is how long a plugin may take to end by itself, and then how long to
// disappear once it was killed.
const endGrace = 500 * time.Millisecond

// environment is all that a plugin is given besides what go-plugin needs. None
// of it is the user's. PATH, so that a script finds its interpreter; a fixed
// locale and time zone, so that the same input gives the same bytes everywhere.
func environment() []string {
	if runtime.GOOS == "windows" {
		return nil // os/exec adds SYSTEMROOT by itself
	}
	return []string{"PATH=/usr/local/bin:/usr/bin:/bin", "LC_ALL=C.UTF-8", "TZ=UTC"}
}

// process runs one plugin for go-plugin, in place of its own runner, which
// would share our standard input with the plugin and kill no more than one
// process.
type process struct {
	cmd    *exec.Cmd
	fork   func(func() error) error
	folder string // where its socket must be
	first  *firstLine
	stderr io.ReadCloser

	mu      sync.Mutex
	pid     int           // 0 until started
	killed  bool          // also before it was started
	done    chan struct{} // closed when it has ended
	end     string        // how, once done
	strange string        // why its address was refused; read once it has failed to start
}

var _ runner.Runner = (*process)(nil)

// newProcess prepares cmd. Its standard input is the null device: the pattern
// on ours is not for a plugin.
func newProcess(cmd *exec.Cmd, folder string, fork func(func() error) error) (*process, error) {
	cmd.Stdin = nil
	cmd.Dir = folder // not the user's folder
	ownGroup(cmd)
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	stderr, err := cmd.StderrPipe()
	if err != nil {
		return nil, err
	}
	return &process{
		cmd: cmd, fork: fork, folder: folder,
		first: &firstLine{source: stdout}, stderr: stderr, done: make(chan struct{}),
	}, nil
}

// Start starts the process.
func (p *process) Start(context.Context) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.killed {
		return context.Canceled
	}
	if err := p.fork(p.cmd.Start); err != nil {
		return err
	}
	p.pid = p.cmd.Process.Pid
	return nil
}

// Wait waits for the process to end. go-plugin calls it once, when both outputs
// have been read to their ends.
func (p *process) Wait(context.Context) error {
	err := p.cmd.Wait()
	killGroup(p.cmd) // what it has left behind; its number is not taken again so soon
	p.end = "exit status 0"
	if err != nil {
		p.end = err.Error()
	}
	close(p.done)
	return err
}

// ended reports how the process ended, waiting for that at most d.
func (p *process) ended(d time.Duration) (how string, ok bool) {
	if p.ID() == "" {
		return "", false
	}
	select {
	case <-p.done:
		return p.end, true
	case <-time.After(d):
		return "", false
	}
}

// Kill ends the process and those it has started.
func (p *process) Kill(context.Context) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.killed = true
	select {
	case <-p.done:
		return nil
	default:
	}
	if p.pid == 0 {
		return nil
	}
	return killGroup(p.cmd)
}

// abandon stops reading what the process writes. A child that has left the
// process group holds the outputs open after the plugin is dead.
func (p *process) abandon() {
	p.first.source.Close()
	p.stderr.Close()
}

// ID returns the process id, empty when there is none.
func (p *process) ID() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.pid == 0 {
		return ""
	}
	return strconv.Itoa(p.pid)
}

// Name returns the path of the executable.
func (p *process) Name() string { return p.cmd.Path }

// Stdout returns the handshake line.
func (p *process) Stdout() io.ReadCloser { return p.first }

// Stderr returns the standard error.
func (p *process) Stderr() io.ReadCloser { return p.stderr }

// Diagnose has nothing to say: startReason does.
func (p *process) Diagnose(context.Context) string { return "" }

// PluginToHost holds the address a plugin tells to what we asked for: a socket
// in the folder that is its own, or where there are none of those, this
// machine.
func (p *process) PluginToHost(network, address string) (string, string, error) {
	switch {
	case network == "unix" && filepath.Dir(filepath.Clean(address)) == filepath.Clean(p.folder):
		return network, address, nil
	case network == "tcp" && runtime.GOOS == "windows" && strings.HasPrefix(address, "127.0.0.1:"):
		return network, address, nil
	}
	p.strange = fmt.Sprintf("it listens at %s %s, not in the folder it was given", printable(network), printable(address))
	return "", "", errors.New(p.strange)
}

// HostToPlugin changes nothing.
func (p *process) HostToPlugin(network, address string) (string, string, error) {
	return network, address, nil
}

// maxFirstLine is the longest handshake line looked at, in bytes.
const maxFirstLine = 4096

// firstLine passes on the first line of a plugin's standard output, remembers
// it, and reads the rest to nowhere, so that no plugin blocks on rubbish that
// it prints, and none floods us.
type firstLine struct {
	source io.ReadCloser

	mu   sync.Mutex
	seen []byte
	over bool
}

// Read returns bytes up to the end of the first line; after it, it blocks until
// the output is closed.
func (f *firstLine) Read(b []byte) (int, error) {
	f.mu.Lock()
	over := f.over
	f.mu.Unlock()
	if over {
		if _, err := io.Copy(io.Discard, f.source); err != nil {
			return 0, err
		}
		return 0, io.EOF
	}
	n, err := f.source.Read(b)
	f.mu.Lock()
	defer f.mu.Unlock()
	if i := bytes.IndexByte(b[:n], '\n'); i >= 0 {
		n, f.over = i+1, true
	}
	f.seen = append(f.seen, b[:n]...)
	if len(f.seen) >= maxFirstLine && !f.over && n > 0 {
		b[n-1], f.over = '\n', true
	}
	if err != nil {
		f.over = true
	}
	return n, err
}

// Close closes the output.
func (f *firstLine) Close() error { return f.source.Close() }

// line returns the first line as far as it was written, and whether it came to
// its end.
func (f *firstLine) line() (string, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	return strings.TrimRight(string(f.seen), "\r\n"), f.over
}
