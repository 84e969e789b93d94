package alter

import (
	"fmt"
	"math"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Cartridges is the arithmetic of cartridge pleats: an edge stitched through at
// even steps, row below row, and drawn up, so that the cloth stands in tubes.
type Cartridges struct {
	Cut, Finished float64 // mm
	// Pitch is how much cloth goes into one tube, mm, crest to crest: two stitches.
	Pitch float64
	// Seat, where it is given, is how much of the finished seam one tube is to sit
	// on, mm; the pitch follows from it.
	Seat float64
	Rows int // of stitches
}

// Count returns how many tubes come nearest to the seat, or to the pitch; at
// least one.
func (c Cartridges) Count() int {
	if c.Seat > 0 {
		return max(1, int(math.Round(c.Finished/c.Seat)))
	}
	return max(1, int(math.Round(c.Cut/c.Pitch)))
}

// TakeUp returns what the tubes take up in all, mm.
func (c Cartridges) TakeUp() float64 { return c.Cut - c.Finished }

// Step returns the pitch in mm with which the cloth comes out even.
func (c Cartridges) Step() float64 { return c.Cut / float64(c.Count()) }

// Stitch returns how long a stitch is, mm: a tube is one over the cloth and one
// under it.
func (c Cartridges) Stitch() float64 { return c.Step() / 2 }

// Stitches returns how many stitches all rows have together.
func (c Cartridges) Stitches() int { return 2 * c.Count() * c.Rows }

// SitsOn returns how much of the seam in mm one tube sits on.
func (c Cartridges) SitsOn() float64 { return c.Finished / float64(c.Count()) }

// Stands returns how far in mm a tube stands out from the seam: half of what is
// not on it.
func (c Cartridges) Stands() float64 { return (c.Step() - c.SitsOn()) / 2 }

// CartridgePleats says how gathers are worked as cartridge pleats.
type CartridgePleats struct {
	Piece, Edge string
	// Pitch and Seat are as in Cartridges, of which one is enough; a seat goes
	// before a pitch. The pitch is rounded so that the tubes come out even.
	Pitch, Seat float64
	// Rows is how many rows are stitched one below the other, 1 to
	// pattern.MaxRows; 0 is leastRows, which hold a tube upright.
	Rows int
}

// leastRows is how many rows hold a tube upright: with one or two it falls over;
// from memory.
const leastRows = 3

// CartridgePleat works the gathers of an edge as cartridge pleats: the cloth is
// stitched through in rows of even stitches and drawn up into tubes that stand on
// the seam side by side. Planned to the seam: by how much cloth goes into a tube,
// or by how much of the waist a tube is to sit on.
//
// Kept: every line and every sewn length. Changed: the gathers are recorded as
// cartridge pleats, with the length of a stitch and the rows, and the arithmetic
// is told. Degenerate: an edge without gathers, and tubes too small to be drawn
// up or that would lie flat, are refused.
func CartridgePleat(p *pattern.Pattern, o CartridgePleats) (*operation.Answer, error) {
	e := begin(p)
	w, _, had, err := e.gathered(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	if o.Rows == 0 {
		o.Rows = leastRows
	}
	g := &w.Gathers[had]
	c := Cartridges{Cut: g.To - g.From - w.foldedIn(*g), Finished: g.Length, Pitch: o.Pitch, Seat: o.Seat, Rows: o.Rows}
	if !(o.Seat > 0) && (o.Pitch < minPleat || o.Pitch > c.Cut/2) {
		return nil, refuse(fmt.Sprintf("%.0f mm of cloth cannot be stitched in tubes of %.1f mm", c.Cut, o.Pitch), fmt.Sprintf("ask for %d mm or more, twice over in the cloth", minPleat))
	}
	switch {
	case o.Rows < 1 || o.Rows > pattern.MaxRows:
		return nil, refuse(fmt.Sprintf("cartridge pleats are not drawn up by %d rows", o.Rows), fmt.Sprintf("ask for 1 to %d", pattern.MaxRows))
	case c.Step() < minPleat || c.Count() < 2:
		return nil, refuse(fmt.Sprintf("%d tubes on %.0f mm take %.1f mm of cloth each", c.Count(), c.Finished, c.Step()), "let each sit on more of the seam, or use wider cloth")
	case c.SitsOn() > c.Step()/2:
		return nil, refuse(fmt.Sprintf("drawn up from %.0f to %.0f mm the cloth does not stand in tubes", c.Cut, c.Finished), "cartridge pleats want twice the width or more")
	}
	w.touched = true
	g.Name = freshName(w, o.Edge+"-cartridge-pleats")
	g.Kind, g.Stitch, g.Rows = pattern.Cartridge, c.Stitch(), c.Rows
	e.changed("cartridge pleats", w.Name, 0, float64(c.Count()), "")
	e.changed(o.Edge+", drawn up", w.Name, c.Cut, c.Finished, "mm")
	e.changed("all pleats take up", w.Name, 0, c.TakeUp(), "mm")
	e.changed("cloth in one pleat", w.Name, 0, c.Step(), "mm")
	e.changed("stitch length", w.Name, 0, c.Stitch(), "mm")
	e.changed("stitches in a row", w.Name, 0, float64(2*c.Count()), "")
	e.changed("rows of stitches", w.Name, 0, float64(c.Rows), "")
	e.changed("seam that one pleat sits on", w.Name, 0, c.SitsOn(), "mm")
	e.changed("a pleat stands out from the seam by", w.Name, 0, c.Stands(), "mm")
	if c.Rows < leastRows {
		e.caution(fmt.Sprintf("Tubes held by %d rows of stitches fall over: sew %d or more.", c.Rows, leastRows))
	}
	return e.finish()
}
