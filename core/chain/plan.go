package chain

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
)

// Offer is what one plugin offers.
type Offer struct {
	Plugin     string
	Operations []operation.Spec
}

// Override sets one parameter of one step from outside the chain file.
type Override struct{ Step, Parameter, Value string }

// ParseOverride reads STEP.PARAM=VALUE. A step's name may have dots in it: the
// parameter is what follows the last one before the equals sign.
func ParseOverride(text string) (Override, error) {
	left, value, ok := strings.Cut(text, "=")
	dot := strings.LastIndex(left, ".")
	if !ok || dot <= 0 || dot == len(left)-1 || value == "" {
		return Override{}, &operation.Refusal{
			Why:     fmt.Sprintf("%s does not set anything", source.Quote(text)),
			Instead: "write STEP.PARAM=VALUE, for instance raise-waist.below-armscye=70mm",
		}
	}
	return Override{Step: left[:dot], Parameter: left[dot+1:], Value: value}, nil
}

// Planned is a step ready to run: its operation found, its values read.
type Planned struct {
	Step   Step // settings as used, overrides included
	Plugin string
	Spec   operation.Spec
	Values operation.Values
}

// Plan finds the operation of every step, reads every value, and checks that
// the pattern brings along what the steps need, or an earlier step makes it. It reports all that is wrong at
// once, as a source.Problems with places in the chain file.
func Plan(c Chain, file *source.File, p *pattern.Pattern, overrides []Override, offers []Offer) ([]Planned, error) {
	pl := planner{file: file, pattern: p, offers: offers}
	for _, other := range c.Patterns {
		pl.others = append(pl.others, other.Name)
	}
	used := make([]bool, len(overrides))
	var plan []Planned
	for _, step := range c.Steps {
		step.Settings = slices.Clone(step.Settings)
		for i, o := range overrides {
			if o.Step == step.Name {
				used[i] = true
				step.Settings = override(step.Settings, o)
			}
		}
		if planned, ok := pl.step(step); ok {
			plan = append(plan, planned)
		}
	}
	for i, o := range overrides {
		if !used[i] {
			names := make([]string, len(c.Steps))
			for k, s := range c.Steps {
				names[k] = s.Name
			}
			pl.problems.Add(source.Problem{
				File: "--set " + o.Step + "." + o.Parameter, Text: fmt.Sprintf("the chain has no step %s", source.Quote(o.Step)),
				Remedy: spelling.Remedy(o.Step, names),
			})
		}
	}
	if err := pl.problems.Err(); err != nil {
		return nil, err
	}
	return plan, nil
}

func override(settings []Setting, o Override) []Setting {
	fresh := Setting{Parameter: o.Parameter, Value: o.Value}
	for i, s := range settings {
		if s.Parameter == o.Parameter {
			settings[i] = fresh
			return settings
		}
	}
	return append(settings, fresh)
}

type planner struct {
	file     *source.File
	pattern  *pattern.Pattern
	offers   []Offer
	others   []string         // names of the other patterns that the chain lists
	made     []operation.Need // by the steps so far
	borrowed bool             // a step so far looks at another pattern
	problems source.Problems
}

// at adds a problem at a place in the chain file; line 0 is a flag's.
func (pl *planner) at(line, col int, where, text, remedy string) {
	if line == 0 || pl.file == nil {
		pl.problems.Add(source.Problem{File: where, Text: text, Remedy: remedy})
		return
	}
	pl.problems.Add(pl.file.Problem(line, col, text, remedy))
}

func (pl *planner) step(s Step) (Planned, bool) {
	plugin, op, _ := strings.Cut(s.Operation, ".")
	planned := Planned{Step: s, Plugin: plugin, Values: operation.Values{}}
	var plugins, operations []string
	found := false
	for _, o := range pl.offers {
		plugins = append(plugins, o.Plugin)
		for _, spec := range o.Operations {
			operations = append(operations, o.Plugin+"."+spec.Name)
			if o.Plugin == plugin && spec.Name == op {
				planned.Spec, found = spec, true
			}
		}
	}
	if !found {
		text, remedy := fmt.Sprintf("there is no operation %s", source.Quote(s.Operation)), spelling.Remedy(s.Operation, operations)
		if !slices.Contains(plugins, plugin) {
			text = fmt.Sprintf("there is no plugin %s, which operation %s would be of", source.Quote(plugin), source.Quote(s.Operation))
			if _, near := spelling.Nearest(s.Operation, operations); !near {
				remedy = "bygone plugins lists those that were found, and why others were not taken"
			}
		}
		pl.at(s.Line, s.Col, s.Name, text, remedy)
		return planned, false
	}
	for _, p := range planned.Spec.Parameters {
		if p.Default == "" {
			continue
		}
		v, err := operation.ParseValue(p, p.Default)
		if err != nil { // the plugin's declaration was checked; an outsider's may still lie
			pl.at(s.Line, s.Col, s.Name, fmt.Sprintf("plugin %s declares a default for %s that cannot be read: %v", plugin, p.Name, err), "tell the plugin's author")
			continue
		}
		planned.Values[p.Name] = v
	}
	for _, set := range s.Settings {
		pl.setting(&planned, set)
	}
	pl.looksAt(&planned)
	pl.needs(s, planned.Spec)
	pl.made = append(pl.made, planned.Spec.Makes...)
	for _, v := range planned.Values { // what it takes over from there, nobody knows beforehand
		pl.borrowed = pl.borrowed || v.Kind == operation.OtherPattern
	}
	return planned, true
}

