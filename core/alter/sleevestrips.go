package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// stripped is a sleeve of which two strips have been cut off.
type stripped struct {
	a      *arm
	strips [2]*work  // with the edge up to the head, and with the one down from it
	names  [2]string // of the edges cut: forearm and hind arm, or the other way round
	// elbow is how far below the head the elbow lies on the two cuts: on the
	// forearm and on the hind arm, mm.
	elbow  [2]float64
	across float64 // how wide the strips are at the elbow together, mm
	filled float64 // what the hollows filled in at the elbow, mm; see join
}

// strip cuts a strip off on either side, along a line from head to hem.
func (a *arm) strip(o TwoPiece, onUp, onDown float64) (*stripped, error) {
	d := &stripped{a: a, names: [2]string{forearmSeam, hindarmSeam}}
	shares := [2]float64{o.Front, o.Back}
	if !a.frontFirst {
		slices.Reverse(shares[:])
		slices.Reverse(d.names[:])
	}
	upPath, downPath := a.lines[a.up].path(), a.lines[a.down].path()
	elbows := [2]geom.Point{upPath.At(upPath.Length() - onUp), downPath.At(onDown)}
	head, hem := a.lines[a.cap].path(), a.lines[a.hem].path()
	headName, hemName := a.Edges[a.cap].Name, a.Edges[a.hem].Name
	_, axis := a.headAxis()
	var onHead, onHem [2]float64
	var cut [2]geom.Path // from the head down
	for s := range 2 {
		t := shares[s] // of the way from the edge up to the head to the one down from it
		if s == 1 {
			t = 1 - t
		}
		at := head.CutLine(head.Start().Lerp(head.End(), t), axis)
		if len(at) == 0 {
			return nil, refuse(fmt.Sprintf("a line up the sleeve misses the head of piece %q", a.Name), "choose another share")
		}
		onHead[s], onHem[s] = at[0], hem.Length()*(1-t)
		cut[s] = geom.Smooth([]geom.Point{head.At(onHead[s]), elbows[0].Lerp(elbows[1], t), hem.At(onHem[s])}, geom.Point{}, geom.Point{})
		k := 0
		if d.names[s] == hindarmSeam {
			k = 1
		}
		d.elbow[k] = cut[s][0].Length()
	}
	if onHead[0] >= onHead[1] {
		return nil, refuse(fmt.Sprintf("the seams of piece %q would cross", a.Name), "take less into the under sleeve")
	}
	d.across = (o.Front + o.Back) * elbows[0].Dist(elbows[1])
	made := len(a.e.made)
	for s := range 2 {
		c := parting{seam: d.names[s], piece: pattern.Piece{Name: freshPieceName(a.e, "strip"), Role: pattern.SleeveUnder, Cut: a.Cut}}
		hemAt, headAt := a.EdgeIndex(hemName), a.EdgeIndex(headName)
		if s == 0 {
			c.i, c.iEnds, c.iStarts = hemAt, onHem[0], onHem[0]
			c.j, c.jEnds, c.jStarts = headAt, onHead[0], onHead[0]
			c.kept = cut[0].Reverse()
		} else { // the first cut took the start of the head away
			c.i, c.iEnds, c.iStarts = headAt, onHead[1]-onHead[0], onHead[1]-onHead[0]
			c.j, c.jEnds, c.jStarts = hemAt, onHem[1], onHem[1]
			c.kept = cut[1]
		}
		c.taken = c.kept
		d.strips[s] = a.e.part(a.work, c)
	}
	a.e.made = a.e.made[:made] // the strips' seams are made when the strips are one
	return d, nil
}

