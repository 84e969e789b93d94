// Package matrix tries every operation of the house plugins on the stock dress
// drafted for real bodies: bodies one way, operations the other.
//
// It takes in whatever is in plugins/house, with the values a chain would fill
// in that sets nothing. Whatever comes out must be a sound pattern whose
// lineage adds up and whose seams go together as they did before.
package matrix

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"bygone.example/core/chain"
	"bygone.example/core/draw"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
	"bygone.example/internal/bodies"
	"bygone.example/internal/stock"
	"bygone.example/plugins/house"
	"bygone.example/testdata"
)

// Outcome is what became of a case.
type Outcome int

// An operation has Done its work, has Refused it, or has Failed: what it
// returned is no pattern, or does not go together as before.
const (
	Done Outcome = iota
	Refused
	Failed
)

// Case is one operation on one body.
type Case struct {
	Body      string // the person's row, or "stock figure"
	Operation string // plugin.operation, or HouseChain
	On        string // the preparation
	Outcome   Outcome
	Texts     []string // why it was refused, or all that is wrong
	Warnings  []string // what pairing warns of that was not there before
}

// String tells the case in one line.
func (c Case) String() string {
	return fmt.Sprintf("%s, %s on %s: %s", c.Body, c.Operation, c.On, strings.Join(c.Texts, "; "))
}

// HouseChain stands for the whole chain of the house, run as one.
const HouseChain = "house chain"

var runner = chain.InProcess(house.Plugins)

// Operations returns every operation of the house plugins as plugin.operation,
// in the order they are offered.
func Operations() []string {
	var names []string
	for _, p := range house.Plugins {
		for _, op := range p.Operations {
			names = append(names, p.Name+"."+op.Name)
		}
	}
	return names
}

// other is the pattern that operations look at that look at another one, by
// this name: the dress of a figure a size and a half stouter than the stock's.
const other = "other"

var otherPattern = sync.OnceValues(func() (*pattern.Pattern, error) {
	b := stock.StockBody
	b.Bust, b.Waist, b.Hip, b.UpperArm = b.Bust+60, b.Waist+60, b.Hip+60, b.UpperArm+20
	return stock.Draft(b)
})

// plan finds an operation and its values as a chain does. What keeps it from
// running on the pattern at all is a refusal.
func plan(p *pattern.Pattern, s chain.Step) (chain.Planned, error) {
	c := chain.Chain{Name: "one", Patterns: []chain.Other{{Name: other}}, Steps: []chain.Step{s}}
	planned, err := chain.Plan(c, nil, p, nil, runner.Offers())
	if problems, ok := errors.AsType[source.Problems](err); ok {
		return chain.Planned{}, &operation.Refusal{Why: problems.Error()}
	}
	if err != nil {
		return chain.Planned{}, err
	}
	return planned[0], nil
}

// Apply runs one step in this process.
func Apply(p *pattern.Pattern, s chain.Step, w wearer.Wearer) (*operation.Answer, error) {
	planned, err := plan(p, s)
	if err != nil {
		return nil, err
	}
	return run(p, planned, w)
}

func run(p *pattern.Pattern, planned chain.Planned, w wearer.Wearer) (*operation.Answer, error) {
	r := &operation.Request{Pattern: p, Values: planned.Values, Wearer: w}
	for _, v := range planned.Values {
		if v.Kind == operation.OtherPattern {
			o, err := otherPattern()
			if err != nil {
				return nil, err
			}
			r.Others = map[string]*pattern.Pattern{other: o}
		}
	}
	return runner.Apply(context.Background(), planned.Plugin, planned.Spec.Name, r)
}

// Prepare runs a preparation's steps over a dress.
func Prepare(p *pattern.Pattern, prep Preparation, w wearer.Wearer) (*pattern.Pattern, error) {
	for _, s := range prep.Steps {
		a, err := Apply(p, s, w)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
		p = a.Pattern
	}
	if prep.Edit != nil {
		p = p.Clone()
		prep.Edit(p)
	}
	return p, nil
}

// Stock returns the wearer who takes the stock size.
func Stock() (wearer.Wearer, error) {
	const file = "wearers/leading-lady.yaml"
	data, err := testdata.Demo.ReadFile(file)
	if err != nil {
		return wearer.Wearer{}, err
	}
	return yamlfile.ReadWearer(file, data)
}

// Homes finds for every operation the first of the preparations that it works
// on for the stock figure, and changes in a way that shows. Operations that refuse them all are not in the map;
// refused says why, one line for each preparation.
func Homes() (homes map[string]Preparation, refused map[string][]string, err error) {
	homes, refused = map[string]Preparation{}, map[string][]string{}
	dress, err := stock.Dress()
	if err != nil {
		return nil, nil, err
	}
	lady, err := Stock()
	if err != nil {
		return nil, nil, err
	}
	for _, prep := range Preparations {
		p, err := Prepare(dress, prep, lady)
		if err != nil {
			return nil, nil, fmt.Errorf("preparation %s: %w", prep.Name, err)
		}
		for _, op := range Operations() {
			if _, found := homes[op]; found {
				continue
			}
			a, err := Apply(p, Asked(op), lady)
			if no, ok := errors.AsType[*operation.Refusal](err); ok {
				refused[op] = append(refused[op], prep.Name+": "+no.Error())
				continue
			}
			if err == nil && len(draw.Changed(p, a.Pattern)) == 0 {
				refused[op] = append(refused[op], prep.Name+": there is nothing to change")
				continue
			}
			homes[op] = prep // whatever else is wrong shows when it is tried
		}
	}
	return homes, refused, nil
}

