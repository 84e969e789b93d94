package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Godet says where a godet is set in and how large it is.
type Godet struct {
	// Seam is the seam it is set into, one that runs to the hem. Piece is used
	// where Seam is empty: the piece is slit, which is to say divided by a seam
	// from waist to hem, and the godet set into that.
	Seam, Piece string
	Height      float64 // mm from the hem up
	Width       float64 // mm that it adds to the hem
}

// InsertGodet opens a seam from the hem up and sets in a part of a circle: its
// radius is the height, its hem an arc of that width, its angle the width over
// the height. In a seam to a mirror image it is cut on the fold.
//
// Kept: every line of the pieces; the upper part of the seam under its name.
// Changed: the lower part becomes an edge of its own on either side, each sewn
// to one side of the godet, to 1e-6 mm of equal length. Degenerate: a seam that
// does not reach the hem on both sides, a godet higher than the seam, wider than
// most of a circle or, on the fold, with a point blunter than two radians are
// refused.
func InsertGodet(p *pattern.Pattern, o Godet) (*operation.Answer, error) {
	e := begin(p)
	seam := o.Seam
	if seam == "" {
		first := begin(p)
		names, err := first.divideGores(Gores{Piece: o.Piece, Count: 2})
		if err != nil {
			return nil, err
		}
		slit, err := first.finish()
		if err != nil {
			return nil, err
		}
		o.Seam = names[0]
		return then(slit, func(p *pattern.Pattern) (*operation.Answer, error) { return InsertGodet(p, o) })
	}
	i := slices.IndexFunc(e.seams, func(s pattern.Seam) bool { return s.Name == seam })
	if i < 0 {
		return nil, refuse(fmt.Sprintf("the pattern has no seam %q", seam), "its seams are "+strings.Join(e.in.SeamNames(), ", "))
	}
	if !(o.Height >= minGodet && o.Width >= minSlash && o.Width/o.Height < 2*math.Pi-minRingGap) {
		return nil, refuse(fmt.Sprintf("a godet of %.0f mm height and %.0f mm width at the hem cannot be cut", o.Height, o.Width), "ask for one that is higher, or less wide")
	}
	s := e.seams[i]
	if len(s.B) == 0 && o.Width/o.Height > mostFolded {
		return nil, refuse(fmt.Sprintf("on the fold a godet of %.0f mm height cannot be %.0f mm wide: its point would be blunt", o.Height, o.Width), fmt.Sprintf("ask for %.0f mm or less, or set it into another seam", mostFolded*o.Height))
	}
	name := freshPiece(e, "godet")
	var sides []godetSide
	for _, run := range []pattern.Run{s.A, s.B} {
		if len(run) == 0 {
			continue
		}
		side, err := e.openForGodet(seam, run, o.Height)
		if err != nil {
			return nil, err
		}
		sides = append(sides, side)
	}
	e.seams = slices.Delete(e.seams, i, i+1)
	e.made = append(e.made, s) // its edges kept their names, and stand for their upper parts alone
	e.markUpper(name, s, sides)
	e.setGodet(name, sides, o)
	hem := 0.0
	for _, sd := range sides {
		hem += sd.hem
	}
	e.changed("hem at the seam "+seam, "", hem, hem+o.Width, "mm")
	e.changed("godet, height", name, 0, o.Height, "mm")
	e.changed("godet, angle", name, 0, o.Width/o.Height*180/math.Pi, "degrees")
	return e.finish()
}

const (
	// minGodet is the least height in mm that a point can be turned in.
	minGodet = 40
	// mostFolded is the widest point in radians of a godet on the fold: blunter, it
	// reads as a line that ought to run straight on across the fold.
	mostFolded = 2
)

// godetSide is one side of an opened seam: the lower edge, and whether it runs
// up from the hem.
type godetSide struct {
	w     *work
	edge  string
	runUp bool
	long  float64
	hem   float64    // of the piece, mm
	marks []mateMark // notches on it, by their distance from the hem
}

// mateMark is a notch that wants its partner somewhere.
type mateMark struct {
	pattern.Notch
	at float64
}

