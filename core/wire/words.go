package wire

import (
	"fmt"
	"strings"

	patternv1 "bygone.example/proto/gen/bygone/pattern/v1"
	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// words pairs our words of fixed meaning with the contract's.
type words[W ~string, M ~int32] []struct {
	word W
	sent M
}

func (list words[W, M]) encode(w W) (M, error) {
	for _, pair := range list {
		if pair.word == w {
			return pair.sent, nil
		}
	}
	known := make([]string, len(list))
	for i, pair := range list {
		known[i] = show(string(pair.word))
	}
	return 0, fmt.Errorf("%s is none of %s", show(string(w)), strings.Join(known, ", "))
}

func (list words[W, M]) decode(r *reader, at *place, m M) W {
	for _, pair := range list {
		if pair.sent == m {
			return pair.word
		}
	}
	r.fail(at, "is %d, which has no meaning here", m)
	return ""
}

var finishes = words[pattern.Finish, patternv1.Finish]{
	{pattern.Sewn, patternv1.Finish_FINISH_SEWN},
	{pattern.Fold, patternv1.Finish_FINISH_FOLD},
	{pattern.Hemmed, patternv1.Finish_FINISH_HEMMED},
	{pattern.Faced, patternv1.Finish_FINISH_FACED},
	{pattern.Bound, patternv1.Finish_FINISH_BOUND},
	{pattern.Open, patternv1.Finish_FINISH_OPEN},
}

var corners = words[pattern.Corner, patternv1.Corner]{
	{pattern.Meet, patternv1.Corner_CORNER_MEET},
	{pattern.Bevel, patternv1.Corner_CORNER_BEVEL},
	{pattern.Square, patternv1.Corner_CORNER_SQUARE},
	{pattern.Turned, patternv1.Corner_CORNER_TURNED},
	{pattern.Matched, patternv1.Corner_CORNER_MATCHED},
}

var presses = words[pattern.Pressed, patternv1.Pressed]{
	{"", patternv1.Pressed_PRESSED_UNSPECIFIED},
	{pattern.PressedToStart, patternv1.Pressed_PRESSED_START},
	{pattern.PressedToEnd, patternv1.Pressed_PRESSED_END},
}

var pleatKinds = words[pattern.PleatKind, patternv1.PleatKind]{
	{pattern.Knife, patternv1.PleatKind_PLEAT_KIND_KNIFE},
	{pattern.Box, patternv1.PleatKind_PLEAT_KIND_BOX},
	{pattern.Inverted, patternv1.PleatKind_PLEAT_KIND_INVERTED},
	{pattern.Tuck, patternv1.PleatKind_PLEAT_KIND_TUCK},
}

var gatherKinds = words[pattern.GatherKind, patternv1.GatherKind]{
	{pattern.Gathers, patternv1.GatherKind_GATHER_KIND_GATHERS},
	{pattern.Ease, patternv1.GatherKind_GATHER_KIND_EASE},
	{pattern.Cartridge, patternv1.GatherKind_GATHER_KIND_CARTRIDGE},
}

var meetingKinds = words[pattern.MeetingKind, patternv1.MeetingKind]{
	{pattern.Plain, patternv1.MeetingKind_MEETING_KIND_PLAIN},
	{pattern.Eased, patternv1.MeetingKind_MEETING_KIND_EASED},
	{pattern.Gathered, patternv1.MeetingKind_MEETING_KIND_GATHERED},
	{pattern.Pleated, patternv1.MeetingKind_MEETING_KIND_PLEATED},
}

var seamKinds = words[pattern.SeamKind, patternv1.SeamKind]{
	{pattern.Joined, patternv1.SeamKind_SEAM_KIND_UNSPECIFIED},
	{pattern.Basted, patternv1.SeamKind_SEAM_KIND_BASTED},
}

var parameterKinds = words[operation.Kind, pluginv1.ParameterKind]{
	{operation.Length, pluginv1.ParameterKind_PARAMETER_KIND_LENGTH},
	{operation.Angle, pluginv1.ParameterKind_PARAMETER_KIND_ANGLE},
	{operation.Ratio, pluginv1.ParameterKind_PARAMETER_KIND_RATIO},
	{operation.Count, pluginv1.ParameterKind_PARAMETER_KIND_COUNT},
	{operation.Choice, pluginv1.ParameterKind_PARAMETER_KIND_CHOICE},
	{operation.Switch, pluginv1.ParameterKind_PARAMETER_KIND_SWITCH},
	{operation.Name, pluginv1.ParameterKind_PARAMETER_KIND_NAME},
	{operation.OtherPattern, pluginv1.ParameterKind_PARAMETER_KIND_PATTERN},
}

var marks = words[operation.Mark, pluginv1.Mark]{
	{"", pluginv1.Mark_MARK_UNSPECIFIED},
	{operation.Published, pluginv1.Mark_MARK_PUBLISHED},
	{operation.Computed, pluginv1.Mark_MARK_COMPUTED},
	{operation.CommonPractice, pluginv1.Mark_MARK_COMMON_PRACTICE},
	{operation.FromMemory, pluginv1.Mark_MARK_FROM_MEMORY},
}

// unit is the word of operation.Change, which has no type of its own.
type unit string

var units = words[unit, pluginv1.Unit]{
	{"mm", pluginv1.Unit_UNIT_MM},
	{"degrees", pluginv1.Unit_UNIT_DEGREES},
	{"", pluginv1.Unit_UNIT_BARE},
}
