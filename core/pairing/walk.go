package pairing

import (
	"fmt"
	"math"
	"strings"

	"bygone.example/core/cutline"
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// SeamWalk is what walking both sides of one seam gave.
type SeamWalk struct {
	Seam       string
	A, B       Side
	Difference float64 // B.Sewn − A.Sewn, mm
	Meeting    pattern.Meeting
	Kind       pattern.SeamKind
	OK         bool   // the lengths meet as the seam says
	Text       string // the same in plain words
}

// Side is one side of a seam.
type Side struct {
	Label string  // the edges in sewing order: "front/side + back/side"
	Cut   float64 // mm along the flat edges
	Sewn  float64 // mm once darts and pleats are folded and gathers drawn up
}

// Walk measures both sides of every seam, in the pattern's order. A seam whose
// B is empty is sewn to its own mirror image: both sides are the same.
func Walk(p *pattern.Pattern) []SeamWalk {
	c := newChecker(p)
	walks := make([]SeamWalk, len(c.seams))
	for i := range c.seams {
		s := &c.seams[i]
		v := c.judge(s)
		walks[i] = SeamWalk{
			Seam: s.Name, A: s.a.side(), B: s.b.side(), Meeting: s.Meeting, Kind: s.Kind,
			Difference: s.b.sewn - s.a.sewn, OK: v.ok(), Text: v.text,
		}
	}
	return walks
}

// checker holds what is measured once and asked for often.
type checker struct {
	Tolerances
	options Options
	pattern *pattern.Pattern
	edges   map[key]*edge
	seams   []seam
	found   []finding.Finding

	doubles []finding.Place         // of doubled points found
	hints   *hints                  // nil until a seam's sides differ
	allowed map[*pattern.Piece]bool // pieces that have an allowance on some edge
	evens   map[*pattern.Piece]bool // of pieces asked about: they mirror themselves
	mark    string                  // the dart being looked at, which a place does not tell
}

type key struct{ piece, edge string }

// edge is an edge with what was measured of it.
type edge struct {
	*pattern.Edge
	piece     *pattern.Piece
	index     int
	cut, sewn float64
	clockwise bool    // its piece is drawn with the edges that way round
	seams     []taken // that say what becomes of it: not those that only baste a layer onto it
}

// taken says that an edge is in a run of a seam.
type taken struct {
	seam int
	b    bool // in run B
}

// seam is a seam with both its runs measured.
type seam struct {
	*pattern.Seam
	a, b run

	joins       [][2]place // which corners it brings together
	needs, gaps []turn     // see turns
}

// mirrored reports whether the seam joins its side to that side's own mirror
// image.
func (s *seam) mirrored() bool { return len(s.Seam.B) == 0 }

// run is one side of a seam.
type run struct {
	edges     []walked
	cut, sewn float64
}

// walked is an edge of a run and the sewn length walked before it.
type walked struct {
	*edge
	backwards bool
	before    float64
}

func newChecker(p *pattern.Pattern) *checker {
	c := &checker{Tolerances: DefaultTolerances(), pattern: p, edges: make(map[key]*edge, 8*len(p.Pieces)), seams: make([]seam, len(p.Seams)), allowed: map[*pattern.Piece]bool{}}
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		clockwise := piece.Area() < 0
		for j := range piece.Edges {
			e := &piece.Edges[j]
			length := e.Path.Length()
			if cutline.Width(e) > 0 {
				c.allowed[piece] = true
			}
			c.edges[key{piece.Name, e.Name}] = &edge{
				Edge: e, piece: piece, index: j, cut: length, sewn: piece.SewnPosition(e.Name, length),
				clockwise: clockwise,
			}
		}
	}
	for i := range p.Seams {
		s := &p.Seams[i]
		c.seams[i] = seam{Seam: s, a: c.run(s.A, s, i, false), b: c.run(s.B, s, i, true)}
		if len(s.B) == 0 {
			c.seams[i].b = c.seams[i].a
		}
	}
	return c
}

