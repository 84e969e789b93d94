package planted

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

func TestSoundPatterns(t *testing.T) {
	all, err := Sound()
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range all {
		for _, problem := range p.Validate() {
			t.Errorf("%s: Validate(): %v", name, problem)
		}
		for _, f := range pairing.Check(p) {
			t.Errorf("%s: Check() finds %s %+v: %s", name, f.Code, f.Place, f.Text)
		}
	}
}

// tally sums up what the check made of faults of a kind.
type tally struct {
	kind                                           string
	faults, wanted, found, sharp, along, strangers int
}

func (t tally) recall() float64 { return share(t.found, t.wanted) }

// placed is the share of wanted findings made within PlaceWithin of their place.
func (t tally) placed() float64 { return share(t.sharp, t.wanted) }

func (t tally) precision() float64 { return share(t.found+t.along, t.found+t.along+t.strangers) }

func share(n, of int) float64 {
	if of == 0 {
		return 1
	}
	return float64(n) / float64(of)
}

// TestPlantedFaults plants every fault, prints what was found by kind, and quotes
// precision and recall.
func TestPlantedFaults(t *testing.T) {
	sound, err := Sound()
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]*tally{}
	whole := tally{kind: "all"}
	told := map[string]int{}
	faults := Faults(sound)
	if !*all {
		faults = sampled(faults, perKind)
	}
	verdicts := judged(faults, sound)
	for i, f := range faults {
		v := verdicts[i]
		k := kinds[f.Kind]
		if k == nil {
			k = &tally{kind: f.Kind}
			kinds[f.Kind] = k
		}
		for _, sum := range [...]*tally{k, &whole} {
			sum.faults++
			sum.wanted += v.Wanted
			sum.found += v.Found
			sum.sharp += v.Sharp
			sum.along += v.Along
			sum.strangers += len(v.Strange)
		}
		if len(v.Missed)+len(v.Strange) == 0 {
			continue
		}
		if told[f.Kind]++; told[f.Kind] > mostTold {
			continue
		}
		var b strings.Builder
		for _, w := range v.Missed {
			fmt.Fprintf(&b, "\n  lacks %v in seam %q at %v, size %.2f", w.Codes, w.Seam, w.Spots, w.Size)
		}
		for _, s := range v.Strange {
			fmt.Fprintf(&b, "\n  has %s", show(s))
		}
		if len(v.Missed) > 0 {
			p := sound[f.From].Clone()
			f.Plant(p)
			for _, s := range pairing.CheckWith(p, f.Options) {
				fmt.Fprintf(&b, "\n    of %s", show(s))
			}
		}
		t.Errorf("%s in %s: %s%s", f.Kind, f.From, f.Name, b.String())
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%-45s %7s %7s %7s %7s %7s %8s %9s %9s %9s\n", "kind", "faults", "wanted", "found", "placed", "along", "strange", "precision", "recall", "placed")
	list := slices.SortedFunc(maps.Values(kinds), func(a, b *tally) int { return cmp.Compare(a.kind, b.kind) })
	for _, k := range append(list, &whole) {
		fmt.Fprintf(&b, "%-45s %7d %7d %7d %7d %7d %8d %9.4f %9.4f %9.4f\n", k.kind, k.faults, k.wanted, k.found, k.sharp, k.along, k.strangers, k.precision(), k.recall(), k.placed())
	}
	t.Log("\n" + b.String())
	if s := whole.placed(); s < leastSharp {
		t.Errorf("%.4f of all findings are at the very place, want %.2f", s, leastSharp)
	}
}

var all = flag.Bool("all", false, "plant every fault, and not only a sample of each kind: a minute of work")

// perKind is how many faults of a kind the ordinary sample has at most.
const perKind = 120

// sampled takes at most so many of each kind, spread evenly over them.
func sampled(list []Fault, most int) (sample []Fault) {
	of, seen := map[string]int{}, map[string]int{}
	for _, f := range list {
		of[f.Kind]++
	}
	for _, f := range list {
		i, n := seen[f.Kind], of[f.Kind]
		seen[f.Kind]++
		if n <= most || i*most/n != (i+1)*most/n {
			sample = append(sample, f)
		}
	}
	return sample
}

// judged judges the faults on as many processors as there are.
func judged(list []Fault, sound map[string]*pattern.Pattern) []Verdict {
	verdicts := make([]Verdict, len(list))
	var wg sync.WaitGroup
	n := runtime.GOMAXPROCS(0)
	for worker := range n {
		wg.Go(func() {
			for i := worker; i < len(list); i += n {
				verdicts[i] = Judge(list[i], sound[list[i].From])
			}
		})
	}
	wg.Wait()
	return verdicts
}

// leastSharp is which share of the findings must be at the place itself. The rest
// are of seams whose drawing does not say at which of two corners they are too long.
const leastSharp = 0.91

// mostTold of a kind are told, so that one slip does not fill the screen.
const mostTold = 4

func show(f finding.Finding) string {
	at := ""
	if f.Place.At != nil {
		at = fmt.Sprintf(" at %.2f,%.2f", f.Place.At.X, f.Place.At.Y)
	}
	return fmt.Sprintf("%s %s:%s/%s%s: %s", f.Code, f.Place.Seam, f.Place.Piece, f.Place.Edge, at, f.Text)
}

// TestNearMisses finds nothing where there is nothing to find.
func TestNearMisses(t *testing.T) {
	sound, err := Sound()
	if err != nil {
		t.Fatal(err)
	}
	list := NearMisses(sound)
	verdicts := judged(list, sound)
	told := map[string]int{}
	for i, f := range list {
		for _, s := range verdicts[i].Strange {
			if told[f.Kind]++; told[f.Kind] <= mostTold {
				t.Errorf("%s in %s: %s has %s", f.Kind, f.From, f.Name, show(s))
			}
		}
	}
	t.Logf("%d near misses", len(list))
}

// TestEveryCodeIsPlanted: no code of the check goes untried.
func TestEveryCodeIsPlanted(t *testing.T) {
	sound, err := Sound()
	if err != nil {
		t.Fatal(err)
	}
	tried := map[finding.Code]bool{}
	for _, f := range Faults(sound) {
		for _, w := range f.Plant(sound[f.From].Clone()) {
			for _, c := range w.Codes {
				tried[c] = true
			}
		}
	}
	// What is found of a chain or a repository's rules file is no fault of a pattern.
	elsewhere := []finding.Code{pairing.ExpectBroken, pairing.ExpectDifferent}
	for _, e := range pairing.Codes() {
		if slices.Contains(elsewhere, e.Code) {
			continue
		}
		if !tried[e.Code] {
			t.Errorf("no fault is planted for %s", e.Code)
		}
	}
}
