package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/alecthomas/kong"

	"bygone.example/core/chain"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/source"
	"bygone.example/plugins/house"
	"bygone.example/sdk"
)

// Exit codes.
const (
	exitClean    = 0
	exitFault    = 1 // of ours or a plugin's
	exitRefused  = 2 // what was given cannot be used
	exitFindings = 3 // the pattern does not go together
	exitBroken   = 130
)

// commands is the command line.
type commands struct {
	Demo    demoCommand    `cmd:"" help:"Turn the house's stock dress into one of c. 1800–1815, as a demonstration."`
	Alter   alterCommand   `cmd:"" help:"Run a chain of steps over a pattern, walking the seams after every one."`
	Check   checkCommand   `cmd:"" help:"Walk every seam of one or more patterns and say what will not go together."`
	Explain explainCommand `cmd:"" help:"Tell what a code of the check means, why it matters and what to do, with a drawing before and after."`
	Compare compareCommand `cmd:"" help:"Lay one pattern over another and say what differs, by how much and where."`
	Mend    mendCommand    `cmd:"" help:"Propose small steps that put right what does not quite go together, and take them on request."`
	Draw    drawCommand    `cmd:"" help:"Draw a pattern's pieces."`
	Print   printCommand   `cmd:"" help:"Lay a pattern's pieces on paper, at true size: pages to join, a plotter sheet or a roll."`
	Schema  schemaCommand  `cmd:"" help:"Print the JSON Schema of a kind of file, for an editor that offers keys and words."`
	Steps   stepsCommand   `cmd:"" help:"List every operation of every plugin found, a line each, or tell all about one."`
	Plugins pluginsCommand `cmd:"" help:"List the plugins found, and why others were not taken."`
}

// streams are where a command reads and writes.
type streams struct {
	in   io.Reader
	read bool // in was read already
	out  *output
}

// output is standard output, and what went wrong with it: a result that nobody
// has received is not one.
type output struct {
	io.Writer
	failed error
}

// Write remembers the first failure.
func (o *output) Write(b []byte) (int, error) {
	n, err := o.Writer.Write(b)
	if o.failed == nil {
		o.failed = err
	}
	return n, err
}

// terminal reports whether out is one that shows colour.
func (s *streams) terminal() bool {
	f, ok := s.out.Writer.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// run is the program: it returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	if len(args) == 2 && args[0] == host.HouseArgument {
		p := house.Plugin(args[1])
		if p == nil {
			fmt.Fprintf(stderr, "there is no house plugin %s\n", source.Quote(args[1]))
			return exitFault
		}
		return sdk.Serve(p, stderr)
	}
	// A closed terminal counts as well, or the plugins' folder would stay.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	context.AfterFunc(ctx, stop) // the second Ctrl-C ends us as it would anyone
	s := &streams{in: stdin, out: &output{Writer: stdout}}
	var cli commands
	exited := -1
	parser, err := kong.New(&cli,
		kong.Name("bygone"),
		kong.Description("Turns a sewing pattern you have into one of another period, and proves after every step that the seams still go together."),
		kong.UsageOnError(),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Writers(s.out, stderr),
		kong.Exit(func(code int) { exited = code; panic(exitEarly{}) }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(s),
	)
	if err != nil {
		fmt.Fprintln(stderr, "bygone: this is a fault of ours:", err)
		return exitFault
	}
	parsed, err := parse(parser, args)
	if exited >= 0 {
		return exited // help was asked for and given
	}
	if err != nil {
		fmt.Fprintf(stderr, "bygone: %v\n      = bygone --help lists the commands, bygone COMMAND --help what one takes\n", err)
		return exitRefused
	}
	err = parsed.Run()
	if s.out.failed != nil && (err == nil || errors.Is(err, errFindings)) {
		err = fmt.Errorf("standard output cannot be written: %w", s.out.failed)
	}
	return explain(err, ctx, stderr)
}

// exitEarly unwinds from kong's help, which would end the process.
type exitEarly struct{}

func parse(parser *kong.Kong, args []string) (parsed *kong.Context, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(exitEarly); !ok {
				panic(r)
			}
		}
	}()
	if len(args) == 0 {
		args = []string{"--help"}
	}
	return parser.Parse(args)
}

// errFindings is the error of a command that did its work and found something.
var errFindings = errors.New("the pattern does not go together")

// explain tells an error to the user, and returns the exit code of its kind.
func explain(err error, ctx context.Context, stderr io.Writer) int {
	if err == nil {
		return exitClean
	}
	if errors.Is(err, errFindings) {
		return exitFindings
	}
	if ctx.Err() != nil {
		fmt.Fprintln(stderr, "bygone: broken off; nothing was written")
		return exitBroken
	}
	if problems, ok := errors.AsType[source.Problems](err); ok {
		fmt.Fprintln(stderr, problems)
		return exitRefused
	}
	code := exitFault
	for _, e := range apiece(err) {
		code = explainOne(e, stderr)
	}
	if k, ok := errors.AsType[*kept](err); ok {
		if k.failed != nil {
			fmt.Fprintf(stderr, "      = the last good pattern could not be kept: %v\n", k.failed)
		} else {
			fmt.Fprintf(stderr, "      = the last good pattern is %s\n", source.Harmless(k.where, maxPath))
		}
	}
	return code
}

// apiece takes apart what several plugins failed with at their start.
func apiece(err error) []error {
	if k, ok := errors.AsType[*kept](err); ok { // kong may have wrapped it
		err = k.error
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}

// explainOne tells one thing that stopped a run.
func explainOne(err error, stderr io.Writer) int {
	step, inStep := errors.AsType[*chain.StepError](err)
	if refusal, ok := errors.AsType[*operation.Refusal](err); ok {
		where := "bygone: "
		if inStep {
			where = fmt.Sprintf("step %d, %s (%s): ", step.Number, step.Step.Name, step.Step.Operation)
		}
		fmt.Fprintf(stderr, "%s%s\n", where, refusal.Why)
		if refusal.Instead != "" {
			fmt.Fprintf(stderr, "      = %s\n", refusal.Instead)
		}
		return exitRefused
	}
	if opened, ok := errors.AsType[*chain.Opened](err); ok {
		fmt.Fprintf(stderr, "step %d, %s (%s) opened a seam:\n", step.Number, step.Step.Name, step.Step.Operation)
		for _, f := range opened.Findings {
			fmt.Fprintf(stderr, "  %s: %s\n", f.Code, f.Text)
		}
		fmt.Fprintln(stderr, "      = mend the pattern or change the step's numbers; --go-on runs the chain to its end all the same")
		return exitFindings
	}
	if inStep {
		reason := step.Err.Error()
		if _, named := errors.AsType[*host.Fault](err); !named {
			reason = fmt.Sprintf("plugin %s: %s", step.Plugin, reason)
		}
		fmt.Fprintf(stderr, "step %d, %s (%s): %s\n      = this is a fault of the plugin, not of the pattern: tell its author\n",
			step.Number, step.Step.Name, step.Step.Operation, reason)
		return exitFault
	}
	fmt.Fprintf(stderr, "bygone: %v\n", err)
	return exitFault
}
