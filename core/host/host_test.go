package host_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/geom"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/hostile"
)

// TestMain makes this test binary each of the hostile plugins, and a host that
// waits to be killed.
func TestMain(m *testing.M) {
	if len(os.Args) == 3 && os.Args[1] == host.HouseArgument {
		hostile.Main(os.Args[2])
	}
	if len(os.Args) == 2 && os.Args[1] == victimArgument {
		beVictim()
	}
	os.Exit(m.Run())
}

// victimArgument makes the test binary a host that starts a plugin and waits to
// be killed.
const victimArgument = "be-the-victim"

func beVictim() {
	self, err := os.Executable()
	if err == nil {
		found := host.Discover(host.Search{
			House: []string{hostile.Good, hostile.Hangs}, HouseCommand: host.Command{Path: self, Args: []string{host.HouseArgument}},
		})
		_, err = host.Start(context.Background(), found, host.Options{})
	}
	if err != nil {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
	fmt.Println("started")
	time.Sleep(time.Minute)
}

func candidates(t testing.TB, names ...string) []host.Found {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return host.Discover(host.Search{House: names, HouseCommand: host.Command{Path: self, Args: []string{host.HouseArgument}}})
}

func start(t testing.TB, o host.Options, names ...string) *host.Session {
	t.Helper()
	s, err := host.Start(t.Context(), candidates(t, names...), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s
}

func square(name string) pattern.Piece {
	a, b, c, d := geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 100), geom.Pt(0, 100)
	return pattern.Piece{
		Name: name, Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			{Name: "hem", Path: geom.Polyline(a, b), Finish: pattern.Hemmed},
			{Name: "side", Path: geom.Path{geom.Cubic(b, geom.Pt(110, 30), geom.Pt(110, 60), c)}},
			{Name: "waist", Path: geom.Polyline(c, d), Finish: pattern.Open},
			{Name: "centre", Path: geom.Polyline(d, a), Finish: pattern.Fold},
		},
	}
}

func twoSquares() *pattern.Pattern {
	return &pattern.Pattern{
		Name:   "squares",
		Pieces: []pattern.Piece{square("front"), square("back")},
		Seams: []pattern.Seam{{
			Name: "side", A: pattern.Run{{Piece: "front", Edge: "side"}}, B: pattern.Run{{Piece: "back", Edge: "side"}},
			Meeting: pattern.Meeting{Kind: pattern.Plain},
		}},
	}
}

func request() *operation.Request { return &operation.Request{Pattern: twoSquares()} }

func TestApply(t *testing.T) {
	s := start(t, host.Options{}, hostile.Good, hostile.RubbishDuring)
	for _, d := range s.Specs() {
		if len(d.Operations) != 1 || d.Operations[0].Name != hostile.Operation {
			t.Errorf("%s offers %v", d.Name, d.Operations)
		}
		for range 2 {
			answer, err := s.Apply(t.Context(), d.Name, hostile.Operation, request())
			if err != nil {
				t.Fatalf("%s: %v", d.Name, err)
			}
			if diff := cmp.Diff(twoSquares(), answer.Pattern); diff != "" {
				t.Errorf("%s changed the pattern:\n%s", d.Name, diff)
			}
			if diff := cmp.Diff(pattern.Same(twoSquares()), answer.Lineage); diff != "" {
				t.Errorf("%s: lineage:\n%s", d.Name, diff)
			}
		}
	}
	tells, err := s.Survey(t.Context(), hostile.Good, &operation.SurveyRequest{Pattern: twoSquares(), Look: operation.Look{Name: "high-waist"}})
	if err != nil || len(tells) != 0 {
		t.Errorf("Survey = %v, %v, want nothing", tells, err)
	}
}

// What a pattern says that is unsound but within bounds comes through: the
// chain checks it.
func TestUnsoundComesThrough(t *testing.T) {
	names := []string{hostile.Crossing, hostile.UnknownName, hostile.LostLineage}
	s := start(t, host.Options{}, names...)
	for _, name := range names {
		a, err := s.Apply(t.Context(), name, hostile.Operation, request())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if sound := len(a.Pattern.Validate()) == 0 && len(a.Lineage) == len(pattern.Same(a.Pattern)); sound {
			t.Errorf("%s does nothing wrong: the fixture is of no use", name)
		}
	}
}

