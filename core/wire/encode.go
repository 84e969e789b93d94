package wire

import (
	"fmt"

	patternv1 "bygone.example/proto/gen/bygone/pattern/v1"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// EncodePattern returns the message for a pattern. It fails on what the
// contract has no room for: a word without a meaning, a path with a gap, more
// pieces, edges, segments or marks than a receiver accepts.
func EncodePattern(p *pattern.Pattern) (*patternv1.Pattern, error) {
	if p == nil {
		return nil, fmt.Errorf("there is no pattern")
	}
	w := &writer{}
	w.count("pieces", len(p.Pieces), MaxPieces)
	w.count("seams", len(p.Seams), MaxSeams)
	m := &patternv1.Pattern{Name: p.Name, Title: p.Title, Notes: p.Notes}
	for i := range p.Pieces {
		m.Pieces = append(m.Pieces, w.piece(&p.Pieces[i]))
	}
	for i := range p.Seams {
		m.Seams = append(m.Seams, w.seam(&p.Seams[i]))
	}
	w.count("lines and curves", w.segments, MaxTotalSegments)
	return m, w.err
}

// EncodeLineage returns the message for a lineage.
func EncodeLineage(l pattern.Lineage) *patternv1.Lineage {
	m := &patternv1.Lineage{Spans: make([]*patternv1.Span, len(l))}
	for i, s := range l {
		m.Spans[i] = &patternv1.Span{Now: encodeStretch(s.New)}
		if !s.Added() {
			m.Spans[i].Was = encodeStretch(s.Old)
		}
	}
	return m
}

func encodeStretch(s pattern.Stretch) *patternv1.Stretch {
	return &patternv1.Stretch{Piece: s.Piece, Edge: s.Edge, From: s.From, To: s.To}
}

// writer keeps the first thing that could not be sent.
type writer struct {
	err      error
	place    string
	segments int
}

func (w *writer) fail(err error) {
	if w.err != nil {
		return
	}
	if w.place != "" {
		err = fmt.Errorf("%s: %w", w.place, err)
	}
	w.err = err
}

func (w *writer) count(what string, n, most int) {
	if n > most {
		w.fail(fmt.Errorf("%d %s, more than the %d a plugin is sent", n, what, most))
	}
}

// sent encodes a word of fixed meaning.
func sent[W ~string, M ~int32](w *writer, list words[W, M], word W) M {
	m, err := list.encode(word)
	if err != nil {
		w.fail(err)
	}
	return m
}

func (w *writer) piece(p *pattern.Piece) *patternv1.Piece {
	w.place = "piece " + p.Name
	w.count("edges", len(p.Edges), MaxEdges)
	w.count("landmarks", len(p.Landmarks), MaxMarks)
	w.count("darts", len(p.Darts), MaxMarks)
	w.count("pleats", len(p.Pleats), MaxMarks)
	w.count("gathers", len(p.Gathers), MaxMarks)
	w.count("notches", len(p.Notches), MaxNotches)
	m := &patternv1.Piece{
		Name: p.Name, Title: p.Title, Role: string(p.Role),
		CutCount: int32(min(p.Cut.Count, MaxCut+1)), CutMirrored: p.Cut.Mirrored,
	}
	for i := range p.Edges {
		w.place = "piece " + p.Name + ", edge " + p.Edges[i].Name
		m.Edges = append(m.Edges, w.edge(&p.Edges[i]))
	}
	w.place = "piece " + p.Name
	if p.Grain.Given() {
		m.Grain = &patternv1.Grain{From: encodePoint(p.Grain.From), To: encodePoint(p.Grain.To)}
	}
	for _, l := range p.Landmarks {
		m.Landmarks = append(m.Landmarks, &patternv1.Landmark{Name: l.Name, At: encodePoint(l.At)})
	}
	for _, d := range p.Darts {
		m.Darts = append(m.Darts, &patternv1.Dart{
			Name: d.Name, Edge: d.Edge, From: d.From, To: d.To,
			Point: encodePoint(d.Point), Pressed: sent(w, presses, d.Pressed),
		})
	}
	for _, d := range p.Pleats {
		m.Pleats = append(m.Pleats, &patternv1.Pleat{
			Name: d.Name, Edge: d.Edge, From: d.From, To: d.To,
			Kind: sent(w, pleatKinds, d.Kind), Pressed: sent(w, presses, d.Pressed),
		})
	}
	for _, g := range p.Gathers {
		m.Gathers = append(m.Gathers, &patternv1.Gather{
			Name: g.Name, Edge: g.Edge, From: g.From, To: g.To,
			Length: g.Length, Kind: sent(w, gatherKinds, g.Kind),
			Stitch: g.Stitch, Rows: int32(max(0, min(g.Rows, pattern.MaxRows+1))),
		})
	}
	for _, n := range p.Notches {
		m.Notches = append(m.Notches, &patternv1.Notch{
			Name: n.Name, Edge: n.Edge, At: n.At, Count: int32(min(n.Count, MaxNotchCount+1)),
		})
	}
	w.place = ""
	return m
}

func (w *writer) edge(e *pattern.Edge) *patternv1.Edge {
	w.count("lines and curves", len(e.Path), MaxSegments)
	return &patternv1.Edge{
		Name: e.Name, Role: e.Role, Path: w.path(e.Path),
		Finish: sent(w, finishes, e.Finish), Allowance: e.Allowance, Corner: sent(w, corners, e.Corner),
	}
}

// path packs a path. The start of each segment but the first is taken to be the
// end of the one before.
func (w *writer) path(p geom.Path) *patternv1.Path {
	w.segments += len(p)
	m := &patternv1.Path{}
	if len(p) == 0 {
		return m
	}
	m.Segments = make([]patternv1.SegmentKind, len(p))
	m.Numbers = make([]float64, 0, 2+6*len(p))
	m.Numbers = append(m.Numbers, p[0].P0.X, p[0].P0.Y)
	for i := range p {
		s := &p[i]
		if i > 0 {
			if gap := s.P0.Dist(p[i-1].P1); gap > gapTolerance {
				w.fail(fmt.Errorf("line or curve %d starts %.3g mm from where the one before it ends", i+1, gap))
			}
		}
		if !s.Curved {
			m.Segments[i] = patternv1.SegmentKind_SEGMENT_KIND_LINE
			m.Numbers = append(m.Numbers, s.P1.X, s.P1.Y)
			continue
		}
		m.Segments[i] = patternv1.SegmentKind_SEGMENT_KIND_CUBIC
		m.Numbers = append(m.Numbers, s.C1.X, s.C1.Y, s.C2.X, s.C2.Y, s.P1.X, s.P1.Y)
	}
	return m
}

func (w *writer) seam(s *pattern.Seam) *patternv1.Seam {
	w.place = "seam " + s.Name
	w.count("edges on side a", len(s.A), MaxRun)
	w.count("edges on side b", len(s.B), MaxRun)
	m := &patternv1.Seam{
		Name: s.Name, A: encodeRun(s.A), B: encodeRun(s.B), Kind: sent(w, seamKinds, s.Kind),
		Meeting: &patternv1.Meeting{
			Kind: sent(w, meetingKinds, s.Meeting.Kind),
			Ease: encodeRange(s.Meeting.Ease), Ratio: encodeRange(s.Meeting.Ratio),
		},
	}
	w.place = ""
	return m
}

func encodeRun(run pattern.Run) []*patternv1.EdgeRef {
	var list []*patternv1.EdgeRef
	for _, e := range run {
		list = append(list, &patternv1.EdgeRef{Piece: e.Piece, Edge: e.Edge, Backwards: e.Backwards})
	}
	return list
}

func encodeRange(r pattern.Range) *patternv1.Range {
	if !r.Given() {
		return nil
	}
	return &patternv1.Range{Min: r.Min, Max: r.Max}
}

func encodePoint(p geom.Point) *patternv1.Point { return &patternv1.Point{X: p.X, Y: p.Y} }
