package wire

import (
	"math"

	patternv1 "bygone.example/proto/gen/bygone/pattern/v1"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// DecodePattern returns the pattern of a stranger's message, or a *Broken that
// says which fields break which bounds. A pattern that passes may still be
// unsound: Validate it.
func DecodePattern(m *patternv1.Pattern) (*pattern.Pattern, error) {
	r := &reader{}
	p := r.pattern(&place{nil, "pattern", -1}, m)
	if err := r.err("pattern"); err != nil {
		return nil, err
	}
	return p, nil
}

// DecodeLineage returns the lineage of a stranger's message, or a *Broken.
func DecodeLineage(m *patternv1.Lineage) (pattern.Lineage, error) {
	r := &reader{}
	l := r.lineage(&place{nil, "lineage", -1}, m)
	if err := r.err("lineage"); err != nil {
		return nil, err
	}
	return l, nil
}

func (r *reader) pattern(at *place, m *patternv1.Pattern) *pattern.Pattern {
	if m == nil {
		r.fail(at, "is missing")
		return nil
	}
	p := &pattern.Pattern{
		Name:  r.name(at.in("name"), m.GetName()),
		Title: r.text(at.in("title"), m.GetTitle(), MaxTitle),
		Notes: r.notes(at.in("notes"), m.GetNotes(), MaxNotes),
	}
	if r.count(at.in("pieces"), len(m.GetPieces()), 1, MaxPieces) {
		seen := make(map[string]bool, len(m.GetPieces()))
		for i, piece := range m.GetPieces() {
			here := at.at("pieces", i)
			p.Pieces = append(p.Pieces, r.piece(here, piece))
			r.once(here.in("name"), seen, piece.GetName())
		}
	}
	if r.count(at.in("seams"), len(m.GetSeams()), 0, MaxSeams) {
		seen := make(map[string]bool, len(m.GetSeams()))
		for i, seam := range m.GetSeams() {
			here := at.at("seams", i)
			p.Seams = append(p.Seams, r.seam(here, seam))
			r.once(here.in("name"), seen, seam.GetName())
		}
	}
	return p
}

func (r *reader) piece(at *place, m *patternv1.Piece) pattern.Piece {
	p := pattern.Piece{
		Name:  r.name(at.in("name"), m.GetName()),
		Title: r.text(at.in("title"), m.GetTitle(), MaxTitle),
		Role:  pattern.Role(r.optionalName(at.in("role"), m.GetRole())),
		Cut: pattern.Cut{
			Count:    r.whole(at.in("cut_count"), m.GetCutCount(), 1, MaxCut),
			Mirrored: m.GetCutMirrored(),
		},
	}
	if r.count(at.in("edges"), len(m.GetEdges()), 1, MaxEdges) {
		seen := make(map[string]bool, len(m.GetEdges()))
		for i, e := range m.GetEdges() {
			here := at.at("edges", i)
			p.Edges = append(p.Edges, r.edge(here, e))
			r.once(here.in("name"), seen, e.GetName())
		}
	}
	if g := m.GetGrain(); g != nil {
		here := at.in("grain")
		p.Grain = pattern.Grain{From: r.point(here.in("from"), g.GetFrom()), To: r.point(here.in("to"), g.GetTo())}
		if !p.Grain.Given() {
			r.fail(here, "starts where it ends")
		}
	}
	if r.count(at.in("landmarks"), len(m.GetLandmarks()), 0, MaxMarks) {
		seen := make(map[string]bool, len(m.GetLandmarks()))
		for i, l := range m.GetLandmarks() {
			here := at.at("landmarks", i)
			p.Landmarks = append(p.Landmarks, pattern.Landmark{
				Name: r.name(here.in("name"), l.GetName()), At: r.point(here.in("at"), l.GetAt()),
			})
			r.once(here.in("name"), seen, l.GetName())
		}
	}
	r.takeUps(at, m, &p)
	if r.count(at.in("notches"), len(m.GetNotches()), 0, MaxNotches) {
		for i, n := range m.GetNotches() {
			here := at.at("notches", i)
			p.Notches = append(p.Notches, pattern.Notch{
				Name:  r.name(here.in("name"), n.GetName()),
				Edge:  r.name(here.in("edge"), n.GetEdge()),
				At:    r.number(here.in("at"), n.GetAt(), -placeSlack, MaxCoordinate),
				Count: r.whole(here.in("count"), n.GetCount(), 1, MaxNotchCount),
			})
		}
	}
	return p
}

// takeUps reads darts, pleats and gathers.
func (r *reader) takeUps(at *place, m *patternv1.Piece, p *pattern.Piece) {
	if r.count(at.in("darts"), len(m.GetDarts()), 0, MaxMarks) {
		seen := make(map[string]bool, len(m.GetDarts()))
		for i, d := range m.GetDarts() {
			here := at.at("darts", i)
			from, to := r.between(here, d.GetFrom(), d.GetTo())
			p.Darts = append(p.Darts, pattern.Dart{
				Name: r.name(here.in("name"), d.GetName()), Edge: r.name(here.in("edge"), d.GetEdge()),
				From: from, To: to, Point: r.point(here.in("point"), d.GetPoint()),
				Pressed: presses.decode(r, here.in("pressed"), d.GetPressed()),
			})
			r.once(here.in("name"), seen, d.GetName())
		}
	}
	if r.count(at.in("pleats"), len(m.GetPleats()), 0, MaxMarks) {
		seen := make(map[string]bool, len(m.GetPleats()))
		for i, d := range m.GetPleats() {
			here := at.at("pleats", i)
			from, to := r.between(here, d.GetFrom(), d.GetTo())
			p.Pleats = append(p.Pleats, pattern.Pleat{
				Name: r.name(here.in("name"), d.GetName()), Edge: r.name(here.in("edge"), d.GetEdge()),
				From: from, To: to, Kind: pleatKinds.decode(r, here.in("kind"), d.GetKind()),
				Pressed: presses.decode(r, here.in("pressed"), d.GetPressed()),
			})
			r.once(here.in("name"), seen, d.GetName())
		}
	}
	if r.count(at.in("gathers"), len(m.GetGathers()), 0, MaxMarks) {
		seen := make(map[string]bool, len(m.GetGathers()))
		for i, g := range m.GetGathers() {
			here := at.at("gathers", i)
			from, to := r.between(here, g.GetFrom(), g.GetTo())
			p.Gathers = append(p.Gathers, pattern.Gather{
				Name: r.name(here.in("name"), g.GetName()), Edge: r.name(here.in("edge"), g.GetEdge()),
				From: from, To: to, Length: r.number(here.in("length"), g.GetLength(), 0, MaxCoordinate),
				Kind:   gatherKinds.decode(r, here.in("kind"), g.GetKind()),
				Stitch: r.number(here.in("stitch"), g.GetStitch(), 0, MaxCoordinate),
				Rows:   r.whole(here.in("rows"), g.GetRows(), 0, pattern.MaxRows),
			})
			r.once(here.in("name"), seen, g.GetName())
		}
	}
}

// between reads the two ends of what takes up a stretch.
func (r *reader) between(at *place, from, to float64) (float64, float64) {
	r.number(at.in("from"), from, -placeSlack, MaxCoordinate)
	r.number(at.in("to"), to, -placeSlack, MaxCoordinate)
	if from >= to {
		r.fail(at.in("to"), "is %g, not more than from, %g", to, from)
	}
	return from, to
}

func (r *reader) point(at *place, m *patternv1.Point) geom.Point {
	if m == nil {
		r.fail(at, "is missing")
		return geom.Point{}
	}
	return geom.Point{
		X: r.number(at.in("x"), m.GetX(), -MaxCoordinate, MaxCoordinate),
		Y: r.number(at.in("y"), m.GetY(), -MaxCoordinate, MaxCoordinate),
	}
}

func (r *reader) edge(at *place, m *patternv1.Edge) pattern.Edge {
	return pattern.Edge{
		Name:      r.name(at.in("name"), m.GetName()),
		Role:      r.optionalName(at.in("role"), m.GetRole()),
		Path:      r.path(at.in("path"), m.GetPath()),
		Finish:    finishes.decode(r, at.in("finish"), m.GetFinish()),
		Allowance: r.number(at.in("allowance"), m.GetAllowance(), 0, MaxAllowance),
		Corner:    corners.decode(r, at.in("corner"), m.GetCorner()),
	}
}

// path unpacks a path; nil when something is wrong with it.
func (r *reader) path(at *place, m *patternv1.Path) geom.Path {
	kinds, numbers := m.GetSegments(), m.GetNumbers()
	if !r.count(at.in("segments"), len(kinds), 1, MaxSegments) || len(kinds) == 0 {
		return nil
	}
	before := r.segments
	r.segments += len(kinds)
	if r.segments > MaxTotalSegments {
		if before <= MaxTotalSegments {
			r.fail(at, "brings the pattern to %d lines and curves, more than %d", r.segments, MaxTotalSegments)
		}
		return nil
	}
	want := 2
	for i, kind := range kinds {
		switch kind {
		case patternv1.SegmentKind_SEGMENT_KIND_LINE:
			want += 2
		case patternv1.SegmentKind_SEGMENT_KIND_CUBIC:
			want += 6
		default:
			r.fail(at.at("segments", i), "is %d, which has no meaning here", kind)
			return nil
		}
	}
	if len(numbers) != want {
		r.fail(at.in("numbers"), "has %d entries, but the segments ask for %d", len(numbers), want)
		return nil
	}
	for i, x := range numbers {
		if !(math.Abs(x) <= MaxCoordinate) { // false for NaN too
			r.number(at.at("numbers", i), x, -MaxCoordinate, MaxCoordinate)
			return nil
		}
	}
	path := make(geom.Path, len(kinds))
	next := func() geom.Point {
		p := geom.Point{X: numbers[0], Y: numbers[1]}
		numbers = numbers[2:]
		return p
	}
	last := next()
	for i, kind := range kinds {
		if kind == patternv1.SegmentKind_SEGMENT_KIND_LINE {
			path[i] = geom.Line(last, next())
		} else {
			c1, c2 := next(), next()
			path[i] = geom.Cubic(last, c1, c2, next())
		}
		last = path[i].P1
	}
	return path
}

func (r *reader) seam(at *place, m *patternv1.Seam) pattern.Seam {
	meeting := m.GetMeeting()
	here := at.in("meeting")
	return pattern.Seam{
		Name: r.name(at.in("name"), m.GetName()),
		A:    r.run(at, "a", m.GetA(), 1),
		B:    r.run(at, "b", m.GetB(), 0),
		Kind: seamKinds.decode(r, at.in("kind"), m.GetKind()),
		Meeting: pattern.Meeting{
			Kind:  meetingKinds.decode(r, here.in("kind"), meeting.GetKind()),
			Ease:  r.interval(here.in("ease"), meeting.GetEase()),
			Ratio: r.interval(here.in("ratio"), meeting.GetRatio()),
		},
	}
}

func (r *reader) run(at *place, side string, list []*patternv1.EdgeRef, least int) pattern.Run {
	if !r.count(at.in(side), len(list), least, MaxRun) {
		return nil
	}
	var run pattern.Run
	for i, e := range list {
		here := at.at(side, i)
		run = append(run, pattern.EdgeRef{
			Piece: r.name(here.in("piece"), e.GetPiece()), Edge: r.name(here.in("edge"), e.GetEdge()),
			Backwards: e.GetBackwards(),
		})
	}
	return run
}

func (r *reader) interval(at *place, m *patternv1.Range) pattern.Range {
	if m == nil {
		return pattern.Range{}
	}
	i := pattern.Range{
		Min: r.number(at.in("min"), m.GetMin(), -MaxCoordinate, MaxCoordinate),
		Max: r.number(at.in("max"), m.GetMax(), -MaxCoordinate, MaxCoordinate),
	}
	if i.Min > i.Max {
		r.fail(at.in("max"), "is %g, less than min, %g", i.Max, i.Min)
	}
	return i
}

func (r *reader) lineage(at *place, m *patternv1.Lineage) pattern.Lineage {
	spans := m.GetSpans()
	if !r.count(at.in("spans"), len(spans), 1, MaxSpans) {
		return nil
	}
	l := make(pattern.Lineage, len(spans))
	for i, s := range spans {
		here := at.at("spans", i)
		l[i].New = r.stretch(here.in("now"), s.GetNow())
		if s.GetWas() != nil {
			l[i].Old = r.stretch(here.in("was"), s.GetWas())
		}
	}
	return l
}

func (r *reader) stretch(at *place, m *patternv1.Stretch) pattern.Stretch {
	s := pattern.Stretch{
		Piece: r.name(at.in("piece"), m.GetPiece()), Edge: r.name(at.in("edge"), m.GetEdge()),
		From: r.number(at.in("from"), m.GetFrom(), -placeSlack, MaxCoordinate),
		To:   r.number(at.in("to"), m.GetTo(), -placeSlack, MaxCoordinate),
	}
	if s.From > s.To {
		r.fail(at.in("to"), "is %g, less than from, %g", s.To, s.From)
	}
	return s
}
