package shelf

import (
	"bytes"
	"regexp"
)

// headSize in bytes is how much of a file is searched for the line that says
// what it is: room for a licence and a page of comments before it.
const headSize = 64 << 10

// saysWhat is the line by which our files begin, wherever it stands, in any of
// the ways that YAML lets a key of the outermost level be written.
var saysWhat = regexp.MustCompile(`(?m)^(?:\x{FEFF})?(?:\{\s*)?["']?bygone["']?[ \t]*:(?:[ \t]+["']?([a-z]*)|["']?$|\r$)`)

// Sniff says what a file is by the line that every file of ours has, without
// reading it as YAML. Ours is false of a file without that line; the kind is
// empty where the line names none of ours.
func Sniff(data []byte) (kind Kind, ours bool) {
	m := saysWhat.FindSubmatch(data[:min(len(data), headSize)])
	if m == nil {
		return "", false
	}
	switch kind := Kind(m[1]); kind {
	case Pattern, Chain, Wearer, Rules:
		return kind, true
	}
	return "", true
}

// blank reports whether nothing but white space is in a file.
func blank(data []byte) bool { return len(bytes.TrimSpace(data)) == 0 }
