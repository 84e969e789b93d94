package yamlfile

import (
	"bygone.example/core/label"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
	"bygone.example/core/wearer"
)

// The forms of a pattern file.
var (
	patternForm = &form{"the pattern", []field{
		{key: "bygone", kind: headerKind, words: []string{"pattern/1"}, help: "What the file is."},
		{key: "name", kind: nameKind, must: "add a name in lower-case letters, digits and hyphens, for instance name: stock-dress", help: "What files and messages call the pattern."},
		{key: "title", kind: lineKind, help: "What a person calls it."},
		{key: "notes", kind: textKind, help: "Anything worth telling."},
		{key: "pieces", kind: listKind, of: pieceForm, must: "add a list of pieces", help: "The flat shapes to cut."},
		{key: "seams", kind: listKind, of: seamForm, help: "Which edges are sewn to which."},
	}}

	pieceForm = &form{"the piece", []field{
		{key: "name", kind: nameKind, must: nameRemedy, help: "Unique in the pattern."},
		{key: "title", kind: lineKind, help: "Printed on the paper."},
		{key: "role", kind: dottedKind, help: "Which part of the garment it is, so that steps find it: bodice-front, sleeve, skirt-back…"},
		{key: "cut", kind: groupKind, of: cutForm, help: "How many to cut; one where it is left out."},
		{key: "grain", kind: stretchKind, help: "The grainline, from one point to another along the warp, in mm."},
		{key: "edges", kind: listKind, of: edgeForm, must: "list its edges counter-clockwise, each with a name and a path", help: "The seam lines around the piece, counter-clockwise, each starting where the one before it ends."},
		{key: "landmarks", kind: listKind, of: landmarkForm, help: "Named points: bust-point, shoulder-point, underarm."},
		{key: "darts", kind: listKind, of: dartForm},
		{key: "pleats", kind: listKind, of: pleatForm},
		{key: "gathers", kind: listKind, of: gatherForm},
		{key: "notches", kind: listKind, of: notchForm, help: "Marks that are matched across a seam, by their name."},
	}}

	cutForm = &form{"cut", []field{
		{key: "count", kind: countKind, min: 1, max: pattern.MaxCount, help: "How many in all; a piece on the fold counts once."},
		{key: "mirrored", kind: yesKind, help: "Half of them turned over, as for left and right."},
	}}

	edgeForm = &form{"the edge", []field{
		{key: "name", kind: dottedKind, must: nameRemedy + ", such as side or side.upper", help: "Unique in the piece; parts of a divided edge are side.upper, side.lower."},
		{key: "path", kind: pathKind, must: "draw it, for instance path: M 0 0 L 0 100", help: "The seam line as SVG path data, in mm, y upwards."},
		{key: "finish", kind: choiceKind, words: sortedKeys(finishes), help: "What becomes of it; sewn where it is left out."},
		{key: "role", kind: dottedKind, help: "What it is, where that is not its name up to the first dot: shoulder, neckline, armscye, side, waist, hem…"},
		{key: "allowance", kind: numberKind, min: 0, max: unit.MaxLength, help: "What is cut beyond the seam line, in mm."},
		{key: "corner", kind: choiceKind, words: sortedKeys(corners), help: "How the cut line turns at its end; meet where it is left out."},
	}}

	landmarkForm = &form{"the landmark", []field{
		{key: "name", kind: dottedKind, must: nameRemedy},
		{key: "at", kind: pointKind, must: "say where it is, for instance at: [95, 180]", help: "In the piece's plane, in mm."},
	}}

	dartForm = &form{"the dart", []field{
		{key: "name", kind: dottedKind, must: nameRemedy}, onEdge, fromPlace, toPlace,
		{key: "point", kind: pointKind, must: "say where it runs to, for instance point: [95, 190]", help: "Where it runs to nothing, in mm."},
		{key: "pressed", kind: choiceKind, words: sortedKeys(pressed), help: "Towards which end of its edge it is folded."},
	}}

	pleatForm = &form{"the pleat", []field{
		{key: "name", kind: dottedKind, must: nameRemedy}, onEdge, fromPlace, toPlace,
		{key: "kind", kind: choiceKind, words: sortedKeys(pleatKinds), help: "How it is laid; knife where it is left out."},
		{key: "pressed", kind: choiceKind, words: sortedKeys(pressed), help: "Towards which end of its edge it is folded."},
	}}

	gatherForm = &form{"the gather", []field{
		{key: "name", kind: dottedKind, must: nameRemedy}, onEdge, fromPlace, toPlace,
		{key: "length", kind: numberKind, min: 0, max: unit.MaxLength, must: "say what it measures once drawn up, in mm", help: "What the stretch measures once drawn up, in mm."},
		{key: "kind", kind: choiceKind, words: sortedKeys(gatherKinds), help: "Fullness that shows, ease that is worked in, or cartridge pleats; gathers where it is left out."},
		{key: "stitch", kind: numberKind, min: 0, max: unit.MaxLength, help: "Of cartridge pleats, how long their stitches are, in mm."},
		{key: "rows", kind: countKind, min: 0, max: pattern.MaxRows, help: "Of cartridge pleats, how many rows of stitches draw them up."},
	}}

	notchForm = &form{"the notch", []field{
		{key: "name", kind: dottedKind, must: nameRemedy, help: "The same on both sides of a seam."}, onEdge,
		{key: "at", kind: numberKind, must: placeRemedy, min: -unit.MaxLength, max: unit.MaxLength, help: "How far along the edge, in mm."},
		{key: "count", kind: countKind, min: 1, max: 3, help: "Single, double or triple."},
	}}

	onEdge    = field{key: "edge", kind: dottedKind, must: "say which edge of the piece it is on", help: "Which edge of the piece it is on."}
	fromPlace = field{key: "from", kind: numberKind, must: placeRemedy, min: -unit.MaxLength, max: unit.MaxLength, help: "Where on the edge it begins, in mm along it."}
	toPlace   = field{key: "to", kind: numberKind, must: placeRemedy, min: -unit.MaxLength, max: unit.MaxLength, help: "Where on the edge it ends, in mm along it."}

	seamForm = &form{"the seam", []field{
		{key: "name", kind: dottedKind, must: nameRemedy},
		{key: "a", kind: refsKind, must: "list the edges of one side, for instance a: [front/side]", help: "The edges of one side in sewing order, each piece/edge; a minus before it walks it backwards."},
		{key: "b", kind: sideKind, must: "list the edges of the other side, or write b: mirror for an edge sewn to its own mirror image", help: "The other side, walked from the same end; or mirror, for a seam to its own mirror image."},
		{key: "meeting", kind: meetingKind, of: meetingForm, words: sortedKeys(meetings), help: "How the two sides come to one length; plain where it is left out."},
		{key: "kind", kind: choiceKind, words: sortedKeys(seamKinds), help: "Joined, or basted as a layer onto the one under it."},
	}}

	meetingForm = &form{"the meeting", []field{
		{key: "kind", kind: choiceKind, words: sortedKeys(meetings), must: "write plain, eased, gathered or pleated"},
		{key: "ease", kind: rangeKind, help: "By how many mm side B may be longer."},
		{key: "ratio", kind: rangeKind, help: "How many times its sewn length the fuller side may be."},
	}}
)

