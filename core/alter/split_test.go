package alter

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func splitPiece(o Split) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return SplitPiece(p, o) }
}

func joinPieces(o Join) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return JoinPieces(p, o) }
}

// cuts are style lines over every piece of the dress.
var cuts = []Split{
	{Piece: "bodice-back", From: "armscye", FromAt: 120, To: "centre-back.opening", ToAt: 100, Bow: 4, Name: "yoke"},
	{Piece: "bodice-back", From: "armscye", FromAt: 120, Name: "yoke"},
	{Piece: "bodice-back", From: "centre-back.opening", FromAt: 100, To: "armscye", ToAt: 120, Bow: -9, Name: "lower-back"},
	{Piece: "bodice-front", From: "armscye", FromAt: 90, Name: "front-yoke"},
	{Piece: "bodice-front", From: "side", FromAt: 20, To: "armscye", ToAt: 190, Bow: -5, Name: "under-arm"},
	{Piece: "bodice-front", From: "shoulder", FromAt: 60, To: "waist", ToAt: 215, Through: "bust-point", Name: "side-front"},
	{Piece: "sleeve", From: "underarm.front", FromAt: 220, To: "underarm.back", ToAt: 210, Name: "cuff"},
	{Piece: "sleeve", From: "hem", FromAt: 120, To: "cap", ToAt: 210, Bow: -10, Name: "top-sleeve"},
	{Piece: "skirt-front", From: "waist", FromAt: 50, To: "hem", ToAt: 150, Name: "side-gore"},
	{Piece: "skirt-back", From: "side", FromAt: 200, Name: "skirt-yoke"},
}

// unlessDart skips a style line that has a dart of this figure in its way.
func unlessDart(no *operation.Refusal) bool {
	return strings.Contains(no.Error(), "dart") || strings.Contains(no.Error(), "would leave piece") || strings.Contains(no.Error(), "cannot meet edge")
}

func TestSplitPiece(t *testing.T) {
	tried := 0
	for _, c := range cuts {
		p := dress(t)
		_, no := lawful(t, p, splitPiece(c))
		if no != nil {
			if c.Through == "" || !unlessDart(no) {
				t.Errorf("%+v: %v", c, no)
			}
			continue
		}
		tried++
		a := quietly(t, p, splitPiece(c))
		others(t, p, a.Pattern, c.Piece)
		for _, role := range []string{"armscye", "waist", "hem", "side", "neckline", "cap", "shoulder"} {
			within(t, c.Name+": "+role, sum(a.Pattern, role, c.Piece, c.Name), sum(p, role, c.Piece), laidOff)
		}
		within(t, c.Name+": the new edges", length(a.Pattern, c.Piece, "style"), length(a.Pattern, c.Name, "style"), exact)
		within(t, c.Name+": area in mm²", area(a.Pattern, c.Piece, c.Name), area(p, c.Piece), 1e-4)
		halves := func(q *pattern.Pattern, name string) int {
			piece := q.Piece(name)
			n := piece.Cut.Count
			if piece.OnFold() {
				n *= 2
			}
			return n
		}
		if halves(a.Pattern, c.Name) != halves(p, c.Piece) || halves(a.Pattern, c.Piece) != halves(p, c.Piece) {
			t.Errorf("%s: cut %+v and %+v", c.Name, a.Pattern.Piece(c.Piece).Cut, a.Pattern.Piece(c.Name).Cut)
		}
	}
	if tried < len(cuts)-1 {
		t.Errorf("only %d of %d style lines were drawn", tried, len(cuts))
	}
}

