// Package differ says how one pattern differs from another: in millimetres and
// where, as a maker would lay one paper over the other, not line by line of
// their files.
//
// Only what is cut, marked or sewn counts. How a curve is divided, the order of
// pieces, edges and seams, and where on its sheet a piece lies make no
// difference. Lengths are mm, angles degrees.
package differ

import (
	"fmt"
	"math"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// DefaultTolerance in mm is the difference that nobody sees: two sides of a seam
// that differ by it are of one length to the check too.
const DefaultTolerance = 0.1

// What is the sort of a difference. The words never change meaning.
type What string

// The differences there are. What has no counterpart is gone or new; what is
// renamed lies where it lay under another name.
const (
	PieceGone      What = "piece-gone"
	PieceNew       What = "piece-new"
	PieceRenamed   What = "piece-renamed"
	PieceTurned    What = "piece-turned" // its own mirror image
	PieceElsewhere What = "piece-elsewhere"
	PieceCut       What = "piece-cut" // how many are cut, and which way up
	PieceRole      What = "piece-role"
	GrainMoved     What = "grain-moved"
	EdgeGone       What = "edge-gone"
	EdgeNew        What = "edge-new"
	EdgeRenamed    What = "edge-renamed"
	EdgeDivided    What = "edge-divided" // or joined up: as many parts as it was not
	EdgeMoved      What = "edge-moved"
	EdgeTurned     What = "edge-turned" // drawn the other way
	EdgeFinish     What = "edge-finish" // what becomes of it, its role or its corner
	EdgeAllowance  What = "edge-allowance"
	MarkGone       What = "mark-gone"
	MarkNew        What = "mark-new"
	MarkMoved      What = "mark-moved"
	MarkChanged    What = "mark-changed" // its kind, its count, the way it is pressed
	SeamGone       What = "seam-gone"
	SeamNew        What = "seam-new"
	SeamRenamed    What = "seam-renamed"
	SeamEdges      What = "seam-edges"
	SeamMeeting    What = "seam-meeting"
	SeamLength     What = "seam-length"
	Words          What = "words" // titles and notes
)

// Difference is one way in which the second pattern is not the first.
type Difference struct {
	What What `json:"what"`
	// Piece, Edge, Mark and Seam are where, as the first pattern calls it, or the
	// second where the first has none.
	Piece string `json:"piece,omitempty"`
	Edge  string `json:"edge,omitempty"`
	Mark  string `json:"mark,omitempty"`
	Seam  string `json:"seam,omitempty"`
	// At is the place in the piece's plane of the first pattern, To where that has
	// got to in the second, its piece laid over the first's.
	At *geom.Point `json:"at,omitempty"`
	To *geom.Point `json:"to,omitempty"`
	// MM is by how many mm; 0 of what is not measured so.
	MM float64 `json:"mm,omitempty"`
	// Harmless is set where the garment comes out the same.
	Harmless bool   `json:"harmless,omitempty"`
	Text     string `json:"text"` // one plain sentence, the first pattern's state before the second's
}

// Names is what sentences call the two patterns.
type Names struct{ First, Second string }

// The usual names.
var defaultNames = Names{"the first pattern", "the second pattern"}

// Pair is a piece of the first pattern and the one of the second that is held
// against it.
type Pair struct {
	A, B string // their names
	// Lay lays B over A: from B's plane to A's.
	Lay geom.Affine
	// Edges maps A's edges to those of B they are held against.
	Edges map[string]string
}

// Comparison is how two patterns differ by more than a tolerance.
type Comparison struct {
	Tolerance   float64 // mm
	Names       Names
	Pairs       []Pair // in the first pattern's order
	Differences []Difference
}

// Different reports whether anything differs that changes the garment.
func (c *Comparison) Different() bool { return c.Count() > 0 }

// Count returns how many differences change the garment.
func (c *Comparison) Count() int {
	n := 0
	for _, d := range c.Differences {
		if !d.Harmless {
			n++
		}
	}
	return n
}

// Largest returns the difference that moves a line or mark furthest; ok is false
// when none moves.
func (c *Comparison) Largest() (d Difference, ok bool) {
	for _, e := range c.Differences {
		if !e.Harmless && e.MM > d.MM {
			d, ok = e, true
		}
	}
	return d, ok
}

// Summary says how much differs in a few words: 3 differences, the largest 1.5 mm.
func (c *Comparison) Summary() string {
	n := c.Count()
	text := fmt.Sprintf("%d differences", n)
	switch n {
	case 0:
		return "no difference of more than " + mm(c.Tolerance)
	case 1:
		text = "1 difference"
	}
	if d, ok := c.Largest(); ok {
		text += ", the largest " + mm(d.MM)
	}
	return text
}

// PairOf returns the pair whose first piece has that name, or nil.
func (c *Comparison) PairOf(piece string) *Pair {
	for i := range c.Pairs {
		if c.Pairs[i].A == piece {
			return &c.Pairs[i]
		}
	}
	return nil
}

// Compare says how b differs from a by more than tolerance mm; of a tolerance
// that is not more than 0, DefaultTolerance. Both are taken to be valid in the
// sense of pattern.Validate. The differences are in a's order of pieces, then of
// seams.
func Compare(a, b *pattern.Pattern, tolerance float64) *Comparison {
	return CompareAs(defaultNames, a, b, tolerance)
}

// CompareAs is Compare with names of one's own for the two patterns.
func CompareAs(names Names, a, b *pattern.Pattern, tolerance float64) *Comparison {
	if !(tolerance > 0) {
		tolerance = DefaultTolerance
	}
	c := &comparer{
		Comparison: &Comparison{Tolerance: tolerance, Names: names}, a: a, b: b,
		named: strings.NewReplacer("{1}", strings.ReplaceAll(names.First, "%", "%%"), "{2}", strings.ReplaceAll(names.Second, "%", "%%")),
	}
	pairs, gone, fresh := c.pairPieces()
	for _, p := range pairs {
		c.pieces(p[0], p[1])
	}
	for _, p := range gone {
		c.add(Difference{What: PieceGone, Piece: p.Name}, "{2} has no piece %s", name(p))
	}
	for _, p := range fresh {
		c.add(Difference{What: PieceNew, Piece: p.Name}, "{2} has a piece %s besides", name(p))
	}
	c.allSeams()
	if a.Title != b.Title || a.Notes != b.Notes {
		c.add(Difference{What: Words, Harmless: true}, "the title or the notes read differently")
	}
	return c.Comparison
}

type comparer struct {
	*Comparison
	a, b  *pattern.Pattern
	named *strings.Replacer
}

// add notes a difference; {1} and {2} in the format stand for the two patterns.
func (c *comparer) add(d Difference, format string, args ...any) {
	d.Text = fmt.Sprintf(c.named.Replace(format), args...)
	c.Differences = append(c.Differences, d)
}

// name is what a person calls a piece.
func name(p *pattern.Piece) string {
	if p.Title != "" {
		return fmt.Sprintf("%s (%s)", p.Name, p.Title)
	}
	return p.Name
}

// beyond reports whether a difference counts.
func (c *comparer) beyond(mm float64) bool { return math.Abs(mm) > c.Tolerance }

// mm writes a length so that two which differ by more than the tolerance read
// differently.
func mm(v float64) string { return unit.Length(v) }