func TestRefusal(t *testing.T) {
	s := start(t, host.Options{}, hostile.Refuses)
	for range 2 { // it stays alive
		_, err := s.Apply(t.Context(), hostile.Refuses, hostile.Operation, request())
		refusal, ok := errors.AsType[*operation.Refusal](err)
		if !ok {
			t.Fatalf("error is %T (%v), want a refusal", err, err)
		}
		if want := (operation.Refusal{Why: "the pattern has no sleeve", Instead: "add one first"}); *refusal != want {
			t.Errorf("refusal = %+v, want %+v", *refusal, want)
		}
	}
}

func TestFaultInCall(t *testing.T) {
	for _, test := range []struct {
		name string
		want []string // all in the message
		last string   // line of standard error, if any
	}{
		{hostile.Fails, []string{"it broke: the moon is full"}, ""},
		{hostile.Panics, []string{"it broke: panic: no piece 2"}, "panic in plugin panics, operation run: no piece 2"},
		{hostile.PanicsApart, []string{"its process ended in the middle of the call (exit status 2)", "panic: apart from the call"}, ""},
		{hostile.Hangs, []string{"it gave no answer within 1s"}, ""},
		{hostile.Killed, []string{"its process ended in the middle of the call (signal: killed)"}, ""},
		{hostile.Exits, []string{"its process ended in the middle of the call (exit status 3)"}, "out of thread"},
		{hostile.NaN, []string{"its answer breaks the contract: answer: answer.pattern.pieces[0].edges[0].path.numbers[2] is NaN, not a finite number"}, ""},
		{hostile.ControlText, []string{"answer.cautions[0] holds the control character U+001B"}, ""},
		{hostile.Oversize, []string{"its answer is larger than the 64 MiB"}, ""},
		{hostile.ManyParts, []string{"its answer breaks the contract", "more than 1000000 messages and texts"}, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := start(t, host.Options{CallTimeout: limitFor(test.name)}, test.name)
			_, err := s.Apply(t.Context(), test.name, hostile.Operation, request())
			fault, ok := errors.AsType[*host.Fault](err)
			if !ok {
				t.Fatalf("error is %T (%v), want a fault", err, err)
			}
			if fault.Plugin != test.name || fault.Operation != hostile.Operation {
				t.Errorf("fault is laid at %s.%s", fault.Plugin, fault.Operation)
			}
			for _, want := range append(test.want, "plugin "+test.name+", operation run: ") {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("%q does not say %q", err, want)
				}
			}
			if test.last != "" && (len(fault.Stderr) == 0 || fault.Stderr[len(fault.Stderr)-1] != test.last) {
				t.Errorf("standard error ends %q, want %q", fault.Stderr, test.last)
			}
			if _, again := s.Apply(t.Context(), test.name, hostile.Operation, request()); again != err {
				t.Errorf("the next call gives %v, want the same fault", again)
			}
		})
	}
}

// limitFor is short for what hangs, and long for what is slow on a busy
// machine.
func limitFor(name string) time.Duration {
	if name == hostile.Hangs {
		return time.Second
	}
	return time.Minute
}

func TestFaultAtStart(t *testing.T) {
	for _, test := range []struct{ name, want string }{
		{hostile.HangsAtStart, "it did not start within 2s"},
		{hostile.Deaf, "it did not"},
		{hostile.ExitsAtStart, "its process ended before it could be spoken to (exit status 4)\nits last lines on standard error:\n  | no licence to sew"},
		{hostile.RubbishBefore, `it wrote "Welcome to the best plugin![31m" to standard output before the handshake`},
		{hostile.OldProtocol, "it speaks version 0 of the plugin contract, this program version 1: get a newer plugin"},
		{hostile.NewProtocol, "it speaks version 99 of the plugin contract, this program version 1: update this program"},
		{hostile.WrongName, "it calls itself somebody-else"},
		{hostile.ElsewhereLine, "not in the folder it was given"},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			began := time.Now()
			s, err := host.Start(t.Context(), candidates(t, test.name, hostile.Good), host.Options{StartTimeout: 2 * time.Second})
			if err == nil {
				s.Close()
				t.Fatal("it started")
			}
			fault, ok := errors.AsType[*host.Fault](err)
			if !ok {
				t.Fatalf("error is %T (%v), want a fault", err, err)
			}
			if fault.Plugin != test.name || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %q, want plugin %s: %s", err, test.name, test.want)
			}
			if took := time.Since(began); took > 8*time.Second {
				t.Errorf("took %v", took)
			}
		})
	}
}

