package pairing

import "bygone.example/core/finding"

// The codes of the check that look at the making up: cloth, allowances, what is
// cut and in what order it is sewn.
const (
	FullnessCloth     finding.Code = "fullness-cloth"
	CapEase           finding.Code = "cap-ease"
	FacingShape       finding.Code = "facing-shape"
	LiningShape       finding.Code = "lining-shape"
	OpeningMissing    finding.Code = "opening-missing"
	AllowanceMismatch finding.Code = "allowance-mismatch"
	AllowanceCrossing finding.Code = "allowance-crossing"
	HemTurn           finding.Code = "hem-turn"
	ClothWidth        finding.Code = "cloth-width"
	CutCount          finding.Code = "cut-count"
	SewingOrder       finding.Code = "sewing-order"
)

var ofSewing = map[finding.Code]Explanation{
	FullnessCloth: {
		Severity: finding.Warning, Title: "More is gathered than the cloth will take",
		Why:    "Heavy cloth drawn up far does not lie in gathers: it stands off, and goes under no foot.",
		Remedy: "Gather less, lay part of the fullness in pleats, or choose a lighter cloth.",
	},
	CapEase: {
		Severity: finding.Warning, Title: "The ease of a sleeve's head is too much, or lies in the wrong place",
		Why:    "Over the top of the arm ease shrinks in and gives room; under the arm, or too much of it on a short stretch, it stays in puckers.",
		Remedy: "Lower the head, or move its notches so that the ease lies over the top, or gather it.",
	},
	FacingShape: {
		Severity: finding.Warning, Title: "A facing has another shape than the edge it faces",
		Why:    "Of the right length but another curve, it pulls the edge out of shape or rolls to the outside.",
		Remedy: "Trace the facing anew from the edge, with the seams that it runs over closed.",
	},
	LiningShape: {
		Severity: finding.Warning, Title: "A lining has another shape than its outer where they are sewn together",
		Why:    "Both lie on one another along that edge: where their lines part, one of them is strained and the other bags.",
		Remedy: "Trace the lining's edge anew from the outer.",
	},
	OpeningMissing: {
		Severity: finding.Warning, Title: "Nobody can get into the garment",
		Why:    "A closed neck has to pass the head, and a closed waist the bust or the hips; cloth that is woven does not stretch to let them by.",
		Remedy: "Leave an edge open for a placket or a fastening, long enough, or make the ring wider; in cloth that stretches leave it.",
	},
	AllowanceMismatch: {
		Severity: finding.Warning, Title: "The two sides of a seam have different allowances",
		Why:    "Seams are sewn with the raw edges together: one of the seam lines is missed by the difference, and the garment comes out smaller or larger there.",
		Remedy: "Give both sides the same allowance, or mark the seam line where the difference is meant, as for a felled seam.",
	},
	AllowanceCrossing: {
		Severity: finding.Warning, Title: "An allowance runs into itself or into another",
		Why:    "On a curve tighter than the allowance is wide, or in a narrow slit, there is no room for it: the cut line turns in a point, and what is cut is not what was asked for.",
		Remedy: "Make the allowance narrower there, or the curve wider.",
	},
	HemTurn: {
		Severity: finding.Warning, Title: "A hem does not fold back onto its piece",
		Why:    "Turned up, its raw edge is longer or shorter than the cloth it comes to lie on: it drags or has to be laid in tucks, and at the side seams it sticks out or falls short.",
		Remedy: "Make the hem narrower, face it instead, or let the sides of the allowance mirror the piece above the hem.",
	},
	ClothWidth: {
		Severity: finding.Fault, Title: "A piece is wider than the cloth",
		Why:    "It cannot be cut in one.",
		Remedy: "Take wider cloth, divide the piece by a seam, or piece it on the straight grain where it does not show.",
	},
	CutCount: {
		Severity: finding.Fault, Title: "Pieces that are sewn together are cut a different number of times",
		Why:    "One armscye would be without its sleeve, or two sleeves would be for the same arm.",
		Remedy: "Cut both sides of the seam as often as each other, in pairs where there is a left and a right.",
	},
	SewingOrder: {
		Severity: finding.Fault, Title: "Seams wait for each other",
		Why:    "Each runs over an end of the other, so neither can be sewn in one go before the other is.",
		Remedy: "Let one of them stop where the other crosses it, and go on beyond in a seam of its own.",
	},
}
