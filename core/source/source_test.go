package source

import (
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("abcdefghi ", 30)
	tests := []struct {
		name, text string
		line, col  int
		want       string
	}{
		{"plain", "one\nedge: neckine\n", 2, 7, "    2 | edge: neckine\n      |       ^"},
		{"end of line", "a: [1\n", 1, 6, "    1 | a: [1\n      |      ^"},
		{"past the end", "ab", 1, 99, "    1 | ab\n      |   ^"},
		{"tab", "\ta\tb", 1, 4, "    1 |     a   b\n      |         ^"},
		{"wide", "日本 x", 1, 4, "    1 | 日本 x\n      |      ^"},
		{"combining", "e\u0301x", 1, 3, "    1 | e\u0301x\n      |  ^"},
		{"controls", "a\x1b[31m\x7f\u202eb", 1, 8, "    1 | a␛[31m␡�b\n      |        ^"},
		{"carriage return", "a\r\nb\rc", 3, 1, "    3 | c\n      | ^"},
		{"cut after", long, 1, 5, "    1 | abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi …\n      |     ^"},
		{"cut both", long, 1, 155, "    1 | …i abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi abcdefghi abcdefgh…\n      |                                                ^"},
		{"no such line", "a", 7, 1, ""},
	}
	for _, tt := range tests {
		if got := NewFile("f", []byte(tt.text)).Excerpt(tt.line, tt.col); got != tt.want {
			t.Errorf("%s:\n%s\nwant\n%s", tt.name, got, tt.want)
		}
	}
}

func TestUTF16(t *testing.T) {
	f := NewFile("f", []byte("𝒳é: x"))
	for col, want := range map[int]int{1: 1, 2: 3, 3: 4, 5: 6, 99: 7} {
		if got := f.UTF16(1, col); got != want {
			t.Errorf("UTF16(1, %d) = %d, want %d", col, got, want)
		}
	}
}

func TestError(t *testing.T) {
	f := NewFile("house.yaml", []byte("edge: neckine\n"))
	var ps Problems
	if ps.Err() != nil {
		t.Error("no problems make an error")
	}
	p := f.Problem(1, 7, `there is no edge "neckine"`, `did you mean "neckline"?`)
	ps.Add(f.Problem(2, 1, "later", ""), p, p)
	want := "house.yaml:1:7: there is no edge \"neckine\"\n    1 | edge: neckine\n      |       ^\n      = did you mean \"neckline\"?\n\n" +
		"house.yaml:2:1: later\n    2 |\n      | ^"
	err := ps.Err()
	if err.Error() != want {
		t.Errorf("got\n%s\nwant\n%s", err, want)
	}
	var list Problems
	if !errors.As(err, &list) || len(list) != 2 {
		t.Errorf("errors.As gave %d problems, want 2", len(list))
	}
	for i := range 30 {
		ps.Add(Problem{File: "x", Line: i + 1, Text: "wrong"})
	}
	if s := ps.Err().Error(); !strings.HasSuffix(s, "\n\nand 12 more") {
		t.Errorf("the list ends %q", s[len(s)-40:])
	}
}

// Place and Offset undo each other, and an excerpt of any text at any place is
// two short lines that hold nothing unprintable.
func TestPlaceOffsetLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune{'a', '\n', '\r', '\t', 'é', '日', 0x1F9F5, 0x1b, 0x301, 0x202e, ' '})).Draw(t, "text")
		f := NewFile("f", []byte(text))
		offset := rapid.IntRange(0, len(text)).Draw(t, "offset")
		line, col := f.Place(offset)
		whole := offset == len(text) || utf8.RuneStart(text[offset]) && text[offset] != '\r' && text[offset] != '\n'
		if got := f.Offset(line, col); whole && got != offset {
			t.Fatalf("%q: offset %d is %d:%d is offset %d", text, offset, line, col, got)
		}
		s := f.Excerpt(line, col)
		lines := strings.Split(s, "\n")
		if len(lines) != 2 {
			t.Fatalf("%q at %d:%d gave %q", text, line, col, s)
		}
		for _, r := range strings.ReplaceAll(s, "\n", "") {
			if !unicode.IsPrint(r) {
				t.Fatalf("%q at %d:%d shows %q", text, line, col, r)
			}
		}
	})
}
