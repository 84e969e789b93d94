package pattern

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
)

// Problem is one thing that keeps a pattern from being a pattern at all: which
// rule it breaks, where, and what to do. What does not apply is empty.
type Problem struct {
	Rule                    string
	Piece, Edge, Seam, Mark string
	At                      *geom.Point // mm, in the piece's plane
	Text, Remedy            string
}

// String gives the place and the text: "piece front, edge side: …".
func (p Problem) String() string {
	place := ""
	for _, part := range [...]struct{ kind, name string }{
		{"seam", p.Seam}, {"piece", p.Piece}, {"edge", p.Edge}, {"mark", p.Mark},
	} {
		if part.name == "" {
			continue
		}
		if place != "" {
			place += ", "
		}
		place += part.kind + " " + part.name
	}
	if place == "" {
		return p.Text
	}
	return place + ": " + p.Text
}

// The rules of Validate, by their number in its doc comment.
const (
	RuleName        = "name"         // 1
	RuleUnique      = "unique"       // 2
	RuleNoPieces    = "no-pieces"    // 3
	RuleNoEdges     = "no-edges"     // 4
	RuleNumber      = "number"       // 5
	RuleWord        = "word"         // 6
	RuleCut         = "cut"          // 7
	RuleShortEdge   = "short-edge"   // 8
	RuleGap         = "gap"          // 9
	RuleOpen        = "open"         // 10
	RuleCrossing    = "crossing"     // 11
	RuleDirection   = "direction"    // 12
	RuleArea        = "area"         // 13
	RuleFold        = "fold"         // 14
	RuleMarkEdge    = "mark-edge"    // 15
	RuleMarkPlace   = "mark-place"   // 16
	RuleOverlap     = "overlap"      // 17
	RuleGather      = "gather"       // 18
	RuleNotchCount  = "notch-count"  // 19
	RuleSeamEmpty   = "seam-empty"   // 20
	RuleSeamEdge    = "seam-edge"    // 21
	RuleSeamTwice   = "seam-twice"   // 22
	RuleMeeting     = "meeting"      // 23
	RuleTooDetailed = "too-detailed" // 24
	RuleBasted      = "basted"       // 25
)

// The bounds that Validate holds a pattern to.
const (
	// MaxCoordinate in mm: a hundred metres, longer than any cloth is woven in
	// one piece, and small enough that float64 still tells 1e-10 mm apart.
	MaxCoordinate = 1e5
	// MaxCount of one piece to cut, and of anything else that is counted.
	MaxCount = 1000
	// MaxSegments of one piece's boundary: ten times the most detailed outline
	// that comes out of a digitising table (from memory), and few enough to
	// look for crossings in well under a second.
	MaxSegments = 20000
	// MaxBoundary of one piece in mm: a strip of 50 m, there and back. It keeps
	// curves as long as the coordinates allow from being cut into tens of
	// millions of chords: without it, 18000 of them take minutes and 50 GB.
	MaxBoundary = 1e5
	// JoinTolerance in mm: ends nearer than this are one point. Files keep six
	// decimals or fewer; rounding at MaxCoordinate stays far below.
	JoinTolerance = 1e-6
	// MinEdge in mm: no edge shorter than this can be sewn, marked or seen.
	MinEdge = 1e-3
	// MinArea in mm²: less is a line drawn there and back, not cloth.
	MinArea = 1.0
	// FoldTolerance in mm is how far a fold edge may leave the straight line:
	// the width of a sharp pencil line is several times that.
	FoldTolerance = 0.1
	// PlaceTolerance in mm is how far a mark may lie beyond the end of its edge,
	// or into its neighbour: what rounding leaves when a place is carried over.
	PlaceTolerance = 1e-6
	// Curves are looked at as chords for crossings, coarsely first and finely
	// where that finds one: what crosses by less than coarse mm is no wider
	// than a pencil line.
	coarseChords, fineChords = 0.1, 0.002
)

