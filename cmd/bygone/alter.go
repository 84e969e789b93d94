package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
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
	pluginFlags
}

// Run reads everything, and only then starts a plugin: a plugin may be handed
// our standard input.
func (c *alterCommand) Run(ctx context.Context, s *streams) error {
	var problems source.Problems
	var j job
	name, data, err := readFile(c.Pattern, s.in)
	if err == nil {
		j.pattern, err = yamlfile.Read(name, data)
	}
	if err := gather(&problems, err); err != nil {
		return err
	}
	name, data, err = readFile(c.Chain, s.in)
	if err == nil {
		j.file = source.NewFile(name, data)
		j.chain, err = yamlfile.ReadChain(name, data)
	}
	if err := gather(&problems, err); err != nil {
		return err
	}
	if c.Wearer != "" {
		name, data, err = readFile(c.Wearer, s.in)
		if err == nil {
			j.wearer, err = yamlfile.ReadWearer(name, data)
		}
		if err := gather(&problems, err); err != nil {
			return err
		}
	}
	if err := problems.Err(); err != nil {
		return err
	}
	for _, set := range c.Set {
		o, err := chain.ParseOverride(set)
		if err != nil {
			return err
		}
		j.overrides = append(j.overrides, o)
	}
	j.out, j.goOn, j.plugins, j.input = c.Out, c.GoOn, c.pluginFlags, c.Pattern
	return j.run(ctx, s)
}

// job is one run of a chain, everything read.
type job struct {
	input     string // what the pattern file is called
	pattern   *pattern.Pattern
	chain     chain.Chain
	file      *source.File // the chain's text
	wearer    wearer.Wearer
	overrides []chain.Override
	out       string
	goOn      bool
	plugins   pluginFlags
}

// run plans and runs the chain, writes the folder and prints the summary.
func (j *job) run(ctx context.Context, s *streams) error {
	if err := outfolder.Check(j.out); err != nil {
		return err
	}
	plugins, missing, err := j.plugins.start(ctx, j.chain.Plugins())
	if err != nil {
		return err
	}
	defer plugins.Close()
	if err := untaken(missing); err != nil {
		return err
	}
	plan, err := chain.Plan(j.chain, j.file, j.pattern, j.overrides, plugins.offers())
	if err != nil {
		return err
	}
	progress := newProgress(s, len(plan))
	result, err := chain.Run(ctx, j.chain, plan, j.pattern, j.wearer, plugins, chain.Options{GoOn: j.goOn, Progress: progress.step})
	progress.done()
	plugins.Close()
	if err != nil {
		return j.stopped(result, err, s)
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
	fmt.Fprintf(s.out, "\n%s\n", filepath.Join(j.out, "report.html"))
	if pairing.Count(finalFindings(result)).Faults > 0 {
		return findings
	}
	return nil
}

// stopped keeps the last good pattern beside the folder that is not written,
// and says where it is.
func (j *job) stopped(result *chain.Result, err error, s *streams) error {
	step, ok := errors.AsType[*chain.StepError](err)
	if !ok || result == nil {
		return err
	}
	where := j.input
	if len(result.Steps) > 0 {
		suffix := fmt.Sprintf(".after-%02d-%s.yaml", len(result.Steps), fileName(result.Steps[len(result.Steps)-1].Step.Name))
		path, failed := outfolder.Beside(j.out, suffix, yamlfile.Write(result.After()))
		if failed != nil {
			return errors.Join(err, fmt.Errorf("the last good pattern could not be kept: %w", failed))
		}
		where = path
	}
	return &kept{StepError: step, where: where}
}

// kept is a step's failure together with where the last good pattern is.
type kept struct {
	*chain.StepError
	where string
}

// Unwrap returns the failure.
func (k *kept) Unwrap() error { return k.StepError }

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
