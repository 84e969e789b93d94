package report

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
)

// summaryWidth is how many columns the summary keeps to.
const summaryWidth = 80

// paint wraps words in terminal colour; never is colour alone the message.
type paint bool

func (p paint) as(code, s string) string {
	if !p || s == "" {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

// Summary writes what was done in a screenful: the job, each step with its
// main change, and the verdict on the seams. colour is for terminals only.
func Summary(w io.Writer, r *chain.Result, colour bool) error {
	if r.Before == nil {
		return fmt.Errorf("writing the summary: there is no pattern to report on")
	}
	var b strings.Builder
	p := paint(colour)
	fmt.Fprintf(&b, "\n  %s\n", p.as("1", clip(titleOf(r.Before)+"  →  "+destination(r.Chain), summaryWidth-2)))
	if r.Wearer.Title != "" {
		fmt.Fprintf(&b, "  %s\n", p.as("2", clip("for "+lowerFirst(r.Wearer.Title), summaryWidth-2)))
	}
	fmt.Fprintln(&b)
	writeSteps(&b, r, p)
	writeVerdict(&b, r, p)
	_, err := io.WriteString(w, b.String())
	return err
}

// writeSteps sets the steps in four columns: number and title, what changed,
// from and to, and by how much.
func writeSteps(b *strings.Builder, r *chain.Result, p paint) {
	type row struct{ number, title, what, figures, diff, mark string }
	var rows []row
	titles, whats, figures := 0, 0, 0
	for i, done := range r.Steps {
		k := row{number: fmt.Sprintf("%d", i+1), title: stepTitle(done.Step)}
		if c, ok := mainChange(done.Changes); ok {
			n := newChange(c, done.Pattern)
			k.what = lowerFirst(told(c, done.Pattern))
			k.figures = n.Before + " → " + n.After
			if n.Unit != "" {
				k.figures += " " + n.Unit
			}
			k.diff = n.Difference
		}
		for _, f := range done.Findings {
			if f.Since == done.Step.Name && f.Severity == finding.Fault {
				k.mark = "✗"
			}
		}
		rows = append(rows, k)
		titles = max(titles, width(k.title))
		whats = max(whats, width(k.what))
		figures = max(figures, width(k.figures))
	}
	titles = min(titles, 24)
	whats = min(whats, max(12, summaryWidth-titles-figures-18)) // 18: mark, number, difference and the gaps
	for _, k := range rows {
		mark := " "
		if k.mark != "" {
			mark = p.as("31", k.mark)
		}
		line := fmt.Sprintf("%s%s  %s  %s  %s  %s", mark, p.as("2", left(k.number, 3)), pad(clip(k.title, titles), titles),
			p.as("2", pad(clip(k.what, whats), whats)), left(k.figures, figures), left(k.diff, 6))
		fmt.Fprintln(b, strings.TrimRight(line, " "))
	}
	if len(rows) > 0 {
		fmt.Fprintln(b)
	}
}

func writeVerdict(b *strings.Builder, r *chain.Result, p paint) {
	walks := pairing.Walk(r.After())
	sound, text := verdict(walks)
	mark := p.as("32", "✓")
	if !sound {
		mark = p.as("31", "✗")
	}
	fmt.Fprintf(b, "  %s %s walked: %s\n", mark, count(len(walks), "seam", "seams"), p.as("1", text))
	for _, w := range walks {
		if !w.OK {
			for _, l := range wrap(plain(w.Seam)+": "+w.Text, summaryWidth-6) {
				fmt.Fprintf(b, "      %s\n", l)
			}
		}
	}
	brought := 0
	if n := len(r.Steps); n > 0 {
		for _, f := range r.Steps[n-1].Findings {
			if f.Since != "" && f.Severity != finding.Note {
				brought++
			}
		}
	}
	if n := len(r.Arrival); n > 0 {
		fmt.Fprintf(b, "    %s\n", p.as("2", "the pattern arrived with "+count(n, "finding", "findings")))
	}
	if brought > 0 {
		fmt.Fprintf(b, "    the steps brought in %s; the report says where\n", count(brought, "finding", "findings"))
	}
	cautions := 0
	for _, s := range r.Steps {
		cautions += len(s.Cautions)
	}
	if cautions > 0 {
		fmt.Fprintf(b, "  ! %s to read before you cut\n", count(cautions, "caution", "cautions"))
	}
}

// mainChange is the first change that is one, else the first.
func mainChange(list []operation.Change) (operation.Change, bool) {
	for _, c := range list {
		if math.Abs(c.After-c.Before) > 1e-6 {
			return c, true
		}
	}
	if len(list) > 0 {
		return list[0], true
	}
	return operation.Change{}, false
}

func width(s string) int { return utf8.RuneCountInString(s) }

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-width(s))) }

func left(s string, n int) string { return strings.Repeat(" ", max(0, n-width(s))) + s }

// clip shortens words to n runes, the last of them an ellipsis.
func clip(s string, n int) string {
	if width(s) <= n {
		return s
	}
	return strings.TrimRight(string([]rune(s)[:max(0, n-1)]), " ") + "…"
}

// wrap breaks words into lines of at most n runes; a longer word is clipped.
func wrap(s string, n int) []string {
	var lines []string
	for _, word := range strings.Fields(s) {
		word = clip(word, n)
		if k := len(lines) - 1; k >= 0 && width(lines[k])+1+width(word) <= n {
			lines[k] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}
