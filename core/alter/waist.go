package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// WaistRaise says where the waist seam goes.
type WaistRaise struct {
	// BelowArmscye is the length in mm that the side seam of the bodice keeps
	// under the armscye.
	BelowArmscye float64
	// AtCentreFront and AtCentreBack are how much further up in mm the seam goes
	// there than at the side; negative is lower.
	AtCentreFront, AtCentreBack float64
	// KeepLength lengthens the skirt upwards by what the bodice loses. Without it
	// the dress becomes shorter; the skirt's waist is fitted all the same.
	KeepLength bool
}

// RaiseWaist moves the waist seam up. Bodice pieces are cut off along a new
// waist, drawn with the darts closed and square to the edges it meets; darts
// that reach above it stay, with narrower mouths. The skirt grows upwards: its
// centres straight on, its sides in a smooth curve from below the hip, to the
// same added length on both sides of every seam.
//
// Darts in the skirt's waist go; its gathers take up what they did.
//
// Kept: all seams pair; the skirt's hem. Changed: the length of every edge that
// ran to the waist, and the waist's own. Degenerate: a waist that would not be
// higher everywhere, a bodice gathered or pleated at the waist already, a skirt
// laid in pleats there, and a piece of bodice or skirt whose waist is in no seam
// though others' are, are refused.
func RaiseWaist(p *pattern.Pattern, o WaistRaise) (*operation.Answer, error) {
	e := begin(p)
	bodice := e.roles(pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront)
	if len(bodice) == 0 {
		return nil, refuse("the pattern has no bodice", "give its pieces the roles bodice-front and bodice-back")
	}
	if err := e.waistsSewn(slices.Concat(bodice, e.roles(pattern.SkirtFront, pattern.SkirtBack))); err != nil {
		return nil, err
	}
	rise, sideLength, err := e.sideRise(bodice, o.BelowArmscye)
	if err != nil {
		return nil, err
	}
	r := rises{side: rise, centreFront: rise + o.AtCentreFront, centreBack: rise + o.AtCentreBack}
	if math.Min(r.side, math.Min(r.centreFront, r.centreBack)) < minSlash {
		return nil, refuse(fmt.Sprintf("the side seam measures %.1f mm under the armscye: the waist would not go up", sideLength),
			fmt.Sprintf("ask for less than %.0f mm below the armscye", sideLength-minSlash))
	}
	e.changed("bodice side seam under the armscye", "", sideLength, o.BelowArmscye, "mm")
	// How far along the back waist the side-back seam stands, from the side.
	r.sideBack = e.shareFromSide(bodice)
	skirt, _ := e.skirtWith(pattern.Waist) // a bodice may have none
	r.joints = e.waistJoints(bodice, works(skirt))
	for _, w := range bodice {
		if err := w.raiseBodice(e, r); err != nil {
			return nil, err
		}
	}
	if !o.KeepLength {
		r = rises{sideBack: r.sideBack, joints: r.joints}
	}
	if err := e.raiseSkirt(bodice, r); err != nil {
		return nil, err
	}
	for _, w := range bodice {
		i, err := w.edgeOf(pattern.Waist)
		if err != nil {
			return nil, err
		}
		name := w.Edges[i].Name
		e.changed("waist, sewn", w.Name, e.sewnBefore(w.Name, name), w.sewnNow(i), "mm")
	}
	for _, role := range []string{pattern.CentreFront, pattern.CentreBack} {
		for _, w := range bodice {
			for i, edge := range w.Edges {
				if edge.Is() == role {
					e.changed(edge.Name, w.Name, e.in.Piece(w.Name).Edge(edge.Name).Path.Length(), w.lines[i].length(), "mm")
				}
			}
		}
	}
	return e.finish()
}

