package label

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"bygone.example/core/pattern"
	"golang.org/x/text/unicode/norm"
)

// About is what is known of a piece's paper beyond the piece itself. What is
// left empty does not stand on it.
type About struct {
	Language *Language

	Cloth      string // what the piece is cut from
	Size       string // of the pattern, as "92"
	Wearer     string // whom it is for
	Look, Date string // the period look and when it was worn
	Number, Of int    // piece n of m; 0 when not counted
	Pages      []string

	// Has reports whether the font has a letter; nil has all.
	Has func(rune) bool
}

// Rank says how much a line of a label matters.
type Rank int

// A label without its Name and Cut lines is none. The Facts are wanted beside
// them; a Reminder is told elsewhere on the sheet too, and the first to go
// where room is short.
const (
	Name Rank = iota
	Instruction
	Fact
	Reminder
)

// Line is one line of a label.
type Line struct {
	Text string
	Rank Rank
}

// The heights of letters on true-size paper, in mm of a capital.
//
// Words are read with ease when a capital subtends 20 to 22 minutes of arc, and
// still read at 16 (the range that ISO 9241-303 asks of screens, from memory).
// A pattern lies on a table at arm's length, 0.7 m: 4.1 mm, and no less than
// 3.3 mm. Its name is looked for across a cutting table 2 m long: 9.3 mm at 16
// minutes; on a small piece, picked up to be read, no less than the rest.
const (
	TextCap     = 4.1
	LeastCap    = 3.3
	NameCap     = 9.3
	LeastShrink = LeastCap / TextCap
)

// Of returns what stands on the paper of a piece, the name first, and warnings
// of letters that the font lacks.
func Of(p *pattern.Piece, about About) (lines []Line, warnings []string) {
	l := about.Language
	add := func(r Rank, text string) {
		if text == "" {
			return
		}
		fitted, lost := Printable(text, about.Has)
		if w := missing(text, lost); w != "" {
			warnings = append(warnings, w)
		}
		if fitted = short(fitted); fitted != "" {
			lines = append(lines, Line{fitted, r})
		}
	}
	title := Title(p, l)
	if fitted, lost := Printable(title, about.Has); len(lost) > 0 && !legible(fitted) {
		// Of a title in another script nothing would be left to read: its name in
		// the file is plain letters.
		warnings = append(warnings, missing(title, lost)+"; its name in the file is printed instead")
		title = capital(l.Name(p.Name))
	}
	add(Name, title)
	cut := CutInstruction(p, l)
	if about.Cloth != "" {
		cut = l.Say(InCloth, "cut", cut, "cloth", about.Cloth)
	}
	add(Instruction, cut)
	var who []string
	if about.Size != "" {
		who = append(who, l.Say(Size, "size", about.Size))
	}
	if about.Wearer != "" {
		who = append(who, l.Say(Wearer, "wearer", about.Wearer))
	}
	add(Fact, strings.Join(who, " · "))
	switch {
	case about.Look != "" && about.Date != "":
		add(Fact, l.Say(Dated, "look", about.Look, "date", about.Date))
	default:
		add(Fact, about.Look+about.Date)
	}
	var where []string
	if about.Number > 0 && about.Of > 0 {
		where = append(where, l.Say(PieceOf, "n", strconv.Itoa(about.Number), "m", strconv.Itoa(about.Of)))
	}
	switch len(about.Pages) {
	case 0:
	case 1:
		where = append(where, l.Say(Page, "pages", about.Pages[0]))
	default:
		where = append(where, l.Say(Pages, "pages", strings.Join(about.Pages, " ")))
	}
	add(Fact, strings.Join(where, " · "))
	allowance, any := Allowance(p, l)
	add(Fact, allowance)
	if any {
		add(Reminder, l.Say(LineKey))
	}
	return lines, warnings
}

// Title returns what the paper calls a piece: its title; in the language's own
// word where the title says no more than its name in the file does, or where
// there is none.
func Title(p *pattern.Piece, l *Language) string {
	if p.Title == "" || strings.EqualFold(p.Title, plain(p.Name)) && l.Name(p.Name) != plain(p.Name) {
		return capital(l.Name(p.Name))
	}
	return p.Title
}

// longest is how many letters a line may have before it is cut short: more than
// is read at a glance.
const longest = 80

func short(s string) string {
	if r := []rune(s); len(r) > longest {
		return strings.TrimRight(string(r[:longest-1]), " ") + "…"
	}
	return s
}

