package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pagoda says how a bell-shaped sleeve is cut.
type Pagoda struct {
	Hem float64 // girth of the open hem, mm
	// Elbow is where the bell begins, as a share of the seam under the arm from
	// the head; 0 is where the elbow is.
	Elbow float64
	// Drop is how much longer the sleeve is where it is longest, towards the back,
	// mm.
	Drop float64
	// Back leans the fullness to the back: 0 none, 1 all of it there.
	Back    float64
	Slashes int // on either side
}

// MakePagoda makes a bell-shaped sleeve of the plain one: close above the
// elbow, open and wide at the hem. It is slashed like a fan from the hem to the
// seam under the arm below the elbow, spread and hinged there.
//
// Kept: the head and its ease, to the last digit; what lies above the elbow; the
// length of the two edges under the arm. Changed: the hem, to the girth asked
// for, drawn in one curve without a hollow in it; the lower half of the seam,
// which swings outward. Degenerate: a hem that
// is as wide already, and a bell that would swing past itself, are refused.
func MakePagoda(p *pattern.Pattern, o Pagoda) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	hem := a.lines[a.hem].length()
	switch {
	case a.Edges[a.hem].Finish == pattern.Sewn || e.takesUp(a.work, a.Edges[a.hem].Name):
		return nil, refuse(fmt.Sprintf("the hem of piece %q is sewn or drawn up already", a.Name), "take the cuff off first")
	case !(o.Hem > hem):
		return nil, refuse(fmt.Sprintf("the hem of piece %q measures %.0f mm already", a.Name, hem), "ask for a wider one")
	case o.Slashes < 2:
		return nil, refuse("a fan needs at least two slashes a side", "ask for more")
	case !(o.Drop >= 0 && o.Back >= 0 && o.Back <= 1 && o.Elbow >= 0 && o.Elbow < 1):
		return nil, refuse("a pagoda sleeve's drop is not below 0, and elbow and back are shares", "give them between 0 and 1")
	}
	a.touched = true
	from := o.Elbow
	if from == 0 {
		onUp, _ := a.elbow()
		from = onUp / a.lines[a.up].length()
	}
	f := fan{edge: a.hem, slashes: o.Slashes, near: nearestHinge * (1 - from), far: 1 - from, lean: o.Back}
	if err := a.fanTo(f, o.Hem, func(c *arm) { c.sweepHem(o.Drop) }); err != nil {
		return nil, err
	}
	e.changed("hem", a.Name, hem, a.lines[a.hem].length(), "mm")
	if o.Drop > 0 {
		e.changed("longer at the back by", a.Name, 0, o.Drop, "mm")
	}
	e.caution("an open sleeve goes near candles and stoves, and into dishes and moving stairs: try it where it will be worn")
	return a.finish()
}

// sweepHem lets the hem down at the back and draws it in one curve, that bends one
// way from seam to seam: square to the seams as it was, and as deep, where it is
// deepest, as the slashes leave it. Between, these would go in and out under it.
func (a *arm) sweepHem(drop float64) {
	a.dropHem(drop)
	l := a.lines[a.hem]
	path := rule(l.path())
	from, to := l.start(), l.end()
	along := to.Sub(from).Unit()
	var deepest geom.Point
	far := math.Inf(-1)
	for k := 1; k < sweepPoints; k++ {
		q, _ := path.at(path.long() * float64(k) / sweepPoints)
		if d := q.Sub(from).Dot(along.Right()); d > far {
			deepest, far = q, d
		}
	}
	// Too near a seam it would leave the other side flat.
	chord := from.Dist(to)
	share := deepest.Sub(from).Dot(along) / chord
	deepest = deepest.Add(along.Mul((max(0.3, min(0.7, share)) - share) * chord))
	curve := bow(from, l.path().StartDirection(), deepest, along, to, l.path().EndDirection())
	a.lines[a.hem] = redrawn(curve, wholeOf(l))
}

