package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Split says along which line a piece is cut in two, and what the parts are.
type Split struct {
	Piece string
	// The line runs from a place on one edge to a place on another, FromAt and
	// ToAt mm along them in the direction in which they run around the piece.
	From, To     string
	FromAt, ToAt float64
	// To may be empty: the line then runs square to the grain from the place on
	// From to the edge that it meets.
	//
	// Through is a landmark, or a dart's name for its point, that the line passes
	// through. A dart on the edge From goes into the seam: the line starts at its
	// mouth, whatever FromAt says. Empty draws the line from end to end.
	Through string
	// Bow bends the line by mm at its middle, to the left of the way from From to
	// To. A line that passes through a point takes its curve from there.
	Bow float64
	// Name is the new piece's, the part to the right of the line; empty names it
	// after the piece. Title and Role are what it is; an empty role is none.
	Name, Title string
	Role        pattern.Role
	// Seam is the name of the new seam and of its two edges; empty is "style".
	Seam string
}

// SplitPiece cuts a piece in two along a style line and joins the parts by a
// seam. What lies to the right of the line, walked from From to To, becomes a new
// piece; the rest keeps the piece's name and place.
//
// Kept: every edge's length, the area, and what stands on the border or inside
// each part; edges that are cut keep their name on both parts, and their seams
// take both. The two seam edges are equal exactly: one line, but for a dart that
// goes into the seam, whose legs are each other's mirror image up to its point.
// A new seam over 150 mm gets a pair of notches at its middle, or at the dart's
// point. JoinPieces is the inverse. Each part of a piece cut on the fold stays on
// the fold as far as it has some of it, and is cut in pairs otherwise.
//
// A line that meets a fold, or an edge sewn to its own mirror image, within 30
// degrees of a right angle is drawn square to it; further off a point is meant.
//
// Degenerate: a line from an edge to itself, into a corner, out of the piece, or
// across a dart, pleat or gathers is refused.
func SplitPiece(p *pattern.Pattern, o Split) (*operation.Answer, error) {
	e := begin(p)
	w, err := e.pieceNamed(o.Piece)
	if err != nil {
		return nil, err
	}
	name := cmpOr(o.Name, o.Piece+"-part")
	seam := cmpOr(o.Seam, "style")
	switch {
	case e.piece(name) != nil:
		return nil, refuse(fmt.Sprintf("the pattern has a piece %q already", name), "give the new piece another name")
	case w.EdgeIndex(seam) >= 0:
		return nil, refuse(fmt.Sprintf("piece %q has an edge %q already", w.Name, seam), "give the seam another name")
	}
	c, err := e.styleCut(w, o)
	if err != nil {
		return nil, err
	}
	c.seam = seam
	c.piece = pattern.Piece{Name: name, Title: o.Title, Role: o.Role, Cut: w.Cut}
	if c.piece.Title == "" {
		c.piece.Title = w.Title + ", part"
	}
	wasOnFold := w.OnFold()
	part := e.part(w, c)
	w.keepGrainInside()
	part.keepGrainInside()
	if wasOnFold {
		for _, x := range []*work{w, part} {
			if !x.OnFold() {
				x.Cut = pattern.Cut{Count: 2 * x.Cut.Count, Mirrored: true}
			}
		}
	}
	e.changed("seam "+seam, w.Name, 0, c.kept.Length(), "mm")
	e.changed("seam "+seam, part.Name, 0, c.taken.Length(), "mm")
	e.changed("area of both parts together, in square centimetres", "", areaOf(e.in.Piece(o.Piece).Boundary()), areaOf(w.boundary())+areaOf(part.boundary()), "")
	return e.finish()
}

func areaOf(p geom.Path) float64 { return p.Area() / 100 }

func (w *work) boundary() geom.Path {
	var p geom.Path
	for _, l := range w.lines {
		p = append(p, l.path()...)
	}
	return p
}