func (c *checker) run(refs pattern.Run, s *pattern.Seam, seam int, b bool) run {
	var r run
	for _, ref := range refs {
		e := c.edges[key{ref.Piece, ref.Edge}]
		if e == nil {
			continue
		}
		if s.Kind != pattern.Basted || !b { // a layer laid onto an edge does not say what becomes of that
			e.seams = append(e.seams, taken{seam, b})
		}
		r.edges = append(r.edges, walked{e, ref.Backwards, r.sewn})
		r.cut += e.cut
		r.sewn += e.sewn
	}
	return r
}

func (r *run) side() Side {
	var label strings.Builder
	for i, e := range r.edges {
		if i > 0 {
			label.WriteString(" + ")
		}
		label.WriteString(e.piece.Name + "/" + e.Name)
	}
	return Side{label.String(), r.cut, r.sewn}
}

// position returns how far along the sewn run the place at mm along the flat
// edge comes to lie.
func (w walked) position(at float64) float64 {
	sewn := w.piece.SewnPosition(w.Name, at)
	if w.backwards {
		return w.before + w.sewn - sewn
	}
	return w.before + sewn
}

// end returns the corner of the piece where the walk leaves the edge.
func (w walked) end() geom.Point {
	if w.backwards {
		return w.Path.Start()
	}
	return w.Path.End()
}

// start returns the corner of the piece where the walk takes up the edge.
func (w walked) start() geom.Point {
	w.backwards = !w.backwards
	return w.end()
}

// verdict is what comparing the two lengths of a seam gave.
type verdict struct {
	text     string
	code     finding.Code // empty when the sides meet
	severity finding.Severity
	figures  finding.Figures
}

func (v verdict) ok() bool { return v.code == "" }

// judge holds the two sides of a seam against its meeting.
func (c *checker) judge(s *seam) verdict {
	a, b := s.a.sewn, s.b.sewn
	v := verdict{severity: finding.Fault, figures: finding.Figures{A: a, B: b, Difference: a - b, Unit: "mm"}}
	switch {
	case s.mirrored():
		v.text = fmt.Sprintf("%s, sewn to its own mirror image", mm(a))
	case s.Meeting.Kind == pattern.Eased:
		c.judgeEase(s, &v)
	case over(a-b, c.Length):
		v.code, v.text = SeamLength, differ(s)
		if s.Meeting.Kind != pattern.Plain {
			v.code = FullnessLength
		}
	case s.Meeting.Kind == pattern.Gathered || s.Meeting.Kind == pattern.Pleated:
		c.judgeRatio(s, &v)
	default:
		v.text = fmt.Sprintf("both sides %s", mm(a))
	}
	return v
}

func (c *checker) judgeEase(s *seam, v *verdict) {
	ease := s.b.sewn - s.a.sewn
	bounds := s.Meeting.Ease
	if !bounds.Given() {
		// Nobody gave bounds: what can be worked in at all. More may be meant.
		bounds, v.severity = pattern.Range{Max: c.MostEase}, finding.Warning
	}
	if bounds.Holds(ease, c.Length+rounding) {
		v.text = fmt.Sprintf("%s of ease in %s over %s", mm(ease), s.b.side().Label, mm(s.a.sewn))
		return
	}
	v.code = SeamEase
	v.text = fmt.Sprintf("%s has %s of ease; between %s and %s are meant", s.b.side().Label, mm(ease), mm(bounds.Min), mm(bounds.Max))
}

func (c *checker) judgeRatio(s *seam, v *verdict) {
	full, fuller := ratio(&s.a, s.Meeting.Kind), &s.a
	if r := ratio(&s.b, s.Meeting.Kind); longer(r, full) {
		full, fuller = r, &s.b
	}
	how := "drawn up"
	if s.Meeting.Kind == pattern.Pleated {
		how = "laid in pleats"
	}
	switch bounds := s.Meeting.Ratio; {
	case full == 0:
		v.code, v.severity = FullnessMissing, finding.Warning
		v.text = fmt.Sprintf("the seam is said to be %s, but neither side has anything to be %s", s.Meeting.Kind, how)
	case bounds.Given() && !bounds.Holds(full, c.Ratio+rounding):
		v.code, v.severity = FullnessRatio, finding.Warning
		v.figures = finding.Figures{A: full, B: max(bounds.Min, min(full, bounds.Max)), Unit: "ratio"}
		v.figures.Difference = v.figures.A - v.figures.B
		v.text = fmt.Sprintf("%s is %s %.2f times; between %.2f and %.2f are meant", fuller.side().Label, how, full, bounds.Min, bounds.Max)
	default:
		v.text = fmt.Sprintf("both sides %s, %s %s %.2f times", mm(s.a.sewn), fuller.side().Label, how, full)
	}
}

