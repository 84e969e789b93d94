package stock

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"

	"pgregory.net/rapid"
)

// sewnWithin is how nearly the two sides of a drafted seam agree, mm.
const sewnWithin = 1e-6

// trueWithin is how nearly a drafted corner runs straight on, radians.
const trueWithin = 1e-6

func dress(t *testing.T) *pattern.Pattern {
	t.Helper()
	p, err := Dress()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestDressIsAPattern(t *testing.T) {
	for _, problem := range dress(t).Validate() {
		t.Error(problem)
	}
}

// Every seam of the draft goes together; the sleeve has its ease.
func TestDressSeams(t *testing.T) {
	p := dress(t)
	if got, want := len(p.Seams), 10; got != want {
		t.Errorf("%d seams, want %d", got, want)
	}
	checkSeams(t, p)
	sewn := map[pattern.EdgeRef]bool{}
	for _, s := range p.Seams {
		for _, run := range []pattern.Run{s.A, s.B} {
			for _, r := range run {
				sewn[pattern.EdgeRef{Piece: r.Piece, Edge: r.Edge}] = true
			}
		}
	}
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			if in := sewn[pattern.EdgeRef{Piece: piece.Name, Edge: e.Name}]; in == (e.Finish != pattern.Sewn) {
				t.Errorf("%s/%s: in a seam %v, finish %q", piece.Name, e.Name, in, e.Finish)
			}
		}
	}
}

type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

func checkSeams(t reporter, p *pattern.Pattern) {
	t.Helper()
	for _, s := range p.Seams {
		if len(s.B) == 0 {
			continue
		}
		want := 0.0
		if s.Meeting.Kind == pattern.Eased {
			want = headEaseFront + headEaseBack
			if !s.Meeting.Ease.Holds(want, 0) {
				t.Errorf("seam %s: the ease drafted, %v mm, is outside its own bounds %v", s.Name, want, s.Meeting.Ease)
			}
		}
		a, b := p.RunLength(s.A), p.RunLength(s.B)
		if d := b - a - want; math.Abs(d) > sewnWithin {
			t.Errorf("seam %s: sides %.7f and %.7f mm, off by %g", s.Name, a, b, d)
		}
	}
}

// corner returns the angle inside the piece between the end of one edge and
// the start of the next.
func corner(p *pattern.Pattern, piece, edge string) float64 {
	q := p.Piece(piece)
	i := q.EdgeIndex(edge)
	next := q.Edges[(i+1)%len(q.Edges)]
	return math.Pi - geom.Turn(q.Edges[i].Path.EndDirection(), next.Path.StartDirection())
}

// Where a seam ends on an edge, that edge runs straight on across the seam:
// the corners on its two sides make up a straight angle. The edges named are
// those that the corner comes at the end of.
func TestDressCornersAreTrue(t *testing.T) {
	p := dress(t)
	for _, c := range []struct{ name, piece1, edge1, piece2, edge2 string }{
		{"neckline over the shoulder", "bodice-front", "neckline", "bodice-back", "shoulder"},
		{"armscye over the shoulder", "bodice-front", "shoulder", "bodice-back", "armscye"},
		{"armscye under the arm", "bodice-front", "armscye", "bodice-back", "side"},
		{"waist at the side", "bodice-front", "side", "bodice-back", "waist"},
		{"head of the sleeve", "sleeve", "underarm.front", "sleeve", "cap"},
		{"hem of the sleeve", "sleeve", "hem", "sleeve", "underarm.back"},
		{"skirt waist at the side", "skirt-front", "waist", "skirt-back", "side"},
		{"skirt hem at the side", "skirt-front", "side", "skirt-back", "hem"},
		{"facing neckline", "facing-front", "neckline", "facing-back", "shoulder"},
		{"facing outer edge", "facing-front", "shoulder", "facing-back", "outer"},
	} {
		if sum := corner(p, c.piece1, c.edge1) + corner(p, c.piece2, c.edge2); math.Abs(sum-math.Pi) > trueWithin {
			t.Errorf("%s: corners make %.4f degrees, want 180", c.name, sum*180/math.Pi)
		}
	}
	for _, c := range []struct{ piece, edge string }{
		{"bodice-front", "waist"}, {"bodice-front", "centre-front"}, // at the fold
		{"bodice-back", "neckline"}, {"bodice-back", "centre-back.opening"},
		{"skirt-front", "hem"}, {"skirt-front", "centre-front"},
		{"skirt-back", "waist"}, {"skirt-back", "centre-back"},
		{"facing-front", "outer"}, {"facing-front", "centre-front"},
		{"facing-back", "neckline"}, {"facing-back", "centre-back.opening"},
	} {
		if got := corner(p, c.piece, c.edge); math.Abs(got-math.Pi/2) > trueWithin {
			t.Errorf("%s, end of %s: corner of %.4f degrees, want 90", c.piece, c.edge, got*180/math.Pi)
		}
	}
}

