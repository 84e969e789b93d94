// Package hostile holds plugins that misbehave, each in one way, for tests of
// the host and of the whole program: what a user must never be harmed by.
//
// A test binary becomes any of them by calling Main for a name of Names, for
// instance as testscript commands called bygone-plugin-NAME. All offer one
// operation, run, without parameters.
package hostile

import (
	"context"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Operation is the name of the one operation of each.
const Operation = "run"

// Names lists the misbehaviours, sorted. Good is among them for comparison.
func Names() []string { return slices.Sorted(maps.Keys(behaviours)) }

// Main is the main function of the misbehaving plugin of that name. It does not
// return.
func Main(name string) {
	do, ok := behaviours[name]
	if !ok {
		fmt.Fprintf(os.Stderr, "there is no misbehaviour %q\n", name)
		os.Exit(2)
	}
	do(name)
	os.Exit(0)
}

// Commands returns what testscript.Main wants: a main function for each
// executable bygone-plugin-NAME.
func Commands() map[string]func() {
	commands := map[string]func(){}
	for _, name := range Names() {
		commands["bygone-plugin-"+name] = func() { Main(name) }
	}
	return commands
}

// The misbehaviours.
const (
	Good           = "good"            // answers with the pattern as it came
	Refuses        = "refuses"         // refuses, as it may
	Fails          = "fails"           // returns an error that is no refusal
	Panics         = "panics"          // panics in the operation
	PanicsApart    = "panics-apart"    // panics in a goroutine of its own
	Hangs          = "hangs"           // never answers
	HangsAtStart   = "hangs-at-start"  // never says a word
	Deaf           = "deaf"            // shakes hands and then does not listen
	Killed         = "killed"          // is killed in the middle of the call
	Exits          = "exits"           // ends itself with a last word
	ExitsAtStart   = "exits-at-start"  // ends before the handshake
	NaN            = "nan"             // a coordinate that is no number
	Crossing       = "crossing"        // a boundary that crosses itself
	UnknownName    = "unknown-name"    // a seam that names a piece that is not there
	OpensSeam      = "opens-seam"      // moves a corner of one piece: sound, but a seam no longer pairs
	LostLineage    = "lost-lineage"    // lineage that leaves an edge out
	ControlText    = "control-text"    // a caution that would move the cursor
	RubbishBefore  = "rubbish-before"  // prints before the handshake
	RubbishDuring  = "rubbish-during"  // prints a lot in the operation
	FloodsStderr   = "floods-stderr"   // writes 64 MiB to standard error and exits
	OldProtocol    = "old-protocol"    // speaks version 0 of the contract
	NewProtocol    = "new-protocol"    // speaks version 99
	Oversize       = "oversize"        // an answer above the message limit
	ManyParts      = "many-parts"      // a small answer that is large in memory
	WrongName      = "wrong-name"      // calls itself something else
	ElsewhereLine  = "elsewhere"       // tells an address outside its folder
	LeavesChild    = "leaves-child"    // leaves a child that holds its outputs
	LeavesRunaway  = "leaves-runaway"  // the same, out of its process group
	IgnoresTheHost = "ignores-the-end" // does not end when it is asked to
	Nosy           = "nosy"            // refuses with what it can see of the host
)

// behaviours has what each does, given its name.
var behaviours = map[string]func(name string){
	Good:    func(name string) { serve(name, same) },
	Refuses: func(name string) { serve(name, refuse) },
	Fails: func(name string) {
		serve(name, func(*sdk.Pattern) (*sdk.Answer, error) { return nil, fmt.Errorf("the moon is full") })
	},
	Panics: func(name string) {
		serve(name, func(p *sdk.Pattern) (*sdk.Answer, error) { panic(fmt.Sprintf("no piece %d", len(p.Pieces))) })
	},
	PanicsApart: func(name string) {
		serve(name, func(*sdk.Pattern) (*sdk.Answer, error) {
			go func() { panic("apart from the call") }()
			select {}
		})
	},
	Hangs:        func(name string) { serve(name, func(*sdk.Pattern) (*sdk.Answer, error) { select {} }) },
	HangsAtStart: func(string) { sleep() },
	Deaf:         func(string) { handshake(os.Getenv("PLUGIN_UNIX_SOCKET_DIR")); sleep() },
	Killed: func(name string) {
		serve(name, func(*sdk.Pattern) (*sdk.Answer, error) {
			self, err := os.FindProcess(os.Getpid())
			if err != nil {
				return nil, err
			}
			self.Kill()
			select {}
		})
	},
	Exits: func(name string) {
		serve(name, func(*sdk.Pattern) (*sdk.Answer, error) {
			fmt.Fprintln(os.Stderr, "out of thread")
			os.Exit(3)
			return nil, nil
		})
	},
	ExitsAtStart: func(string) {
		fmt.Fprintln(os.Stderr, "no licence to sew")
		os.Exit(4)
	},
	NaN: func(name string) {
		serve(name, func(p *sdk.Pattern) (*sdk.Answer, error) {
			a, err := same(p)
			path := a.Pattern.Pieces[0].Edges[0].Path
			path[len(path)-1].P1.X = math.NaN()
			return a, err
		})
	},
	Crossing:    func(name string) { serve(name, cross) },
	UnknownName: func(name string) { serve(name, joinNowhere) },
	OpensSeam:   func(name string) { serve(name, openSeam) },
	LostLineage: func(name string) {
		serve(name, func(p *sdk.Pattern) (*sdk.Answer, error) {
			a, err := same(p)
			a.Lineage = a.Lineage[1:]
			return a, err
		})
	},
	ControlText: func(name string) {
		serve(name, func(p *sdk.Pattern) (*sdk.Answer, error) {
			a, err := same(p)
			a.Cautions = []string{"all is well\x1b[2J"}
			return a, err
		})
	},
	RubbishBefore: func(name string) {
		fmt.Println("Welcome to the best plugin!\x1b[31m")
		serve(name, same)
	},
	RubbishDuring: func(name string) {
		serve(name, func(p *sdk.Pattern) (*sdk.Answer, error) {
			fmt.Println("1|1|unix|/nowhere|grpc|")
			raw := os.NewFile(1, "the real standard output")
			long := strings.Repeat("rubbish ", 1<<14) // without an end of line
			for range 16 {
				if _, err := raw.WriteString(long); err != nil {
					return nil, err
				}
			}
			return same(p)
		})
	},
	FloodsStderr: func(name string) {
		serve(name, func(*sdk.Pattern) (*sdk.Answer, error) {
			line := []byte(strings.Repeat("blah ", 200) + "\n")
			for range (64 << 20) / len(line) {
				os.Stderr.Write(line)
			}
			os.Exit(7)
			return nil, nil
		})
	},
	OldProtocol:    func(name string) { serveRaw(name, 0, nil) },
	NewProtocol:    func(name string) { serveRaw(name, 99, nil) },
	Oversize:       func(name string) { serveRaw(name, 1, oversize) },
	ManyParts:      func(name string) { serveRaw(name, 1, manyParts) },
	WrongName:      func(string) { serve("somebody-else", same) },
	ElsewhereLine:  func(string) { handshake(os.TempDir()); sleep() },
	LeavesChild:    func(name string) { leaveChild(false); serve(name, same) },
	LeavesRunaway:  func(name string) { leaveChild(true); serve(name, same) },
	IgnoresTheHost: func(name string) { defer sleep(); serve(name, same) },
	Nosy:           func(name string) { serve(name, tell) },
}

// declare makes a plugin of one operation.
func declare(name string, run func(*sdk.Pattern) (*sdk.Answer, error)) *sdk.Plugin {
	return &sdk.Plugin{
		Name:    name,
		Purpose: "Misbehaves for a test.",
		Operations: []*sdk.Operation{{
			Spec:  sdk.Spec{Name: Operation, Purpose: "Misbehaves."},
			Apply: func(_ context.Context, q *operation.Request) (*operation.Answer, error) { return run(q.Pattern) },
		}},
	}
}

// serve is sdk.Main, but returns when the host is done.
func serve(name string, run func(*sdk.Pattern) (*sdk.Answer, error)) {
	if code := sdk.Serve(declare(name, run), os.Stderr); code != 0 {
		os.Exit(code)
	}
}

// same answers with the pattern as it came.
func same(p *sdk.Pattern) (*sdk.Answer, error) {
	return &sdk.Answer{Pattern: p.Clone(), Lineage: pattern.Same(p)}, nil
}

func refuse(*sdk.Pattern) (*sdk.Answer, error) {
	return nil, sdk.Refuse("the pattern has no sleeve", "add one first")
}

// cross leads the first edge of the first piece out through the far side of the
// piece and back.
func cross(p *sdk.Pattern) (*sdk.Answer, error) {
	a, err := same(p)
	piece := &a.Pattern.Pieces[0]
	edge := &piece.Edges[0]
	box := piece.Boundary().Bounds()
	start, end := edge.Path.Start(), edge.Path.End()
	middle := start.Lerp(end, 0.5)
	far := middle.Add(box.Centre().Sub(middle).Unit().Mul(2 * (box.Width() + box.Height())))
	edge.Path = geom.Polyline(start, far, end)
	a.Lineage = pattern.Same(a.Pattern)
	return a, err
}

// openSeam moves the corner between the first two edges of the first piece out
// by 10 mm, and says so.
func openSeam(p *sdk.Pattern) (*sdk.Answer, error) {
	a, err := same(p)
	piece := &a.Pattern.Pieces[0]
	out := piece.Edges[0].Path.End().Sub(piece.Boundary().Bounds().Centre()).Unit().Mul(10)
	last := &piece.Edges[0].Path[len(piece.Edges[0].Path)-1]
	first := &piece.Edges[1].Path[0]
	last.P1, first.P0 = last.P1.Add(out), first.P0.Add(out)
	for i, span := range pattern.Same(a.Pattern) {
		a.Lineage[i].New = span.New
	}
	return a, err
}

// joinNowhere adds a seam to a piece that is not there.
func joinNowhere(p *sdk.Pattern) (*sdk.Answer, error) {
	a, err := same(p)
	first := a.Pattern.Pieces[0]
	a.Pattern.Seams = append(a.Pattern.Seams, sdk.Seam{
		Name:    "to-nowhere",
		A:       sdk.Run{{Piece: first.Name, Edge: first.Edges[0].Name}},
		B:       sdk.Run{{Piece: "nowhere", Edge: "side"}},
		Meeting: sdk.Meeting{Kind: pattern.Plain},
	})
	return a, err
}

// tell refuses with the names of the environment, what standard input holds and
// the working folder's permissions.
func tell(*sdk.Pattern) (*sdk.Answer, error) {
	var names []string
	for _, v := range os.Environ() {
		name, _, _ := strings.Cut(v, "=")
		names = append(names, name)
	}
	slices.Sort(names)
	input, err := io.ReadAll(os.Stdin)
	if err != nil {
		return nil, err
	}
	folder, err := os.Stat(".")
	if err != nil {
		return nil, err
	}
	return nil, sdk.Refuse("environment "+strings.Join(names, " "),
		fmt.Sprintf("input %d bytes, folder %04o", len(input), folder.Mode().Perm()))
}
