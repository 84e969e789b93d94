package mend

import (
	"context"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/internal/stock"
	"bygone.example/plugins/truing"
)

var runner = chain.InProcess([]*operation.Plugin{truing.Plugin})

type failer interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

func propose(t failer, p *pattern.Pattern, bound float64) *Proposal {
	t.Helper()
	got, err := Propose(context.Background(), p, runner, runner.Offers(), Options{Bound: bound})
	if err != nil {
		t.Fatalf("proposing: %v", err)
	}
	return got
}

func read(t *testing.T, name string) *pattern.Pattern {
	t.Helper()
	path := "../../testdata/patterns/" + name
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

// boundariesApart is Hausdorff's distance of two boundaries: points along every
// edge that differs, each measured to the other's true curves.
func boundariesApart(a, b *pattern.Piece) float64 {
	far := func(from, to *pattern.Piece) float64 {
		worst := 0.0
		boundary := to.Boundary()
		for _, e := range from.Edges {
			if o := to.Edge(e.Name); o != nil && slices.Equal(o.Path, e.Path) {
				continue
			}
			long := e.Path.Length()
			for k := range 31 {
				_, off := boundary.Nearest(e.Path.At(long * float64(k) / 30))
				worst = math.Max(worst, off)
			}
		}
		return worst
	}
	return math.Max(far(a, b), far(b, a))
}

// lawful holds a proposal to what is promised of every one: the chain, run, makes
// what was proposed; no line lies further than the bound from where it lay; no
// fault or warning has come in; and what is found is what is said to be left.
func lawful(t failer, p *pattern.Pattern, got *Proposal, bound float64) {
	t.Helper()
	if len(got.Mends) != len(got.Chain.Steps) {
		t.Errorf("%d steps mend %d findings", len(got.Chain.Steps), len(got.Mends))
	}
	plan, err := chain.Plan(got.Chain, nil, p, nil, runner.Offers())
	if err != nil {
		t.Fatalf("planning: %v", err)
	}
	result, err := chain.Run(context.Background(), got.Chain, plan, p, wearer.Wearer{}, runner, chain.Options{})
	if err != nil {
		t.Fatalf("running: %v", err)
	}
	for i := range p.Pieces {
		now := result.After().Piece(p.Pieces[i].Name)
		if d := boundariesApart(&p.Pieces[i], now); d > bound+0.02 {
			t.Errorf("the boundary of %s moved by %.3f mm, more than %g", now.Name, d, bound)
		}
	}
	found := pairing.Check(result.After())
	n := 0
	for _, f := range found {
		if matters(f) {
			n++
		}
	}
	if n != len(got.Left) {
		t.Errorf("%d findings are left, %d are told of", n, len(got.Left))
	}
	for _, l := range got.Left {
		if l.Why == "" || strings.HasSuffix(l.Why, ".") {
			t.Errorf("%s is left because %q", l.Code, l.Why)
		}
	}
	if arrived := count(got.Arrival); n+len(got.Chain.Steps) > arrived {
		t.Errorf("%d arrived, %d steps leave %d", arrived, len(got.Chain.Steps), n)
	}
	for _, done := range result.Steps {
		for _, f := range done.Findings {
			if f.Since != "" && matters(f) {
				t.Errorf("%s came in with %s: %s", f.Code, f.Since, f.Text)
			}
		}
	}
}

// The blouse with planted faults: all is mended but the side seam, which would
// take more than the bound.
func TestBlouse(t *testing.T) {
	p := read(t, "untested-blouse.yaml")
	got := propose(t, p, DefaultBound)
	lawful(t, p, got, DefaultBound)
	if len(got.Left) != 1 || got.Left[0].Code != pairing.SeamLength || got.Left[0].Place.Seam != "side" {
		t.Errorf("left: %+v", got.Left)
	}
	got = propose(t, p, 4.5)
	lawful(t, p, got, 4.5)
	if len(got.Left) != 0 {
		t.Errorf("with 4.5 mm left: %+v", got.Left)
	}
	got = propose(t, p, 0)
	lawful(t, p, got, 0)
	for _, f := range got.Mends {
		if f.Mend.Operation != "true.notches" {
			t.Errorf("with no bound, %s was chosen", f.Mend.Operation)
		}
	}
}

func TestSound(t *testing.T) {
	p := read(t, "stock-dress.yaml")
	got := propose(t, p, DefaultBound)
	if len(got.Chain.Steps) != 0 || len(got.Left) != 0 || got.After != p || got.Moved != 0 {
		t.Errorf("a sound pattern was mended: %+v", got.Chain.Steps)
	}
}

// fault plants one small fault and reports whether it found a place for it.
type fault struct {
	name  string
	plant func(*rapid.T, *pattern.Pattern) bool
}

func anyOf[T any](t *rapid.T, label string, list []T) T {
	return list[rapid.IntRange(0, len(list)-1).Draw(t, label)]
}

func anyPiece(t *rapid.T, p *pattern.Pattern) *pattern.Piece {
	return &p.Pieces[rapid.IntRange(0, len(p.Pieces)-1).Draw(t, "piece")]
}

var faults = []fault{
	{"a corner off its place", func(t *rapid.T, p *pattern.Pattern) bool {
		piece := anyPiece(t, p)
		i := rapid.IntRange(0, len(piece.Edges)-1).Draw(t, "corner")
		a, b := piece.Edges[i].Path, piece.Edges[(i+1)%len(piece.Edges)].Path
		v := geom.Polar(rapid.Float64Range(0.3, 4).Draw(t, "by"), rapid.Float64Range(0, 2*math.Pi).Draw(t, "towards"))
		last, first := &a[len(a)-1], &b[0]
		last.P1, last.C2 = last.P1.Add(v), last.C2.Add(v)
		first.P0, first.C1 = first.P0.Add(v), first.C1.Add(v)
		return true
	}},
	{"a curve turned at its corner", func(t *rapid.T, p *pattern.Pattern) bool {
		piece := anyPiece(t, p)
		s := &piece.Edges[rapid.IntRange(0, len(piece.Edges)-1).Draw(t, "edge")].Path[0]
		if !s.Curved {
			return false
		}
		s.C1 = geom.Rotation(s.P0, rapid.Float64Range(-0.3, 0.3).Draw(t, "turn")).Apply(s.C1)
		return true
	}},
	{"a notch dropped", func(t *rapid.T, p *pattern.Pattern) bool {
		piece := anyPiece(t, p)
		if len(piece.Notches) == 0 {
			return false
		}
		piece.Notches = piece.Notches[1:]
		return true
	}},
	{"a notch shifted", func(t *rapid.T, p *pattern.Pattern) bool {
		piece := anyPiece(t, p)
		if len(piece.Notches) == 0 {
			return false
		}
		n := &piece.Notches[rapid.IntRange(0, len(piece.Notches)-1).Draw(t, "notch")]
		n.At = math.Max(0, n.At+rapid.Float64Range(-8, 8).Draw(t, "by"))
		return true
	}},
	{"a dart's point aside", func(t *rapid.T, p *pattern.Pattern) bool {
		piece := anyPiece(t, p)
		if len(piece.Darts) == 0 {
			return false
		}
		d := &piece.Darts[rapid.IntRange(0, len(piece.Darts)-1).Draw(t, "dart")]
		d.Point = d.Point.Add(geom.Polar(rapid.Float64Range(0.2, 4).Draw(t, "by"), rapid.Float64Range(0, 2*math.Pi).Draw(t, "towards")))
		return true
	}},
	{"a grainline too long", func(t *rapid.T, p *pattern.Pattern) bool {
		g := &anyPiece(t, p).Grain
		if !g.Given() {
			return false
		}
		g.To = g.To.Add(g.To.Sub(g.From).Mul(6))
		return true
	}},
	{"a bent fold", func(t *rapid.T, p *pattern.Pattern) bool {
		piece := anyPiece(t, p)
		for k := range piece.Edges {
			if e := &piece.Edges[k]; e.Finish == pattern.Fold {
				a, b := e.Path.Start(), e.Path.End()
				aside := b.Sub(a).Unit().Left().Mul(rapid.Float64Range(-4, 4).Draw(t, "by"))
				e.Path = geom.Polyline(a, a.Lerp(b, 0.4).Add(aside), b)
				return true
			}
		}
		return false
	}},
}

// TestPlanted plants small faults in stock dresses of many figures and holds
// every proposal to its laws; how many of the findings are mended is told.
func TestPlanted(t *testing.T) {
	arrived, left := map[finding.Code]int{}, map[finding.Code]int{}
	rapid.Check(t, func(t *rapid.T) {
		b := stock.StockBody
		b.Bust += rapid.Float64Range(-60, 120).Draw(t, "bust")
		b.Waist += rapid.Float64Range(-40, 100).Draw(t, "waist")
		p, err := stock.Draft(b)
		if err != nil {
			t.Skip("no such figure")
		}
		for range rapid.IntRange(1, 3).Draw(t, "faults") {
			if f := anyOf(t, "fault", faults); !f.plant(t, p) {
				t.Skip("no place for " + f.name)
			}
		}
		for _, bad := range p.Validate() {
			if bad.Rule != pattern.RuleFold {
				t.Skip("no pattern any more")
			}
		}
		before := p.Clone()
		got := propose(t, p, DefaultBound)
		lawful(t, before, got, DefaultBound)
		for _, f := range got.Arrival {
			if matters(f) {
				arrived[f.Code]++
			}
		}
		for _, l := range got.Left {
			left[l.Code]++
		}
		if again := propose(t, p, DefaultBound); string(yamlfile.WriteChain(again.Chain)) != string(yamlfile.WriteChain(got.Chain)) {
			t.Errorf("asked twice, proposed differently")
		}
	})
	for _, e := range pairing.Codes() {
		if n := arrived[e.Code]; n > 0 {
			t.Logf("%-16s arrived %3d, left %3d", e.Code, n, left[e.Code])
		}
	}
}
