package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"bygone.example/core/chain"
	"bygone.example/core/differ"
	"bygone.example/core/draw"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/report"
	"bygone.example/core/source"
	"bygone.example/core/unit"
)

// compareCommand lays one pattern over another, or what a chain makes over what
// is expected of it.
type compareCommand struct {
	First     string `arg:"" help:"The first pattern file, or - for standard input; alone, a chain file that says what it expects."`
	Second    string `arg:"" optional:"" help:"The second pattern file, laid over the first."`
	Tolerance string `help:"Differences of no more than this are none; 0.1mm unless said, or what the chain says." placeholder:"LENGTH"`
	Out       string `short:"o" help:"A picture of what differs: .svg, .png, or .html with all of it in words." placeholder:"FILE"`
	replaceFlag
	startFlags
}

// Run tells every difference, those that move a line or mark with how far and
// where.
func (c *compareCommand) Run(ctx context.Context, s *streams) error {
	var problems source.Problems
	var tolerance float64
	if c.Tolerance != "" {
		var err error
		tolerance, err = readTolerance(c.Tolerance)
		if err := gather(&problems, err); err != nil {
			return err
		}
	}
	if c.Out != "" {
		if err := gather(&problems, c.writable()); err != nil {
			return err
		}
	}
	if c.Second == "" {
		if err := problems.Err(); err != nil {
			return err
		}
		return c.chain(ctx, s, tolerance)
	}
	laid := laidOver{}
	for _, in := range [...]struct {
		path string
		name *string
		p    **pattern.Pattern
	}{{c.First, &laid.first, &laid.a}, {c.Second, &laid.second, &laid.b}} {
		var err error
		*in.name, *in.p, err = readPattern(ctx, in.path, s)
		if err := gather(&problems, err); err != nil {
			return err
		}
	}
	if err := problems.Err(); err != nil {
		return err
	}
	laid.heads = heads(laid.first, laid.second)
	laid.found = differ.Compare(laid.a, laid.b, tolerance)
	if c.Out != "" {
		if err := laid.write(c.Out, c.replaceFlag); err != nil {
			return err
		}
	}
	laid.tell(s)
	if laid.found.Different() {
		return errFindings
	}
	return nil
}

// writable refuses a picture that cannot be written, before anything is read.
func (c *compareCommand) writable() error {
	for _, path := range [...]string{c.First, c.Second} {
		if same(path, c.Out) {
			return &operation.Refusal{Why: fmt.Sprintf("%q is read, and is not written over", c.Out), Instead: "choose another name with -o"}
		}
	}
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".svg", ".png", ".html", ".htm":
		return c.mayWrite("-o", c.Out)
	}
	return &operation.Refusal{
		Why:     fmt.Sprintf("a comparison cannot be written as %q", c.Out),
		Instead: "end the name in .svg, .png or .html",
	}
}

// chain tries a chain on every pattern that it has an expectation of. The
// picture is of the first that is not met.
func (c *compareCommand) chain(ctx context.Context, s *streams, tolerance float64) error {
	name, data, err := readFile(ctx, c.First, s)
	if err != nil {
		return err
	}
	tried, err := yamlfile.ReadChain(name, data)
	if err != nil {
		return err
	}
	file := source.NewFile(name, data)
	if len(tried.Expect) == 0 {
		return &operation.Refusal{
			Why:     fmt.Sprintf("chain %s does not say what it expects", source.Quote(tried.Name)),
			Instead: "name a second pattern, or add to the chain: expect: [{pattern: FILE, result: FILE}]",
		}
	}
	if tolerance > 0 {
		for i := range tried.Expect {
			tried.Expect[i].Tolerance = tolerance
		}
	}
	plugins, missing, err := c.start(ctx, tried.Plugins())
	if err != nil {
		return err
	}
	defer plugins.Close()
	if err := untaken(missing, tried, file); err != nil {
		return err
	}
	outcomes, err := chain.Expect(ctx, tried, file, filesOf(name, s), plugins.offers(), plugins)
	if err != nil {
		return err
	}
	plugins.Close()
	var problems source.Problems
	unmet, drawn := false, false
	for _, o := range outcomes {
		if o.Comparison == nil {
			if bad, ok := errors.AsType[source.Problems](o.Err); ok {
				problems.Add(bad...)
				continue
			}
			return o.Err
		}
		laid := laidOver{
			first: path.Join(path.Dir(filepath.ToSlash(name)), o.Result), second: source.Harmless(tried.Name, maxPath) + " over " + o.Pattern,
			heads: [2]string{path.Base(o.Result), source.Harmless(tried.Name, maxPath) + " over " + path.Base(o.Pattern)},
			a:     o.Want, b: o.Run.After(), found: o.Comparison,
		}
		laid.tell(s)
		if o.Met() {
			continue
		}
		unmet = true
		if c.Out != "" && !drawn {
			drawn = true
			if err := laid.write(c.Out, c.replaceFlag); err != nil {
				return err
			}
		}
	}
	if err := problems.Err(); err != nil {
		return err
	}
	if unmet {
		return errFindings
	}
	return nil
}