// styleCut works the cut out: its places, its two sides and its notches.
func (e *edit) styleCut(w *work, o Split) (parting, error) {
	var c parting
	i, err := w.named(o.From)
	if err != nil {
		return c, err
	}
	if o.To == "" {
		if o.To, o.ToAt, err = w.squareTo(i, o.FromAt); err != nil {
			return c, err
		}
	}
	j, err := w.named(o.To)
	if err != nil {
		return c, err
	}
	if i == j {
		return c, refuse(fmt.Sprintf("the line would start and end on edge %q of piece %q", o.From, w.Name), "let it end on another edge")
	}
	c.i, c.j = i, j
	from, to := w.lines[i].path(), w.lines[j].path()
	dart, via, err := w.through(o)
	if err != nil {
		return c, err
	}
	c.iEnds, c.iStarts = o.FromAt, o.FromAt
	c.jEnds, c.jStarts = o.ToAt, o.ToAt
	if dart != nil {
		c.iEnds, c.iStarts = dart.From, dart.To
	}
	for _, s := range []struct {
		edge           int
		at, at2, total float64
	}{{i, c.iEnds, c.iStarts, from.Length()}, {j, o.ToAt, o.ToAt, to.Length()}} {
		if !(s.at >= minSlash) || !(s.at2 <= s.total-minSlash) {
			return c, refuse(fmt.Sprintf("the line cannot meet edge %q of piece %q %.1f mm along its %.1f mm", w.Edges[s.edge].Name, w.Name, s.at, s.total),
				fmt.Sprintf("choose a place %d mm or more from the corners", minSlash))
		}
		if mark := w.markAt(w.Edges[s.edge].Name, s.at); mark != "" && dart == nil {
			return c, refuse(fmt.Sprintf("the line would cut into %s of piece %q", mark, w.Name), "let the line start and end beside it, or let it out first")
		}
	}
	end := to.At(o.ToAt)
	switch {
	case dart != nil:
		if err := c.throughDart(from, *dart, end); err != nil {
			return c, refuse(err.Error()+fmt.Sprintf(" on piece %q", w.Name), "true the dart's legs first")
		}
		w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool { return d.Name == dart.Name })
	case via != nil:
		c.kept = e.squared(w, i, o.FromAt, j, o.ToAt, geom.Smooth([]geom.Point{from.At(o.FromAt), *via, end}, geom.Point{}, geom.Point{}))
		c.taken = c.kept
	default:
		c.kept = e.squared(w, i, o.FromAt, j, o.ToAt, bowed(from.At(o.FromAt), end, o.Bow))
		c.taken = c.kept
	}
	for _, x := range []struct {
		edge int
		path geom.Path
		at   float64
		dir  geom.Point
	}{{i, from, c.iEnds, c.kept.StartDirection()}, {j, to, o.ToAt, c.kept.EndDirection()}} {
		if math.Abs(x.path.Direction(x.at).Cross(x.dir)) < math.Sin(leastAngle) {
			return c, refuse(fmt.Sprintf("the line would run along edge %q of piece %q and leave a sliver", w.Edges[x.edge].Name, w.Name), "bend it less, or choose other places")
		}
	}
	if err := w.stylable(c.kept, c.taken, dart); err != nil {
		return c, err
	}
	if long := c.kept.Length(); long > longSeam && dart == nil {
		c.marks = []float64{long / 2}
	}
	return c, nil
}

// squareTo returns where a line from a place on edge i, square to the grain, comes
// out of the piece.
func (w *work) squareTo(i int, at float64) (edge string, to float64, err error) {
	if !w.Grain.Given() {
		return "", 0, refuse(fmt.Sprintf("piece %q has no grainline for the line to be square to", w.Name), "say to which edge it runs")
	}
	dir := w.Grain.To.Sub(w.Grain.From).Unit().Left()
	if dir.Dot(w.lines[i].path().Direction(at).Left()) < 0 {
		dir = dir.Mul(-1)
	}
	j, to, err := w.across(i, at, dir)
	if err != nil {
		return "", 0, err
	}
	return w.Edges[j].Name, to, nil
}

// leastAngle is the smallest angle at which a style line may meet an edge: less is
// a point that can be neither cut nor turned (from memory).
const leastAngle = 10 * math.Pi / 180

// through returns the dart that goes into the seam, or the point that the line
// passes through.
func (w *work) through(o Split) (*pattern.Dart, *geom.Point, error) {
	if o.Through == "" {
		return nil, nil, nil
	}
	if d := w.Dart(o.Through); d != nil {
		if d.Edge == o.From {
			c := *d
			return &c, nil, nil
		}
		return nil, nil, refuse(fmt.Sprintf("dart %q of piece %q is on its edge %q", d.Name, w.Name, d.Edge), "let the line start from that edge")
	}
	if m := w.Landmark(o.Through); m != nil {
		at := m.At
		return nil, &at, nil
	}
	return nil, nil, refuse(fmt.Sprintf("piece %q has no landmark or dart %q", w.Name, o.Through), "name one of its own, or leave it out")
}