// A dart on the first edge goes into the seam, as at a princess line.
func TestSplitThroughDart(t *testing.T) {
	p := dress(t)
	a := quietly(t, p, splitPiece(Split{Piece: "bodice-back", From: "waist", Through: "waist-dart", To: "shoulder", ToAt: 60, Name: "side-back"}))
	d := p.Piece("bodice-back").Dart("waist-dart")
	within(t, "waist", sum(a.Pattern, "waist", "bodice-back", "side-back"), sum(p, "waist", "bodice-back")-(d.To-d.From), laidOff)
	within(t, "the new edges", length(a.Pattern, "bodice-back", "style"), length(a.Pattern, "side-back", "style"), exact)
	if a.Pattern.Piece("bodice-back").Dart("waist-dart") != nil || a.Pattern.Piece("side-back").Dart("waist-dart") != nil {
		t.Error("the dart is still there")
	}
}

// sameButJoints compares two pieces as one sees them: the outline within tol, marks
// where they were laid off, and all else but where the outline's curves are divided.
func sameButJoints(t failer, got, want *pattern.Piece, tol float64) {
	t.Helper()
	if off := offBy(want, got); !(off <= tol) {
		t.Errorf("%s: the outline is %g mm off", want.Name, off)
	}
	strip := func(p *pattern.Piece) *pattern.Piece {
		c := asDrawn(&pattern.Pattern{Pieces: []pattern.Piece{*p}}).Pieces[0]
		for i := range c.Edges {
			c.Edges[i].Path = nil
		}
		c.Grain = pattern.Grain{} // put back inside, wherever that is
		return &c
	}
	if diff := cmp.Diff(strip(want), strip(got), cmpopts.EquateApprox(0, laidOff), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("%s: (-want +got)\n%s", want.Name, diff)
	}
}

// Split, then joined, a piece is what it was, to 1e-9 mm.
func TestSplitThenJoin(t *testing.T) {
	tried := 0
	for _, c := range cuts {
		p := dress(t)
		a, no := lawful(t, p, splitPiece(c))
		if no != nil {
			continue
		}
		tried++
		b := done(t, a.Pattern, joinPieces(Join{Seam: "style"}))
		others(t, p, b.Pattern, c.Piece)
		sameButJoints(t, b.Pattern.Piece(c.Piece), p.Piece(c.Piece), exact)
		if diff := cmp.Diff(p.Seams, b.Pattern.Seams, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: seams (-want +got)\n%s", c.Name, diff)
		}
	}
	if tried < len(cuts)-1 {
		t.Errorf("only %d of %d", tried, len(cuts))
	}
}

func TestSplitThenJoinProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece := rapid.SampledFrom([]string{"bodice-back", "bodice-front", "sleeve", "skirt-front", "skirt-back"}).Draw(t, "piece")
		q := p.Piece(piece)
		from := rapid.IntRange(0, len(q.Edges)-1).Draw(t, "from")
		to := (from + rapid.IntRange(1, len(q.Edges)-1).Draw(t, "to")) % len(q.Edges)
		at := func(i int, name string) float64 {
			return rapid.Float64Range(0.1, 0.9).Draw(t, name) * q.Edges[i].Path.Length()
		}
		c := Split{
			Piece: piece, From: q.Edges[from].Name, FromAt: at(from, "from at"), To: q.Edges[to].Name, ToAt: at(to, "to at"),
			Bow: rapid.Float64Range(-15, 15).Draw(t, "bow"), Name: "part",
		}
		a, no := lawful(t, p, splitPiece(c))
		if no != nil {
			return
		}
		within(t, "the new edges", length(a.Pattern, c.Piece, "style"), length(a.Pattern, "part", "style"), exact)
		b, no := lawful(t, a.Pattern, joinPieces(Join{Seam: "style"}))
		if no != nil {
			t.Fatalf("split, but not joined: %v", no)
		}
		sameButJoints(t, b.Pattern.Piece(piece), q, exact)
	})
}