// waistsSewn refuses a piece whose waist is in no seam while that of another of its
// role is: it is a part of no waist, as a mirror image is that was laid beside its
// piece.
func (e *edit) waistsSewn(pieces []*work) error {
	sewn := map[pattern.Role]string{}
	loose := map[pattern.Role]string{}
	for _, w := range pieces {
		for _, edge := range w.Edges {
			if edge.Is() != pattern.Waist {
				continue
			}
			if len(e.in.SeamsOf(w.Name, edge.Name)) > 0 {
				sewn[w.Role] = w.Name
			} else {
				loose[w.Role] = w.Name
			}
		}
	}
	for _, w := range pieces {
		if loose[w.Role] == w.Name && sewn[w.Role] != "" {
			return refuse(fmt.Sprintf("the waist of piece %q is sewn to nothing, and that of piece %q is", w.Name, sewn[w.Role]),
				"move the waist before a piece is copied, or sew the copy in")
		}
	}
	return nil
}

// rises are how far up in mm the waist goes, measured along each edge.
type rises struct {
	side, centreFront, centreBack float64
	sideBack                      float64 // share of the way from side to centre back
	joints                        map[edgeKey]waistJoint
}

// waistJoint is where an edge meets the waist between the side and a centre: as a share
// of the sewn half waist from the side.
type waistJoint struct {
	share float64
	front bool
}

// waistJoints returns where the seams between pieces meet their waist; of rows of
// pieces that do not go from centre to centre, none.
func (e *edit) waistJoints(rows ...[]*work) map[edgeKey]waistJoint {
	joints := map[edgeKey]waistJoint{}
	for _, pieces := range rows {
		run, err := e.waistRun(pieces)
		if err != nil {
			continue
		}
		type meeting struct {
			edgeKey
			at float64
		}
		var found []meeting
		at, side := 0.0, -1.0
		for k, ref := range run {
			w := e.piece(ref.Piece)
			i := w.EdgeIndex(ref.Edge)
			in, out := w.prev(i), w.next(i)
			if ref.Backwards {
				in, out = out, in
			}
			if k > 0 {
				found = append(found, meeting{edgeKey{w.Name, w.Edges[in].Name}, at})
			}
			at += e.sewnBefore(ref.Piece, ref.Edge)
			if w.Edges[out].Is() == pattern.Side {
				side = at
			}
			if k < len(run)-1 {
				found = append(found, meeting{edgeKey{w.Name, w.Edges[out].Name}, at})
			}
		}
		if side <= 0 || side >= at {
			continue
		}
		for _, m := range found {
			if m.at <= side {
				joints[m.edgeKey] = waistJoint{(side - m.at) / side, true}
			} else {
				joints[m.edgeKey] = waistJoint{(m.at - side) / (at - side), false}
			}
		}
	}
	return joints
}

// on returns the rise on edge i of a piece.
func (r rises) on(w *work, i int) (float64, bool) {
	if rise, ok := r.at(w.Edges[i].Is()); ok {
		return rise, true
	}
	j, ok := r.joints[edgeKey{w.Name, w.Edges[i].Name}]
	centre := r.centreBack
	if j.front {
		centre = r.centreFront
	}
	return r.side + (centre-r.side)*j.share, ok
}

// notOnWaist tells what to do with an edge of which nothing says how far the waist
// goes up on it.
const notOnWaist = "sew the pieces to each other from centre front to centre back, or give these edges the roles side, side-back, centre-front or centre-back"

// at returns the rise on an edge of that role.
func (r rises) at(role string) (float64, bool) {
	switch role {
	case pattern.Side:
		return r.side, true
	case pattern.CentreFront:
		return r.centreFront, true
	case pattern.CentreBack:
		return r.centreBack, true
	case pattern.SideBack:
		return r.side + (r.centreBack-r.side)*r.sideBack, true
	}
	return 0, false
}

func (e *edit) roles(roles ...pattern.Role) []*work {
	var found []*work
	for _, w := range e.pieces {
		if slices.Contains(roles, w.Role) {
			found = append(found, w)
		}
	}
	return found
}

