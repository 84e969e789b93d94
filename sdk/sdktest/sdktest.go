// Package sdktest tests a plugin the way the host will treat it: over gRPC, in
// memory, with every answer taken for a stranger's.
//
//	func TestContract(t *testing.T) { sdktest.Plugin(t, plugin) }
//
//	func TestRaise(t *testing.T) {
//		sdktest.Case{
//			Plugin: plugin, Operation: "raise", Pattern: "testdata/bodice.yaml",
//			Params: map[string]string{"by": "64mm"}, Golden: "testdata/raised.yaml",
//		}.Run(t)
//	}
//
// The package defines the flag -update, which writes golden files anew; look at
// what it wrote before you keep it.
package sdktest

import (
	"context"
	"errors"
	"flag"
	"net"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/core/wire"
	"bygone.example/internal/stock"
	"bygone.example/sdk"
	"bygone.example/sdk/internal/serve"
)

var update = flag.Bool("update", false, "write golden files anew")

// body is somebody to try on: invented, near the middle of women's sizes, and
// round in its numbers.
var body = wearer.Wearer{Name: "nobody", Measures: map[wearer.Measure]float64{
	wearer.Height: 1680, wearer.BustGirth: 920, wearer.UnderBust: 800, wearer.WaistGirth: 740, wearer.HipGirth: 980,
	wearer.NeckGirth: 370, wearer.BackLength: 410, wearer.FrontLength: 430, wearer.BackWidth: 350, wearer.ShoulderLen: 125,
	wearer.UpperArm: 290, wearer.ArmLength: 590, wearer.WaistHeight: 1050, wearer.WristGirth: 165,
}}

// Plugin runs the contract on a plugin:
//
//  1. sdk.Validate has nothing to say.
//  2. Over the line it describes itself as it was declared.
//  3. Each operation, with its defaults, on each of the patterns, for a wearer
//     who was measured and for one who was not, either refuses or answers; it
//     does not break.
//  4. It answers the same when asked again.
//  5. It does not change the patterns it is given.
//  6. The pattern that it answers with is sound (pattern.Validate), and its
//     lineage adds up (Lineage.Check).
//  7. A survey keeps to rules 3 to 5, and names pieces and edges that are there.
//
// Without patterns the operations are tried on the house's stock dress. It is
// also the other pattern that an operation is given which looks at one. An
// operation that refuses everything passes: what it does is for a Case.
func Plugin(t *testing.T, p *sdk.Plugin, patterns ...*sdk.Pattern) {
	t.Helper()
	for _, fault := range contract(t, p, patterns) {
		t.Error(fault)
	}
}

// connect serves the plugin in memory. What it writes when it panics goes to
// the test's log.
func connect(t testing.TB, p *sdk.Plugin) *wire.Client {
	t.Helper()
	listener := bufconn.Listen(1 << 20)
	server := grpc.NewServer(serve.Limits()...)
	pluginv1.RegisterPluginServiceServer(server, serve.New(p, testLog{t}))
	go server.Serve(listener)
	conn, err := grpc.NewClient("passthrough:///plugin", grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return listener.DialContext(ctx) }))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		conn.Close()
		server.Stop()
	})
	return wire.NewClient(conn)
}

type testLog struct{ t testing.TB }

func (l testLog) Write(b []byte) (int, error) {
	l.t.Log(string(b))
	return len(b), nil
}

// Case is one run of an operation and what is expected of it.
type Case struct {
	// Plugin and Operation are Required.
	Plugin    *sdk.Plugin
	Operation string
	// Pattern is a pattern file; On is a pattern, in its place. With neither,
	// it is the house's stock dress.
	Pattern string
	On      *sdk.Pattern
	// Params are values as a chain writes them; the others have their defaults.
	Params map[string]string
	// Others are the other patterns that the chain lists, by name; Optional. A
	// parameter that defaults to sdk.Only takes the only one.
	Others map[string]*sdk.Pattern
	// Wearer is Optional.
	Wearer sdk.Wearer
	// Refusal, if not empty, is what the operation must refuse with.
	Refusal string
	// Golden, if not empty, is the file of the pattern that must come of it.
	Golden string
	// Check, if not nil, looks at the answer.
	Check func(t *testing.T, before *sdk.Pattern, answer *sdk.Answer)
}

// Run runs the case over the line and through the checks of Plugin.
func (c Case) Run(t *testing.T) {
	t.Helper()
	before := c.On
	if before == nil {
		before = load(t, c.Pattern)
	}
	op := find(c.Plugin, c.Operation)
	if op == nil {
		t.Fatalf("plugin %s has no operation %s", c.Plugin.Name, c.Operation)
	}
	values, err := valuesOf(op, c.Params)
	if err != nil {
		t.Fatal(err)
	}
	others, err := othersOf(values, c.Others)
	if err != nil {
		t.Fatal(err)
	}
	tr := &trial{line: connect(t, c.Plugin), op: op, before: before, others: others, values: values, wearer: c.Wearer}
	answer, err := tr.run(t.Context())
	if refusal, ok := errors.AsType[*operation.Refusal](err); ok {
		if c.Refusal == "" {
			t.Fatalf("refused: %v", refusal)
		}
		if refusal.Error() != c.Refusal {
			t.Errorf("refused with %q, want %q", refusal, c.Refusal)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if c.Refusal != "" {
		t.Errorf("answered, want it to refuse with %q", c.Refusal)
	}
	if c.Golden != "" {
		golden(t, c.Golden, answer.Pattern)
	}
	if c.Check != nil {
		c.Check(t, before.Clone(), answer)
	}
}

// StockDress returns the house's stock dress, on which a case without a pattern
// is run: the caller's own, to spoil as a test needs.
func StockDress(t testing.TB) *sdk.Pattern {
	t.Helper()
	return load(t, "")
}

func golden(t *testing.T, path string, p *pattern.Pattern) {
	t.Helper()
	got := yamlfile.Write(p)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; run the test with -update to write it", err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("the pattern is not that of %s (-want +got):\n%s", path, diff)
	}
}

// load reads a pattern file; without one, it returns the stock dress.
func load(t testing.TB, path string) *pattern.Pattern {
	t.Helper()
	if path == "" {
		p, err := stock.Dress()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := yamlfile.Read(path, data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func find(p *sdk.Plugin, name string) *sdk.Operation {
	if i := slices.IndexFunc(p.Operations, func(op *sdk.Operation) bool { return op != nil && op.Name == name }); i >= 0 {
		return p.Operations[i]
	}
	return nil
}