// All that fail to start are told of at once.
func TestFaultsTogether(t *testing.T) {
	_, err := host.Start(t.Context(), candidates(t, hostile.ExitsAtStart, hostile.OldProtocol, hostile.Good), host.Options{})
	if err == nil {
		t.Fatal("it started")
	}
	for _, name := range []string{hostile.ExitsAtStart, hostile.OldProtocol} {
		if !strings.Contains(err.Error(), "plugin "+name+": ") {
			t.Errorf("%q does not tell of %s", err, name)
		}
	}
}

func TestFloodIsBounded(t *testing.T) {
	s := start(t, host.Options{CallTimeout: time.Minute}, hostile.FloodsStderr)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := s.Apply(t.Context(), hostile.FloodsStderr, hostile.Operation, request())
	runtime.ReadMemStats(&after)
	fault, ok := errors.AsType[*host.Fault](err)
	if !ok || !strings.Contains(fault.Reason, "exit status 7") {
		t.Fatalf("error is %T (%v), want exit status 7", err, err)
	}
	size := len(strings.Join(fault.Stderr, "\n"))
	if len(fault.Stderr) == 0 || size > 4096 {
		t.Errorf("%d bytes of standard error were kept", size)
	}
	if grown := int64(after.HeapInuse) - int64(before.HeapInuse); grown > 32<<20 {
		t.Errorf("the heap grew by %d bytes", grown)
	}
}

