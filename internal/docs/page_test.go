package docs

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bygone.example/core/host"
	"bygone.example/core/wire"
)

// root is the project's folder, seen from this package's tests.
const root = "../.."

// block is one fenced block of the page. A comment of one line before it says
// what it is:
//
//	<!-- write FILE -->             the reader writes FILE; so does the test
//	<!-- write FILE, as SOURCE -->  the same, and SOURCE of the project is equal
//	<!-- in SOURCE -->              the block stands in SOURCE, line for line
type block struct {
	line             int // of the fence, from 1
	language, text   string
	write, equal, in string
}

var (
	writes = regexp.MustCompile(`^<!-- write (\S+?)(?:, as (\S+))? -->$`)
	stands = regexp.MustCompile(`^<!-- in (\S+) -->$`)
)

// blocks returns the fenced blocks of a page.
func blocks(page string) ([]block, error) {
	var list []block
	lines := strings.Split(page, "\n")
	for i := 0; i < len(lines); i++ {
		language, opens := strings.CutPrefix(lines[i], "```")
		if !opens {
			continue
		}
		b := block{line: i + 1, language: language}
		if i > 0 {
			if m := writes.FindStringSubmatch(lines[i-1]); m != nil {
				b.write, b.equal = m[1], m[2]
			}
			if m := stands.FindStringSubmatch(lines[i-1]); m != nil {
				b.in = m[1]
			}
		}
		for i++; i < len(lines) && lines[i] != "```"; i++ {
			b.text += lines[i] + "\n"
		}
		if i == len(lines) {
			return nil, fmt.Errorf("line %d: the block is not closed", b.line)
		}
		list = append(list, b)
	}
	return list, nil
}

// The pages that are tried.
const (
	forDevelopers = "DEVELOPERS.md"
	forShelves    = "docs/shared-repository.md"
)

func page(t *testing.T) (string, []block) { return pageAt(t, forDevelopers) }

func pageAt(t *testing.T, path string) (string, []block) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, path))
	if err != nil {
		t.Fatal(err)
	}
	list, err := blocks(string(data))
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 10 {
		t.Fatalf("found %d blocks: the page is not being tried", len(list))
	}
	return string(data), list
}

// Go on the page is the project's own, or is written and built by
// TestCommands.
func TestGoIsTheFiles(t *testing.T) {
	_, list := page(t)
	for _, b := range list {
		if b.language == "go" && b.write == "" && b.in == "" {
			t.Errorf("line %d: nothing says which file this is of", b.line)
		}
		for _, source := range []string{b.equal, b.in} {
			if source == "" {
				continue
			}
			data, err := os.ReadFile(filepath.Join(root, source))
			if err != nil {
				t.Error(err)
				continue
			}
			if b.in != "" && !strings.Contains("\n"+string(data), "\n"+b.text) {
				t.Errorf("line %d: does not stand like this in %s", b.line, source)
			}
			if b.equal != "" && string(data) != b.text {
				t.Errorf("line %d: is not %s", b.line, source)
			}
		}
	}
}

// The numbers are the code's.
func TestLimits(t *testing.T) {
	text, _ := page(t)
	for _, row := range []string{
		fmt.Sprintf("| from start to its description; one call | %g s, or what `--patience` says |", host.DefaultCallTimeout.Seconds()),
		fmt.Sprintf("| one message | %d MiB, %d messages and texts inside |", wire.MaxMessage>>20, wire.MaxParts),
		fmt.Sprintf("| pieces; seams | %d; %d |", wire.MaxPieces, wire.MaxSeams),
		fmt.Sprintf("| edges of a piece; segments of an edge; segments in all | %d; %d; %d |", wire.MaxEdges, wire.MaxSegments, wire.MaxTotalSegments),
		fmt.Sprintf("| a coordinate or length | %d mm |", int(wire.MaxCoordinate)),
		fmt.Sprintf("| operations; parameters of one; choices of one | %d; %d; %d |", wire.MaxOperations, wire.MaxParameters, wire.MaxChoices),
		fmt.Sprintf("| other patterns that one call is sent | %d |", wire.MaxOthers),
		fmt.Sprintf("| changes; cautions | %d; %d |", wire.MaxChanges, wire.MaxCautions),
		fmt.Sprintf("| a purpose or meaning; a caution or refusal | %d; %d bytes |", wire.MaxSentence, wire.MaxParagraph),
		fmt.Sprintf("The contract is version %d:", wire.ProtocolVersion),
		fmt.Sprintf("`%s` (a fixed text", wire.CookieKey),
		fmt.Sprintf("`PLUGIN_PROTOCOL_VERSIONS` (`%d`)", wire.ProtocolVersion),
		fmt.Sprintf("the server's receive limit to %d MiB", wire.MaxMessage>>20),
		fmt.Sprintf("1|%d|unix|", wire.ProtocolVersion),
	} {
		if !strings.Contains(text, row) {
			t.Errorf("the page does not say: %s", row)
		}
	}
	// The program's own default is in a struct's tag, which no help shows.
	flags, err := os.ReadFile(filepath.Join(root, "cmd", "bygone", "plugin.go"))
	if err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`Patience .*default:"` + host.DefaultCallTimeout.String() + `"`).Match(flags) {
		t.Errorf("--patience is not %v by default, as the page says", host.DefaultCallTimeout)
	}
	library, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	version := regexp.MustCompile(`hashicorp/go-plugin v(\d+\.\d+)`).FindSubmatch(library)
	if version == nil || !strings.Contains(text, "hashicorp/go-plugin "+string(version[1])+" ") {
		t.Errorf("the page does not name go-plugin %s", version)
	}
}

var (
	quoted   = regexp.MustCompile("`((?:cmd|core|examples|internal|plugins|proto|sdk|testdata)(?:/[\\w./-]*)?)`")
	targets  = regexp.MustCompile("`make (\\w+)`")
	inPage   = regexp.MustCompile(`\]\(#([\w-]+)\)`)
	headings = regexp.MustCompile(`(?m)^#+ (.+)$`)
)

// What the pages point at is there.
func TestPointers(t *testing.T) {
	for _, path := range []string{forDevelopers, forShelves} {
		t.Run(path, func(t *testing.T) { pointers(t, path) })
	}
}

func pointers(t *testing.T, path string) {
	text, _ := pageAt(t, path)
	for _, m := range quoted.FindAllStringSubmatch(text, -1) {
		if _, err := os.Stat(filepath.Join(root, m[1])); err != nil {
			t.Errorf("the page names %s: %v", m[1], err)
		}
	}
	makefile, err := os.ReadFile(filepath.Join(root, "Makefile"))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range targets.FindAllStringSubmatch(text, -1) {
		if !strings.Contains(string(makefile), "\n"+m[1]+":") {
			t.Errorf("the page names make %s, which there is not", m[1])
		}
	}
	anchors := map[string]bool{}
	for _, m := range headings.FindAllStringSubmatch(text, -1) {
		anchors[strings.ReplaceAll(strings.ToLower(m[1]), " ", "-")] = true
	}
	for _, m := range inPage.FindAllStringSubmatch(text, -1) {
		if !anchors[m[1]] {
			t.Errorf("the page has no heading #%s", m[1])
		}
	}
}
