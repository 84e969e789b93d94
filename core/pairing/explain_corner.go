package pairing

import "bygone.example/core/finding"

// ofCorners explains what is found where lines run on across a seam or a dart.
var ofCorners = map[finding.Code]Explanation{
	CornerKink: {
		Severity: finding.Warning, Title: "A line kinks where it runs on across a seam",
		Why:    "With the seam closed, neckline, armscye, waist or hem has a peak or a dent in it.",
		Remedy: "Lay the two pieces together along the closed seam and redraw the line across it in one sweep.",
	},
	CornerCentre: {
		Severity: finding.Warning, Title: "A line is not square to the fold or centre seam",
		Why:    "Opened out, neckline, waist or hem has a peak or a dent in the middle.",
		Remedy: "Redraw the line so that it meets the fold or centre seam at a right angle.",
	},
	CornerPoint: {
		Severity: finding.Note, Title: "A line comes to a point at the fold or centre seam",
		Why:    "Meant in a V-neck or a pointed waist; a slip of the pencil elsewhere.",
		Remedy: "Leave it if a point is meant.",
	},
	DartLegs: {
		Severity: finding.Fault, Title: "The legs of a dart differ in length",
		Why:    "They are sewn to each other: the edge steps where the dart closes.",
		Remedy: "Fold the dart shut and redraw the edge across it, or move the point until the legs are equal.",
	},
	DartMouth: {
		Severity: finding.Warning, Title: "The edge kinks where a dart is folded shut",
		Why:    "The closed dart leaves a peak or a dent in the seam line.",
		Remedy: "Fold the dart shut and redraw the edge across it in one sweep.",
	},
	DartPoint: {
		Severity: finding.Fault, Title: "A dart points out of its piece",
		Why:    "There is no cloth to sew the dart in.",
		Remedy: "Move the dart's point inside the piece.",
	},
}
