package alter

import (
	"fmt"
	"math"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Puff says how a sleeve is made full.
type Puff struct {
	// At says where. PuffHead spreads the head alone and hinges the slashes at
	// the hem, PuffCuff the hem alone and hinges them at the head; PuffBoth, which
	// is also what empty means, spreads both.
	At PuffAt
	// Band is the finished length round the arm in mm that the hem is drawn up
	// to, and BandHeight the finished height of what it is drawn up into.
	Band, BandHeight float64
	// Into is what that is: a band, a cuff, or nothing but a drawstring or casing.
	// Empty is a band. A sleeve puffed at the head alone needs none of it.
	Into PuffInto
	// Ratio is the cut width of the hem over the band.
	Ratio float64
	// HeadShare is how much of what the hem gains the head gains too, where both
	// are puffed: 1 spreads the slashes parallel; 0 hinges them at the head, which
	// is then PuffCuff.
	HeadShare float64
	// HeadRatio is, for PuffHead, the cut length of the head over the armscye.
	HeadRatio float64
	// Raise is how much higher in mm the top of the head is drawn, so that the
	// puff stands.
	Raise float64
	// From and To bound the gathers at the head, as shares of the head's length
	// from its front end.
	From, To float64
	Slashes  int
}

// PuffAt is where a sleeve is puffed.
type PuffAt string

// Where a sleeve is puffed.
const (
	PuffBoth PuffAt = "both"
	PuffHead PuffAt = "head"
	PuffCuff PuffAt = "cuff"
)

// PuffInto is what a hem is drawn up into.
type PuffInto string

// What a hem is drawn up into.
const (
	IntoBand   PuffInto = "band"
	IntoCuff   PuffInto = "cuff"
	IntoString PuffInto = "drawstring"
)

// PuffSleeve slashes the sleeve from hem to head and spreads it at either or
// both, gathers the hem into a band or cuff, which becomes a new piece, or on a
// drawstring, and the head into the armscye.
//
// Kept: the underarm seams; an edge the slashes are hinged on, in length, and
// with it the ease of a head that is not puffed. A puffed head's sewn length
// becomes exactly the armscye's, whatever ease it had. Changed: head and hem.
// Degenerate: a hem that is wider than asked already is only gathered; a head
// whose gathered stretch is too short for its fullness is refused.
func PuffSleeve(p *pattern.Pattern, o Puff) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	if err := o.check(); err != nil {
		return nil, err
	}
	if err := a.plain("puff"); err != nil {
		return nil, err
	}
	a.touched = true
	atHead := o.At == PuffHead || o.At != PuffCuff && o.HeadShare > 0
	headWas, hemWas := a.lines[a.cap].length(), a.lines[a.hem].length()
	switch {
	case o.At == PuffHead:
		err = a.swell(swelling{head: max(headWas, a.armscye*o.HeadRatio), slashes: o.Slashes, raise: o.Raise})
	case !atHead:
		err = a.swell(swelling{hem: max(hemWas, o.Band*o.Ratio), slashes: o.Slashes, raise: o.Raise})
	default:
		if growth := o.Band*o.Ratio - hemWas; growth > cutSliver {
			err = a.swellOnce(swelling{slashes: o.Slashes}, growth, growth*o.HeadShare)
		}
		a.raiseHead(o.Raise)
	}
	if err != nil {
		return nil, err
	}
	e.changed("head, cut", a.Name, headWas, a.lines[a.cap].length(), "mm")
	if atHead {
		err = a.gatherHead(o.From, o.To)
	} else if o.Raise != 0 {
		err = a.easeHead()
	}
	if err != nil || o.At == PuffHead {
		return a.orFinish(err)
	}
	e.changed("hem, cut", a.Name, hemWas, a.lines[a.hem].length(), "mm")
	if err := a.drawUpHem(o.Band); err != nil {
		return nil, err
	}
	s := cuffStrip{girth: o.Band, height: o.BandHeight, meeting: pattern.Gathered}
	switch o.Into {
	case IntoString:
		e.changed("hem, drawn up", a.Name, hemWas, o.Band, "mm")
	case IntoCuff:
		e.changed("hem, gathered to the cuff", a.Name, hemWas, o.Band, "mm")
		s.name, s.title, s.role = cuffName, "Cuff", pattern.SleeveCuff
		a.addCuff(s)
	default:
		e.changed("hem, gathered to the band", a.Name, hemWas, o.Band, "mm")
		s.name, s.title, s.role = bandName, "Sleeve band", pattern.SleeveBand
		a.addCuff(s)
	}
	return a.finish()
}

// orFinish ends an operation unless something went wrong.
func (a *arm) orFinish(err error) (*operation.Answer, error) {
	if err != nil {
		return nil, err
	}
	return a.finish()
}

// check refuses numbers that make no puff.
func (o Puff) check() error {
	switch {
	case o.At != "" && o.At != PuffBoth && o.At != PuffHead && o.At != PuffCuff:
		return refuse(fmt.Sprintf("a sleeve cannot be puffed at %q", o.At), "puff it at the head, the cuff or both")
	case o.Into != "" && o.Into != IntoBand && o.Into != IntoCuff && o.Into != IntoString:
		return refuse(fmt.Sprintf("a hem cannot be drawn up into %q", o.Into), "draw it up into a band, a cuff or on a drawstring")
	case o.At != PuffHead && o.Ratio < 1:
		return refuse(fmt.Sprintf("a fullness ratio of %g would stretch the cloth", o.Ratio), "ask for 1 or more")
	case o.At == PuffHead && o.HeadRatio < 1:
		return refuse(fmt.Sprintf("a head of %g times the armscye would not reach round it", o.HeadRatio), "ask for 1 or more")
	case o.At != PuffCuff && !gatherable(o.From, o.To):
		return refuse(noStretch, noStretchInstead)
	case o.Slashes < 1:
		return refuse("a sleeve cannot be spread without a slash", "ask for at least one")
	case o.At != PuffHead && (o.Band < minSlash || o.Into != IntoString && o.BandHeight < 1):
		return refuse("a band needs a length and a height", "give both")
	}
	return nil
}

// gatherable reports whether two shares of a head leave room for gathers.
func gatherable(from, to float64) bool { return from >= 0 && to <= 1 && to-from >= 0.05 }

const (
	noStretch        = "the gathers at the head need a stretch of it to lie on"
	noStretchInstead = "give shares between 0 and 1, the first the smaller"
)

// drawUpHem gathers the whole hem to the given length, mm.
func (a *arm) drawUpHem(to float64) error {
	foot := a.lines[a.hem].length()
	if to > foot+cutSliver {
		return refuse(fmt.Sprintf("the hem of piece %q measures %.0f mm and cannot be drawn up to %.0f", a.Name, foot, to), "ask for a closer cuff, or a wider hem")
	}
	a.fresh.gathers = append(a.fresh.gathers, pattern.Gather{
		Name: freshName(a.work, "hem-gathers"), Edge: a.Edges[a.hem].Name, Kind: pattern.Gathers, From: 0, To: foot, Length: math.Min(to, foot),
	})
	return nil
}
