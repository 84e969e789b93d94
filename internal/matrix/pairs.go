package matrix

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/internal/stock"
)

// Pair is one operation after another, both at the values a chain has that sets
// none.
type Pair struct{ First, Second string }

// String gives the two as a maker reads them in a chain.
func (p Pair) String() string { return p.First + "; " + p.Second }

// AllPairs returns every operation after every operation, itself too.
func AllPairs() []Pair {
	var list []Pair
	for _, a := range Operations() {
		for _, b := range Operations() {
			list = append(list, Pair{a, b})
		}
	}
	return list
}

// SomePairs returns about one in n of all pairs: always the same ones, and every
// operation first and second in about as many.
func SomePairs(n int) []Pair {
	ops := Operations()
	var list []Pair
	for i, a := range ops {
		for j, b := range ops {
			if (i+j)%n == 0 {
				list = append(list, Pair{a, b})
			}
		}
	}
	return list
}

// RunPairs tries the second operation of each pair on what the first makes of
// the stock dress, at the first's home. The cases come in the order of the pairs,
// with the pair as the operation; a first that is refused at home is a fault.
func RunPairs(pairs []Pair, homes map[string]Preparation) ([]Case, error) {
	dress, err := stock.Dress()
	if err != nil {
		return nil, err
	}
	lady, err := Stock()
	if err != nil {
		return nil, err
	}
	seconds := map[string][]int{} // by first operation, positions in pairs
	for i, p := range pairs {
		seconds[p.First] = append(seconds[p.First], i)
	}
	cases := make([]Case, len(pairs))
	var wg sync.WaitGroup
	next := make(chan string)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for first := range next {
				from := after(dress, first, homes[first], lady)
				for _, i := range seconds[first] {
					cases[i] = second(pairs[i], homes[first].Name, from, lady)
				}
			}
		})
	}
	for _, first := range Operations() {
		if len(seconds[first]) > 0 {
			next <- first
		}
	}
	close(next)
	wg.Wait()
	return cases, nil
}

// after does the first operation of a pair at its home.
func after(dress *pattern.Pattern, first string, home Preparation, w wearer.Wearer) *prepared {
	p, err := Prepare(dress, home, w)
	if err != nil {
		return &prepared{err: err}
	}
	a, err := Apply(p, Asked(first), w)
	if err != nil {
		return &prepared{err: err}
	}
	return &prepared{pattern: a.Pattern, known: pairing.Check(a.Pattern)}
}

func second(p Pair, home string, from *prepared, w wearer.Wearer) Case {
	c := Case{Body: "stock figure", Operation: p.String(), On: home}
	if from.err != nil {
		c.judge(nil, nil, fmt.Errorf("the first cannot be done: %s", from.err.Error()))
		return c
	}
	a, err := Apply(from.pattern, Asked(p.Second), w)
	c.judge(from, a, err)
	if no, ok := errors.AsType[*operation.Refusal](err); ok {
		if bad := unreasoned(no); bad != "" {
			c.Outcome = Failed
			c.Texts = append(c.Texts, bad)
		}
	}
	for _, w := range c.Warnings { // notches that no longer meet mislead whoever sews by them
		if strings.HasPrefix(w, "notch-") {
			c.Outcome = Failed
			c.Texts = append(c.Texts, w)
		}
	}
	return c
}

// unreasoned says why a refusal is none that a maker can act on, empty when it
// is.
func unreasoned(no *operation.Refusal) string {
	// What says only that the outcome was bad gives no reason.
	blank := []string{"no longer holds together", "tell its author"}
	switch {
	case no.Why == "":
		return "refused without a reason"
	case no.Instead == "" && !strings.Contains(no.Why, "= "): // a chain's problems carry their remedy on a line of its own
		return "refused without saying what to do instead"
	case slices.ContainsFunc(blank, func(s string) bool { return strings.Contains(no.Error(), s) }):
		return "refused without a reason that holds"
	}
	return ""
}
