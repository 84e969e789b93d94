package alter

import (
	"fmt"
	"math"
)

// swelling says how a sleeve is slashed from hem to head and spread.
type swelling struct {
	hem, head float64 // what they are to measure, mm; 0 hinges the slashes there
	slashes   int
	// lean opens the slashes unevenly: 0 all alike, 1 those at the back twice as
	// much as the middle ones and those at the front hardly.
	lean        float64
	raise, drop float64 // see raiseHead and dropHem, mm
}

// swell spreads the sleeve until its hem and head measure what they are to. An
// edge on which the slashes are hinged keeps its length.
func (a *arm) swell(s swelling) error {
	head, hem := a.lines[a.cap].length(), a.lines[a.hem].length()
	openHem, openHead := 0.0, 0.0
	if s.hem > 0 {
		openHem = math.Max(0, s.hem-hem)
	}
	if s.head > 0 {
		openHead = math.Max(0, s.head-head)
	}
	growHem, growHead := openHem > cutSliver, openHead > cutSliver
	for range swellTries {
		c := a.copy()
		if growHem || growHead {
			if err := c.swellOnce(s, openHem, openHead); err != nil {
				return err
			}
		}
		c.dropHem(s.drop)
		c.raiseHead(s.raise)
		missHem, missHead := 0.0, 0.0
		if growHem {
			missHem = c.lines[c.hem].length() - s.hem
		}
		if growHead {
			missHead = c.lines[c.cap].length() - s.head
		}
		if math.Abs(missHem)+math.Abs(missHead) <= toldTo {
			a.take(c)
			return nil
		}
		// The edges gain what the slashes open but for a little that fairing takes
		// off and that shaping adds.
		openHem, openHead = openHem-missHem, openHead-missHead
		if openHem < 0 || openHead < 0 {
			break
		}
	}
	return refuse(fmt.Sprintf("head and hem of piece %q cannot be brought to %.0f and %.0f mm", a.Name, max(s.head, head), max(s.hem, hem)), "ask for less, or use more slashes")
}

// swellTries bounds a search for an opening: each try leaves a few hundredths of
// the miss before it.
const swellTries = 40

// swellOnce makes the slashes with the given openings in all.
func (a *arm) swellOnce(s swelling, openHem, openHead float64) error {
	head, hem := a.lines[a.cap].length(), a.lines[a.hem].length()
	was := a.lines[a.cap].path()
	var cuts []slash
	var onHead []float64
	for k, at := range evenly(0, hem, s.slashes) {
		weight := 1.0
		if s.slashes > 1 {
			// Around the piece the hem begins where the head ends.
			weight += s.lean * (1 - 2*float64(k)/float64(s.slashes-1))
			if !a.frontFirst {
				weight = 2 - weight
			}
		}
		c := slash{i: a.hem, a: at, j: a.cap, b: head * float64(s.slashes-k) / float64(s.slashes+1)}
		c.openA, c.openB = openHem*weight/float64(s.slashes), openHead*weight/float64(s.slashes)
		cuts, onHead = append(cuts, c), append(onHead, c.b)
	}
	if err := a.spread(cuts); err != nil {
		return err
	}
	if openHead == 0 {
		if err := a.rebend(a.cap, was, onHead); err != nil {
			return err
		}
		return a.lengthTo(a.cap, head)
	}
	if openHem == 0 { // spread drew the hem anew through the hinges
		a.lines[a.hem] = redrawn(a.lines[a.hem].path(), wholeOf(a.lines[a.hem]))
		return a.lengthTo(a.hem, hem)
	}
	return nil
}

// raiseHead raises the top of the head by up to the given mm, less towards
// its ends, whose places and tangents stay.
func (a *arm) raiseHead(by float64) {
	_, up := a.headAxis()
	a.bump(a.cap, up.Mul(by), 1)
}

// dropHem lets the hem down by up to the given mm at the back, three tenths of
// the way from its back end, where the elbow bends over it.
func (a *arm) dropHem(by float64) {
	_, up := a.headAxis()
	skew := math.Log(0.5) / math.Log(0.3) // sin² of π times 0.3 to this power is 1
	if !a.frontFirst {
		skew = -skew
	}
	a.bump(a.hem, up.Mul(-by), skew)
}
