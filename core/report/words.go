package report

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bygone.example/core/chain"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

func titleOf(p *pattern.Pattern) string {
	if p.Title != "" {
		return p.Title
	}
	return upperFirst(plain(p.Name))
}

func chainTitle(c chain.Chain) string {
	if c.Title != "" {
		return c.Title
	}
	return upperFirst(plain(c.Name))
}

// destination is the chain's title with its years.
func destination(c chain.Chain) string {
	to := chainTitle(c)
	if c.Years != "" && !strings.Contains(to, c.Years) {
		to += ", " + c.Years
	}
	return to
}

// sentence ends words with a full stop if they have no end of their own.
func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

func stepTitle(s chain.Step) string {
	name := s.Name
	if name == "" {
		name = s.Operation
	}
	return upperFirst(plain(name))
}

func pieceTitle(p *pattern.Pattern, name string) string {
	if p != nil {
		if piece := p.Piece(name); piece != nil && piece.Title != "" {
			return piece.Title
		}
	}
	return upperFirst(plain(name))
}

// plain turns a name of the file into words.
func plain(name string) string {
	return strings.NewReplacer("-", " ", ".", " ", "_", " ").Replace(name)
}

// sideText turns "front/side + -back/side" into words with room to break.
func sideText(label string) string {
	parts := strings.Split(label, " + ")
	for i, part := range parts {
		part = strings.TrimPrefix(part, "-")
		piece, edge, ok := strings.Cut(part, "/")
		if ok {
			part = plain(piece) + ": " + plain(edge)
		}
		parts[i] = part
	}
	return strings.Join(parts, " + ")
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// lowerFirst lowers a capital that only began a sentence: not one in a word of
// capitals.
func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	next, _ := utf8.DecodeRuneInString(s[n:])
	if n == 0 || unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// cm prints mm as centimetres, to the millimetre.
func cm(mm float64) string { return noMinusZero(strconv.FormatFloat(mm/10, 'f', 1, 64)) }

func tenth(v float64) string { return noMinusZero(strconv.FormatFloat(v, 'f', 1, 64)) }

// bare prints a number without unit: whole if it is, else to the hundredth.
func bare(v float64) string {
	if v == math.Trunc(v) && math.Abs(v) < 1e9 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return noMinusZero(strconv.FormatFloat(v, 'f', 2, 64))
}

func noMinusZero(s string) string {
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return strings.Replace(s, "-", "−", 1)
}

// signed prints a difference with its sign, and nought without.
func signed(format func(float64) string, v float64) string {
	s := format(v)
	if v > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

func sortedMeasures(r *chain.Result) []wearer.Measure {
	return slices.Sorted(maps.Keys(r.Wearer.Measures))
}
