package stock

import (
	"bygone.example/core/pattern"
)

// Where the notches are, mm along the seam; common practice. One in front and
// two behind on the armscye; on the skirt one at the centre front, two at the
// side, three at the centre back (Watson 1907: gores are told apart by a count
// that rises towards the back).
const (
	frontScyeNotch = 78 // from the underarm
	backScyeNotch  = 92
	waistNotch     = 55 // from the centre
	sideNotch      = 70 // above the waist
	neckNotch      = 70 // from the centre front
	skirtNotch     = 230
	longShoulder   = 145 // beyond this the shoulder seam has one too, in the middle
)

//go:generate go test . -run TestPatternFiles -update

// Dress drafts the company's stock dress for StockBody.
func Dress() (*pattern.Pattern, error) { return Draft(StockBody) }

// Draft drafts the modern darted dress for a body: bodice front and back,
// set-in sleeve, four-gore skirt, neckline facings. Allowances are left at 0:
// a step of the house standard sets them. A figure
// without a waist to speak of gets small darts and straighter seams. A body
// too far from an ordinary figure for one of the curves to be found is refused
// with an error.
func Draft(b Body) (*pattern.Pattern, error) {
	back, err := b.back()
	if err != nil {
		return nil, err
	}
	front, err := b.front(back.SewnLength(pattern.Side))
	if err != nil {
		return nil, err
	}
	frontScye, backScye := front.Edge(pattern.Armscye).Path.Length(), back.Edge(pattern.Armscye).Path.Length()
	sleeve, err := b.sleeve(frontScye, backScye)
	if err != nil {
		return nil, err
	}
	skirtFront, skirtBack, err := b.skirt(front.SewnLength(pattern.Waist), back.SewnLength(pattern.Waist))
	if err != nil {
		return nil, err
	}
	facingFront, facingBack := facings(&front, &back)
	p := &pattern.Pattern{
		Name:  "stock-dress",
		Title: "Stock dress, darted, size 92",
		Notes: "From the stock of an invented repertory company. Modern: bust and waist darts, set-in sleeve, four-gore skirt, neckline facing. Seam lines, no allowances.",
		Pieces: []pattern.Piece{
			front, back, sleeve, skirtFront, skirtBack, facingFront, facingBack,
		},
		Seams: dressSeams(),
	}
	notchBodice(p)
	notchSkirt(p)
	return p, nil
}

func forth(piece, edge string) pattern.EdgeRef { return pattern.EdgeRef{Piece: piece, Edge: edge} }
func against(piece, edge string) pattern.EdgeRef {
	return pattern.EdgeRef{Piece: piece, Edge: edge, Backwards: true}
}

func plain(name string, a, b pattern.Run) pattern.Seam {
	return pattern.Seam{Name: name, A: a, B: b, Meeting: pattern.Meeting{Kind: pattern.Plain}}
}

// sleeveSeams are the seams of a bodice with set-in sleeves. Both sides are
// walked from the front side of the underarm.
func sleeveSeams() []pattern.Seam {
	armscye := plain("armscye",
		pattern.Run{against("bodice-front", pattern.Armscye), against("bodice-back", pattern.Armscye)},
		pattern.Run{forth("sleeve", pattern.Cap)})
	armscye.Meeting = pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: headEaseMin, Max: headEaseMax}}
	return []pattern.Seam{
		plain("shoulder", pattern.Run{forth("bodice-front", pattern.Shoulder)}, pattern.Run{against("bodice-back", pattern.Shoulder)}),
		plain("side", pattern.Run{forth("bodice-front", pattern.Side)}, pattern.Run{against("bodice-back", pattern.Side)}),
		plain("sleeve-underarm", pattern.Run{forth("sleeve", "underarm.front")}, pattern.Run{against("sleeve", "underarm.back")}),
		armscye,
	}
}

