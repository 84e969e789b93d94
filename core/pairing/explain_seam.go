package pairing

import "bygone.example/core/finding"

// ofSeams explains what is found walking the two sides of a seam.
var ofSeams = map[finding.Code]Explanation{
	SeamLength: {
		Severity: finding.Fault, Title: "The two sides of a seam differ in length",
		Why:    "Sewn from one end, the longer side runs over at the other: the hem steps, or the cloth puckers where it is forced in.",
		Remedy: "Lengthen the short side or shorten the long one, or say that the seam is eased.",
	},
	SeamEase: {
		Severity: finding.Fault, Title: "An eased seam has too much or too little ease",
		Why:    "Too much will not shrink in and shows as gathers; too little pulls the seam tight over the curve that wanted it.",
		Remedy: "Alter side B until its ease lies between the bounds, or widen the bounds if it is meant.",
	},
	SeamMirror: {
		Severity: finding.Fault, Title: "A seam to a mirror image that is never cut",
		Why:    "The seam joins the piece to its own other half, but only one way up of it is cut.",
		Remedy: "Cut the piece in pairs, half of them turned over, or name the edge on side B.",
	},
	SeamRun: {
		Severity: finding.Warning, Title: "Edges that follow one another in a seam do not meet",
		Why:    "A run of edges is sewn in one go: where no seam brings the end of one to the start of the next, the needle would have to jump.",
		Remedy: "Put the edges in sewing order, or walk the one that runs the other way backwards.",
	},
	SeamTwist: {
		Severity: finding.Fault, Title: "The two sides of a seam are walked from opposite ends",
		Why:    "Hem would be sewn to waist: the notches, or the lines that go on from both ends, agree when one side is turned round.",
		Remedy: "Walk one side of the seam backwards: put a - before its edges, in the reverse order, or take it away.",
	},
	FullnessLength: {
		Severity: finding.Fault, Title: "Drawn up or pleated, the sides of a seam differ in length",
		Why:    "Gathers and pleats are set to a measure; what is left over at the end has nowhere to go.",
		Remedy: "Set what the gathers come down to, or the depth of the pleats, to the length of the other side.",
	},
	FullnessRatio: {
		Severity: finding.Warning, Title: "The fullness of a seam is outside its bounds",
		Why:    "Much less looks like a mistake, much more will not go under the foot.",
		Remedy: "Widen or narrow the fuller side, or change the bounds if it is meant.",
	},
	FullnessMissing: {
		Severity: finding.Warning, Title: "A seam said to be gathered or pleated is flat",
		Why:    "Neither side has gathers or pleats on it, so the maker would look for fullness that is not there.",
		Remedy: "Put gathers or pleats on the fuller side, or make the seam plain.",
	},
	NotchMissing: {
		Severity: finding.Warning, Title: "A notch has no partner on the other side of the seam",
		Why:    "The maker has a mark and nothing to match it to.",
		Remedy: "Mark the other side at the same sewn length, under the same name, or take the notch away.",
	},
	NotchDrift: {
		Severity: finding.Warning, Title: "Two notches that belong together do not meet",
		Why:    "Matching them pushes length along the seam: one stretch puckers, the next is pulled.",
		Remedy: "Move one of the notches so that both lie at the same sewn length.",
	},
	NotchCount: {
		Severity: finding.Warning, Title: "Two notches that belong together are cut a different number of times",
		Why:    "A single notch laid to a double one looks like a mistake, and the maker will search for the right partner.",
		Remedy: "Make both single, double or triple.",
	},
	NotchNone: {
		Severity: finding.Warning, Title: "A long seam without notches",
		Why:    "Over a long seam one layer creeps; without a mark half way it is only seen at the end.",
		Remedy: "Mark both sides at the same sewn length.",
	},
}
