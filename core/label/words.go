// Package label says what stands on the paper of a piece, in the language of
// the workroom, and where on the piece there is room for it.
//
// What stands there: Of. Where: Space.Rooms, then Rooms.Best. The package measures no letters
// and draws nothing; whoever draws gives the sizes of blocks of words and
// lends a test of which letters the font has.
package label

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// Word is one phrase of a language: its key in a language file.
type Word string

// The phrases. What stands in braces in English must stand in every other
// language too.
const (
	Cut      Word = "cut"       // how many to cut, no more said
	CutFold  Word = "cut-fold"  // a half piece against the fold of the cloth
	CutPair  Word = "cut-pair"  // two, left and right
	CutPairs Word = "cut-pairs" // four or more, half of them turned over
	InCloth  Word = "in-cloth"  // a cut instruction, and what it is cut from

	Size   Word = "size"
	Wearer Word = "wearer"
	Dated  Word = "dated" // a look and its date

	AllowanceOne    Word = "allowance-one"    // one width all round
	AllowanceRange  Word = "allowance-range"  // from the least width to the most
	AllowanceHem    Word = "allowance-hem"    // added to the two above
	AllowanceNone   Word = "allowance-none"   // the paper ends at the seam line
	AllowancePartly Word = "allowance-partly" // some edges have it, some have not
	LineKey         Word = "line-key"         // which line is which

	PieceOf Word = "piece-of"
	Page    Word = "page"
	Pages   Word = "pages"

	Grain     Word = "grain"
	FoldLine  Word = "fold"
	Gather    Word = "gather"
	Ease      Word = "ease"
	Cartridge Word = "cartridge"
	Knife     Word = "knife"
	Box       Word = "box"
	Inverted  Word = "inverted"
	Tuck      Word = "tuck"
	Times     Word = "times" // the same thing so many times over
	Along     Word = "along" // what is done, and along which edge
	Seam      Word = "seam"  // a seam's number in the sewing order
)

// english is the language that every other is measured by.
var english = &Language{
	Code: "en", Title: "English", Decimal: ".",
	words: map[Word]string{
		Cut:             "cut {count}",
		CutFold:         "cut {count} on the fold",
		CutPair:         "cut {count}, a mirrored pair",
		CutPairs:        "cut {count}, {pairs} mirrored pairs",
		InCloth:         "{cut}, in {cloth}",
		Size:            "size {size}",
		Wearer:          "for {wearer}",
		Dated:           "{look}, {date}",
		AllowanceOne:    "seam allowance included: {width}",
		AllowanceRange:  "seam allowance included: {least} to {most}",
		AllowanceHem:    "hem {width}",
		AllowanceNone:   "no seam allowance: add it when cutting",
		AllowancePartly: "allowance where a broken line runs outside",
		LineKey:         "sew on the full line, cut on the broken one",
		PieceOf:         "piece {n} of {m}",
		Page:            "page {pages}",
		Pages:           "pages {pages}",
		Grain:           "grain {length}",
		FoldLine:        "fold",
		Gather:          "gather {from} to {to}",
		Ease:            "ease {from} to {to}",
		Cartridge:       "{from} in {tubes} cartridge pleats to {to}",
		Knife:           "knife pleat {width}",
		Box:             "box pleat {width}",
		Inverted:        "inverted pleat {width}",
		Tuck:            "tuck {width}",
		Times:           "{n} × {what}",
		Along:           "{what}, along the {edge}",
		Seam:            "seam {n}",
	},
}

// Language is the words of labels in one language. The nil Language is
// English.
type Language struct {
	Code    string // as in "fr", chosen by it
	Title   string // what its speakers call it
	Decimal string // between whole centimetres and millimetres
	words   map[Word]string
	names   map[string]string
}

// English returns the language that the house writes in.
func English() *Language { return english.clone() }

func (l *Language) or() *Language {
	if l == nil {
		return english
	}
	return l
}

func (l *Language) clone() *Language {
	c := *l
	c.words, c.names = maps.Clone(l.words), maps.Clone(l.names)
	return &c
}

// Words returns every phrase that a language has, in order of their keys.
func Words() []Word { return slices.Sorted(maps.Keys(english.words)) }

// With returns the language with other words for the phrases and names given;
// the rest stay as they are. An unknown phrase, one that leaves out what the
// English one fills in, or one that asks for something else, is refused.
func (l *Language) With(words map[Word]string, names map[string]string) (*Language, error) {
	c := l.or().clone()
	for _, w := range slices.Sorted(maps.Keys(words)) {
		if err := Check(w, words[w]); err != nil {
			return nil, err
		}
		c.words[w] = words[w]
	}
	if c.names == nil {
		c.names = map[string]string{}
	}
	maps.Copy(c.names, names)
	return c, nil
}

// Text returns a phrase as it stands in the language, braces and all.
func (l *Language) Text(w Word) string { return l.or().words[w] }

// Names returns the keys of the names that the language has words of its own
// for, sorted.
func (l *Language) Names() []string { return slices.Sorted(maps.Keys(l.or().names)) }

var blank = regexp.MustCompile(`\{[^{}]*\}`)

// blanks returns what a phrase fills in, sorted, each once.
func blanks(text string) []string {
	found := blank.FindAllString(text, -1)
	slices.Sort(found)
	return slices.Compact(found)
}

// Blanks returns what a phrase fills in, braces and all, sorted.
func Blanks(w Word) []string { return blanks(english.words[w]) }

// Check reports what is wrong with a phrase of a language.
func Check(w Word, text string) error {
	want, known := english.words[w]
	if !known {
		return fmt.Errorf("there is no phrase called %q", string(w))
	}
	if strings.TrimSpace(text) == "" {
		return fmt.Errorf("the phrase %s is empty", w)
	}
	has := blanks(text)
	for _, b := range blanks(want) {
		if !slices.Contains(has, b) {
			return fmt.Errorf("the phrase %s leaves out %s", w, b)
		}
	}
	for _, b := range has {
		if !slices.Contains(blanks(want), b) {
			return fmt.Errorf("the phrase %s holds %s, which nothing fills in", w, b)
		}
	}
	if strings.ContainsAny(blank.ReplaceAllString(text, ""), "{}") {
		return fmt.Errorf("the phrase %s has a brace without its other half", w)
	}
	return nil
}

// Say returns a phrase with its blanks filled in: pairs of a blank's name and
// what goes there.
func (l *Language) Say(w Word, pairs ...string) string {
	with := make([]string, len(pairs))
	for i := 0; i+1 < len(pairs); i += 2 {
		with[i], with[i+1] = "{"+pairs[i]+"}", pairs[i+1]
	}
	return strings.NewReplacer(with...).Replace(l.or().words[w])
}

// Length returns a length for people: centimetres to the millimetre.
func (l *Language) Length(mm float64) string {
	return strings.Replace(fmt.Sprintf("%.1f cm", mm/10), ".", l.or().Decimal, 1)
}

// Name returns what the language calls an edge, a landmark or a piece by its
// name in the file: the whole name if the language has it, else its dotted
// parts one by one, else the name itself in plain letters.
func (l *Language) Name(name string) string {
	names := l.or().names
	if s, ok := names[name]; ok {
		return s
	}
	parts := strings.Split(name, ".")
	for i, p := range parts {
		if s, ok := names[p]; ok {
			parts[i] = s
		} else {
			parts[i] = plain(p)
		}
	}
	return strings.Join(parts, " ")
}

// plain turns a name of the file into words.
func plain(name string) string { return strings.NewReplacer("-", " ", "_", " ").Replace(name) }
