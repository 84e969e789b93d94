package pattern

import "strings"

// MaxName is the longest name in bytes: what still fits a label on the paper
// and a file name everywhere.
const MaxName = 64

// ValidName reports whether s can name a pattern or a piece: lower-case
// letters, digits and hyphens, a letter or digit first and last, 1 to MaxName
// of them.
func ValidName(s string) bool {
	if s == "" || len(s) > MaxName || s[0] == '-' || s[len(s)-1] == '-' {
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

// ValidDotted reports whether s can name an edge, a seam or a mark: names
// joined by single dots, as in side.upper, at most MaxName bytes in all.
func ValidDotted(s string) bool {
	if len(s) > MaxName {
		return false
	}
	for part := range strings.SplitSeq(s, ".") {
		if !ValidName(part) {
			return false
		}
	}
	return true
}
