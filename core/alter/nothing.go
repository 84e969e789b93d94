package alter

import (
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// LeaveAsIs is the answer of a step whose aim is reached before it begins, as
// when a dart is to be let out that a raised waist has cut away: the pattern as
// it is, and a caution that says so. A step that cannot reach its aim refuses.
func LeaveAsIs(p *pattern.Pattern, caution string) (*operation.Answer, error) {
	e := begin(p)
	e.caution(caution)
	return e.finish()
}
