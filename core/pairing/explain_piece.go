package pairing

import "bygone.example/core/finding"

// ofPieces explains what is found of one piece: its folds, edges and grainline.
var ofPieces = map[finding.Code]Explanation{
	FoldBent: {
		Severity: finding.Fault, Title: "A fold that is not straight",
		Why:    "Cloth folds along a straight line only.",
		Remedy: "Draw the fold as one straight line, or cut the piece twice and sew it there.",
	},
	FoldApart: {
		Severity: finding.Fault, Title: "Two folds of a piece do not lie in one line",
		Why:    "A piece lies on one fold of the cloth at a time.",
		Remedy: "Keep one fold and make the other edge a seam.",
	},
	EdgeLoose: {
		Severity: finding.Fault, Title: "Nothing says what becomes of an edge",
		Why:    "The edge is to be sewn, but no seam takes it.",
		Remedy: "Name it in a seam, or say that it is hemmed, faced, bound, on the fold or left open.",
	},
	EdgeTwoFates: {
		Severity: finding.Warning, Title: "An edge is sewn and finished another way as well",
		Why:    "A seam takes the edge, yet it is said to be hemmed, faced, bound, on the fold or open.",
		Remedy: "Take it out of the seam, or finish it as sewn.",
	},
	GrainMissing: {
		Severity: finding.Warning, Title: "A piece without a grainline",
		Why:    "Nobody can tell how to lay it on the cloth, and it will hang askew if guessed wrong.",
		Remedy: "Draw the grainline.",
	},
	GrainOutside: {
		Severity: finding.Warning, Title: "A grainline that leaves its piece",
		Why:    "Cut out, the piece no longer carries the line.",
		Remedy: "Draw the grainline inside the piece.",
	},
}