func TestSplitRefusals(t *testing.T) {
	p := dress(t)
	refusals{
		{"no piece", p, splitPiece(Split{Piece: "cape"}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no edge", p, splitPiece(Split{Piece: "bodice-back", From: "hem"}), `piece "bodice-back" has no edge "hem"; its edges are waist, side, armscye, shoulder, neckline, centre-back.opening`},
		{"one edge", p, splitPiece(Split{Piece: "sleeve", From: "cap", FromAt: 100, To: "cap", ToAt: 300}), `the line would start and end on edge "cap" of piece "sleeve"; let it end on another edge`},
		{"corner", p, splitPiece(Split{Piece: "sleeve", From: "cap", FromAt: 2, To: "hem", ToAt: 100}), `the line cannot meet edge "cap" of piece "sleeve" 2.0 mm along its 466.1 mm; choose a place 5 mm or more from the corners`},
		{"name taken", p, splitPiece(Split{Piece: "sleeve", From: "cap", Name: "bodice-back"}), `the pattern has a piece "bodice-back" already; give the new piece another name`},
		{"seam taken", p, splitPiece(Split{Piece: "sleeve", From: "cap", Seam: "hem"}), `piece "sleeve" has an edge "hem" already; give the seam another name`},
		{"across a dart", p, splitPiece(Split{Piece: "bodice-back", From: "side", FromAt: 30, To: "centre-back.opening", ToAt: 390}), `the cut would run across dart "waist-dart" of piece "bodice-back"; turn or let out that dart first, or cut elsewhere`},
		{"into a dart", p, splitPiece(Split{Piece: "bodice-back", From: "waist", FromAt: 85, To: "armscye", ToAt: 100}), `the line would cut into dart "waist-dart" of piece "bodice-back"; let the line start and end beside it, or let it out first`},
		{"out of the piece", p, splitPiece(Split{Piece: "bodice-back", From: "armscye", FromAt: 20, To: "centre-back.opening", ToAt: 100, Bow: -150}), `the line would leave piece "bodice-back"; bend it less, or choose other places`},
		{"no landmark", p, splitPiece(Split{Piece: "sleeve", From: "cap", FromAt: 100, To: "hem", ToAt: 100, Through: "elbow"}), `piece "sleeve" has no landmark or dart "elbow"; name one of its own, or leave it out`},
		{"dart elsewhere", p, splitPiece(Split{Piece: "bodice-front", From: "shoulder", FromAt: 50, To: "centre-front", ToAt: 100, Through: "waist-dart"}), `dart "waist-dart" of piece "bodice-front" is on its edge "waist"; let the line start from that edge`},
	}.try(t)
}

// Joined at the shoulder, a front and a back are one piece, each its old shape.
func TestJoinShoulder(t *testing.T) {
	p := dress(t)
	p.Piece("bodice-front").Cut.Count = 1
	a := done(t, p, joinPieces(Join{Seam: "shoulder", Name: "bodice", Title: "Bodice"}))
	q := a.Pattern.Piece("bodice")
	if q == nil || a.Pattern.Piece("bodice-front") != nil || a.Pattern.Piece("bodice-back") != nil || q.Title != "Bodice" {
		t.Fatalf("pieces: %v", a.Pattern.Pieces)
	}
	within(t, "area in mm²", area(a.Pattern, "bodice"), area(p, "bodice-front", "bodice-back"), 1e-4)
	within(t, "armscye", length(a.Pattern, "bodice", "armscye"), sum(p, "armscye", "bodice-front", "bodice-back"), exact)
	within(t, "neckline", length(a.Pattern, "bodice", "neckline"), sum(p, "neckline", "bodice-front", "bodice-back"), exact)
	if s := a.Pattern.Seam("armscye"); len(s.A) != 1 || s.A[0].Piece != "bodice" {
		t.Errorf("armscye: %v", s.A)
	}
	if s := a.Pattern.Seam("side"); s.A[0].Edge != "side" || s.B[0].Edge != "side.2" {
		t.Errorf("side: %v %v", s.A, s.B)
	}
	if d := q.Dart("waist-dart-2"); d == nil || d.Edge != "waist.2" {
		t.Errorf("the back's dart: %+v", d)
	} else {
		within(t, "the back's dart's legs", d.Point.Dist(q.Edge(d.Edge).Path.At(d.From)), d.Point.Dist(q.Edge(d.Edge).Path.At(d.To)), 1e-6)
	}
}

// Where the seam's sides differ, the gap is told and what is brought together
// becomes ease.
func TestJoinWithGap(t *testing.T) {
	p := dress(t)
	const long = 2.0 // the front's shoulder is this much longer, in mm
	front := p.Piece("bodice-front")
	shoulder, neckline := front.Edge("shoulder"), front.Edge("neckline")
	neck := shoulder.Path.Start().Add(shoulder.Path.Start().Sub(shoulder.Path.End()).Unit().Mul(long))
	shoulder.Path[0].P0 = neck
	neckline.Path[len(neckline.Path)-1].P1 = neck
	s := p.Seam("shoulder")
	s.Meeting = pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: -long, Max: 0}}
	a, no := lawful(t, p, joinPieces(Join{Seam: "shoulder"}))
	if a != nil || !strings.Contains(no.Error(), "gape or overlap by up to 1.0 mm") {
		t.Errorf("without leave: %v", no)
	}
	a = done(t, p, joinPieces(Join{Seam: "shoulder", MaxGap: 3}))
	within(t, "gap told", a.Changes[0].Before, long/2, 1e-6)
	var told []string
	for _, c := range a.Changes {
		if strings.HasPrefix(c.What, "ease in seam") {
			told = append(told, c.What)
			within(t, c.What, math.Abs(c.After-c.Before), 0, long)
		}
	}
	if len(told) == 0 {
		t.Error("no ease was told")
	}
	if m := a.Pattern.Seam("facing-neckline").Meeting; m.Kind != pattern.Eased {
		t.Errorf("neckline and facing meet %+v", m)
	}
}

