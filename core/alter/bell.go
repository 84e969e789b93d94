package alter

import (
	"fmt"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pagoda says how a bell-shaped sleeve is cut.
type Pagoda struct {
	Hem float64 // girth of the open hem, mm
	// Elbow is where the bell begins, as a share of the seam under the arm from
	// the head; 0 is where the elbow is.
	Elbow float64
	// Drop is how much longer the sleeve is at the back, mm.
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
// for; the lower half of the seam, which swings outward. Degenerate: a hem that
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
	if err := a.fanTo(f, o.Hem, func(c *arm) { c.dropHem(o.Drop) }); err != nil {
		return nil, err
	}
	e.changed("hem", a.Name, hem, a.lines[a.hem].length(), "mm")
	if o.Drop > 0 {
		e.changed("longer at the back by", a.Name, 0, o.Drop, "mm")
	}
	e.caution("an open sleeve goes near candles and stoves, and into dishes and moving stairs: try it where it will be worn")
	return a.finish()
}

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
