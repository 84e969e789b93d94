package alter

import (
	"errors"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/bodies"
	"bygone.example/internal/stock"
)

// exact is how near in mm two things come that an operation makes equal: what
// rounding leaves of lengths that are summed.
const exact = 1e-9

// laidOff is how near in mm a length laid off along a curve comes to what was
// asked: as near as the curve's place for an arc length is found.
const laidOff = 1e-6

// alteration is an operation with its numbers filled in.
type alteration func(*pattern.Pattern) (*operation.Answer, error)

// failer is what testing and rapid have in common.
type failer interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// sentence is the form of a refusal: both halves start in lower case or with a
// figure, and neither ends in a full stop.
var sentence = regexp.MustCompile(`^[a-z0-9].*[^.\s]$`)

// lawful runs an alteration and holds what every operation promises: the input
// is untouched, equal requests get equal answers, the pieces are sound, the
// lineage accounts for every edge, and no fault of pairing is new. An alteration
// that is refused returns nil and the refusal, which must read as a sentence.
func lawful(t failer, p *pattern.Pattern, do alteration) (*operation.Answer, *operation.Refusal) {
	t.Helper()
	before := p.Clone()
	a, err := do(p)
	if !reflect.DeepEqual(before, p.Clone()) { // cmp.Diff is slow where it has nothing to say
		t.Fatalf("the input was changed:\n%s", cmp.Diff(before, p))
	}
	if err != nil {
		no, ok := errors.AsType[*operation.Refusal](err)
		if !ok {
			t.Fatalf("%v is not a refusal", err)
		}
		if !sentence.MatchString(no.Why) || no.Instead != "" && !sentence.MatchString(no.Instead) {
			t.Errorf("the refusal does not read as a sentence: %q", no.Error())
		}
		if a != nil {
			t.Errorf("an answer came with the refusal %q", no.Error())
		}
		return nil, no
	}
	if again, err := do(p); err != nil || !reflect.DeepEqual(a, again) {
		t.Errorf("asked twice, answered differently: %v\n%s", err, cmp.Diff(a, again))
	}
	for _, bad := range a.Pattern.Validate() {
		t.Errorf("not sound: %s/%s: %s", bad.Piece, bad.Edge, bad.Text)
	}
	for _, bad := range a.Lineage.Check(before, a.Pattern) {
		t.Errorf("lineage: %s/%s: %s", bad.Piece, bad.Edge, bad.Text)
	}
	for _, f := range pairing.Compare(pairing.Check(before), pairing.Check(a.Pattern), a.Lineage, "new") {
		if f.Severity == finding.Fault && f.Since == "new" {
			t.Errorf("a new fault: %s %s/%s: %s", f.Code, f.Place.Piece, f.Place.Edge, f.Text)
		}
	}
	for _, c := range a.Changes {
		if math.IsNaN(c.Before) || math.IsNaN(c.After) || math.IsInf(c.After, 0) || strings.HasSuffix(c.What, ".") || c.What == "" {
			t.Errorf("a change that cannot be told: %+v", c)
		}
	}
	return a, nil
}

// done is lawful for an alteration that must succeed.
func done(t failer, p *pattern.Pattern, do alteration) *operation.Answer {
	t.Helper()
	a, no := lawful(t, p, do)
	if no != nil {
		t.Fatalf("refused: %v", no)
	}
	return a
}

// after runs alterations one after another without looking at them, to make a
// pattern that a test starts from.
func after(t failer, p *pattern.Pattern, steps ...alteration) *pattern.Pattern {
	t.Helper()
	for i, do := range steps {
		a, err := do(p)
		if err != nil {
			t.Fatalf("step %d of the preparation: %v", i, err)
		}
		p = a.Pattern
	}
	return p
}

// within reports a figure that is off by more than tol.
func within(t failer, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.12g, want %.12g within %g (off by %.3g)", what, got, want, tol, got-want)
	}
}

func draftOf(t failer, b stock.Body) *pattern.Pattern {
	t.Helper()
	p, err := stock.Draft(b)
	if err != nil {
		t.Fatalf("draft: %v", err)
	}
	return p
}

func dress(t failer) *pattern.Pattern { t.Helper(); return draftOf(t, stock.StockBody) }

// women are those of the survey's women who have the least or the most of some
// measure, and every fiftieth.
var women = sync.OnceValues(func() ([]stock.Body, error) {
	all, err := bodies.Women()
	var figures []stock.Body
	for _, person := range append(bodies.Extremes(all), bodies.Every(all, 50)...) {
		figures = append(figures, person.Body())
	}
	return figures, err
})

func realBodies(t failer) []stock.Body {
	t.Helper()
	figures, err := women()
	if err != nil {
		t.Fatalf("%v", err)
	}
	return figures
}