// join lays the second strip against the first where they were sewn under the
// arm, and makes one piece of them: the heads meet, and the two edges lie along
// one straight line. What they were hollowed becomes cloth there, and is taken
// off at the outer edges instead: the under sleeve is as wide as the strips were.
// All of it comes off the forearm of a sleeve that is bent, which is hollow.
// Its hem is drawn in one line from seam to seam.
func (d *stripped) join(bent bool) *work {
	one, two := d.strips[0], d.strips[1]
	in := d.a.in()
	find := func(w *work, i int) line { return w.lines[w.EdgeIndex(in.Edges[i].Name)] }
	up, down := find(one, d.a.up), find(two, d.a.down)
	m := geom.Onto(down.start(), down.end(), up.end(), up.start())

	e := d.a.e
	under := &work{touched: true, Piece: pattern.Piece{
		Name: freshPieceName(e, "under-sleeve"), Title: "Under sleeve", Role: pattern.SleeveUnder, Cut: d.a.Cut,
	}}
	add := func(edge pattern.Edge, l line) {
		edge.Path = nil
		under.Edges = append(under.Edges, edge)
		under.lines = append(under.lines, l)
	}
	sides := [2]string{".front", ".back"}
	if !d.a.frontFirst {
		slices.Reverse(sides[:])
	}
	part := func(k int) pattern.Edge {
		edge := in.Edges[d.a.cap]
		edge.Role, edge.Name = edge.Is(), edge.Name+sides[k]
		return edge
	}
	hem, rest := find(one, d.a.hem), find(two, d.a.hem).transform(m)
	head := find(two, d.a.cap).transform(m)
	add(in.Edges[d.a.hem], hem) // up to the joint: drawn on below
	add(pattern.Edge{Name: d.names[1]}, two.lines[two.EdgeIndex(d.names[1])].transform(m))
	add(part(1), head.snapEnds(head.start(), up.end()))
	add(part(0), find(one, d.a.cap))
	add(pattern.Edge{Name: d.names[0]}, one.lines[one.EdgeIndex(d.names[0])])
	under.Landmarks = append(under.Landmarks, one.Landmarks...)
	for _, l := range two.Landmarks {
		l.At = m.Apply(l.At)
		if !slices.ContainsFunc(under.Landmarks, func(o pattern.Landmark) bool { return o.Name == l.Name }) {
			under.Landmarks = append(under.Landmarks, l)
		}
	}
	d.filled = under.elbowWidth(d.elbow) - d.across
	fore, hind := d.filled, 0.0
	if !bent { // else the hind arm is opened at the elbow, and bends outward
		fore, hind = d.filled/2, d.filled/2
	}
	f, h := under.EdgeIndex(forearmSeam), under.EdgeIndex(hindarmSeam)
	onFore, onHind := under.fromHead(f, d.elbow[0]), under.fromHead(h, d.elbow[1])
	over := under.lines[h].path().At(onHind).Sub(under.lines[f].path().At(onFore)).Unit()
	under.hollowOut(f, onFore, over.Mul(fore))
	under.hollowOut(h, onHind, over.Mul(-hind))
	before, after := under.lines[under.prev(0)], under.lines[under.next(0)]
	under.lines[0] = inOneLine(hem, rest, before, after)
	under.heal()
	under.Grain = grainThrough(under.outline(), d.a.Grain)
	e.pieces = slices.DeleteFunc(e.pieces, func(w *work) bool { return w == one || w == two })
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, d.a.work)+1, under)
	return under
}

// inOneLine draws one smooth line in the place of two that are laid end to end,
// between the edges before and after them and square to these. What lay on
// either of the two lies on its part of it.
func inOneLine(one, two, before, after line) line {
	a, b := before.path(), after.path()
	path := squareAcross(a.End(), a.EndDirection().Left(), b.Start(), b.StartDirection().Right())
	first, last := path.Split(path.Length() * one.length() / (one.length() + two.length()))
	return redrawn(first, wholeOf(one)).join(redrawn(last, wholeOf(two)))
}

// hollowOut moves an outer edge of the under sleeve at the elbow, which is at mm
// along it, and draws it through there in one sweep. The edge keeps its length,
// and its tangent at the head; the little that the curve is longer, or shorter,
// is made good at the hem, whose end is left behind.
func (w *work) hollowOut(i int, at float64, move geom.Point) {
	if move.Len() < cutSliver {
		return
	}
	l := w.lines[i]
	total, path := l.length(), l.path()
	through := []geom.Point{l.start(), path.At(at).Add(move), l.end()}
	head, foot := l.start(), l.end()
	if w.Edges[w.next(i)].Is() == pattern.Cap { // it runs up to the head
		head, foot = foot, head
		l = drawn(geom.Smooth(through, geom.Point{}, path.EndDirection())...)
	} else {
		l = drawn(geom.Smooth(through, path.StartDirection(), geom.Point{})...)
	}
	for range lengthTries {
		miss := total / l.length()
		if math.Abs(miss-1) < 1e-13 {
			break
		}
		l = l.transform(geom.ScaleAlong(head, foot.Sub(head), miss))
	}
	w.lines[i] = l
}

// lengthTries bounds a search for a scale: the length follows it all but in
// proportion, and each try leaves a hundredth of the miss.
const lengthTries = 20
