package matrix

import (
	"fmt"
	"slices"
	"strings"
)

// Tally counts cases by operation.
type Tally struct {
	Operation              string
	On                     string
	Done, Refused, Failed  int
	Warned                 int
	Refusals, Faults, Told []Case // the cases themselves; Told are those done with warnings
}

// Tallies counts the cases of each operation, in the order they first come.
func Tallies(cases []Case) []Tally {
	var list []Tally
	at := map[string]int{}
	for _, c := range cases {
		i, ok := at[c.Operation]
		if !ok {
			i = len(list)
			at[c.Operation] = i
			list = append(list, Tally{Operation: c.Operation, On: c.On})
		}
		t := &list[i]
		switch c.Outcome {
		case Done:
			t.Done++
		case Refused:
			t.Refused++
			t.Refusals = append(t.Refusals, c)
		case Failed:
			t.Failed++
			t.Faults = append(t.Faults, c)
		}
		if len(c.Warnings) > 0 {
			t.Warned++
			t.Told = append(t.Told, c)
		}
	}
	return list
}

// Table tells the tallies as lines of plain text, and their sum.
func Table(list []Tally) string {
	var b strings.Builder
	var sum Tally
	fmt.Fprintf(&b, "%-26s %-16s %7s %8s %7s %7s\n", "operation", "on", "done", "refused", "failed", "warned")
	for _, t := range list {
		fmt.Fprintf(&b, "%-26s %-16s %7d %8d %7d %7d\n", t.Operation, t.On, t.Done, t.Refused, t.Failed, t.Warned)
		sum.Done, sum.Refused, sum.Failed, sum.Warned = sum.Done+t.Done, sum.Refused+t.Refused, sum.Failed+t.Failed, sum.Warned+t.Warned
	}
	fmt.Fprintf(&b, "%-26s %-16s %7d %8d %7d %7d\n", "all together", "", sum.Done, sum.Refused, sum.Failed, sum.Warned)
	return b.String()
}

// Reasons gathers cases whose texts differ in figures alone: one line a kind,
// how many there are and the first of them, the most frequent first.
func Reasons(cases []Case) []string {
	type kind struct {
		n     int
		first Case
	}
	kinds := map[string]*kind{}
	var order []*kind
	for _, c := range cases {
		key := withoutFigures(strings.Join(append(c.Texts, c.Warnings...), "; "))
		k := kinds[key]
		if k == nil {
			k = &kind{first: c}
			kinds[key] = k
			order = append(order, k)
		}
		k.n++
	}
	slices.SortStableFunc(order, func(a, b *kind) int { return b.n - a.n })
	lines := make([]string, len(order))
	for i, k := range order {
		lines[i] = fmt.Sprintf("%d×, first %s: %s", k.n, k.first.Body, strings.Join(append(slices.Clone(k.first.Texts), k.first.Warnings...), "; "))
	}
	return lines
}

func withoutFigures(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '.' || r == '-' {
			return -1
		}
		return r
	}, text)
}