func dressSeams() []pattern.Seam {
	return append(sleeveSeams(),
		plain("skirt-centre-front", pattern.Run{forth("skirt-front", pattern.CentreFront)}, nil),
		plain("skirt-side", pattern.Run{forth("skirt-front", pattern.Side)}, pattern.Run{against("skirt-back", pattern.Side)}),
		plain("skirt-centre-back", pattern.Run{forth("skirt-back", pattern.CentreBack)}, nil),
		plain("waist",
			pattern.Run{against("bodice-front", pattern.Waist), against("bodice-back", pattern.Waist)},
			pattern.Run{forth("skirt-front", pattern.Waist), forth("skirt-back", pattern.Waist)}),
		plain("facing-shoulder", pattern.Run{forth("facing-front", pattern.Shoulder)}, pattern.Run{against("facing-back", pattern.Shoulder)}),
		plain("facing-neckline",
			pattern.Run{forth("bodice-front", pattern.Neckline), forth("bodice-back", pattern.Neckline)},
			pattern.Run{forth("facing-front", pattern.Neckline), forth("facing-back", pattern.Neckline)}),
	)
}

// notch puts a notch on an edge at sewn mm from its start, or from its end
// when fromEnd is set.
func notch(p *pattern.Pattern, piece, edge, name string, sewn float64, fromEnd bool, count int) {
	q := p.Piece(piece)
	if fromEnd {
		sewn = q.SewnLength(edge) - sewn
	}
	q.Notches = append(q.Notches, pattern.Notch{Name: name, Edge: edge, At: q.FlatPosition(edge, sewn), Count: count})
}

func notchBodice(p *pattern.Pattern) {
	notch(p, "bodice-front", pattern.Armscye, "front", frontScyeNotch, true, 1)
	notch(p, "sleeve", pattern.Cap, "front", frontScyeNotch, false, 1)
	notch(p, "bodice-back", pattern.Armscye, "back", backScyeNotch, false, 2)
	notch(p, "sleeve", pattern.Cap, "back", backScyeNotch, true, 2)
	// The middle of the head comes to the shoulder: a mark at the end of the
	// front armscye stays where the sleeve wants it when the seam is moved.
	notch(p, "bodice-front", pattern.Armscye, "shoulder", 0, false, 1)
	notch(p, "sleeve", pattern.Cap, "shoulder", p.Piece("bodice-front").SewnLength(pattern.Armscye)+headEaseFront, false, 1)

	if l := p.Piece("bodice-front").SewnLength(pattern.Shoulder); l > longShoulder {
		notch(p, "bodice-front", pattern.Shoulder, "shoulder", l/2, false, 1)
		notch(p, "bodice-back", pattern.Shoulder, "shoulder", l/2, true, 1)
	}

	notch(p, "bodice-front", pattern.Side, "side", sideNotch, true, 1)
	notch(p, "bodice-back", pattern.Side, "side", sideNotch, false, 1)
	elbow := p.Piece("sleeve").SewnLength("underarm.front") * (1 - elbowShare)
	notch(p, "sleeve", "underarm.front", "elbow", elbow, false, 1)
	notch(p, "sleeve", "underarm.back", "elbow", elbow, true, 1)

	for _, piece := range []string{"bodice", "facing"} {
		notch(p, piece+"-front", pattern.Neckline, "neck", neckNotch, false, 1)
	}
}

func notchSkirt(p *pattern.Pattern) {
	notch(p, "bodice-front", pattern.Waist, "waist-front", waistNotch, true, 1)
	notch(p, "skirt-front", pattern.Waist, "waist-front", waistNotch, false, 1)
	notch(p, "bodice-back", pattern.Waist, "waist-back", waistNotch, false, 2)
	notch(p, "skirt-back", pattern.Waist, "waist-back", waistNotch, true, 2)

	notch(p, "skirt-front", pattern.CentreFront, "skirt-front", skirtNotch, true, 1)
	notch(p, "skirt-front", pattern.Side, "skirt-side", skirtNotch, false, 2)
	notch(p, "skirt-back", pattern.Side, "skirt-side", skirtNotch, true, 2)
	notch(p, "skirt-back", pattern.CentreBack, "skirt-back", skirtNotch-openingLong+40, false, 3)
}