// ratio returns cut length over drawn-up length: of gathers, over the gathered
// stretches net of the folds inside them; of pleats, over the whole side. It
// is 0 where there are none.
func ratio(r *run, kind pattern.MeetingKind) float64 {
	var cut, drawn float64
	pleats := false
	for _, e := range r.edges {
		for _, g := range e.piece.Gathers {
			if g.Edge == e.Name {
				cut += g.To - g.From - folded(e, g.From, g.To)
				drawn += g.Length
			}
		}
		for _, d := range e.piece.Pleats {
			pleats = pleats || d.Edge == e.Name
		}
	}
	switch {
	case kind == pattern.Gathered && drawn > 0:
		return cut / drawn
	case kind == pattern.Pleated && pleats && r.sewn > 0:
		return r.cut / r.sewn
	}
	return 0
}

// folded returns how much darts and pleats take up between two places.
func folded(e walked, from, to float64) (sum float64) {
	add := func(name string, a, b float64) {
		if name == e.Name && a >= from-pattern.PlaceTolerance && b <= to+pattern.PlaceTolerance {
			sum += b - a
		}
	}
	for _, d := range e.piece.Darts {
		add(d.Edge, d.From, d.To)
	}
	for _, d := range e.piece.Pleats {
		add(d.Edge, d.From, d.To)
	}
	return sum
}

func differ(s *seam) string {
	long, short := &s.a, &s.b
	if longer(short.sewn, long.sewn) {
		long, short = short, long
	}
	return fmt.Sprintf("%s is %s longer than %s (%s against %s)",
		long.side().Label, mm(long.sewn-short.sewn), short.side().Label, mm(long.sewn), mm(short.sewn))
}

// mm writes a length as a maker reads it: to a tenth of a millimetre, and finer
// where that would hide it.
func mm(v float64) string {
	switch a := math.Abs(v); {
	case a != 0 && a < 0.05:
		return "less than 0.1 mm"
	case a < 1:
		return fmt.Sprintf("%.2f mm", v)
	}
	return fmt.Sprintf("%.1f mm", v)
}

// length reports a seam whose sides do not meet as it says.
func (c *checker) length(s *seam) {
	if s.mirrored() {
		for _, e := range s.a.edges {
			if !e.piece.Cut.Mirrored && !e.piece.OnFold() {
				at := e.end()
				c.add(SeamMirror, "", finding.Place{Seam: s.Name, Piece: e.piece.Name, Edge: e.Name, At: &at}, nil,
					fmt.Sprintf("%s/%s is sewn to its own mirror image, but the piece is not cut in pairs", e.piece.Name, e.Name))
			}
		}
	}
	v := c.judge(s)
	if v.ok() {
		return
	}
	long := &s.a
	if longer(s.b.sewn, s.a.sewn) {
		long = &s.b
	}
	place, way := finding.Place{Seam: s.Name}, ""
	if n := len(long.edges); n > 0 {
		e, at, where := c.where(s, long)
		v.text += where
		place.Piece, place.Edge, place.At = e.piece.Name, e.Name, &at
		switch {
		case where == "": // nothing tells where the sides differ, so they may be mended anywhere
		case e.edge == long.edges[0].edge && at == long.edges[0].start():
			way = "start"
		case e.edge == long.edges[n-1].edge && at == long.edges[n-1].end():
			way = "end"
		}
	}
	c.add(v.code, v.severity, place, &v.figures, v.text)
	if told := c.found[len(c.found)-1].Mend; way != "" && told != nil && v.code == SeamLength {
		told.With["way"] = way
	}
}

// add records a finding; severity and remedy come from the table unless given.
func (c *checker) add(code finding.Code, severity finding.Severity, place finding.Place, figures *finding.Figures, text string) {
	e := explanations[code]
	if severity == "" {
		severity = e.Severity
	}
	c.found = append(c.found, finding.Finding{
		Code: code, Severity: severity, Place: place, Figures: figures, Text: text, Remedy: e.Remedy, Mend: mend(code, place, c.mark),
	})
}