const placeRemedy = "say where it is, in mm from the start of the edge"

// The forms of a chain file.
var (
	chainForm = &form{"the chain", []field{
		{key: "bygone", kind: headerKind, words: []string{"chain/1"}, help: "What the file is."},
		{key: "name", kind: nameKind, must: nameRemedy + ", for instance name: high-waist-1806", help: "What files and messages call the chain."},
		{key: "title", kind: lineKind, help: "What a person calls it."},
		{key: "years", kind: lineKind, help: "Of a look: c. 1800–1815."},
		{key: "notes", kind: textKind, help: "Anything worth telling."},
		{key: "patterns", kind: filesKind, help: "Other patterns that steps look at: a name and a file each."},
		{key: "steps", kind: listKind, of: stepForm, must: "add a list of steps", help: "What is done, in order."},
		{key: "expect", kind: listKind, of: expectForm, help: "What the chain is tried on, and is expected to make."},
	}}

	stepForm = &form{"the step", []field{
		{key: "step", kind: opKind, must: "name its operation, for instance step: waist.raise", help: "The operation, plugin.operation; bygone steps lists them."},
		{key: "name", kind: dottedKind, help: "Unique in the chain; the operation's where it is left out."},
		{key: "why", kind: textKind, help: "What the period or the house wants with it."},
		{key: "with", kind: settingKind, of: settingForm, help: "Its parameters, each with a value; what is not named takes its default."},
	}}

	settingForm = &form{"the setting", []field{
		{key: "value", kind: valueKind, must: "write its value, for instance {value: 64mm}"},
		{key: "mark", kind: choiceKind, words: sortedKeys(marks), then: []string{string(operation.Published), "source"}, help: "How it is known."},
		{key: "source", kind: lineKind, help: "Where it is known from; what is marked published must say."},
	}}

	expectForm = &form{"the expectation", []field{
		{key: "pattern", kind: fileKind, must: "name the pattern file that goes in, for instance pattern: ../patterns/stock-dress.yaml", help: "What goes in."},
		{key: "result", kind: fileKind, must: "name the pattern file that is expected to come out, for instance result: expected/stock-dress.yaml", help: "What is expected to come out."},
		{key: "tolerance", kind: lengthKind, min: minExpectTolerance, max: maxExpectTolerance, help: "How much is no difference; 0.1mm where it is left out."},
		{key: "wearer", kind: fileKind, help: "Who it is made for."},
	}}
)

