package wire

import "bygone.example/core/operation"

// The bounds on what one side sends the other. Each is far above what an honest
// pattern needs and low enough that a hostile message cannot make the receiver
// work or remember for long. The comments of the contracts in proto/ repeat
// them, for authors in other languages.
const (
	// MaxMessage is the size of one message in bytes, for both sides. A pattern
	// of 500 pieces with a hundred curves on each edge stays below it.
	MaxMessage = 64 << 20
	// MaxParts is how many messages and texts may be inside one message, counted
	// before it is unpacked: an empty one takes 2 bytes to send and hundreds to
	// hold, so that size alone bounds nothing. The longest lineage has 700 000.
	MaxParts = 1_000_000

	// MaxPieces in a pattern. A whole stage costume with its linings has about
	// fifty.
	MaxPieces = 500
	// MaxSeams in a pattern: four for each piece.
	MaxSeams = 2000
	// MaxEdges of a piece. A bodice front divided by every dart has about
	// twenty.
	MaxEdges = 200
	// MaxSegments of one edge: a hem digitised every half millimetre.
	MaxSegments = 10_000
	// MaxTotalSegments in a pattern: what MaxMessage holds as curves, rounded.
	MaxTotalSegments = 500_000
	// MaxMarks is how many landmarks, darts, pleats or gathers a piece may have:
	// a skirt finely knife pleated all round has about two hundred.
	MaxMarks = 500
	// MaxNotches of a piece.
	MaxNotches = 1000
	// MaxNotchCount: more than a triple notch cannot be told apart in cloth.
	MaxNotchCount = 3
	// MaxRun is how many edges one side of a seam may take.
	MaxRun = 200
	// MaxCut is how many of a piece may be cut.
	MaxCut = 1000
	// MaxSpans of a lineage: one for every edge of the largest pattern.
	MaxSpans = MaxPieces * MaxEdges

	// MaxCoordinate in mm, for lengths too: a hundred metres, longer than any
	// cloth is woven in one piece; float64 still tells 1e-10 mm apart there.
	MaxCoordinate = 1e5
	// MaxAllowance in mm: a deep theatrical hem is 150.
	MaxAllowance = 500
	// MaxMeasure of a body, in mm.
	MaxMeasure = 3000
	// MaxFigure bounds bare numbers, areas and parameters.
	MaxFigure = 1e12
	// MaxYear of a look.
	MaxYear = 3000

	// MaxOperations of a plugin.
	MaxOperations = 200
	// MaxParameters of an operation; of values, needs, measures and settings
	// too.
	MaxParameters = 100
	// MaxOthers is how many other patterns a request may bring along: an
	// operation takes one, or two.
	MaxOthers = 20
	// MaxChoices of a parameter.
	MaxChoices = 50
	// MaxChanges told by one step.
	MaxChanges = 1000
	// MaxCautions given by one step: nobody reads more.
	MaxCautions = 100
	// MaxTells of a survey.
	MaxTells = 500
	// MaxMends of a tell.
	MaxMends = 50

	// MaxTitle in bytes: one line of print.
	MaxTitle = 200
	// MaxSentence in bytes.
	MaxSentence = operation.MaxSentence
	// MaxParagraph in bytes, for cautions and refusals.
	MaxParagraph = 1000
	// MaxNotes in bytes: some pages.
	MaxNotes = 20_000
	// MaxValue in bytes, for a value as a chain file writes it.
	MaxValue = 100
	// MaxVersion in bytes.
	MaxVersion = 40
)

// gapTolerance in mm is how far a segment may start from the end of the one
// before it and still be sent, since the contract has room for one point only.
// It is the tolerance below which pattern.Validate calls two ends one point.
const gapTolerance = 1e-6

// placeSlack in mm is how far below 0 a place along an edge may lie: what
// rounding leaves when a place is carried over. It is what pattern.Validate
// forgives too.
const placeSlack = 1e-6