// readTolerance reads a length that says how much is no difference.
func readTolerance(text string) (mm float64, err error) {
	mm, err = unit.ParseLength(text)
	if err == nil && !(mm >= minTolerance && mm <= maxTolerance) {
		err = fmt.Errorf("%s is not between %g mm and %g mm", text, minTolerance, maxTolerance)
	}
	if err != nil {
		return 0, &operation.Refusal{Why: fmt.Sprintf("--tolerance: %v", err), Instead: "write a length, for instance --tolerance 0.5mm"}
	}
	return mm, nil
}

// The bounds on a tolerance in mm: what files round away, and more than any two
// patterns that are alike.
const (
	minTolerance = 1e-5
	maxTolerance = 100.0
)

// laidOver is two patterns laid over one another, and what they are called.
type laidOver struct {
	first, second string
	a, b          *pattern.Pattern
	found         *differ.Comparison
	heads         [2]string // what a page calls them, for whoever has no use for our folders
}

// heads are the shortest ends of two paths that differ.
func heads(first, second string) [2]string {
	a, b := strings.Split(filepath.ToSlash(first), "/"), strings.Split(filepath.ToSlash(second), "/")
	end := func(of []string, n int) []string { return of[max(0, len(of)-n):] }
	n := 1
	for n < max(len(a), len(b)) && slices.Equal(end(a, n), end(b, n)) {
		n++
	}
	return [2]string{path.Join(end(a, n)...), path.Join(end(b, n)...)}
}

// tell prints what differs, or that nothing does.
func (l laidOver) tell(s *streams) {
	c := l.found
	first, second := source.Harmless(l.first, maxPath), source.Harmless(l.second, maxPath)
	for _, d := range c.Differences {
		where := ""
		if d.At != nil && d.MM > 0 {
			where = fmt.Sprintf(" at (%.1f, %.1f)", d.At.X, d.At.Y)
		}
		note := ""
		if d.Harmless {
			note = "harmless: "
		}
		fmt.Fprintf(s.out, "%s%s%s (%s)\n", note, d.Text, where, d.What)
	}
	if !c.Different() {
		fmt.Fprintf(s.out, "%s and %s do not differ by more than %s\n", first, second, unit.Length(c.Tolerance))
		return
	}
	fmt.Fprintf(s.out, "%s and %s: %s\n", first, second, c.Summary())
}

// write writes what differs to a file, whole or not at all.
func (l laidOver) write(out string, over replaceFlag) error {
	var b bytes.Buffer
	var err error
	switch strings.ToLower(filepath.Ext(out)) {
	case ".svg":
		err = draw.Compared(l.a, l.b, l.found).SVG(&b, "d-")
	case ".png":
		err = draw.Compared(l.a, l.b, l.found).PNG(&b, pngWidth)
	default:
		err = report.Compared(&b, report.Comparison{
			First: source.Harmless(l.heads[0], maxPath), Second: source.Harmless(l.heads[1], maxPath), A: l.a, B: l.b, Found: l.found,
		})
	}
	if err != nil {
		return err
	}
	return over.writeFile("-o", out, formOf(out), b.Bytes())
}