// bow draws a curve of two cubics, as near to arcs as its three points and
// tangents let it be, with one curvature on both sides of the middle one where
// the tangents leave room for it.
func bow(from, leave, middle, along, to, arrive geom.Point) geom.Path {
	type half struct{ end, dir, inner geom.Point } // dir and inner towards each other
	halves := [2]half{{from, leave, along.Mul(-1)}, {to, arrive.Mul(-1), along}}
	var reach, deep, room [2]float64
	var handle [2]geom.Point
	for k, h := range halves {
		chord := h.end.Dist(middle)
		turn := math.Abs(geom.Turn(h.dir, h.inner.Mul(-1)))
		out := math.Min(chord, chord*2/3*math.Tan(turn/4)/math.Max(math.Sin(turn/2), 0.01)) // an arc's
		room[k] = chord
		// Beyond where the tangents meet, a handle would bend the curve back.
		if x, ok := geom.LineMeet(h.end, h.dir, middle, h.inner); ok && x.Sub(h.end).Dot(h.dir) > 0 && x.Sub(middle).Dot(h.inner) > 0 {
			out, room[k] = math.Min(out, bowRoom*x.Dist(h.end)), bowRoom*x.Dist(middle)
		}
		handle[k] = h.end.Add(h.dir.Mul(out))
		deep[k] = math.Abs(handle[k].Sub(middle).Cross(along))
		reach[k] = math.Min(out, room[k])
	}
	// The curvature in the middle is two thirds of deep over the square of reach.
	even := math.Sqrt(deep[0]*deep[1]) / (reach[0] * reach[1])
	for k := range halves {
		if r := math.Sqrt(deep[k] / even); r > 0 && !math.IsInf(r, 0) {
			reach[k] = math.Max(math.Min(r, room[k]), room[k]/4)
		}
	}
	return geom.Path{
		geom.Cubic(from, handle[0], middle.Sub(along.Mul(reach[0])), middle),
		geom.Cubic(middle, middle.Add(along.Mul(reach[1])), handle[1], to),
	}
}

// bowRoom is how much of the way to where two tangents meet a handle may take.
const bowRoom = 0.85

// Bishop says how a bishop sleeve is cut.
type Bishop struct {
	Cuff, CuffHeight float64 // finished girth and height of the cuff, mm
	// Ratio is the cut width of the hem over the cuff.
	Ratio float64
	// Drop is how much longer the sleeve is at the back, mm.
	Drop float64
	// Back leans the fullness to the back: 0 none, 1 twice as much as evenly.
	Back float64
	// HeadRatio is the cut length of the head over the armscye, where the head is
	// gathered too; 0 leaves the head as it is.
	HeadRatio float64
	From, To  float64 // of gathers at the head, as shares of it from the front
	// Placket and Lap are as in Cuff.
	Placket, Lap float64
	Slashes      int
}

// MakeBishop makes a bishop sleeve of the plain one: slashed from hem to head,
// spread at the hem, more towards the back, let down at the back so that it
// falls over the cuff, and gathered into it.
//
// Kept: the two edges under the arm; the head's length and ease, unless the
// head is gathered too. The hem's sewn length becomes exactly the cuff's.
// Changed: the hem; the head is drawn flatter. Degenerate: as of PuffSleeve.
func MakeBishop(p *pattern.Pattern, o Bishop) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	if err := a.plain("cut"); err != nil {
		return nil, err
	}
	hem, head := a.lines[a.hem].length(), a.lines[a.cap].length()
	switch {
	case !(o.Ratio >= 1):
		return nil, refuse(fmt.Sprintf("a fullness ratio of %g would stretch the cloth", o.Ratio), "ask for 1 or more")
	case !(o.Cuff >= minSlash && o.CuffHeight >= 1):
		return nil, refuse("a cuff needs a length and a height", "give both")
	case !(o.Drop >= 0 && o.Back >= 0 && o.Back <= 1 && o.Placket >= 0 && o.Lap >= 0):
		return nil, refuse("a bishop sleeve's lengths are not below 0, and back is a share", "give it between 0 and 1")
	case o.Slashes < 1:
		return nil, refuse("a sleeve cannot be spread without a slash", "ask for at least one")
	case o.HeadRatio > 0 && !gatherable(o.From, o.To):
		return nil, refuse(noStretch, noStretchInstead)
	}
	a.touched = true
	s := swelling{hem: max(hem, o.Cuff*o.Ratio), slashes: o.Slashes, lean: o.Back, drop: o.Drop}
	gather := o.HeadRatio*a.armscye > head
	if gather {
		s.head = o.HeadRatio * a.armscye
	}
	if err := a.swell(s); err != nil {
		return nil, err
	}
	e.changed("hem, cut", a.Name, hem, a.lines[a.hem].length(), "mm")
	if err := a.drawUpHem(o.Cuff); err != nil {
		return nil, err
	}
	e.changed("hem, gathered to the cuff", a.Name, hem, o.Cuff, "mm")
	if o.Drop > 0 {
		e.changed("longer at the back by", a.Name, 0, o.Drop, "mm")
	}
	if gather {
		e.changed("head, cut", a.Name, head, a.lines[a.cap].length(), "mm")
		if err := a.gatherHead(o.From, o.To); err != nil {
			return nil, err
		}
	}
	a.addCuff(cuffStrip{
		name: cuffName, title: "Cuff", role: pattern.SleeveCuff, girth: o.Cuff, height: o.CuffHeight, meeting: pattern.Gathered,
		open: o.Placket > 0, lap: o.Lap,
	})
	return a.orFinish(a.leavePlacket(o.Placket, o.Cuff))
}
