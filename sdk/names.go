package sdk

import (
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// What a plugin declares.
type (
	Plugin    = operation.Plugin
	Operation = operation.Operation
	Spec      = operation.Spec
	Parameter = operation.Parameter
	Need      = operation.Need
	Kind      = operation.Kind
	Mark      = operation.Mark
)

// What an operation is given and gives back.
type (
	Request = operation.Request
	Values  = operation.Values
	Value   = operation.Value
	Answer  = operation.Answer
	Change  = operation.Change
	Refusal = operation.Refusal
)

// What a survey is given and gives back.
type (
	SurveyRequest = operation.SurveyRequest
	Look          = operation.Look
	Tell          = operation.Tell
	Mend          = operation.Mend
	Setting       = operation.Setting
)

// What a pattern is made of.
type (
	Pattern  = pattern.Pattern
	Piece    = pattern.Piece
	Edge     = pattern.Edge
	EdgeRef  = pattern.EdgeRef
	Dart     = pattern.Dart
	Pleat    = pattern.Pleat
	Gather   = pattern.Gather
	Notch    = pattern.Notch
	Landmark = pattern.Landmark
	Grain    = pattern.Grain
	Seam     = pattern.Seam
	Run      = pattern.Run
	Meeting  = pattern.Meeting
	Range    = pattern.Range
	Role     = pattern.Role
	Lineage  = pattern.Lineage
	Span     = pattern.Span
	Stretch  = pattern.Stretch
)

// Places and lines, in mm.
type (
	Point   = geom.Point
	Path    = geom.Path
	Segment = geom.Segment
	Affine  = geom.Affine
)

// The body the garment is for.
type (
	Wearer  = wearer.Wearer
	Measure = wearer.Measure
)

// The kinds of parameter.
const (
	Length = operation.Length
	Angle  = operation.Angle
	Ratio  = operation.Ratio
	Count  = operation.Count
	Choice = operation.Choice
	Switch = operation.Switch
	Name   = operation.Name
	// OtherPattern is another pattern that the chain lists; see Request.Other.
	OtherPattern = operation.OtherPattern
)

// Only is the default of an OtherPattern: the only one that the chain lists.
const Only = operation.Only

// How sure a number is.
const (
	Published      = operation.Published
	Computed       = operation.Computed
	CommonPractice = operation.CommonPractice
	FromMemory     = operation.FromMemory
)