// The form of a wearer file.
var wearerForm = &form{"the wearer", []field{
	{key: "bygone", kind: headerKind, words: []string{"wearer/1"}, help: "What the file is."},
	{key: "name", kind: nameKind, must: nameRemedy + ", for instance name: lead", help: "What files and messages call the wearer."},
	{key: "title", kind: lineKind, help: "A role, or whatever the house calls them."},
	{key: "measures", kind: measureKind, keys: measureNames(), min: minMeasure, max: maxMeasure, must: "add the measures that were taken, for instance measures: {bust-girth: 92cm}", help: "Each with its unit: 92cm, 36 1/4in."},
}}

func measureNames() (names []string) {
	for _, m := range wearer.All() {
		names = append(names, string(m))
	}
	return names
}

// The forms of a rules file.
var (
	rulesForm = &form{"the rules file", []field{
		{key: "bygone", kind: headerKind, words: []string{"rules/1"}, help: "What the file is."},
		{key: "notes", kind: textKind, help: "Anything worth telling."},
		{key: "tolerances", kind: boundsKind, keys: toleranceNames(), max: maxTolerance, help: "The bounds of the check where they are not the house's, in mm, degrees or as ratios."},
		{key: "exceptions", kind: listKind, of: exceptionForm, help: "Findings that may stay."},
	}}

	exceptionForm = &form{"the exception", []field{
		{key: "code", kind: codeKind, must: "name the code of the finding, as the check prints it in brackets", help: "As the check prints it in brackets; bygone explain lists them."},
		{key: "file", kind: withinKind, must: "name the file, as seen from the folder of the rules file", help: "From the folder of the rules file."},
		{key: "seam", kind: dottedKind, help: "Only at this seam."},
		{key: "piece", kind: nameKind, help: "Only on this piece."},
		{key: "edge", kind: dottedKind, with: "piece", help: "Only on this edge of the piece."},
		{key: "reason", kind: textKind, must: "say why it may stay: who reads the pattern next cannot ask you", help: "Why it may stay."},
	}}
)

func toleranceNames() (names []string) {
	for _, d := range pairing.AllTolerances() {
		names = append(names, d.Name)
	}
	return names
}

// languageForm is of a file of words for labels.
var languageForm = &form{"the language file", []field{
	{key: "bygone", kind: headerKind, words: []string{"labels/1"}, help: "What the file is."},
	{key: "language", kind: lineKind, must: "write the language's code, as in language: fr", help: "Its code, as in fr."},
	{key: "title", kind: lineKind, help: "What its speakers call it."},
	{key: "notes", kind: textKind, help: "Anything worth telling."},
	{key: "decimal", kind: choiceKind, words: []string{".", ","}, help: "What stands between centimetres and millimetres."},
	{key: "words", kind: phraseKind, keys: phraseNames(), help: "The phrases of labels. What stands in {braces} is filled in, and must stay. What is left out is English."},
	{key: "names", kind: callsKind, help: "What edges, landmarks and pieces are called, by their names in pattern files."},
}}

func phraseNames() (names []string) {
	for _, w := range label.Words() {
		names = append(names, string(w))
	}
	return names
}