// anyDress draws a dress for the stock figure, a figure near it or one of the
// women, and as it might come from elsewhere: turned over, turned on the paper,
// its edges counted from another corner.
func anyDress(t *rapid.T) *pattern.Pattern {
	b := stock.StockBody
	switch rapid.IntRange(0, 2).Draw(t, "figure") {
	case 1:
		vary := func(v *float64, name string, by float64) { *v += rapid.Float64Range(-by, by).Draw(t, name) }
		grow := rapid.Float64Range(-80, 160).Draw(t, "girth")
		b.Bust, b.Waist, b.Hip = b.Bust+grow, b.Waist+grow, b.Hip+grow
		vary(&b.Waist, "waist", 30)
		vary(&b.Hip, "hip", 30)
		vary(&b.Shoulder, "shoulder", 8)
		vary(&b.Height, "height", 100)
	case 2:
		all := realBodies(t)
		b = all[rapid.IntRange(0, len(all)-1).Draw(t, "woman")]
	}
	p, err := stock.Draft(b)
	if err != nil {
		t.Skip(err.Error())
	}
	if rapid.Bool().Draw(t, "turned over") {
		p = turnedOver(p)
	}
	if rapid.Bool().Draw(t, "turned") {
		p = onPaper(p, rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "by"))
	}
	return recounted(p, rapid.IntRange(0, 5).Draw(t, "first edge"))
}

// sum adds up the lengths of the edges of a role, on the paper.
func sum(p *pattern.Pattern, role string, pieces ...string) float64 {
	var total float64
	for _, name := range pieces {
		for _, e := range p.Piece(name).EdgesByRole(role) {
			total += e.Path.Length()
		}
	}
	return total
}

func length(p *pattern.Pattern, piece, edge string) float64 {
	return p.Piece(piece).Edge(edge).Path.Length()
}

// area adds up the pieces' areas in mm².
func area(p *pattern.Pattern, pieces ...string) float64 {
	var total float64
	for _, name := range pieces {
		total += p.Piece(name).Boundary().Area()
	}
	return total
}

// marksGathers tells the notches at the ends of gathers by their names.
func marksGathers(notch string) bool {
	return strings.Contains(notch, "-gathers") && strings.Contains(notch, "-end")
}

// others holds that every piece but those named is as it was, but for the
// notches that meet the ends of gathers on another.
func others(t failer, before, after *pattern.Pattern, but ...string) {
	t.Helper()
	for _, piece := range before.Pieces {
		if slices.Contains(but, piece.Name) || after.Piece(piece.Name) != nil && reflect.DeepEqual(piece, *after.Piece(piece.Name)) {
			continue
		}
		ends := cmpopts.IgnoreSliceElements(func(n pattern.Notch) bool { return marksGathers(n.Name) })
		if diff := cmp.Diff(&piece, after.Piece(piece.Name), cmpopts.EquateEmpty(), ends); diff != "" {
			t.Errorf("piece %q was changed:\n%s", piece.Name, diff)
		}
	}
}

// hem is the circumference of the skirt in mm.
func hemOf(p *pattern.Pattern) float64 {
	var total float64
	for _, piece := range p.Pieces {
		if piece.Role != pattern.SkirtFront && piece.Role != pattern.SkirtBack {
			continue
		}
		n := float64(piece.Cut.Count)
		if piece.OnFold() {
			n *= 2
		}
		for _, e := range piece.EdgesByRole(pattern.Hem) {
			total += n * e.Path.Length()
		}
	}
	return total
}

// apart is the largest distance in mm between two outlines, edge by edge and
// in proportion along them.
func apart(a, b *pattern.Piece) float64 {
	var worst float64
	for _, e := range a.Edges {
		o := b.Edge(e.Name)
		if o == nil {
			return math.Inf(1)
		}
		for k := range 33 {
			share := float64(k) / 32
			worst = max(worst, e.Path.At(share*e.Path.Length()).Dist(o.Path.At(share*o.Path.Length())))
		}
	}
	return worst
}

// refusals are alterations that cannot be done, and what is said to them.
type refusals []struct {
	name string
	on   *pattern.Pattern
	do   alteration
	want string
}

func (list refusals) try(t *testing.T) {
	t.Helper()
	for _, r := range list {
		t.Run(r.name, func(t *testing.T) {
			a, no := lawful(t, r.on, r.do)
			switch {
			case a != nil:
				t.Errorf("it was done, want the refusal %q", r.want)
			case no.Error() != r.want:
				t.Errorf("got  %q\nwant %q", no.Error(), r.want)
			}
		})
	}
}

func TestVariantsAreSound(t *testing.T) {
	figures := realBodies(t)
	for _, b := range append(figures, stock.StockBody) {
		p := draftOf(t, b)
		for _, q := range []*pattern.Pattern{p, turnedOver(p), onPaper(p, 1), recounted(turnedOver(p), 2)} {
			if bad := q.Validate(); len(bad) > 0 {
				t.Errorf("%v", bad)
			}
			for _, f := range pairing.Check(q) {
				if f.Severity == finding.Fault {
					t.Errorf("%+v: %s", f.Place, f.Text)
				}
			}
		}
	}
	if diff := cmp.Diff(turnedOver(turnedOver(dress(t))), dress(t), cmpopts.EquateApprox(0, exact)); diff != "" {
		t.Errorf("turned over twice:\n%s", diff)
	}
}
