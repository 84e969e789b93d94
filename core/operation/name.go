package operation

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxName is the longest name of a plugin, operation or parameter in bytes: two
// of them and a dot still fit a line of a chain file and a column of a table.
const MaxName = 40

// MaxSentence is the longest purpose or meaning in bytes: three lines of help.
const MaxSentence = 300

// ValidName reports whether s can name a plugin, operation or parameter:
// lower-case letters, digits and single hyphens between them, a letter first,
// 1 to MaxName of them.
func ValidName(s string) bool {
	if s == "" || len(s) > MaxName || s[0] < 'a' || s[0] > 'z' || s[len(s)-1] == '-' || strings.Contains(s, "--") {
		return false
	}
	for i := range len(s) {
		c := s[i]
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}

// ValidSentence reports whether s reads as a sentence in help and reports: a
// capital or a digit first, a full stop last, on one line, at most MaxSentence
// bytes.
func ValidSentence(s string) bool {
	first, _ := utf8.DecodeRuneInString(s)
	return len(s) <= MaxSentence && strings.HasSuffix(s, ".") && utf8.ValidString(s) &&
		(unicode.IsUpper(first) || unicode.IsDigit(first)) && !strings.ContainsFunc(s, unicode.IsControl)
}