func TestJoinRefusals(t *testing.T) {
	p := dress(t)
	princess := after(t, p, splitPiece(Split{Piece: "bodice-back", From: "waist", Through: "waist-dart", To: "shoulder", ToAt: 60, Name: "side-back"}))
	pairs := dress(t)
	pairs.Piece("bodice-back").Cut.Count = 4
	over := dress(t)
	flip := turnedOver(&pattern.Pattern{Pieces: []pattern.Piece{over.Piece("bodice-back").Clone()}})
	*over.Piece("bodice-back") = flip.Pieces[0]
	over.Seam("side").B[0].Backwards = false
	refusals{
		{"a tube", p, joinPieces(Join{Seam: "sleeve-underarm"}), `seam "sleeve-underarm" joins piece "sleeve" to itself; that would make a tube, which cannot be laid flat`},
		{"a mirror seam", p, joinPieces(Join{Seam: "skirt-centre-back"}), `seam "skirt-centre-back" joins skirt-back/centre-back to its own mirror image; there is no other piece to take anything up`},
		{"a dart", p, joinPieces(Join{Seam: "side"}), `the side edge of piece "bodice-front" has a dart or fullness in it; turn the dart elsewhere or let the fullness out first`},
		{"a gap", princess, joinPieces(Join{Seam: "style", MaxGap: 3}), `laid together along seam "style", pieces "bodice-back" and "side-back" gape or overlap by up to 12.2 mm; allow a wider gap if the shape may be lost, or keep the seam`},
		{"other numbers", pairs, joinPieces(Join{Seam: "shoulder"}), `of piece "bodice-front" 2 are wanted and of piece "bodice-back" 4; join pieces that are cut in the same number`},
		{"name taken", p, joinPieces(Join{Seam: "shoulder", Name: "sleeve"}), `the pattern has a piece "sleeve" already; give the joined piece another name`},
		{"no name", p, joinPieces(Join{Seam: "shoulder", Name: "One piece"}), `a piece cannot be called "One piece"; use lower-case letters, digits and hyphens`},
		{"face down", after(t, over, job[0].do), joinPieces(Join{Seam: "side"}), `of pieces "bodice-front" and "bodice-back", which seam "side" joins, one is drawn face down; turn one of them over first`},
	}.try(t)
}