// sideRise returns how far the side seam is shortened from its waist end.
func (e *edit) sideRise(bodice []*work, below float64) (rise, length float64, err error) {
	for _, w := range bodice {
		for _, edge := range w.Edges {
			if edge.Is() != pattern.Side {
				continue
			}
			sewn := e.sewnBefore(w.Name, edge.Name)
			if length != 0 && math.Abs(sewn-length) > sideAgree {
				return 0, 0, refuse(fmt.Sprintf("the side seams measure %.1f and %.1f mm", length, sewn), "true the side seam first")
			}
			length = sewn
		}
	}
	if length == 0 {
		return 0, 0, refuse("no bodice piece has a side edge", "give the edges under the arm the role side")
	}
	return length - below, length, nil
}

// sideAgree is by how much in mm the side seams of a garment may differ before
// a level cannot be laid off along them: what the pairing check lets pass.
const sideAgree = 0.1

// shareFromSide returns how far along the sewn back waist, from the side, the
// side-back seam stands; half the way where there is none.
func (e *edit) shareFromSide(bodice []*work) float64 {
	var side, centre float64
	for _, w := range bodice {
		for _, edge := range w.Edges {
			if edge.Is() != pattern.Waist {
				continue
			}
			switch w.Role {
			case pattern.BodiceSideBack:
				side += e.sewnBefore(w.Name, edge.Name)
			case pattern.BodiceBack:
				centre += e.sewnBefore(w.Name, edge.Name)
			}
		}
	}
	if side+centre == 0 {
		return 0.5
	}
	return side / (side + centre)
}

// sewnNow returns the sewn length of edge i of a piece whose darts there were
// carried over as they are.
func (w *work) sewnNow(i int) float64 {
	length := w.lines[i].length()
	for _, d := range w.Darts {
		if d.Edge != w.Edges[i].Name {
			continue
		}
		length -= w.lines[i].carried(w.Name, d.Edge, d.From, d.To)
	}
	return length
}

// carried returns how long the strands are that stand for a stretch of input.
func (l line) carried(piece, edge string, from, to float64) float64 {
	var sum float64
	for _, s := range l {
		if s.old.Piece == piece && s.old.Edge == edge && s.old.From >= from-cutSliver && s.old.To <= to+cutSliver {
			sum += s.seg.Length()
		}
	}
	return sum
}

// raiseBodice cuts one bodice piece off along its new waist.
func (w *work) raiseBodice(e *edit, r rises) error {
	i, err := w.edgeOf(pattern.Waist)
	if err != nil {
		return err
	}
	name := w.Edges[i].Name
	if slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return g.Edge == name }) ||
		slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == name }) {
		return refuse(fmt.Sprintf("the waist of piece %q is gathered or pleated", w.Name), "raise the waist before gathering it")
	}
	before, after := w.prev(i), w.next(i)
	down, ok1 := r.on(w, before)
	up, ok2 := r.on(w, after)
	if !ok1 || !ok2 {
		return refuse(fmt.Sprintf("the waist of piece %q lies between %q and %q", w.Name, w.Edges[before].Name, w.Edges[after].Name),
			notOnWaist)
	}
	for _, d := range w.Darts {
		edge := w.EdgeIndex(d.Edge)
		if edge == before && d.To > w.lines[before].length()-down || edge == after && d.From < up {
			return refuse(fmt.Sprintf("dart %q of piece %q lies below the new waist", d.Name, w.Name),
				"turn it elsewhere first")
		}
	}
	if down >= w.lines[before].length()-minSlash || up >= w.lines[after].length()-minSlash {
		return refuse(fmt.Sprintf("piece %q ends below the new waist", w.Name), "raise the waist by less")
	}
	w.touched = true
	keepBefore, _ := w.lines[before].split(w.lines[before].length() - down)
	_, keepAfter := w.lines[after].split(up)
	fresh, gone, err := w.waistLine(i, keepBefore.path(), keepAfter.path())
	if err != nil {
		return err
	}
	w.lines[before], w.lines[i], w.lines[after] = keepBefore, fresh, keepAfter
	w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool { return slices.Contains(gone, d.Name) })
	for _, d := range gone {
		e.changed("dart "+d+" lies in what is cut off", w.Name, 1, 0, "")
	}
	w.keepGrainInside()
	w.heal()
	return nil
}

