package draw

import (
	"bytes"
	"cmp"
	"fmt"
	"hash/fnv"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// edit replaces the bytes from from to to of a file.
type edit struct {
	from, to int
	with     []byte
}

// mendPDF does to a written PDF what its writer has no words for: it takes out
// the dates, so that equal documents give equal files, gives each page its boxes
// and the size of its unit, asks for printing as it is, calls pages and fonts by
// their names, and mends the table of offsets.
func mendPDF(file []byte, pages []Page, fonts []pdfFont) ([]byte, error) {
	offsets, xref, err := objects(file)
	if err != nil {
		return nil, err
	}
	edits := []edit{}
	replace := func(from, to int, with []byte) { edits = append(edits, edit{from, to, with}) }
	page, gone, catalogs, named := 0, 0, 0, 0
	for _, o := range offsets {
		o += bytes.IndexByte(file[o:], '\n') + 1 // after "N 0 obj"
		body := file[o:]
		switch {
		case bytes.HasPrefix(body, pageHead):
			if page == len(pages) {
				return nil, fmt.Errorf("the document has more pages than it was given")
			}
			at := o + len(pageHead)
			replace(at, at, pages[page].boxes())
			page++
		case bytes.HasPrefix(body, infoHead):
			for _, m := range dates.FindAllIndex(body, 2) {
				replace(o+m[0], o+m[1], nil)
				gone++
			}
		case bytes.HasPrefix(body, catalogHead):
			at := o + len(catalogHead)
			replace(at, at, append([]byte(preferences), pageLabels(pages)...))
			catalogs++
		case bytes.HasPrefix(body, fontHead), bytes.HasPrefix(body, descriptorHead):
			for _, f := range fonts {
				if m := f.written().FindSubmatchIndex(body[:bytes.Index(body, []byte("endobj"))]); m != nil {
					replace(o+m[2], o+m[3], []byte(f.name()))
					named++
				}
			}
		}
	}
	// A font, its descendant and its descriptor each have the name.
	if page != len(pages) || gone != 2 || catalogs != 1 || named != 3*len(fonts) {
		return nil, fmt.Errorf("the document has %d pages of %d, %d dates, %d catalogues and %d names of %d fonts", page, len(pages), gone, catalogs, named, len(fonts))
	}
	if v := []byte("%PDF-1."); bytes.HasPrefix(file, v) {
		replace(len(v), len(v)+1, []byte("7")) // the version that has all this
	}
	return amend(file, edits, offsets, xref)
}

// How the objects begin that are mended.
var (
	pageHead       = []byte("<</Type /Page\n")
	infoHead       = []byte("<<\n/Producer ")
	catalogHead    = []byte("<<\n/Type /Catalog\n")
	fontHead       = []byte("<</Type /Font\n")
	descriptorHead = []byte("<</Type /FontDescriptor ")
)

// preferences ask a reader's print dialogue for true size, on one side of the
// paper, on paper of the page's size (ISO 32000-1, table 150). It is free not to
// listen: the test square is measured all the same.
const preferences = "/ViewerPreferences <</DisplayDocTitle true /PrintScaling /None /Duplex /Simplex /PickTrayByPDFSize true>>\n"

// pageLabels calls the pages by their names.
func pageLabels(pages []Page) []byte {
	if !slices.ContainsFunc(pages, func(p Page) bool { return p.Name != "" }) {
		return nil
	}
	b := []byte("/PageLabels <</Nums [")
	for i, p := range pages {
		name := p.Name
		if name == "" {
			name = strconv.Itoa(i + 1)
		}
		b = fmt.Appendf(b, "%d <</P <FEFF", i)
		for _, r := range plane(name) {
			b = fmt.Appendf(b, "%04X", r)
		}
		b = append(b, ">>> "...)
	}
	return append(b, "]>>\n"...)
}

// pdfFont is a font that a document carries letters of.
type pdfFont struct {
	face face
	used map[rune]bool
}

// written finds the name that the writer gave the font.
func (f pdfFont) written() *regexp.Regexp {
	return regexp.MustCompile(`/(utf8` + strings.ToLower(f.face.family()) + `)\s`)
}

// name returns the font's own name behind six capitals that stand for the
// letters in use, as a font of which only some are there has them (ISO 32000-1,
// 9.6.4): who joins two documents keeps their fonts apart by it.
func (f pdfFont) name() string {
	h := fnv.New32a()
	for _, r := range slices.Sorted(maps.Keys(f.used)) {
		fmt.Fprintf(h, "%c", r)
	}
	sum := h.Sum32()
	tag := make([]byte, 6)
	for i := range tag {
		tag[i] = 'A' + byte(sum%26)
		sum /= 26
	}
	return string(tag) + "+" + f.face.family()
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
