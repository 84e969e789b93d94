package yamlfile

import (
	"fmt"
	"strings"
	"unicode"
)

// The forms in which text stands in a file.
const (
	inBlock = iota // alone after a key
	inFlow         // between brackets or braces
)

// foldWidth is the column at which long text is wrapped, and foldFrom the
// length from which it is.
const (
	foldWidth = 78
	foldFrom  = 60
)

// writer builds a file line by line.
type writer struct{ strings.Builder }

func (w *writer) line(indent int, format string, args ...any) {
	w.WriteString(strings.Repeat(" ", indent))
	fmt.Fprintf(w, format, args...)
	w.WriteByte('\n')
}

// text writes a key with text of any length; nothing when it is empty.
func (w *writer) text(indent int, key, s string) {
	switch {
	case s == "":
	case (len(s) > foldFrom || strings.Contains(s, "\n")) && foldable(s):
		w.line(indent, "%s: >-", key)
		w.fold(indent+2, s)
	default:
		w.line(indent, "%s: %s", key, scalar(s, inBlock))
	}
}

// foldable reports whether folding gives the text back as it was: words with
// single spaces between them, in paragraphs.
func foldable(s string) bool {
	if strings.HasPrefix(s, "\n") || strings.HasSuffix(s, "\n") {
		return false
	}
	for paragraph := range strings.SplitSeq(s, "\n") {
		if strings.HasPrefix(paragraph, " ") || strings.HasSuffix(paragraph, " ") || strings.Contains(paragraph, "  ") {
			return false
		}
	}
	return !strings.ContainsFunc(s, func(c rune) bool { return c != '\n' && !unicode.IsPrint(c) || c == unicode.ReplacementChar })
}

func (w *writer) fold(indent int, s string) {
	for i, paragraph := range strings.Split(s, "\n") {
		if i > 0 {
			w.WriteByte('\n') // one empty line for each line end in the text
		}
		at := 0
		for j, word := range strings.Split(paragraph, " ") {
			n := len([]rune(word))
			switch {
			case j == 0:
				if word != "" {
					w.WriteString(strings.Repeat(" ", indent))
				}
				at = indent
			case at+1+n > foldWidth:
				w.WriteString("\n" + strings.Repeat(" ", indent))
				at = indent
			default:
				w.WriteByte(' ')
				at++
			}
			w.WriteString(word)
			at += n
		}
		if paragraph != "" {
			w.WriteByte('\n')
		}
	}
}

// scalar writes one line of text: plain where YAML takes it for text and
// nothing else, else in double quotes.
func scalar(s string, where int) string {
	if plain(s, where) && unicode.IsLetter([]rune(s)[0]) && !reserved[strings.ToLower(s)] {
		return s
	}
	return quoted(s)
}

// setting writes a value as chain files have it, where numbers with units and
// yes and no stand plain.
func setting(s string, where int) string {
	c := strings.TrimLeft(s, "-+.")
	if c != "" && (c[0] >= '0' && c[0] <= '9') && plain(s, where) || reserved[s] && s != "null" && s != "~" {
		return s
	}
	return scalar(s, where)
}

// reserved are the words that some reader of YAML takes for something else.
var reserved = map[string]bool{
	"null": true, "true": true, "false": true, "yes": true, "no": true, "on": true, "off": true, "y": true, "n": true,
	"nan": true, "inf": true,
}

// plain reports whether text can stand without quotes as far as its
// punctuation goes.
func plain(s string, where int) bool {
	if s == "" || strings.TrimSpace(s) != s || strings.Contains(s, ": ") || strings.HasSuffix(s, ":") || strings.Contains(s, " #") {
		return false
	}
	if where == inFlow && strings.ContainsAny(s, ",[]{}:") {
		return false
	}
	return !strings.ContainsFunc(s, func(c rune) bool { return !unicode.IsPrint(c) || c == unicode.ReplacementChar })
}

func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range s {
		switch {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c == '\n':
			b.WriteString(`\n`)
		case c == '\t':
			b.WriteString(`\t`)
		case unicode.IsPrint(c):
			b.WriteRune(c)
		case c < 0x100:
			fmt.Fprintf(&b, `\x%02X`, c)
		case c < 0x10000:
			fmt.Fprintf(&b, `\u%04X`, c)
		default:
			fmt.Fprintf(&b, `\U%08X`, c)
		}
	}
	b.WriteByte('"')
	return b.String()
}