// waistLine draws the new waist between the cut-off neighbours, with the darts
// that it crosses closed, and opens it again. Darts wholly below it are gone.
func (w *work) waistLine(i int, before, after geom.Path) (fresh line, gone []string, err error) {
	var darts []pattern.Dart
	for _, d := range w.Darts {
		if d.Edge == w.Edges[i].Name {
			darts = append(darts, d)
		}
	}
	slices.SortFunc(darts, func(a, b pattern.Dart) int { return int(math.Copysign(1, a.From-b.From)) })
	path := w.lines[i].path()
	for {
		// closed[k] maps the part of the piece behind dart k to where closing
		// darts 0 to k−1 brings it.
		closed := []geom.Affine{geom.Identity}
		for _, d := range darts {
			f, t := path.At(d.From), path.At(d.To)
			angle := geom.Turn(f.Sub(d.Point), t.Sub(d.Point))
			closed = append(closed, closed[len(closed)-1].After(geom.Rotation(d.Point, -angle)))
		}
		last := closed[len(darts)]
		start, end := before.End(), last.Apply(after.Start())
		chord := start.Dist(end)
		// Square to both neighbours: the corner is true whatever lies beyond.
		leave := before.EndDirection().Left()
		arrive := linear(last).Apply(after.StartDirection()).Right()
		curve := geom.Path{geom.Hermite(start, leave.Mul(chord), end, arrive.Mul(chord))}

		crossings := make([]float64, len(darts))
		missed := -1
		for k, d := range darts {
			apex := closed[k].Apply(d.Point)
			foot := closed[k].Apply(path.At(d.From))
			met := curve.CutLine(apex, foot.Sub(apex))
			met = slices.DeleteFunc(met, func(at float64) bool {
				return curve.At(at).Sub(apex).Dot(foot.Sub(apex).Unit()) < minDart
			})
			if len(met) == 0 {
				missed = k
				break
			}
			crossings[k] = met[0]
		}
		if missed >= 0 {
			gone = append(gone, darts[missed].Name)
			darts = slices.Delete(darts, missed, missed+1)
			continue
		}
		return w.openWaist(i, curve, darts, closed, crossings), gone, nil
	}
}

// minDart is the length in mm under which what is left of a dart is not worth
// sewing.
const minDart = 10

// openWaist cuts the closed waist at the darts and moves the parts back.
func (w *work) openWaist(i int, curve geom.Path, darts []pattern.Dart, closed []geom.Affine, crossings []float64) line {
	old := func(from, to float64) pattern.Stretch {
		return pattern.Stretch{Piece: w.Name, Edge: w.Edges[i].Name, From: from, To: to}
	}
	var fresh line
	at, oldAt := 0.0, 0.0
	for k := range closed {
		upTo, oldTo := curve.Length(), w.lines[i].length()
		if k < len(darts) {
			upTo, oldTo = crossings[k], darts[k].From
		}
		back, _ := closed[k].Inverse() // rigid: always there
		part := redrawn(curve.Between(at, upTo).Transform(back), old(oldAt, oldTo))
		if k > 0 {
			mouth := geom.Line(fresh.end(), part.start())
			fresh = fresh.join(redrawn(geom.Path{mouth}, old(darts[k-1].From, darts[k-1].To)))
		}
		fresh = fresh.join(part)
		at = upTo
		if k < len(darts) {
			oldAt = darts[k].To
		}
	}
	return fresh
}

// keepGrainInside shortens a grainline that a piece no longer reaches, and puts
// one that lies wholly outside back through the middle.
func (w *work) keepGrainInside() {
	if !w.Grain.Given() {
		return
	}
	outline := w.outline()
	const looks = 8 // places along the grainline: a hollow edge may cut through its middle
	inside := true
	for k := range looks + 1 {
		inside = inside && geom.Contains(outline, w.Grain.From.Lerp(w.Grain.To, float64(k)/looks))
	}
	if inside {
		return
	}
	if fresh := grainThrough(outline, w.Grain); fresh.Given() {
		w.Grain = fresh
	}
}