// openForGodet parts the edge of a run that ends at the hem.
func (e *edit) openForGodet(seam string, run pattern.Run, height float64) (s godetSide, err error) {
	for _, ref := range run {
		w := e.piece(ref.Piece)
		i := w.EdgeIndex(ref.Edge)
		switch {
		case w.Edges[w.prev(i)].Is() == pattern.Hem:
			s.runUp = true
			s.hem = w.lines[w.prev(i)].length()
		case w.Edges[w.next(i)].Is() == pattern.Hem:
			s.hem = w.lines[w.next(i)].length()
		default:
			continue
		}
		long := w.lines[i].length()
		at := long - height
		if s.runUp {
			at = height
		}
		lo, hi := w.freeAround(ref.Edge, at, at, long)
		if height > long-minSlash || w.inMark(ref.Edge, at) || s.runUp && lo > 0 || !s.runUp && hi < long {
			return s, refuse(fmt.Sprintf("edge %q of piece %q, %.0f mm long, has no room for a godet of %.0f mm", ref.Edge, w.Name, long, height), "ask for a lower one")
		}
		for _, n := range w.Notches {
			if from := fromHem(n.At, long, s.runUp); n.Edge == ref.Edge && from < height-cutSliver {
				s.marks = append(s.marks, mateMark{n, from})
			}
		}
		head, tail := w.lines[i].split(at)
		lower := w.Edges[i]
		lower.Name, lower.Role = w.freshPart(ref.Edge+".godet"), godetRole
		w.touched = true
		s.w, s.edge = w, lower.Name
		if s.runUp {
			w.Edges = slices.Insert(w.Edges, i, lower)
			w.lines[i] = tail
			w.lines = slices.Insert(w.lines, i, head)
			s.long = head.length()
		} else {
			w.Edges = slices.Insert(w.Edges, i+1, lower)
			w.lines[i] = head
			w.lines = slices.Insert(w.lines, i+1, tail)
			s.long = tail.length()
		}
		return s, nil
	}
	return s, refuse(fmt.Sprintf("on one side the seam %q does not run to a hem", seam), "choose a seam that does")
}

// godetRole is the role of a godet, and of the edges that it is sewn to.
const godetRole = "godet"

func fromHem(at, long float64, runUp bool) float64 {
	if runUp {
		return at
	}
	return long - at
}

// freshPart returns name, numbered if the piece has an edge of that name.
func (w *work) freshPart(name string) string {
	if w.EdgeIndex(name) < 0 {
		return name
	}
	for n := 2; ; n++ {
		if s := fmt.Sprintf("%s-%d", name, n); w.EdgeIndex(s) < 0 {
			return s
		}
	}
}

// markUpper gives what is left of the seam a pair of notches, if it is long and
// all that it had are on its lower part.
func (e *edit) markUpper(name string, s pattern.Seam, sides []godetSide) {
	if len(s.A) != 1 || len(s.B) != 1 {
		return
	}
	var marks [2]pattern.Notch
	for k, ref := range []pattern.EdgeRef{s.A[0], s.B[0]} {
		w := sides[k].w
		long := w.lines[w.EdgeIndex(ref.Edge)].length()
		kept := slices.ContainsFunc(w.Notches, func(n pattern.Notch) bool {
			return n.Edge == ref.Edge && !slices.ContainsFunc(sides[k].marks, func(m mateMark) bool { return m.Name == n.Name })
		})
		if kept || long < longSeam {
			return
		}
		marks[k] = pattern.Notch{Name: name + "-mark-upper", Edge: ref.Edge, At: long / 2, Count: 1}
	}
	for k := range marks {
		sides[k].w.fresh.notches = append(sides[k].w.fresh.notches, marks[k])
	}
}

// setGodet makes the godet and sews it in.
func (e *edit) setGodet(name string, sides []godetSide, o Godet) {
	angle, r := o.Width/o.Height, sides[0].long
	half := len(sides) == 1
	if half {
		angle /= 2
	}
	point := geom.Pt(0, r)
	const down = -math.Pi / 2
	from, to := down-angle/2, down+angle/2
	like := sides[0].w
	l := like.next(like.EdgeIndex(sides[0].edge))
	if sides[0].runUp {
		l = like.prev(like.EdgeIndex(sides[0].edge))
	}
	hem := like.Edges[l] // finished as the skirt's is
	g := &work{touched: true, Piece: pattern.Piece{
		Name: name, Title: "Godet", Role: godetRole, Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			{Name: pattern.Hem, Finish: hem.Finish, Allowance: hem.Allowance, Corner: hem.Corner},
			{Name: "right", Role: godetRole}, {Name: "left", Role: godetRole},
		},
	}}
	if like.copies() < 2 && !half {
		g.Cut = pattern.Cut{Count: 1}
	}
	arc := arcAround(point, r, from, to)
	g.lines = []line{drawn(arc...), drawn(geom.Line(arc.End(), point)), drawn(geom.Line(point, arc.Start()))}
	grain, along := down, geom.Point{}
	// A piece's right edge, which runs up, is sewn to the godet's left one.
	sewnTo := func(k int) string {
		if left := sides[k].runUp; left && (k == 0 || !sides[0].runUp) || !left && k > 0 && !sides[0].runUp {
			return "left"
		}
		return "right"
	}
	if half {
		g.Cut = pattern.Cut{Count: 1}
		fold := 1
		grain = to
		along = geom.Polar(1, to).Right()
		if sewnTo(0) == "right" {
			fold, grain = 2, from
			along = geom.Polar(1, from).Left()
		}
		g.Edges[fold].Finish, g.Edges[fold].Role = pattern.Fold, "centre"
	}
	axis := geom.Polar(r, grain)
	aside := along.Mul(min(foldGrain, 0.2*angle*r))
	g.Grain = pattern.Grain{From: point.Add(axis.Mul(0.9)).Add(aside), To: point.Add(axis.Mul(0.4)).Add(aside)}
	if half && !geom.Contains(g.outline(), g.Grain.To) {
		g.Grain.To = point.Add(axis.Mul(0.6)).Add(aside)
	}
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, sides[0].w)+1, g)
	for k, s := range sides {
		to := sewnTo(k)
		seam := fmt.Sprintf("%s-%s", name, to)
		e.made = append(e.made, pattern.Seam{
			Name: freshSeamName(e, seam),
			A:    pattern.Run{{Piece: s.w.Name, Edge: s.edge, Backwards: !s.runUp}},
			B:    pattern.Run{{Piece: name, Edge: to, Backwards: to == "left"}}, Meeting: pattern.Meeting{Kind: pattern.Plain},
		})
		if len(s.marks) == 0 && s.long > longSeam {
			m := mateMark{pattern.Notch{Name: name + "-mark", Edge: s.edge, Count: 1}, s.long / 2}
			m.At = m.at
			if !s.runUp {
				m.At = s.long - m.at
			}
			s.w.fresh.notches = append(s.w.fresh.notches, m.Notch)
			s.marks = append(s.marks, m)
		}
		for _, m := range s.marks {
			m.Edge, m.At = to, m.at
			if to == "left" {
				m.At = r - m.at
			}
			g.fresh.notches = append(g.fresh.notches, m.Notch)
		}
	}
}