// Validate lists what is wrong with the pattern, in its own order; nil when it
// is sound. What rule 5 or 9 finds in a piece hides rules 10 to 13 there, since
// there is no boundary to judge.
//
//  1. Names: of the pattern and pieces a ValidName, of edges, seams and marks
//     a ValidDotted; roles of pieces and edges the same, or empty.
//  2. Names are unique: pieces and seams in the pattern; edges, landmarks and
//     take-ups (darts, pleats and gathers together) in the piece; notches on
//     their edge.
//  3. There is at least one piece.
//  4. A piece has at least one edge.
//  5. Numbers are finite and no further from 0 than MaxCoordinate; an
//     allowance is not below 0.
//  6. Words that have fixed meanings (finish, corner, pressed, kind) are known.
//  7. A cut count is 1 to MaxCount, and even where half are turned over.
//  8. No edge is empty or shorter than MinEdge.
//  9. No gap wider than JoinTolerance inside an edge's path.
//  10. Each edge starts where the one before it ends, within JoinTolerance, the
//     first where the last ends.
//  11. The boundary does not cross, touch or double back on itself.
//  12. It runs counter-clockwise.
//  13. It encloses at least MinArea.
//  14. A fold edge is straight within FoldTolerance.
//  15. A dart, pleat, gather or notch names an edge of its piece.
//  16. Its places lie on the edge, within PlaceTolerance, and From is less
//     than To.
//  17. Take-ups of one edge do not overlap; a dart or pleat may lie wholly
//     inside a gather.
//  18. A gather's length is more than 0 and no more than the stretch it draws
//     up, less the darts and pleats inside it.
//  19. A notch's count is 1 to 3.
//  20. Side A of a seam is not empty.
//  21. A seam's edges exist.
//  22. No edge is in two seams; but one may be on side B of basted seams
//     besides, once in each.
//  23. A meeting's ranges are in order (Min ≤ Max), ratios are at least 1, and
//     no range is given that the kind of meeting does not look at.
//  24. A piece has no more than MaxSegments lines and curves, no longer than
//     MaxBoundary in all, and no more than MaxCount edges and marks of a sort;
//     a pattern no more than MaxCount pieces and seams.
//  25. A basted seam has a side B, and its two sides share no piece: a layer
//     lies on another piece than itself.
//
// That every edge is accounted for is not asked here: the pairing check tells.
func (p *Pattern) Validate() []Problem { return p.validate(true) }

// ValidateParts is Validate without rules 11 to 14: it lists only what leaves no
// pattern to look at. A boundary that crosses itself, runs the wrong way round or
// encloses nothing, and a bent fold, are left to the pairing check, which says
// more about them.
func (p *Pattern) ValidateParts() []Problem { return p.validate(false) }

func (p *Pattern) validate(shapes bool) []Problem {
	v := &validator{pattern: p, shapes: shapes}
	v.name(Problem{}, "the pattern's name", p.Name, ValidName)
	if len(p.Pieces) == 0 {
		v.add(RuleNoPieces, Problem{}, "the pattern has no pieces", "Give it at least one piece.")
	}
	if v.tooMany("pieces", len(p.Pieces), Problem{}) || v.tooMany("seams", len(p.Seams), Problem{}) {
		return v.found
	}
	seen := make(map[string]bool, len(p.Pieces))
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		v.unique(seen, piece.Name, "pieces", Problem{Piece: piece.Name})
		v.piece(piece)
	}
	v.seams()
	return v.found
}

type validator struct {
	pattern *Pattern
	shapes  bool // judge rules 11 to 14 too
	found   []Problem
	lengths []float64 // of the edges of the piece being looked at
}

func (v *validator) add(rule string, at Problem, text, remedy string) {
	at.Rule, at.Text, at.Remedy = rule, text, remedy
	v.found = append(v.found, at)
}

func (v *validator) name(at Problem, what, name string, valid func(string) bool) {
	if !valid(name) {
		v.add(RuleName, at, fmt.Sprintf("%s %q is not a name", what, shorten(name)),
			"Use lower-case letters, digits and hyphens; parts of a divided edge are joined with a dot.")
	}
}

// shorten keeps a stranger's text from flooding a message.
func shorten(s string) string {
	if len(s) > MaxName {
		return s[:MaxName] + "…"
	}
	return s
}

