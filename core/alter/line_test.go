package alter

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// anyLine draws an edge of the stock dress as a line that knows where it came
// from.
func anyLine(t *rapid.T) line {
	p := dress(t)
	piece := p.Pieces[rapid.IntRange(0, len(p.Pieces)-1).Draw(t, "piece")]
	e := piece.Edges[rapid.IntRange(0, len(piece.Edges)-1).Draw(t, "edge")]
	return traced(piece.Name, e.Name, e.Path)
}

func TestLineSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLine(t)
		long := l.length()
		at := rapid.OneOf(rapid.Float64Range(0, long), rapid.Just(0.0), rapid.Just(long)).Draw(t, "at")
		a, b := l.split(at)
		within(t, "first part", a.pathLength(), at, laidOff)
		within(t, "both parts", a.pathLength()+b.pathLength(), long, exact)
		for _, part := range []line{a, b} {
			if s, ok := part.old(); len(part) > 0 {
				if !ok {
					t.Fatalf("a part does not know where it came from")
				}
				within(t, "what it came from", s.Length(), part.length(), laidOff)
			}
		}
		if len(a) > 0 && len(b) > 0 && a.end() != b.start() {
			t.Errorf("the parts are apart: %v and %v", a.end(), b.start())
		}
	})
}

func TestLineBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := anyLine(t)
		from := rapid.Float64Range(0, l.length()).Draw(t, "from")
		to := rapid.Float64Range(from, l.length()).Draw(t, "to")
		part := l.between(from, to)
		within(t, "length", part.pathLength(), to-from, laidOff)
	})
}

// Reshaped by nothing, a line stays where it was within what a curve through
// points every 20 mm can do, and what lay where lies there still.
func TestLineReshaped(t *testing.T) {
	const close = 0.5 // mm; half a pencil line
	rapid.Check(t, func(t *rapid.T) {
		l := anyLine(t)
		path := l.path()
		r := l.reshaped(func(p geom.Point, _ float64, _ geom.Point) geom.Point { return p }, path.StartDirection(), path.EndDirection())
		if r.start() != l.start() || r.end().Dist(l.end()) > exact {
			t.Errorf("the ends moved: %v to %v, %v to %v", l.start(), r.start(), l.end(), r.end())
		}
		// Corners, as at a dart's mouth, cannot be kept by a smooth line.
		for i := 1; i < len(path); i++ {
			if math.Abs(geom.Turn(path[i-1].Direction(1), path[i].Direction(0))) > 0.02 {
				return
			}
		}
		for k := range 20 {
			at := l.length() * float64(k) / 19
			if _, d := r.path().Nearest(path.At(at)); d > close {
				t.Errorf("%.1f mm off at %.0f mm", d, at)
			}
		}
		s, ok := r.old()
		if was, _ := l.old(); !ok || math.Abs(s.Length()-was.Length()) > laidOff {
			t.Errorf("it came from %+v, now says %+v", was, s)
		}
	})
}

func TestRedrawn(t *testing.T) {
	path := geom.Polyline(geom.Pt(0, 0), geom.Pt(30, 0), geom.Pt(100, 0))
	l := redrawn(path, pattern.Stretch{Piece: "p", Edge: "e", From: 10, To: 60})
	if got := l[0].old; got.From != 10 || got.To != 25 {
		t.Errorf("the first 30 of 100 mm stand for %v to %v of 10 to 60, want 10 to 25", got.From, got.To)
	}
	if got, ok := l.old(); !ok || got.To != 60 {
		t.Errorf("all of it stands for %+v", got)
	}
	if _, ok := l.join(redrawn(path, pattern.Stretch{Piece: "p", Edge: "other", To: 5})).old(); ok {
		t.Error("a line of two edges says it came from one")
	}
	if _, ok := drawn(path...).old(); ok {
		t.Error("a line that was drawn says it came from somewhere")
	}
}
