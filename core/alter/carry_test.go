package alter

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// sheet is a square with one dart, a gather, a pleat and notches on its low edge.
func sheet() *pattern.Pattern {
	return &pattern.Pattern{
		Name: "sheet",
		Pieces: []pattern.Piece{{
			Name: "sheet", Cut: pattern.Cut{Count: 1},
			Edges: []pattern.Edge{
				{Name: "low", Path: geom.Polyline(geom.Pt(0, 0), geom.Pt(400, 0))},
				{Name: "right", Path: geom.Polyline(geom.Pt(400, 0), geom.Pt(400, 300)), Finish: pattern.Open},
				{Name: "high", Path: geom.Polyline(geom.Pt(400, 300), geom.Pt(0, 300)), Finish: pattern.Open},
				{Name: "left", Path: geom.Polyline(geom.Pt(0, 300), geom.Pt(0, 0)), Finish: pattern.Open},
			},
			Darts:   []pattern.Dart{{Name: "dart", Edge: "low", From: 100, To: 120, Point: geom.Pt(110, 90)}},
			Gathers: []pattern.Gather{{Name: "gathers", Edge: "low", From: 200, To: 260, Length: 30, Kind: pattern.Gathers}},
			Pleats:  []pattern.Pleat{{Name: "pleat", Edge: "low", From: 300, To: 320, Kind: pattern.Knife}},
			Notches: []pattern.Notch{{Name: "a", Edge: "low", At: 50, Count: 1}, {Name: "b", Edge: "low", At: 350, Count: 2}},
		}},
		Seams: []pattern.Seam{{Name: "seam", A: pattern.Run{{Piece: "sheet", Edge: "low"}}, Meeting: pattern.Meeting{Kind: pattern.Plain}}},
	}
}

// cutOff is an edit that takes the low edge's first mm off.
func cutOff(mm float64) *edit {
	e := begin(sheet())
	w := e.pieces[0]
	w.touched = true
	_, w.lines[0] = w.lines[0].split(mm)
	w.lines[3] = drawn(geom.Line(w.lines[3].start(), w.lines[0].start()))
	return e
}

func TestCarryMarks(t *testing.T) {
	a, err := cutOff(40).finish()
	if err != nil {
		t.Fatal(err)
	}
	got := a.Pattern.Pieces[0]
	want := sheet().Pieces[0]
	want.Darts[0].From, want.Darts[0].To = 60, 80
	want.Gathers[0].From, want.Gathers[0].To = 160, 220
	want.Pleats[0].From, want.Pleats[0].To = 260, 280
	want.Notches[0].At, want.Notches[1].At = 10, 310
	if diff := cmp.Diff(want.Darts, got.Darts); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(want.Gathers, got.Gathers); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(want.Pleats, got.Pleats); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(want.Notches, got.Notches); diff != "" {
		t.Error(diff)
	}
	if bad := a.Lineage.Check(sheet(), a.Pattern); len(bad) > 0 {
		t.Error(bad)
	}
}

// A notch goes with its stretch of edge; a dart, gather or pleat that a cut
// would go through is not cut.
func TestCarryMarksCutThrough(t *testing.T) {
	for _, c := range []struct {
		at   float64
		want string
	}{
		{110, `this would cut through the mouth of dart "dart" on piece "sheet"; close, move or let out the dart first`},
		{60, ""},
	} {
		a, err := cutOff(c.at).finish()
		switch {
		case c.want == "" && err != nil, c.want != "" && (err == nil || err.Error() != c.want):
			t.Errorf("cut at %v: %v, want %q", c.at, err, c.want)
		case err == nil && len(a.Pattern.Pieces[0].Notches) != 1:
			t.Errorf("cut at %v: notches left: %v", c.at, a.Pattern.Pieces[0].Notches)
		}
	}
	noDart := func(mm float64, marks func(*work)) error {
		e := cutOff(mm)
		e.pieces[0].Darts = nil
		marks(e.pieces[0])
		_, err := e.finish()
		return err
	}
	if err := noDart(230, func(w *work) {}); err == nil || err.Error() != `this would cut through the gathers "gathers" on piece "sheet"; move the gathers first, or make this alteration before gathering` {
		t.Error(err)
	}
	if err := noDart(310, func(w *work) { w.Gathers = nil }); err == nil || err.Error() != `this would cut through pleat "pleat" on piece "sheet"; take this step before the one that lays the pleat, or lead the line beside it` {
		t.Error(err)
	}
}

