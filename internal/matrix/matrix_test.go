package matrix

import (
	"flag"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"bygone.example/internal/bodies"
)

var (
	bodiesFile = flag.String("bodies", "", "try all bodies of this CSV `file` instead of those in testdata/bodies; thousands want a longer -timeout")
	every      = flag.Int("every", 0, "try every `n`th body, 1 for all; 0 for a small sample of our own")
)

// sampled is the step through the bodies of the ordinary sample: a few seconds
// of work, beside the extremes.
const sampled = 250

// people returns the bodies to try. The sample has the extremes of the women,
// who are nearest to what the draft is for, and some of everybody.
func people(t *testing.T) []bodies.Person {
	t.Helper()
	var women, men []bodies.Person
	var err error
	if *bodiesFile != "" {
		f, err := os.Open(*bodiesFile)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if women, err = bodies.Read(filepath.Base(*bodiesFile), f); err != nil {
			t.Fatal(err)
		}
	} else {
		if women, err = bodies.Women(); err != nil {
			t.Fatal(err)
		}
		if men, err = bodies.Men(); err != nil {
			t.Fatal(err)
		}
	}
	all := slices.Concat(women, men)
	if *every > 0 || *bodiesFile != "" {
		return bodies.Every(all, *every)
	}
	return append(bodies.Extremes(women), bodies.Every(all, sampled)...)
}

// Every operation at its defaults, and the house chain, on every body: no
// answer may be unsound or open a seam, and none may be refused to everybody.
func TestMatrix(t *testing.T) {
	homes, refused, err := Homes()
	if err != nil {
		t.Fatal(err)
	}
	for _, op := range Operations() {
		if _, ok := homes[op]; !ok {
			t.Errorf("%s refuses every preparation for the stock figure: %q", op, refused[op])
		}
	}
	who := people(t)
	cases, err := Run(who, homes)
	if err != nil {
		t.Fatal(err)
	}
	list := Tallies(cases)
	t.Logf("%d bodies, %d cases\n%s", len(who), len(cases), Table(list))
	for _, tally := range list {
		for _, line := range Reasons(tally.Refusals) {
			t.Logf("%s refused: %s", tally.Operation, line)
		}
		for _, line := range Reasons(tally.Told) {
			t.Logf("%s warned: %s", tally.Operation, line)
		}
		for _, c := range tally.Faults {
			t.Errorf("%v", c)
		}
		if tally.Done == 0 && tally.Failed == 0 {
			t.Errorf("%s was refused to all %d bodies", tally.Operation, tally.Refused)
		}
	}
	if len(list) < len(homes)+1 {
		t.Errorf("%d operations were tried, want %d and the house chain", len(list)-1, len(homes))
	}
}

// A waist raised above the point of the front's dart, as on a figure whose bust
// lies low under the arm, leaves no dart to let out: the chain goes on.
func TestHouseChainAboveTheDart(t *testing.T) {
	men, err := bodies.Men()
	if err != nil {
		t.Fatal(err)
	}
	men = slices.DeleteFunc(men, func(p bodies.Person) bool { return p.Row != 353 })
	if len(men) != 1 {
		t.Fatalf("%d men in row 353", len(men))
	}
	cases, err := Run(men, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		if c.Operation != HouseChain || c.Outcome != Done {
			t.Errorf("%v", c)
		}
	}
}
