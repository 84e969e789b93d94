package alter

import (
	"fmt"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Gores says how a skirt piece is divided.
type Gores struct {
	Piece string
	Count int // of pieces that come out of it
	// HalfAtCentre makes the piece at the centre count half: on the fold, or sewn
	// to its mirror image, it is half a gore.
	HalfAtCentre bool
	// CentreHem is how much of the hem in mm the piece at the centre gets; the
	// others share the rest equally. 0 shares as the waist is shared.
	CentreHem float64
}

// DivideGores divides a skirt piece into gores by straight seams from waist to
// hem. At the waist all get the same sewn length; at the hem too, unless the
// gore at the centre is given another.
//
// Kept: waist, hem and sides, and everything on them; the area. The two sides
// of each new seam are one line. The gores away from the centre get their
// grainline down the middle (common practice). Degenerate: fewer than two
// gores, a seam that would cross a dart or cut gathers, and a centre wider than
// the hem are refused.
func DivideGores(p *pattern.Pattern, o Gores) (*operation.Answer, error) {
	e := begin(p)
	if _, err := e.divideGores(o); err != nil {
		return nil, err
	}
	return e.finish()
}

// divideGores divides a piece and returns the names of the new seams, from the
// centre.
func (e *edit) divideGores(o Gores) (seams []string, err error) {
	w, err := e.pieceNamed(o.Piece)
	if err != nil {
		return nil, err
	}
	if o.Count < 2 || o.Count > mostGores {
		return nil, refuse(fmt.Sprintf("a piece is not divided into %d", o.Count), fmt.Sprintf("ask for 2 to %d", mostGores))
	}
	l, err := legsOf(w)
	if err != nil {
		return nil, err
	}
	centreUp := w.atCentre(l.up) && !w.atCentre(l.down)
	waist, hem := w.lines[l.waist].path(), w.lines[l.hem].path()
	total, sewn := hem.Length(), e.sewnBefore(w.Name, w.Edges[l.waist].Name)
	first := 1.0
	if o.HalfAtCentre {
		first = 0.5
	}
	all := first + float64(o.Count-1)
	atCentre := total * first / all
	if o.CentreHem > 0 {
		atCentre = o.CentreHem
	}
	rest := (total - atCentre) / float64(o.Count-1)
	if rest < minSlash || atCentre < minSlash || sewn/all*first < minSlash {
		return nil, refuse(fmt.Sprintf("a hem of %.0f mm and a waist of %.0f mm cannot be divided so", total, sewn), "ask for fewer gores, or a narrower one at the centre")
	}
	flat := w.lines[l.waist].length()
	was := slices.Clone(w.Edges)
	for k := o.Count - 1; k >= 1; k-- { // from the far side to the centre
		share := sewn * (first + float64(k-1)) / all // of the waist, from the centre
		onHem := atCentre + rest*float64(k-1)
		// Up legs follow the hem's end and the waist's start.
		a := e.in.Piece(o.Piece).FlatPosition(w.Edges[l.waist].Name, share)
		b := total - onHem
		if !centreUp {
			a, b = e.in.Piece(o.Piece).FlatPosition(w.Edges[l.waist].Name, sewn-share), onHem
		}
		from, to := waist.At(a), hem.At(b)
		if err := w.keepsDarts(from, to, ""); err != nil {
			return nil, err
		}
		name := e.freshEdge("gore")
		c := parting{
			seam: name, role: "gore",
			piece: pattern.Piece{
				Name: freshPiece(e, fmt.Sprintf("%s-%d", o.Piece, k+1)), Title: fmt.Sprintf("%s, gore %d", w.Title, k+1), Role: w.Role, Cut: w.Cut,
			},
		}
		if w.OnFold() {
			c.piece.Cut = pattern.Cut{Count: 2 * w.Cut.Count, Mirrored: true}
		}
		wi, hi := w.EdgeIndex(was[l.waist].Name), w.EdgeIndex(was[l.hem].Name)
		if centreUp { // the centre keeps the waist's start and the hem's end
			now := w.lines[hi].length() - onHem
			c.i, c.iEnds, c.iStarts = wi, a, a
			c.j, c.jEnds, c.jStarts = hi, now, now
			c.kept = geom.Path{geom.Line(from, to)}
		} else {
			now := w.lines[wi].length() - (flat - a)
			c.i, c.iEnds, c.iStarts = hi, b, b
			c.j, c.jEnds, c.jStarts = wi, now, now
			c.kept = geom.Path{geom.Line(to, from)}
		}
		c.taken = c.kept
		if c.kept.Length() > longSeam {
			c.marks = []float64{c.kept.Length() / 2}
		}
		part := e.part(w, c)
		// The seam cut before this one went with the part, and so do its notches.
		w.fresh.notches = slices.DeleteFunc(w.fresh.notches, func(n pattern.Notch) bool {
			gone := w.EdgeIndex(n.Edge) < 0
			if gone {
				part.fresh.notches = append(part.fresh.notches, n)
			}
			return gone
		})
		e.renameMade(w, part)
		part.grainDown()
		seams = append(seams, e.made[len(e.made)-1].Name)
		e.changed("gore seam", part.Name, 0, c.kept.Length(), "mm")
	}
	slices.Reverse(seams)
	w.keepGrainInside()
	if !w.OnFold() {
		w.grainInGore()
	}
	e.changedFirst(0, "pieces", o.Piece, 1, float64(o.Count), "")
	return seams, nil
}

// mostGores is more than any skirt of the trade has to a half.
const mostGores = 40

// atCentre reports whether a leg runs along the centre front or back.
func (w *work) atCentre(leg []int) bool {
	return slices.ContainsFunc(leg, func(i int) bool {
		r := w.Edges[i].Is()
		return r == pattern.CentreFront || r == pattern.CentreBack
	})
}

// grainDown lays the grainline of a gore down its middle.
func (w *work) grainDown() {
	l, err := legsOf(w)
	if err != nil {
		return
	}
	waist, hem := w.lines[l.waist].path(), w.lines[l.hem].path()
	top, foot := waist.At(waist.Length()/2), hem.At(hem.Length()/2)
	w.Grain = pattern.Grain{From: foot.Lerp(top, 0.2), To: foot.Lerp(top, 0.8)}
}

// grainInGore moves a grainline that a piece kept back to its middle, where a
// part was cut off beside it; its direction stays.
func (w *work) grainInGore() {
	if fresh := grainThrough(w.outline(), w.Grain); w.Grain.Given() && fresh.Given() {
		w.Grain = fresh
	}
}

// freshEdge returns base.n with the first n that no edge of the pattern has.
func (e *edit) freshEdge(base string) string {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.%d", base, n)
		if !slices.ContainsFunc(e.pieces, func(w *work) bool { return w.EdgeIndex(name) >= 0 }) {
			return name
		}
	}
}

// renameMade makes the seams drawn before refer to the part that took their
// edges.
func (e *edit) renameMade(w, part *work) {
	for _, s := range e.made[:len(e.made)-1] {
		for _, run := range []pattern.Run{s.A, s.B} {
			for i, ref := range run {
				if ref.Piece == w.Name && w.EdgeIndex(ref.Edge) < 0 && part.EdgeIndex(ref.Edge) >= 0 {
					run[i].Piece = part.Name
				}
			}
		}
	}
}
