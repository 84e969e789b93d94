package pairing

import "bygone.example/core/finding"

// The codes of a piece's shape.
const (
	BoundaryCrossing  finding.Code = "boundary-crossing"
	BoundaryTouching  finding.Code = "boundary-touching"
	BoundaryClockwise finding.Code = "boundary-clockwise"
	BoundarySliver    finding.Code = "boundary-sliver"
	PointDoubled      finding.Code = "point-doubled"
	CurveKink         finding.Code = "curve-kink"
	GrainFold         finding.Code = "grain-fold"
	MirrorShape       finding.Code = "mirror-shape"
)

// ofShapes explains what is found of the shape of a piece.
var ofShapes = map[finding.Code]Explanation{
	BoundaryCrossing: {
		Severity: finding.Fault, Title: "The outline of a piece crosses itself",
		Why:    "Nobody can cut along a line that crosses itself: inside and outside change places, and lengths and corners beyond it mean nothing.",
		Remedy: "Redraw the outline so that it runs around the piece once.",
	},
	BoundaryTouching: {
		Severity: finding.Fault, Title: "The outline of a piece touches itself",
		Why:    "Cut out, the piece falls apart there, or a line is drawn there and back over itself and is no edge of anything.",
		Remedy: "Draw the two stretches apart, or leave out the line that goes there and back.",
	},
	BoundaryClockwise: {
		Severity: finding.Fault, Title: "The edges of a piece run clockwise",
		Why:    "Every edge is drawn with the piece on its left: the other way round, allowances would be added to the inside, and every step would take the piece for a hole.",
		Remedy: "List the edges counter-clockwise, each drawn in that direction.",
	},
	BoundarySliver: {
		Severity: finding.Warning, Title: "Part of a piece is too narrow to cut",
		Why:    "Two lines nearer to each other than the scissors are true leave threads and not cloth: mostly a stray point, or an outline that is not finished.",
		Remedy: "Take the stray point out, or redraw the outline there.",
	},
	PointDoubled: {
		Severity: finding.Warning, Title: "A point of an outline is there twice",
		Why:    "The stretch between the two points is too short to see, yet it has a direction of its own, which corners, allowances and steps go by.",
		Remedy: "Take one of the two points out.",
	},
	CurveKink: {
		Severity: finding.Warning, Title: "A line has a kink in the middle of an edge",
		Why:    "An edge is one sweep from corner to corner; a kink inside it shows in the finished line, and the seam puckers or gapes there.",
		Remedy: "Redraw the line in one sweep, or divide the edge there if a corner is meant.",
	},
	GrainFold: {
		Severity: finding.Warning, Title: "The grainline is askew of the fold",
		Why:    "The cloth is folded along its threads, across them or on the true bias: laid on that fold, a piece cannot lie on another grain as well, and hangs askew.",
		Remedy: "Draw the grainline along the fold.",
	},
	MirrorShape: {
		Severity: finding.Warning, Title: "A left and a right piece are not mirror images",
		Why:    "The wearer's two sides are cut alike: where one differs, its seams differ too, or one piece would be cut with the wrong side of the cloth out.",
		Remedy: "Redraw one piece as the mirror image of the other, or name them otherwise if they are meant to differ.",
	},
}
