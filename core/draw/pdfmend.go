package draw

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
)

// edit replaces the bytes from from to to of a file.
type edit struct {
	from, to int
	with     []byte
}

// mendPDF does to a written PDF what its writer has no words for: it takes out
// the dates, so that equal documents give equal files, gives each page its boxes
// and the size of its unit, and mends the table of offsets.
func mendPDF(file []byte, pages []Page) ([]byte, error) {
	offsets, xref, err := objects(file)
	if err != nil {
		return nil, err
	}
	var edits []edit
	page := 0
	pageHead := []byte("<</Type /Page\n")
	for _, o := range offsets {
		body := file[o:]
		end := bytes.IndexByte(body, '\n') + 1 // after "N 0 obj"
		body = body[end:]
		switch {
		case bytes.HasPrefix(body, pageHead):
			if page == len(pages) {
				return nil, fmt.Errorf("the document has more pages than it was given")
			}
			at := o + end + len(pageHead)
			edits = append(edits, edit{at, at, pages[page].boxes()})
			page++
		case bytes.HasPrefix(body, []byte("<<\n/Producer ")):
			for _, m := range dates.FindAllIndex(body, 2) {
				edits = append(edits, edit{o + end + m[0], o + end + m[1], nil})
			}
		}
	}
	if page != len(pages) || len(edits) != len(pages)+2 {
		return nil, fmt.Errorf("the document has %d pages of %d and %d of 2 dates", page, len(pages), len(edits)-page)
	}
	if v := []byte("%PDF-1."); bytes.HasPrefix(file, v) {
		edits = append(edits, edit{len(v), len(v) + 1, []byte("6")}) // the version that has units of pages
	}
	return amend(file, edits, offsets, xref)
}

var dates = regexp.MustCompile(`/(CreationDate|ModDate) \([^)]*\)\n`)

// boxes tells the boxes of a page that its writer does not: cropped as it is
// cut, trimmed to what is used of it.
func (p Page) boxes() []byte {
	trim := p.whole()
	if area(p.Trim) {
		trim = p.Trim
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "/CropBox [0 0 %.2f %.2f]\n", p.units(p.Width), p.units(p.Height))
	fmt.Fprintf(&b, "/TrimBox [%.3f %.3f %.3f %.3f]\n", p.units(trim.Min.X), p.units(trim.Min.Y), p.units(trim.Max.X), p.units(trim.Max.Y))
	if u := p.unit(); u > 1 {
		fmt.Fprintf(&b, "/UserUnit %.0f\n", u)
	}
	return b.Bytes()
}

// objects reads the table of offsets: where each object starts, by number from
// 1, and where the table is.
func objects(file []byte) (offsets []int, xref int, err error) {
	start := bytes.LastIndex(file, []byte("startxref\n"))
	if start < 0 {
		return nil, 0, fmt.Errorf("the document has no table of offsets")
	}
	line, _, _ := bytes.Cut(file[start+len("startxref\n"):], []byte("\n"))
	xref, err = strconv.Atoi(string(line))
	if err != nil || xref < 0 || xref > start || !bytes.HasPrefix(file[xref:], []byte("xref\n")) {
		return nil, 0, fmt.Errorf("the document's table of offsets is not at %q", line)
	}
	for _, l := range bytes.Split(file[xref:start], []byte("\n")) {
		if len(l) == entryLength && bytes.HasSuffix(l, []byte(" 00000 n ")) {
			o, err := strconv.Atoi(string(l[:10]))
			if err != nil || o >= xref {
				return nil, 0, fmt.Errorf("the document's table of offsets has %q", l)
			}
			offsets = append(offsets, o)
		}
	}
	return offsets, xref, nil
}

// entryLength is of a line of the table of offsets, its end apart: ten digits
// of offset, generation, kind.
const entryLength = 19

// amend makes the edits and writes the table of offsets anew. Edits lie within
// objects, before the table.
func amend(file []byte, edits []edit, offsets []int, xref int) ([]byte, error) {
	slices.SortFunc(edits, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	out := make([]byte, 0, len(file)+200*len(edits))
	at := 0
	for _, e := range edits {
		if e.from < at || e.to > xref {
			return nil, fmt.Errorf("edits of the document overlap")
		}
		out = append(append(out, file[at:e.from]...), e.with...)
		at = e.to
	}
	out = append(out, file[at:xref]...)
	table := len(out)
	out = fmt.Appendf(out, "xref\n0 %d\n0000000000 65535 f \n", len(offsets)+1)
	for _, o := range offsets {
		moved := o
		for _, e := range edits {
			if e.from < o {
				moved += len(e.with) - (e.to - e.from)
			}
		}
		out = fmt.Appendf(out, "%010d 00000 n \n", moved)
	}
	trailer := bytes.Index(file[xref:], []byte("trailer\n"))
	start := bytes.LastIndex(file, []byte("startxref\n"))
	if trailer < 0 {
		return nil, fmt.Errorf("the document has no trailer")
	}
	out = append(out, file[xref+trailer:start]...)
	return fmt.Appendf(out, "startxref\n%d\n%%%%EOF\n", table), nil
}