// looksAt checks that the chain lists the other patterns that the step's values
// name, and puts its only one in the place of operation.Only.
func (pl *planner) looksAt(planned *Planned) {
	s := planned.Step
	for _, p := range planned.Spec.Parameters {
		v, ok := planned.Values[p.Name]
		if p.Kind != operation.OtherPattern || !ok {
			continue
		}
		line, col, flag := s.Line, s.Col, s.Name
		for _, set := range s.Settings {
			if set.Parameter == p.Name {
				line, col, flag = set.Line, set.Col, "--set "+s.Name+"."+p.Name
			}
		}
		switch {
		case len(pl.others) == 0:
			pl.at(line, col, flag, fmt.Sprintf("%s looks at another pattern, and the chain lists none", s.Operation),
				"name its file at the top of the chain file, for instance patterns: {spencer: spencer.yaml}")
		case v.Text == operation.Only && len(pl.others) == 1:
			v.Text = pl.others[0]
			planned.Values[p.Name] = v
		case v.Text == operation.Only:
			pl.at(line, col, flag, fmt.Sprintf("it is not said which pattern %s looks at, and the chain lists %d", s.Operation, len(pl.others)),
				fmt.Sprintf("set %s: %s", p.Name, spelling.List(pl.others)))
		case !slices.Contains(pl.others, v.Text):
			pl.at(line, col, flag, fmt.Sprintf("the chain lists no pattern %s", source.Quote(v.Text)), spelling.Remedy(v.Text, pl.others))
		}
	}
}

func (pl *planner) setting(planned *Planned, set Setting) {
	flag := "--set " + planned.Step.Name + "." + set.Parameter
	var names []string
	for _, p := range planned.Spec.Parameters {
		names = append(names, p.Name)
		if p.Name != set.Parameter {
			continue
		}
		v, err := operation.ParseValue(p, set.Value)
		if refusal, ok := err.(*operation.Refusal); ok {
			pl.at(set.Line, set.Col, flag, refusal.Why, refusal.Instead)
			return
		}
		planned.Values[p.Name] = v
		return
	}
	remedy := spelling.Remedy(set.Parameter, names)
	if len(names) == 0 {
		remedy = "it takes none: leave the line out"
	}
	pl.at(set.Line, 0, flag, fmt.Sprintf("%s has no parameter %s", planned.Step.Operation, source.Quote(set.Parameter)), remedy)
}

// needs checks what the pattern must bring along, or an earlier step make.
func (pl *planner) needs(s Step, spec operation.Spec) {
	for _, n := range spec.Needs {
		if n.In(pl.pattern) || pl.borrowed || slices.ContainsFunc(pl.made, n.MetBy) {
			continue
		}
		text, remedy := lacking(s, n, pl.pattern)
		if makers := pl.makers(n); len(makers) > 0 {
			remedy = "put a step that makes it before this one: " + strings.Join(makers, ", ")
		}
		pl.at(s.Line, s.Col, s.Name, text, remedy)
	}
}

// lacking says that a pattern has not got what a step needs, and what to do.
func lacking(s Step, n operation.Need, p *pattern.Pattern) (text, remedy string) {
	if pieces := p.ByRole(n.Piece); len(pieces) > 0 {
		return fmt.Sprintf("%s needs an edge with the role %s on piece %s", s.Operation, n.Edge, pieces[0].Name),
			"give the edge that is meant that role, or leave the step out"
	}
	return fmt.Sprintf("%s needs a piece with the role %s, and pattern %s has none", s.Operation, n.Piece, p.Name),
		"give the piece that is meant that role, or leave the step out"
}

// makers are the operations on offer that make what is needed.
func (pl *planner) makers(n operation.Need) []string {
	var names []string
	for _, o := range pl.offers {
		for _, spec := range o.Operations {
			if slices.ContainsFunc(spec.Makes, n.MetBy) {
				names = append(names, o.Plugin+"."+spec.Name)
			}
		}
	}
	return names
}

// Plugins returns the plugins that a chain asks for, sorted.
func (c Chain) Plugins() []string {
	var names []string
	for _, s := range c.Steps {
		if plugin, _, ok := strings.Cut(s.Operation, "."); ok && !slices.Contains(names, plugin) {
			names = append(names, plugin)
		}
	}
	slices.Sort(names)
	return names
}
