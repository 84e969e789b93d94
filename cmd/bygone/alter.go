package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/outfolder"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/report"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
)

// alterCommand runs a chain over a pattern.
type alterCommand struct {
	Pattern string   `arg:"" help:"The pattern file, or - for standard input."`
	Chain   string   `required:"" help:"The chain file: the steps to run." placeholder:"FILE"`
	Wearer  string   `help:"The wearer's measures." placeholder:"FILE"`
	Out     string   `short:"o" required:"" help:"The folder to write; a new one, or one of an earlier run." placeholder:"DIR"`
	Set     []string `help:"Set a parameter of a step, over what the chain says." placeholder:"STEP.PARAM=VALUE" sep:"none"`
	GoOn    bool     `help:"Go on after a step that opened a seam, and report it."`
	startFlags
}

// Run reads everything, and only then starts a plugin: a plugin may be handed
// our standard input. What is wrong with the inputs is told all at once.
func (c *alterCommand) Run(ctx context.Context, s *streams) error {
	var problems source.Problems
	j := job{out: c.Out, goOn: c.GoOn, plugins: c.startFlags}
	var err error
	j.input, j.pattern, err = readPattern(ctx, c.Pattern, s)
	if err := gather(&problems, err); err != nil {
		return err
	}
	name, data, err := readFile(ctx, c.Chain, s)
	if err == nil {
		j.file = source.NewFile(name, data)
		j.chain, err = yamlfile.ReadChain(name, data)
	}
	if err := gather(&problems, err); err != nil {
		return err
	}
	inputs := []string{c.Pattern, c.Chain, c.Wearer}
	others, err := readOthers(ctx, j.chain, j.file, s)
	if err := gather(&problems, err); err != nil {
		return err
	}
	j.others = map[string]*pattern.Pattern{}
	for _, other := range others {
		j.others[other.name] = other.pattern
		inputs = append(inputs, other.path)
	}
	if c.Wearer != "" {
		name, data, err := readFile(ctx, c.Wearer, s)
		if err == nil {
			j.wearer, err = yamlfile.ReadWearer(name, data)
		}
		if err := gather(&problems, err); err != nil {
			return err
		}
	}
	for _, set := range c.Set {
		o, err := chain.ParseOverride(set)
		if err := gather(&problems, err); err != nil {
			return err
		}
		j.overrides = append(j.overrides, o)
	}
	err = outfolder.Check(c.Out)
	if err == nil {
		err = apart(c.Out, inputs...)
	}
	if err := gather(&problems, err); err != nil {
		return err
	}
	if err := problems.Err(); err != nil {
		return err
	}
	return j.run(ctx, s)
}

// apart refuses an output folder that holds an input, as when the pattern of an
// earlier run is altered further: an input is never written over.
func apart(out string, inputs ...string) error {
	folder, err := os.Stat(out)
	if err != nil {
		return nil // a new one
	}
	for _, input := range inputs {
		path, err := filepath.EvalSymlinks(input)
		if err == nil {
			path, err = filepath.Abs(path)
		}
		if err != nil {
			continue // standard input, or a file that is not there and told of already
		}
		for up := filepath.Dir(path); ; up = filepath.Dir(up) {
			if info, err := os.Stat(up); err == nil && os.SameFile(info, folder) {
				return &operation.Refusal{
					Why:     fmt.Sprintf("output folder %q holds the input %q, and would be written over", out, input),
					Instead: "choose another folder with -o",
				}
			}
			if up == filepath.Dir(up) {
				break
			}
		}
	}
	return nil
}

// job is one run of a chain, everything read.
type job struct {
	input     string // what the pattern file is called
	pattern   *pattern.Pattern
	chain     chain.Chain
	file      *source.File // the chain's text
	others    map[string]*pattern.Pattern
	wearer    wearer.Wearer
	overrides []chain.Override
	out       string
	goOn      bool
	plugins   startFlags
}

// run plans and runs the chain, writes the folder and prints the summary.
func (j *job) run(ctx context.Context, s *streams) error {
	plugins, missing, err := j.plugins.start(ctx, j.chain.Plugins())
	if err != nil {
		return j.unstarted(err)
	}
	defer plugins.Close()
	if err := untaken(missing, j.chain, j.file); err != nil {
		return err
	}
	plan, err := chain.Plan(j.chain, j.file, j.pattern, j.overrides, plugins.offers())
	if err != nil {
		return err
	}
	progress := newProgress(s, len(plan))
	result, err := chain.Run(ctx, j.chain, plan, j.pattern, j.wearer, plugins, chain.Options{GoOn: j.goOn, Progress: progress.step, Patterns: j.others})
	progress.done()
	plugins.Close()
	if err != nil {
		return j.stopped(result, err)
	}
	files, err := results(result)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if err := outfolder.Write(j.out, files); err != nil {
		return err
	}
	if err := report.Summary(s.out, result, s.terminal()); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\n%s\n", source.Harmless(filepath.Join(j.out, "report.html"), maxPath))
	if pairing.Count(finalFindings(result)).Faults > 0 {
		return errFindings
	}
	return nil
}

// unstarted lays a plugin's fault at start to the first step that asks for it.
func (j *job) unstarted(err error) error {
	broken := map[string]*host.Fault{}
	for _, fault := range faults(err) {
		broken[fault.Plugin] = fault
	}
	var all []error
	for n, step := range j.chain.Steps {
		plugin, _, _ := strings.Cut(step.Operation, ".")
		if fault := broken[plugin]; fault != nil {
			all = append(all, &chain.StepError{Number: n + 1, Step: step, Plugin: plugin, Err: fault})
			delete(broken, plugin)
		}
	}
	if len(all) == 0 {
		return err
	}
	return &kept{error: errors.Join(all...), where: j.input}
}

// faults are those that host.Start joins.
func faults(err error) []*host.Fault {
	if fault, ok := err.(*host.Fault); ok {
		return []*host.Fault{fault}
	}
	var list []*host.Fault
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			list = append(list, faults(e)...)
		}
	}
	return list
}

// stopped keeps the last good pattern beside the folder that is not written,
// and says where it is.
func (j *job) stopped(result *chain.Result, err error) error {
	if _, ok := errors.AsType[*chain.StepError](err); !ok || result == nil {
		return err
	}
	if len(result.Steps) == 0 {
		return &kept{error: err, where: j.input}
	}
	suffix := fmt.Sprintf(".after-%02d-%s.yaml", len(result.Steps), fileName(result.Steps[len(result.Steps)-1].Step.Name))
	path, failed := outfolder.Beside(j.out, suffix, yamlfile.Write(result.After()))
	return &kept{error: err, where: path, failed: failed}
}

// kept is what stopped a run together with where the last good pattern is, or
// why it could not be kept.
type kept struct {
	error
	where  string
	failed error
}

// Unwrap returns what stopped the run.
func (k *kept) Unwrap() error { return k.error }

// finalFindings are what is found in the last good pattern.
func finalFindings(r *chain.Result) []finding.Finding {
	if len(r.Steps) == 0 {
		return r.Arrival
	}
	return r.Steps[len(r.Steps)-1].Findings
}

// fileName makes a step's name into part of a file's: names have nothing but
// letters, digits, hyphens and dots.
func fileName(step string) string { return strings.ReplaceAll(step, ".", "-") }