// markAt names what folds or draws up the edge at a place, if anything does.
func (w *work) markAt(edge string, at float64) string {
	inside := func(from, to float64) bool { return at > from+cutSliver && at < to-cutSliver }
	for _, d := range w.Darts {
		if d.Edge == edge && inside(d.From, d.To) {
			return fmt.Sprintf("dart %q", d.Name)
		}
	}
	for _, f := range w.Pleats {
		if f.Edge == edge && inside(f.From, f.To) {
			return fmt.Sprintf("pleat %q", f.Name)
		}
	}
	for _, g := range w.Gathers {
		if g.Edge == edge && inside(g.From, g.To) {
			return fmt.Sprintf("the gathers %q", g.Name)
		}
	}
	return ""
}

// bowed returns the line from a to b, bent by mm at its middle to the left.
func bowed(a, b geom.Point, by float64) geom.Path {
	if by == 0 {
		return geom.Path{geom.Line(a, b)}
	}
	// A cubic with both control points out by d is out by ¾·d in the middle.
	out := b.Sub(a).Unit().Left().Mul(4 * by / 3)
	return geom.Path{geom.Cubic(a, a.Lerp(b, 1.0/3).Add(out), a.Lerp(b, 2.0/3).Add(out), b)}
}

// squared returns the line drawn to meet a fold, or an edge sewn to its own mirror
// image, at a right angle, so that it runs on into its image. Where it comes in so
// much aslant that a point must be meant, it stays as it is.
func (e *edit) squared(w *work, i int, at float64, j int, to float64, path geom.Path) geom.Path {
	square := func(edge int, where float64, dir geom.Point) (geom.Point, bool) {
		if w.Edges[edge].Finish != pattern.Fold && !e.mirrored(w, w.Edges[edge].Name) {
			return dir, false
		}
		in := w.lines[edge].path().Direction(where).Left()
		if dir.Dot(in) < 0 {
			in = in.Mul(-1)
		}
		off := math.Abs(geom.Turn(dir, in))
		return in, off > 1e-9 && off < pointedBy
	}
	start, bentStart := square(i, at, path.StartDirection())
	end, bentEnd := square(j, to, path.EndDirection())
	if !bentStart && !bentEnd {
		return path
	}
	if !bentStart {
		start = path.StartDirection()
	}
	if !bentEnd {
		end = path.EndDirection()
	}
	points := []geom.Point{path.Start(), path.At(path.Length() / 2), path.End()}
	if path.Straight(cutSliver) {
		chord := path.Start().Dist(path.End())
		return geom.Path{geom.Hermite(points[0], start.Mul(chord), points[2], end.Mul(chord))}
	}
	if len(path) == 2 {
		points[1] = path[0].P1 // the point that it passes through
	}
	return geom.Smooth(points, start, end)
}

// pointedBy is how far from square a line comes to a fold where a point is meant,
// and no slip: opened out, half of what the pairing check takes for one.
const pointedBy = 30 * math.Pi / 180

// throughDart draws both sides of a seam that takes up a dart: its legs as far
// as the point, mirror images that run on smoothly, and one line from there.
func (c *parting) throughDart(edge geom.Path, d pattern.Dart, end geom.Point) error {
	f, t := edge.At(d.From), edge.At(d.To)
	if math.Abs(f.Dist(d.Point)-t.Dist(d.Point)) > legTolerance {
		return fmt.Errorf("the legs of dart %q differ", d.Name)
	}
	axis := d.Point.Sub(f.Lerp(t, 0.5)).Unit()
	leg := func(foot geom.Point) geom.Path {
		long := d.Point.Dist(foot)
		return geom.Path{geom.Hermite(foot, d.Point.Sub(foot), d.Point, axis.Mul(long))}
	}
	reach := d.Point.Dist(end)
	upper := geom.Path{geom.Hermite(d.Point, axis.Mul(reach), end, end.Sub(d.Point))}
	c.kept, c.taken = leg(f).Join(upper), leg(t).Join(upper)
	c.marks = []float64{leg(f).Length()} // a balance mark where the dart ended
	return nil
}

// stylable refuses a line that leaves the piece or runs across a dart.
func (w *work) stylable(kept, taken geom.Path, but *pattern.Dart) error {
	outline := w.outline()
	for _, path := range []geom.Path{kept, taken} {
		points := path.Flatten(sideTolerance)
		for k := 1; k < len(points); k++ {
			mid := points[k-1].Lerp(points[k], 0.5)
			off := !geom.Contains(outline, mid)
			if k < len(points)-1 {
				off = off || !geom.Contains(outline, points[k])
			}
			if off {
				return refuse(fmt.Sprintf("the line would leave piece %q", w.Name), "bend it less, or choose other places")
			}
			name := ""
			if but != nil {
				name = but.Name
			}
			if err := w.keepsDarts(points[k-1], points[k], name); err != nil {
				return err
			}
		}
	}
	return nil
}