// A plugin sees none of our environment, our folder or our standard input.
func TestEnvironmentIsEmptied(t *testing.T) {
	t.Setenv("SECRET", "of ours")
	s := start(t, host.Options{}, hostile.Nosy)
	_, err := s.Apply(t.Context(), hostile.Nosy, hostile.Operation, request())
	refusal, ok := errors.AsType[*operation.Refusal](err)
	if !ok {
		t.Fatal(err)
	}
	if refusal.Why != "environment BYGONE_PLUGIN LC_ALL PATH PLUGIN_MAX_PORT PLUGIN_MIN_PORT PLUGIN_PROTOCOL_VERSIONS PLUGIN_UNIX_SOCKET_DIR TZ" {
		t.Errorf("it sees %s", refusal.Why)
	}
	if refusal.Instead != "input 0 bytes, folder 0700" {
		t.Errorf("it sees %s", refusal.Instead)
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancelCause(t.Context())
	s, err := host.Start(ctx, candidates(t, hostile.Hangs, hostile.Good), host.Options{})
	if err != nil {
		t.Fatal(err)
	}
	why := errors.New("the maker pressed Ctrl-C")
	time.AfterFunc(100*time.Millisecond, func() { cancel(why) })
	began := time.Now()
	if _, err = s.Apply(ctx, hostile.Hangs, hostile.Operation, request()); !errors.Is(err, why) {
		t.Errorf("error is %v, want %v", err, why)
	}
	s.Close()
	s.Close() // again is no harm
	if took := time.Since(began); took > 3*time.Second {
		t.Errorf("took %v to end", took)
	}
	if _, err := host.Start(ctx, candidates(t, hostile.Good), host.Options{}); !errors.Is(err, why) {
		t.Errorf("start after the end: %v", err)
	}
}

func TestSocketFolderIsRemoved(t *testing.T) {
	dir := t.TempDir()
	s, err := host.Start(t.Context(), candidates(t, hostile.Killed, hostile.Good), host.Options{TempDir: short(t, dir)})
	if err != nil {
		t.Fatal(err)
	}
	s.Apply(t.Context(), hostile.Killed, hostile.Operation, request())
	s.Close()
	if left, _ := os.ReadDir(short(t, dir)); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// short stands in for a folder whose path would leave no room for a socket's.
func short(t *testing.T, dir string) string {
	t.Helper()
	link := fmt.Sprintf("%s/bygone-test-%d", os.TempDir(), os.Getpid())
	if err := os.Symlink(dir, link); err != nil && !errors.Is(err, os.ErrExist) {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Remove(link) })
	return link
}

func TestLongTempDir(t *testing.T) {
	dir := t.TempDir() + "/" + strings.Repeat("long", 25)
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	s, err := host.Start(t.Context(), candidates(t, hostile.Good), host.Options{TempDir: dir})
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	if left, _ := os.ReadDir(dir); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestNotAnExecutable(t *testing.T) {
	path := t.TempDir() + "/" + host.Prefix + "text"
	if err := os.WriteFile(path, []byte("I am a text.\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	_, err := host.Start(t.Context(), host.Discover(host.Search{Files: []string{path}}), host.Options{})
	if err == nil || !strings.Contains(err.Error(), "plugin text: it could not be started: ") {
		t.Errorf("error is %v", err)
	}
}

// What the contract has no room for is not the plugin's fault.
func TestUnsendable(t *testing.T) {
	s := start(t, host.Options{}, hostile.Good)
	for _, test := range []struct {
		spoil func(*operation.Request)
		want  string
	}{
		{func(q *operation.Request) {
			for i := range 501 {
				q.Pattern.Pieces = append(q.Pattern.Pieces, square(fmt.Sprintf("p%d", i)))
			}
		}, "503 pieces, more than the 500 a plugin is sent"},
		{func(q *operation.Request) { q.Pattern.Title = strings.Repeat("a", 201) }, "pattern.title has 201 bytes, more than 200"},
		{func(q *operation.Request) { q.Pattern.Pieces[0].Edges[0].Path[0].P1.X = math.NaN() }, "is NaN, not a finite number"},
	} {
		q := request()
		test.spoil(q)
		_, err := s.Apply(t.Context(), hostile.Good, hostile.Operation, q)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error is %v, want %s", err, test.want)
		}
		if _, ok := errors.AsType[*host.Fault](err); ok {
			t.Errorf("the plugin is blamed: %v", err)
		}
	}
	if _, err := s.Apply(t.Context(), hostile.Good, hostile.Operation, request()); err != nil {
		t.Errorf("the plugin does not work any more: %v", err)
	}
}

// A pattern larger than gRPC's own limit of 4 MiB passes both ways.
func TestLargePattern(t *testing.T) {
	s := start(t, host.Options{CallTimeout: time.Minute}, hostile.Good)
	p := &pattern.Pattern{Name: "large"}
	for i := range 12 {
		piece := square(fmt.Sprintf("p%d", i))
		path := make(geom.Path, 10_000)
		at := geom.Pt(100, 0)
		for j := range path {
			next := geom.Pt(100, 100*float64(j+1)/float64(len(path)))
			path[j] = geom.Cubic(at, at, next, next)
			at = next
		}
		piece.Edges[1].Path = path
		p.Pieces = append(p.Pieces, piece)
	}
	answer, err := s.Apply(t.Context(), hostile.Good, hostile.Operation, &operation.Request{Pattern: p})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p.Pieces[11].Edges[1].Path, answer.Pattern.Pieces[11].Edges[1].Path); diff != "" {
		t.Errorf("it did not come back the same:\n%s", diff)
	}
}

// Cancelling ends a start that hangs, at once.
func TestCancelStart(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(200*time.Millisecond, cancel)
	began := time.Now()
	_, err := host.Start(ctx, candidates(t, hostile.HangsAtStart, hostile.Deaf, hostile.Good), host.Options{StartTimeout: time.Minute})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v", err)
	}
	if took := time.Since(began); took > 3*time.Second {
		t.Errorf("took %v", took)
	}
}