func (v *validator) unique(seen map[string]bool, name, what string, at Problem) {
	if seen[name] {
		v.add(RuleUnique, at, fmt.Sprintf("two %s are called %s", what, shorten(name)), "Give one of them another name.")
	}
	seen[name] = true
}

func (v *validator) tooMany(what string, n int, at Problem) bool {
	if n <= MaxCount {
		return false
	}
	v.add(RuleTooDetailed, at, fmt.Sprintf("there are %d %s, more than %d", n, what, MaxCount), "Divide the pattern.")
	return true
}

func inBounds(values ...float64) bool {
	for _, x := range values {
		if !(math.Abs(x) <= MaxCoordinate) { // false for NaN too
			return false
		}
	}
	return true
}

func pointsInBounds(points ...geom.Point) bool {
	for _, q := range points {
		if !(math.Abs(q.X) <= MaxCoordinate && math.Abs(q.Y) <= MaxCoordinate) {
			return false
		}
	}
	return true
}

// word reports a word of fixed meaning that is not one of the known.
func word[T ~string](v *validator, at Problem, what string, got T, known ...T) {
	for _, k := range known {
		if got == k {
			return
		}
	}
	list := ""
	for i, k := range known {
		if i > 0 {
			list += ", "
		}
		if k == "" {
			list += "nothing"
			continue
		}
		list += string(k)
	}
	v.add(RuleWord, at, fmt.Sprintf("%s %q is not known", what, shorten(string(got))), "Write one of: "+list+".")
}

func (v *validator) piece(p *Piece) {
	at := Problem{Piece: p.Name}
	v.name(at, "the piece's name", p.Name, ValidName)
	if p.Role != "" {
		v.name(at, "the piece's role", string(p.Role), ValidDotted)
	}
	switch {
	case p.Cut.Count < 1 || p.Cut.Count > MaxCount:
		v.add(RuleCut, at, fmt.Sprintf("%d are to be cut", p.Cut.Count), fmt.Sprintf("Cut between 1 and %d.", MaxCount))
	case p.Cut.Mirrored && p.Cut.Count%2 != 0:
		v.add(RuleCut, at, fmt.Sprintf("%d are to be cut, half of them turned over", p.Cut.Count), "Cut an even number, or turn none over.")
	}
	if !pointsInBounds(p.Grain.From, p.Grain.To) {
		v.number(at, "the grainline")
	}
	if len(p.Edges) == 0 {
		v.add(RuleNoEdges, at, "the piece has no edges", "Draw its seam line.")
	}
	for _, list := range [...]struct {
		what string
		n    int
	}{
		{"edges", len(p.Edges)}, {"landmarks", len(p.Landmarks)}, {"darts", len(p.Darts)},
		{"pleats", len(p.Pleats)}, {"gathers", len(p.Gathers)}, {"notches", len(p.Notches)},
	} {
		if v.tooMany(list.what, list.n, at) {
			return
		}
	}
	if v.edges(p) {
		v.boundary(p)
	}
	v.marks(p)
}

func (v *validator) number(at Problem, what string) {
	v.add(RuleNumber, at, fmt.Sprintf("%s holds a number that is not finite or beyond %g mm", what, MaxCoordinate),
		"Lengths are in mm; check the unit and the file.")
}