func capital(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

// CutInstruction tells how many of a piece to cut, in trade words.
func CutInstruction(p *pattern.Piece, l *Language) string {
	n := max(p.Cut.Count, 1)
	count := strconv.Itoa(n)
	switch {
	case p.OnFold():
		return l.Say(CutFold, "count", count)
	case p.Cut.Mirrored && n == 2:
		return l.Say(CutPair, "count", count)
	case p.Cut.Mirrored && n%2 == 0:
		return l.Say(CutPairs, "count", count, "pairs", strconv.Itoa(n/2))
	}
	return l.Say(Cut, "count", count)
}

// sameWidth in mm is when two allowances are one to a maker.
const sameWidth = 0.5

// Allowance tells whether a piece's paper holds allowance and how wide, and
// whether it holds any. Hems are told apart; edges on the fold, and those that
// a binding or a selvedge ends, need none and do not count as lacking it.
func Allowance(p *pattern.Piece, l *Language) (text string, any bool) {
	var seams, hems []float64
	lacking := false
	for _, e := range p.Edges {
		switch {
		case e.Allowance > 0 && e.Finish == pattern.Hemmed:
			hems = append(hems, e.Allowance)
		case e.Allowance > 0:
			seams = append(seams, e.Allowance)
		case e.Finish == pattern.Sewn, e.Finish == pattern.Hemmed, e.Finish == pattern.Faced:
			lacking = true
		}
	}
	if len(seams)+len(hems) == 0 {
		return l.Say(AllowanceNone), false
	}
	if lacking {
		return l.Say(AllowancePartly), true
	}
	var parts []string
	if len(seams) > 0 {
		least, most := slices.Min(seams), slices.Max(seams)
		if most-least < sameWidth {
			parts = append(parts, l.Say(AllowanceOne, "width", l.Length(most)))
		} else {
			parts = append(parts, l.Say(AllowanceRange, "least", l.Length(least), "most", l.Length(most)))
		}
	}
	if len(hems) > 0 {
		parts = append(parts, l.Say(AllowanceHem, "width", l.Length(slices.Max(hems))))
	}
	return strings.Join(parts, ", "), true
}

// GrainText tells what stands along a grainline; empty where there is none.
func GrainText(p *pattern.Piece, l *Language) string {
	if !p.Grain.Given() {
		return ""
	}
	return l.Say(Grain, "length", l.Length(p.Grain.From.Dist(p.Grain.To)))
}

// GatherText tells what becomes of a gathered or eased stretch. net is what it
// measures with the folds inside it laid, mm.
func GatherText(g pattern.Gather, net float64, l *Language) string {
	from, to := l.Length(net), l.Length(g.Length)
	switch {
	case g.Kind == pattern.Cartridge:
		return l.Say(Cartridge, "from", from, "tubes", strconv.Itoa(g.Tubes(net)), "to", to)
	case g.Kind == pattern.Ease:
		return l.Say(Ease, "from", from, "to", to)
	}
	return l.Say(Gather, "from", from, "to", to)
}

// PleatText tells a pleat's kind and width.
func PleatText(g pattern.Pleat, l *Language) string {
	w := Knife
	switch g.Kind {
	case pattern.Box:
		w = Box
	case pattern.Inverted:
		w = Inverted
	case pattern.Tuck:
		w = Tuck
	}
	return l.Say(w, "width", l.Length(math.Abs(g.To-g.From)))
}

// Printable returns the text in letters that the font has, and those of its
// letters that are no longer in it: a letter with an accent too many keeps as
// many of them as there is a letter for; one of another script is left out.
func Printable(text string, has func(rune) bool) (fitted string, lost []rune) {
	var b strings.Builder
	if has == nil {
		return text, nil
	}
	for _, r := range norm.NFC.String(text) {
		switch {
		case has(r) && r >= ' ':
			b.WriteRune(r)
		case r == '\u2009' || r == '\u202f' || r == '\u00a0' || r < ' ':
			b.WriteByte(' ')
		default:
			lost = append(lost, r)
			b.WriteString(nearest(r, has))
		}
	}
	return strings.Join(strings.Fields(b.String()), " "), lost
}

// nearest returns a letter with some of its accents, or none of them.
func nearest(r rune, has func(rune) bool) string {
	parts := []rune(norm.NFD.String(string(r)))
	for n := len(parts) - 1; n > 0; n-- {
		if c := []rune(norm.NFC.String(string(parts[:n]))); len(c) == 1 && has(c[0]) {
			return string(c)
		}
	}
	return ""
}

// legible reports whether any letter or figure is left to read.
func legible(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool { return r > '/' && r != '·' })
}

func missing(text string, lost []rune) string {
	if len(lost) == 0 {
		return ""
	}
	slices.Sort(lost)
	return fmt.Sprintf("%q has letters that the fonts for labels lack: %s", text, string(slices.Compact(lost)))
}