// RemoveGodet takes a godet out and closes the seam that it was set into. After
// InsertGodet it gives back the pattern that was, but for the order of seams.
func RemoveGodet(p *pattern.Pattern, name string) (*operation.Answer, error) {
	e := begin(p)
	if _, _, err := e.removeGodet(name); err != nil {
		return nil, err
	}
	return e.finish()
}

// removeGodet takes a godet out, and returns the seam it was in and its height.
func (e *edit) removeGodet(name string) (seam string, height float64, err error) {
	g := e.piece(name)
	if g == nil || g.Role != godetRole {
		return "", 0, refuse(fmt.Sprintf("the pattern has no godet %q", name), "name a piece with the role godet")
	}
	width := lineOf(g, pattern.Hem)
	e.seams = slices.DeleteFunc(e.seams, func(s pattern.Seam) bool {
		for _, sides := range [][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if len(sides[0]) != 1 || sides[0][0].Piece != name {
				continue
			}
			for _, ref := range sides[1] {
				w := e.piece(ref.Piece)
				i := w.EdgeIndex(ref.Edge)
				upper := w.prev(i)
				if w.Edges[w.prev(i)].Is() == pattern.Hem {
					upper = w.next(i)
				}
				height = w.lines[i].length()
				for _, t := range e.in.SeamsOf(w.Name, w.Edges[upper].Name) {
					seam = t.Name
				}
				w.Notches = slices.DeleteFunc(w.Notches, func(n pattern.Notch) bool {
					return (n.Edge == ref.Edge || n.Edge == w.Edges[upper].Name) && strings.HasPrefix(n.Name, name+"-mark")
				})
				w.touched = true
				if upper == w.prev(i) {
					w.lines[upper] = w.lines[upper].join(w.lines[i])
				} else {
					w.lines[upper] = w.lines[i].join(w.lines[upper])
				}
				w.Edges, w.lines = slices.Delete(w.Edges, i, i+1), slices.Delete(w.lines, i, i+1)
			}
			return true
		}
		return false
	})
	if seam == "" {
		return "", 0, refuse(fmt.Sprintf("godet %q is sewn to nothing", name), "sew it in, or choose another")
	}
	e.pieces = slices.DeleteFunc(e.pieces, func(w *work) bool { return w == g })
	e.changed("godet, width at the hem", name, width, 0, "mm")
	return seam, height, nil
}

// ChangeGodet moves a godet to another seam, or makes it higher or wider: what
// of o is empty or 0 stays as it is. It is RemoveGodet and InsertGodet in one.
func ChangeGodet(p *pattern.Pattern, name string, o Godet) (*operation.Answer, error) {
	e := begin(p)
	g := e.piece(name)
	width := 0.0
	if g != nil {
		width = lineOf(g, pattern.Hem)
		if g.OnFold() {
			width *= 2
		}
	}
	seam, height, err := e.removeGodet(name)
	if err != nil {
		return nil, err
	}
	first, err := e.finish()
	if err != nil {
		return nil, err
	}
	if o.Seam == "" && o.Piece == "" {
		o.Seam = seam
	}
	if o.Height == 0 {
		o.Height = height
	}
	if o.Width == 0 {
		o.Width = width * o.Height / height // the angle stays
	}
	a, err := then(first, func(p *pattern.Pattern) (*operation.Answer, error) { return InsertGodet(p, o) })
	if err != nil {
		return nil, err
	}
	// Told as one change, not as a godet that goes and another that comes.
	before := map[string]float64{"godet, height": height, "godet, angle": width / height * 180 / math.Pi}
	own := a.Changes[len(first.Changes):]
	for i := range own {
		if was, ok := before[own[i].What]; ok {
			own[i].Before = was
		}
	}
	a.Changes = append([]operation.Change{{What: "godet, width at the hem", Piece: name, Before: width, After: o.Width, Unit: "mm"}}, own...)
	return a, nil
}