// edges looks at each edge alone, fills in v.lengths, and reports whether there
// is a boundary to judge.
func (v *validator) edges(p *Piece) (whole bool) {
	v.lengths = v.lengths[:0]
	whole = len(p.Edges) > 0
	seen := make(map[string]bool, len(p.Edges))
	segments, perimeter := 0, 0.0
	for i := range p.Edges {
		e := &p.Edges[i]
		at := Problem{Piece: p.Name, Edge: e.Name}
		v.name(at, "the edge's name", e.Name, ValidDotted)
		v.unique(seen, e.Name, "edges", at)
		if e.Role != "" {
			v.name(at, "the edge's role", e.Role, ValidDotted)
		}
		word(v, at, "the finish", e.Finish, Sewn, Fold, Hemmed, Faced, Bound, Open)
		word(v, at, "the corner", e.Corner, Meet, Bevel, Square, Turned, Matched)
		if !inBounds(e.Allowance) || e.Allowance < 0 {
			v.add(RuleNumber, at, fmt.Sprintf("the allowance is %g mm", e.Allowance), "Give a width in mm, 0 for none.")
		}
		length := math.NaN()
		switch {
		case !pathInBounds(e.Path):
			v.number(at, "the edge")
			whole = false
		case e.Path.Gap() > JoinTolerance:
			v.add(RuleGap, at, fmt.Sprintf("the edge is broken by a gap of %.6g mm", e.Path.Gap()), "Let each line or curve start where the one before it ends.")
			whole = false
		default:
			length = e.Path.Length()
			perimeter += length
			if length < MinEdge {
				v.add(RuleShortEdge, at, fmt.Sprintf("the edge is %.6g mm long", length), "Leave the edge out, or draw it.")
				whole = whole && len(e.Path) > 0
				break
			}
			if v.shapes && e.Finish == Fold && !e.Path.Straight(FoldTolerance) {
				v.add(RuleFold, at, "the fold edge is not straight", "Draw the fold as one straight line.")
			}
		}
		v.lengths = append(v.lengths, length)
		segments += len(e.Path)
	}
	if perimeter > MaxBoundary {
		v.add(RuleTooDetailed, Problem{Piece: p.Name}, fmt.Sprintf("the boundary is %.0f m long, more than %.0f m", perimeter/1000, MaxBoundary/1000),
			"Lengths are in mm; check the unit and the file.")
		return false
	}
	if segments > MaxSegments {
		v.add(RuleTooDetailed, Problem{Piece: p.Name}, fmt.Sprintf("the boundary has %d lines and curves, more than %d", segments, MaxSegments),
			"Redraw it with fewer, longer curves.")
		return false
	}
	return whole
}

func pathInBounds(path geom.Path) bool {
	for i := range path {
		s := &path[i]
		if !pointsInBounds(s.P0, s.P1) || s.Curved && !pointsInBounds(s.C1, s.C2) {
			return false
		}
	}
	return true
}

// boundary judges the edges together.
func (v *validator) boundary(p *Piece) {
	closed := true
	last := p.Edges[len(p.Edges)-1].Path
	for i := range p.Edges {
		e := &p.Edges[i]
		if gap := last.End().Dist(e.Path.Start()); gap > JoinTolerance {
			start := e.Path.Start()
			v.add(RuleOpen, Problem{Piece: p.Name, Edge: e.Name, At: &start},
				fmt.Sprintf("the edge starts %.6g mm from where the one before it ends", gap), "Let edges follow one another around the piece without gaps.")
			closed = false
		}
		last = e.Path
	}
	if !closed || !v.shapes {
		return
	}
	path := p.Boundary()
	crossings := path.SelfCrossings(coarseChords)
	if len(crossings) > 0 { // chords may cross where the curves do not
		crossings = path.SelfCrossings(fineChords)
	}
	if len(crossings) > 0 {
		c := crossings[0]
		v.add(RuleCrossing, Problem{Piece: p.Name, Edge: v.edgeAt(p, c.Second), At: &c.At},
			fmt.Sprintf("the boundary crosses or touches itself at %.1f, %.1f", c.At.X, c.At.Y), "Redraw it so that it runs around the piece once.")
		return // neither its direction nor its area mean anything
	}
	switch area := path.Area(); {
	case math.Abs(area) < MinArea:
		v.add(RuleArea, Problem{Piece: p.Name}, fmt.Sprintf("the piece has an area of %.3g mm²", math.Abs(area)), "Draw the whole outline.")
	case area < 0:
		v.add(RuleDirection, Problem{Piece: p.Name}, "the edges run clockwise", "List the edges counter-clockwise, each drawn in that direction.")
	}
}

// edgeAt returns the name of the edge at that arc length along the boundary.
func (v *validator) edgeAt(p *Piece, along float64) string {
	for i, l := range v.lengths {
		if along < l || i == len(v.lengths)-1 {
			return p.Edges[i].Name
		}
		along -= l
	}
	return ""
}