// A dart's legs are of one length, its edge runs straight on when it is
// closed, and a bust dart points at the bust and stops 1.5–2.5 cm short of it
// (common practice).
func TestDressDarts(t *testing.T) {
	p := dress(t)
	checked := 0
	for _, piece := range p.Pieces {
		for _, d := range piece.Darts {
			checked++
			path := piece.Edge(d.Edge).Path
			a, b := path.At(d.From), path.At(d.To)
			if x, y := a.Dist(d.Point), b.Dist(d.Point); math.Abs(x-y) > 1e-9 {
				t.Errorf("%s %s: legs %v and %v mm", piece.Name, d.Name, x, y)
			}
			angle := geom.Turn(b.Sub(d.Point), a.Sub(d.Point))
			in, out := path.Between(0, d.From).EndDirection(), path.Between(d.To, path.Length()).StartDirection()
			if off := geom.Turn(in, geom.Rotation(geom.Point{}, angle).Apply(out)); math.Abs(off) > trueWithin {
				t.Errorf("%s %s: closed, the edge turns by %v degrees", piece.Name, d.Name, off*180/math.Pi)
			}
			bust := piece.Landmark(pattern.BustPoint)
			if bust == nil {
				continue
			}
			if short := d.Point.Dist(bust.At); short < 15 || short > 25 {
				t.Errorf("%s %s: stops %v mm short of the bust point", piece.Name, d.Name, short)
			}
			middle := a.Lerp(b, 0.5)
			if off := geom.Turn(d.Point.Sub(middle), bust.At.Sub(middle)); math.Abs(off) > 1e-6 {
				t.Errorf("%s %s: aims %v rad past the bust point", piece.Name, d.Name, off)
			}
		}
	}
	if checked != 3 {
		t.Errorf("%d darts, want 3", checked)
	}
}

// Curves bend the way a cutter's do: armscyes and necklines never turn back,
// the sleeve's head twice.
func TestDressCurves(t *testing.T) {
	p := dress(t)
	for _, c := range []struct {
		piece, edge string
		turns       int
	}{
		{"bodice-front", "armscye", 0}, {"bodice-back", "armscye", 0},
		{"bodice-front", "neckline", 0}, {"bodice-back", "neckline", 0},
		{"facing-front", "outer", 0}, {"sleeve", "cap", 2},
		{"skirt-front", "waist", 0}, {"skirt-back", "waist", 0},
		{"skirt-front", "hem", 0}, {"skirt-back", "hem", 0},
	} {
		if got := turnings(p.Edge(forth(c.piece, c.edge)).Path); got != c.turns {
			t.Errorf("%s/%s turns back %d times, want %d", c.piece, c.edge, got, c.turns)
		}
	}
}

// turnings counts how often a path goes over from bending one way to the
// other, bends of less than a hundredth of a degree a step left out.
func turnings(path geom.Path) int {
	const steps, least = 400, 1e-4
	l, n, last := path.Length(), 0, 0.0
	for i := range steps {
		bend := geom.Turn(path.Direction(l*float64(i)/steps), path.Direction(l*float64(i+1)/steps))
		if math.Abs(bend) < least {
			continue
		}
		if bend*last < 0 {
			n++
		}
		last = bend
	}
	return n
}

