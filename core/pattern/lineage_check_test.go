package pattern_test

import (
	"math"
	"strings"
	"testing"

	"bygone.example/core/pattern"
)

func TestLineageCheck(t *testing.T) {
	span := func(newEdge string, a, b float64, oldEdge string, c, d float64) pattern.Span {
		return pattern.Span{New: pattern.Stretch{Piece: "front", Edge: newEdge, From: a, To: b}, Old: pattern.Stretch{Piece: "front", Edge: oldEdge, From: c, To: d}}
	}
	// side of the front (index 1, 300 mm) is what the cases rewrite.
	side := func(spans ...pattern.Span) func(pattern.Lineage) pattern.Lineage {
		return func(l pattern.Lineage) pattern.Lineage { return append(append(l[:1:1], spans...), l[2:]...) }
	}
	added := pattern.Span{New: pattern.Stretch{Piece: "front", Edge: "side", From: 100, To: 300}}
	for _, c := range []struct {
		name, rule, text string
		change           func(pattern.Lineage) pattern.Lineage
	}{
		{"the same", "", "", func(l pattern.Lineage) pattern.Lineage { return l }},
		{"in two spans, out of order", "", "", side(span("side", 100, 300, "side", 100, 300), span("side", 0, 100, "side", 0, 100))},
		{"partly new line", "", "", side(span("side", 0, 100, "side", 0, 250), added)},
		{"rounding", "", "", side(span("side", 0, 100, "side", 0, 100), span("side", 100+5e-7, 300-5e-7, "side", 100-5e-7, 300))},
		{"copied to another piece", "", "", func(l pattern.Lineage) pattern.Lineage {
			l[5].Old = l[1].Old // the back's side from the front's
			return l
		}},
		{"gap", pattern.RuleLineageCover, "100 to 101 mm", side(span("side", 0, 100, "side", 0, 100), span("side", 101, 300, "side", 101, 300))},
		{"gap at the start", pattern.RuleLineageCover, "0 to 1 mm", side(span("side", 1, 300, "side", 1, 300))},
		{"gap at the end", pattern.RuleLineageCover, "299 to 300 mm", side(span("side", 0, 299, "side", 0, 299))},
		{"edge left out", pattern.RuleLineageCover, "0 to 300 mm", side()},
		{"overlap", pattern.RuleLineageCover, "twice", side(span("side", 0, 101, "side", 0, 100), span("side", 100, 300, "side", 100, 300))},
		{"beyond the new edge", pattern.RuleLineageNew, "edge of 300 mm", side(span("side", 0, 300, "side", 0, 300), span("side", 200, 301, "waist", 0, 1))},
		{"unknown new edge", pattern.RuleLineageNew, "does not have", side(span("side", 0, 300, "side", 0, 300), span("hem", 0, 1, "waist", 0, 1))},
		{"unknown old edge", pattern.RuleLineageOld, "front/hem", side(span("side", 0, 300, "hem", 0, 300))},
		{"beyond the old edge", pattern.RuleLineageOld, "300 mm long", side(span("side", 0, 300, "side", 0, 301))},
		{"old stretch of no length", pattern.RuleLineageOld, "no length", side(span("side", 0, 300, "side", 4, 4))},
		{"claimed twice", pattern.RuleLineageClaimed, "90 to 100 mm", side(span("side", 0, 100, "side", 0, 100), span("side", 100, 300, "side", 90, 290))},
		{"NaN", pattern.RuleLineageNumber, "NaN", side(span("side", 0, 300, "side", 0, 300), span("side", 0, math.NaN(), "waist", 0, 1))},
		{"backwards", pattern.RuleLineageNumber, "from 5 to 4", side(span("side", 0, 300, "side", 0, 300), span("side", 5, 4, "waist", 0, 1))},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sound()
			got := c.change(pattern.Same(p)).Check(p, p.Clone())
			if c.rule == "" {
				if got != nil {
					t.Errorf("Check() = %v, want none", got)
				}
				return
			}
			if len(got) != 1 || got[0].Rule != c.rule || !strings.Contains(got[0].Text, c.text) {
				t.Errorf("Check() = %+v, want one problem of rule %s with %q", got, c.rule, c.text)
			}
		})
	}
}