// Run tries every operation at its home, and the whole house chain, on every
// body, on as many processors as there are. The cases come in the order of the
// bodies and of Operations, the house chain last.
func Run(people []bodies.Person, homes map[string]Preparation) ([]Case, error) {
	houseChain, err := readHouseChain()
	if err != nil {
		return nil, err
	}
	results := make([][]Case, len(people))
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				results[i] = body(people[i], homes, houseChain)
			}
		})
	}
	for i := range people {
		next <- i
	}
	close(next)
	wg.Wait()
	return slices.Concat(results...), nil
}

// prepared is a dress with something done to it, and what pairing says of it.
type prepared struct {
	pattern *pattern.Pattern
	known   []finding.Finding
	err     error
}

func body(person bodies.Person, homes map[string]Preparation, houseChain chain.Chain) []Case {
	name, w := fmt.Sprintf("row %d", person.Row), person.Wearer()
	if person.Man {
		name += " (man)"
	}
	dress, err := stock.Draft(person.Body())
	if err != nil {
		return []Case{{Body: name, Operation: "draft", Outcome: Failed, Texts: []string{err.Error()}}}
	}
	made := map[string]*prepared{}
	var cases []Case
	for _, op := range Operations() {
		home, ok := homes[op]
		if !ok {
			continue
		}
		from := made[home.Name]
		if from == nil {
			from = &prepared{}
			if from.pattern, from.err = Prepare(dress, home, w); from.err == nil {
				from.known = pairing.Check(from.pattern)
			}
			made[home.Name] = from
		}
		c := Case{Body: name, Operation: op, On: home.Name}
		if from.err != nil {
			c.judge(nil, nil, fmt.Errorf("in the preparation: %w", from.err))
		} else {
			a, err := Apply(from.pattern, Asked(op), w)
			c.judge(from, a, err)
		}
		cases = append(cases, c)
	}
	return append(cases, whole(name, dress, w, houseChain))
}

// judge looks at what an operation gave.
func (c *Case) judge(from *prepared, a *operation.Answer, err error) {
	if no, ok := errors.AsType[*operation.Refusal](err); ok {
		c.Outcome, c.Texts = Refused, []string{no.Error()}
		return
	}
	if err != nil {
		c.Outcome, c.Texts = Failed, []string{err.Error()}
		return
	}
	for _, bad := range a.Pattern.Validate() {
		c.Texts = append(c.Texts, "not sound: "+bad.String())
	}
	if len(c.Texts) == 0 {
		for _, bad := range a.Lineage.Check(from.pattern, a.Pattern) {
			c.Texts = append(c.Texts, "lineage: "+bad.String())
		}
		const fresh = "this step"
		for _, f := range pairing.Compare(from.known, pairing.Check(a.Pattern), a.Lineage, fresh) {
			if f.Since != fresh {
				continue
			}
			text := fmt.Sprintf("%s at %s: %s", f.Code, place(f.Place), f.Text)
			switch f.Severity {
			case finding.Fault:
				c.Texts = append(c.Texts, text)
			case finding.Warning:
				c.Warnings = append(c.Warnings, text)
			}
		}
	}
	if len(c.Texts) > 0 {
		c.Outcome = Failed
	}
}

func place(p finding.Place) string {
	return strings.Trim(strings.Join([]string{p.Seam, p.Piece, p.Edge}, "/"), "/")
}

func readHouseChain() (chain.Chain, error) {
	const file = "chains/high-waist-1806.yaml"
	data, err := testdata.Demo.ReadFile(file)
	if err != nil {
		return chain.Chain{}, err
	}
	return yamlfile.ReadChain(file, data)
}

// whole runs the house chain over a dress as the program does, which checks
// after every step what judge checks.
func whole(name string, dress *pattern.Pattern, w wearer.Wearer, houseChain chain.Chain) Case {
	c := Case{Body: name, Operation: HouseChain, On: Preparations[0].Name}
	steps, err := chain.Plan(houseChain, nil, dress, nil, runner.Offers())
	if err == nil {
		_, err = chain.Run(context.Background(), houseChain, steps, dress, w, runner, chain.Options{})
	}
	if err == nil {
		return c
	}
	c.Outcome, c.Texts = Failed, []string{err.Error()}
	if _, ok := errors.AsType[*operation.Refusal](err); ok {
		c.Outcome = Refused
	}
	return c
}