// An edge takes over the seams of the old edge of its own name, however little
// of that is in it; else of the one that gave it the most.
func TestCarrierOwner(t *testing.T) {
	st := func(piece, edge string, from, to float64) pattern.Stretch {
		return pattern.Stretch{Piece: piece, Edge: edge, From: from, To: to}
	}
	c := newCarrier(pattern.Lineage{
		{New: st("a", "neck", 0, 10), Old: st("a", "neck", 0, 10)},
		{New: st("a", "neck", 10, 60), Old: st("b", "neck", 0, 50)},
		{New: st("b", "neck", 0, 30), Old: st("b", "neck", 50, 80)},
		{New: st("c", "x", 0, 5), Old: st("a", "side", 0, 5)},
		{New: st("c", "x", 5, 30), Old: st("a", "hem", 0, 25)},
		{New: st("d", "y", 0, 9)},
	})
	for _, q := range []struct {
		run  pattern.Run
		want string
	}{
		{pattern.Run{{Piece: "a", Edge: "neck"}}, "a/neck"},
		{pattern.Run{{Piece: "b", Edge: "neck"}}, "b/neck"},
		{pattern.Run{{Piece: "a", Edge: "hem"}}, "c/x"},
		{pattern.Run{{Piece: "a", Edge: "side"}}, ""},
	} {
		got := ""
		for _, ref := range c.run(q.run) {
			got += ref.String()
		}
		if got != q.want {
			t.Errorf("%v is carried on by %q, want %q", q.run, got, q.want)
		}
	}
	// At a cut, the start of a stretch belongs to what follows and its end to
	// what came before.
	if p, _ := c.find("b", "neck", 50, onward); p.piece != "b" || p.at != 0 {
		t.Errorf("onward: %+v", p)
	}
	if p, _ := c.find("b", "neck", 50, backward); p.piece != "a" || p.at != 60 {
		t.Errorf("backward: %+v", p)
	}
}

// What an operation asks of a piece that validation would not pass is refused
// in its words.
func TestSoundRefuses(t *testing.T) {
	e := begin(sheet())
	w := e.pieces[0]
	w.touched = true
	w.lines[1] = drawn(geom.Line(geom.Pt(400, 0), geom.Pt(-100, 150)), geom.Line(geom.Pt(-100, 150), geom.Pt(400, 300)))
	if _, err := e.finish(); err == nil {
		t.Error("a piece that crosses itself came out")
	}
	e = begin(sheet())
	e.pieces[0].touched = true
	e.pieces[0].Darts[0].Point = geom.Pt(110, -50)
	if _, err := e.finish(); err == nil || err.Error() != `dart "dart" would point out of piece "sheet"; turn or let out that dart first` {
		t.Error(err)
	}
}

// Where a notch was cut away with its stretch, its mate across the seam goes
// too, and the answer tells it.
func TestLoneNotchGoes(t *testing.T) {
	e := cutOff(60)
	p := sheet()
	other := p.Clone().Pieces[0]
	other.Name, other.Darts, other.Gathers, other.Pleats = "other", nil, nil, nil
	e.in.Pieces = append(e.in.Pieces, other)
	mate := begin(&pattern.Pattern{Pieces: []pattern.Piece{other}}).pieces[0]
	e.pieces = append(e.pieces, mate)
	e.seams[0].B = pattern.Run{{Piece: "other", Edge: "low"}}
	e.settled = []string{e.seams[0].Name} // that the seam comes apart is not what is tried here
	a, err := e.finish()
	if err != nil {
		t.Fatal(err)
	}
	if got := a.Pattern.Piece("other").Notches; len(got) != 1 || got[0].Name != "b" {
		t.Errorf("the mate of a notch that was cut away is there still: %v", got)
	}
	if len(a.Changes) != 1 || a.Changes[0].What != "notch a: its mate was cut away" {
		t.Errorf("told as %+v", a.Changes)
	}
}
