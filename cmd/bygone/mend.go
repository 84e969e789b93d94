package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/mend"
	"bygone.example/core/operation"
	"bygone.example/core/outfolder"
	"bygone.example/core/pairing"
	"bygone.example/core/source"
	"bygone.example/core/unit"
	"bygone.example/core/wearer"
)

// mendCommand proposes a chain that mends a pattern, and runs it on request.
type mendCommand struct {
	Pattern string `arg:"" help:"The pattern file, or - for standard input."`
	Bound   bound  `help:"How far any line may move in all; 3 mm unless said." default:"3mm" placeholder:"LENGTH"`
	Apply   bool   `short:"y" help:"Mend the pattern, and write the whole job as alter does."`
	Out     string `short:"o" help:"The folder to write: the chain alone, or with --apply everything." placeholder:"DIR"`
	startFlags
}

// bound is a length of 0 or more, in mm.
type bound float64

// UnmarshalText reads a length such as 3mm or 1/8in.
func (b *bound) UnmarshalText(text []byte) error {
	mm, err := unit.ParseLength(string(text))
	if err != nil || mm < 0 {
		return fmt.Errorf("%s is no bound: write a length with its unit, for instance 3mm or 1/8in", source.Quote(string(text)))
	}
	if mm > mend.MostBound {
		return fmt.Errorf("%s is no bound: moved by more than %s, a line is another line; draw it anew instead", source.Quote(string(text)), unit.Length(mend.MostBound))
	}
	*b = bound(mm)
	return nil
}

// mendPlugin is the house plugin whose steps mend.
const mendPlugin = "true"

// mendFile is what the proposed chain is called in the folder.
const mendFile = "mend.yaml"

// Run proposes, tells, and writes what was asked for.
func (c *mendCommand) Run(ctx context.Context, s *streams) error {
	if c.Apply && c.Out == "" {
		return &operation.Refusal{Why: "it is not said where the mended pattern is to go; your own file is never changed", Instead: "name a folder with -o"}
	}
	name, data, err := readFile(ctx, c.Pattern, s)
	if err != nil {
		return err
	}
	located, err := yamlfile.ReadToCheck(name, data)
	if err != nil {
		return err
	}
	if c.Out != "" {
		if err := outfolder.Check(c.Out); err != nil {
			return err
		}
		if err := apart(c.Out, c.Pattern); err != nil {
			return err
		}
	}
	plugins, _, err := c.start(ctx, []string{mendPlugin})
	if err != nil {
		return err
	}
	defer plugins.Close()
	proposal, err := mend.Propose(ctx, located.Pattern, plugins, plugins.offers(), mend.Options{
		Bound: float64(c.Bound), Progress: func(f finding.Finding) { trying(s, f) },
	})
	wipe(s)
	if err != nil {
		return err
	}
	var files []outfolder.File
	if len(proposal.Chain.Steps) > 0 && c.Out != "" {
		if files, err = c.files(ctx, proposal, plugins); err != nil {
			return err
		}
	}
	plugins.Close()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if len(files) > 0 {
		if err := outfolder.Write(c.Out, files); err != nil {
			return err
		}
	}
	c.tell(s.out, source.Harmless(name, maxPath), proposal)
	if len(proposal.Left) > 0 || !c.Apply && len(proposal.Chain.Steps) > 0 {
		return errFindings
	}
	return nil
}

// files are the chain and, if it is to be applied, all that comes of running it.
func (c *mendCommand) files(ctx context.Context, p *mend.Proposal, plugins *session) ([]outfolder.File, error) {
	files := []outfolder.File{{Path: mendFile, Data: yamlfile.WriteChain(p.Chain)}}
	if !c.Apply {
		return files, nil
	}
	plan, err := chain.Plan(p.Chain, nil, p.Before, nil, plugins.offers())
	if err != nil {
		return nil, err
	}
	result, err := chain.Run(ctx, p.Chain, plan, p.Before, wearer.Wearer{}, plugins, chain.Options{})
	if err != nil {
		return nil, err
	}
	whole, err := results(result)
	if err != nil {
		return nil, err
	}
	return append(whole, files...), nil
}

// tell prints the proposal: its steps, what for, and what is left.
func (c *mendCommand) tell(w io.Writer, name string, p *mend.Proposal) {
	bound := unit.Length(float64(c.Bound))
	n := pairing.Count(p.Arrival)
	switch steps := len(p.Chain.Steps); {
	case n.Faults+n.Warnings == 0:
		fmt.Fprintf(w, "%s: everything goes together; there is nothing to mend\n", name)
		return
	case steps == 0:
		fmt.Fprintf(w, "%s: %s, %s; none of them can be mended by moving lines by no more than %s\n", name, several(n.Faults, "fault"), several(n.Warnings, "warning"), bound)
	default:
		mended := n.Faults + n.Warnings - len(p.Left)
		verb := "can be mended"
		switch {
		case c.Apply && mended == 1:
			verb = "is mended"
		case c.Apply:
			verb = "are mended"
		}
		fmt.Fprintf(w, "%s: %s, %s; %d of them %s in %s:\n\n", name, several(n.Faults, "fault"), several(n.Warnings, "warning"),
			mended, verb, several(steps, "step"))
	}
	for i, s := range p.Chain.Steps {
		fmt.Fprintf(w, "  %2d  %-13s %s\n      mends: %s\n", i+1, s.Operation, settings(s), s.Why)
	}
	if len(p.Chain.Steps) > 0 {
		moved := "no line moves"
		if p.Moved > 0 {
			moved = fmt.Sprintf("no line moves by more than %s, and %s/%s by most, %s", bound, p.Piece, p.Edge, unit.Length(p.Moved))
		}
		fmt.Fprintf(w, "\n  %s\n", moved)
	}
	if len(p.Left) > 0 {
		fmt.Fprintf(w, "\nleft to you:\n\n")
	}
	for _, l := range p.Left {
		fmt.Fprintf(w, "  %s: %s (%s)\n      = left because %s\n", l.Severity, l.Text, l.Code, l.Why)
		if l.Remedy != "" {
			fmt.Fprintf(w, "      = %s\n", l.Remedy)
		}
	}
	switch {
	case len(p.Chain.Steps) == 0:
	case c.Apply:
		fmt.Fprintf(w, "\n%s\n", source.Harmless(filepath.Join(c.Out, "report.html"), maxPath))
	case c.Out != "":
		fmt.Fprintf(w, "\nnothing is changed yet; the chain is %s: run it with bygone alter, or mend with --apply\n", source.Harmless(filepath.Join(c.Out, mendFile), maxPath))
	default:
		fmt.Fprint(w, "\nnothing is changed yet: -o DIR --apply mends the pattern, -o DIR alone writes the chain to look at\n")
	}
}

// settings tells what a step is told, but for the bound, which is told once.
func settings(s chain.Step) string {
	var list []string
	for _, set := range s.Settings {
		if set.Parameter != "bound" {
			list = append(list, set.Parameter+" "+set.Value)
		}
	}
	return strings.Join(list, ", ")
}

// trying shows what is being looked at, on a terminal only.
func trying(s *streams, f finding.Finding) {
	if s.terminal() {
		fmt.Fprintf(s.out, "\r\x1b[Ktrying to mend  %s", f.Code)
	}
}

func wipe(s *streams) {
	if s.terminal() {
		fmt.Fprint(s.out, "\r\x1b[K")
	}
}

// several says how many there are of a thing.
func several(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