// Notches of one name come together when the seam is sewn, but for the ease
// that the sleeve's head has between them.
func TestDressNotches(t *testing.T) {
	p := dress(t)
	ease := map[string]float64{"shoulder": headEaseFront, "back": headEaseFront + headEaseBack}
	for _, s := range p.Seams {
		if len(s.B) == 0 {
			continue
		}
		a, b := placed(p, s.A), placed(p, s.B)
		if len(a) != len(b) || len(a) == 0 && p.RunLength(s.A) > 130 {
			t.Errorf("seam %s: notches %v and %v", s.Name, a, b)
		}
		for name, at := range a {
			want := 0.0
			if s.Name == "armscye" {
				want = ease[name]
			}
			if got, ok := b[name]; !ok || math.Abs(got-at-want) > 1e-6 {
				t.Errorf("seam %s, notch %s: at %v and %v mm, want %v between them", s.Name, name, at, got, want)
			}
		}
	}
}

// placed returns how far along the sewn run each of its notches lies.
func placed(p *pattern.Pattern, run pattern.Run) map[string]float64 {
	at, walked := map[string]float64{}, 0.0
	for _, r := range run {
		q := p.Piece(r.Piece)
		l := q.SewnLength(r.Edge)
		for _, n := range q.Notches {
			if n.Edge != r.Edge {
				continue
			}
			s := q.SewnPosition(n.Edge, n.At)
			if r.Backwards {
				s = l - s
			}
			at[n.Name] = walked + s
		}
		walked += l
	}
	return at
}

// The garment measures the body and its ease: waist by the draft's own sum,
// bust and hip by the width of the pieces.
func TestDressMeasuresTheBody(t *testing.T) {
	p, b := dress(t), StockBody
	bust := -2*p.Piece("bodice-front").Landmark("underarm").At.X + 2*p.Piece("bodice-back").Landmark("underarm").At.X
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"bust", bust, b.Bust + bustEase},
		{"bodice waist", 2 * p.RunLength(p.Seam("waist").A), b.Waist + waistEase},
		{"skirt waist", 2 * p.RunLength(p.Seam("waist").B), b.Waist + waistEase},
		{"hip", 2 * (hipWidth(p, "skirt-front") + hipWidth(p, "skirt-back")), b.Hip + hipEase},
	} {
		if math.Abs(c.got-c.want) > sewnWithin {
			t.Errorf("%s: %v mm, want %v", c.what, c.got, c.want)
		}
	}
}

func hipWidth(p *pattern.Pattern, piece string) float64 {
	boundary := p.Piece(piece).Boundary()
	cuts := boundary.CutLine(geom.Pt(0, -StockBody.HipDepth), geom.Pt(1, 0))
	box := geom.EmptyBox
	for _, at := range cuts {
		box = box.With(boundary.At(at))
	}
	return box.Width()
}

// The laws hold for other ordinary bodies too, not for one lucky size.
func TestDraftBodies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := StockBody
		vary := func(v *float64, name string, less, more float64) {
			*v += rapid.Float64Range(-less, more).Draw(t, name)
		}
		vary(&b.Bust, "bust", 80, 120)
		b.Waist += b.Bust - StockBody.Bust
		b.Hip += b.Bust - StockBody.Bust
		vary(&b.Waist, "waist", 40, 40)
		vary(&b.Hip, "hip", 30, 30)
		vary(&b.BackLength, "back length", 15, 20)
		b.FrontLength += b.BackLength - StockBody.BackLength
		vary(&b.FrontLength, "front length", 6, 12)
		vary(&b.Shoulder, "shoulder", 6, 6)
		vary(&b.UpperArm, "upper arm", 15, 25)
		vary(&b.Height, "height", 100, 100)
		p, err := Draft(b)
		if err != nil {
			t.Fatal(err)
		}
		checkSeams(t, p)
		for _, problem := range p.Validate() {
			t.Error(problem)
		}
	})
}

// A body that no bodice can be drafted for is refused, not drawn anyhow.
func TestDraftRefusesTheImpossible(t *testing.T) {
	b := StockBody
	b.FrontLength = 3000
	if p, err := Draft(b); err == nil {
		t.Errorf("a front three metres long drafted without complaint: %d pieces, problems %v", len(p.Pieces), p.Validate())
	}
}
