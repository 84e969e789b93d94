package yamlfile

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/geom"
	"bygone.example/core/geom/pathdata"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
	"bygone.example/core/unit"
)

// Read reads a pattern file. The name is what the user calls the file, and is
// only used in refusals. An error is a source.Problems.
func Read(name string, data []byte) (*pattern.Pattern, error) {
	r, err := read(name, data, (*pattern.Pattern).Validate)
	if err != nil {
		return nil, err
	}
	return r.pattern, nil
}

// read reads a pattern file and judges it by what validate finds.
func read(name string, data []byte, validate func(*pattern.Pattern) []pattern.Problem) (*patternReader, error) {
	r, root := load(name, data)
	if root == nil {
		return nil, r.problems.Err()
	}
	f, _ := r.form(root, patternForm)
	if !r.header(f, "pattern") && f.values["bygone"] != nil {
		return nil, r.problems[len(r.problems)-1:].Err() // the rest is noise: it is another kind of file
	}
	pr := &patternReader{reader: r, pattern: &pattern.Pattern{}, places: newPlaces(root)}
	pr.read(f)
	pr.validate(validate(pr.pattern))
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return pr, nil
}

type patternReader struct {
	*reader
	pattern *pattern.Pattern
	places  *places
	// unnamed is set when a piece has no name: nothing can be said of a seam that
	// takes a piece which is not there.
	unnamed bool
}

func (r *patternReader) read(f fields) {
	p := r.pattern
	start := len(r.problems)
	p.Name = r.named(f)
	if n := f.values["name"]; n != nil {
		r.places.root = n
	}
	r.places.mark(r.places.root, len(r.problems) > start)
	p.Title = r.word(f, "title")
	p.Notes = r.text(f, "notes")
	if r.need(f, "pieces") {
		list := r.list(f, "pieces")
		r.unnamed = len(list) == 0
		for _, n := range list {
			r.piece(n)
		}
	}
	for _, n := range r.list(f, "seams") {
		r.seam(n)
	}
}

// unique refuses the second thing of a name, and reports whether it is the
// first.
func (r *reader) unique(seen map[string]*yaml.Node, f fields, what, name string) bool {
	n := f.values["name"]
	if n == nil || name == "" {
		return true
	}
	if first := seen[name]; first != nil {
		r.refuse(n, "give one of them another name", "there are two %s called %s, the first in line %d", what, source.Quote(name), first.Line)
		return false
	}
	seen[name] = n
	return true
}

// named reads a name that must be there, empty when it was refused.
func (r *reader) named(f fields) string {
	remedy := f.takes("name", nameKind, dottedKind).must
	if !r.need(f, "name") {
		return ""
	}
	before := len(r.problems)
	name := r.word(f, "name")
	if name == "" && len(r.problems) == before {
		r.refuse(f.values["name"], remedy, "%s has an empty name", f.what)
	}
	if len(name) > pattern.MaxName {
		r.refuse(f.values["name"], remedy, "%s has a name longer than %d characters", f.what, pattern.MaxName)
		return ""
	}
	return name
}

const nameRemedy = "give it a name of lower-case letters, digits and hyphens"

func (r *patternReader) piece(n *yaml.Node) {
	start := len(r.problems)
	f, ok := r.form(n, pieceForm)
	name := ""
	if ok {
		name = r.named(f)
	}
	if name == "" {
		r.unnamed = true
	}
	if !ok {
		return
	}
	p := pattern.Piece{Name: name, Title: r.word(f, "title"), Role: pattern.Role(r.word(f, "role")), Cut: pattern.Cut{Count: 1}}
	if !r.unique(r.places.pieces, f, "pieces", p.Name) {
		r.unnamed = true // one of the two was meant to be called otherwise
	}
	if f.has("cut") {
		if c, ok := r.form(f.values["cut"], f.takes("cut", groupKind).of); ok {
			p.Cut.Count = r.count(c, "count", 1)
			p.Cut.Mirrored = r.yes(c, "mirrored")
		}
	}
	if f.has("grain") {
		p.Grain = r.grain(f.values["grain"])
	}
	where := f.node
	if n := f.values["name"]; n != nil {
		where = n
	}
	r.places.mark(where, len(r.problems) > start)

	b := boundaryReader{patternReader: r, piece: &p, edges: map[string]*yaml.Node{}}
	if r.need(f, "edges") {
		for _, e := range r.list(f, "edges") {
			b.edge(e)
		}
	}
	if len(p.Edges) == 0 {
		b.broken, b.unnamed = true, true
	}
	b.join()
	b.marks(f)
	if !b.broken {
		settle(&p)
	}
	if name == "" {
		return
	}
	at := r.places.piece(p.Name, where)
	at.broken, at.edges = at.broken || b.broken, b.edges
	at.unnamed = at.unnamed || b.unnamed
	r.pattern.Pieces = append(r.pattern.Pieces, p)
}

func (r *patternReader) grain(n *yaml.Node) (g pattern.Grain) {
	const example = "[[10, 20], [10, 220]]"
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		r.refuse(n, "write two points, for instance "+example, "grain should be two points")
		return g
	}
	ax, ay, okA := r.pair(n.Content[0], "grain", "[10, 20]")
	bx, by, okB := r.pair(n.Content[1], "grain", "[10, 220]")
	g = pattern.Grain{From: geom.Pt(ax, ay), To: geom.Pt(bx, by)}
	if okA && okB && !g.Given() {
		r.refuse(n, "give two different points, or leave grain out", "the grainline starts and ends in one point")
	}
	return g
}

// boundaryReader reads what lies on one piece's boundary.
type boundaryReader struct {
	*patternReader
	piece   *pattern.Piece
	edges   map[string]*yaml.Node // by name, the first of each
	paths   []*yaml.Node          // of the edges that were read, where their path is
	broken  bool                  // an edge could not be read: judge no shape
	unnamed bool                  // an edge has no name: miss no edge
}

var finishes = map[string]pattern.Finish{
	"sewn": pattern.Sewn, "fold": pattern.Fold, "hem": pattern.Hemmed, "faced": pattern.Faced, "bound": pattern.Bound, "open": pattern.Open,
}

var corners = map[string]pattern.Corner{"meet": pattern.Meet, "bevel": pattern.Bevel, "square": pattern.Square, "turned": pattern.Turned, "matched": pattern.Matched}

func (r *boundaryReader) edge(n *yaml.Node) {
	start := len(r.problems)
	f, ok := r.form(n, edgeForm)
	if !ok {
		r.broken, r.unnamed = true, true
		return
	}
	name := r.named(f)
	if name == "" {
		r.unnamed = true
	}
	e := pattern.Edge{
		Name: name, Role: r.word(f, "role"),
		Finish:    choice(r.reader, f, "finish", pattern.Sewn, finishes),
		Allowance: r.number(f, "allowance"),
		Corner:    choice(r.reader, f, "corner", pattern.Meet, corners),
	}
	if e.Role == plainRole(e.Name) {
		e.Role = "" // one form for one meaning
	}
	if !r.unique(r.edges, f, "edges of this piece", e.Name) {
		r.unnamed = true // one of the two was meant to be called otherwise
	}
	if r.need(f, "path") {
		e.Path = r.path(f)
	}
	if e.Path == nil {
		r.broken = true
	}
	at := f.node
	if n := f.values["name"]; n != nil {
		at = n
	}
	r.places.edge(r.piece.Name, e.Name, at, len(r.problems) > start)
	r.piece.Edges = append(r.piece.Edges, e)
	r.paths = append(r.paths, f.values["path"])
}

// path reads an edge's path data, nil when it was refused.
func (r *boundaryReader) path(f fields) geom.Path {
	n, ok := r.scalar(f, "path")
	if !ok {
		return nil
	}
	path, err := pathdata.Parse(n.Value)
	if bad, ok := errors.AsType[*pathdata.Error](err); ok {
		line, col := r.within(n, bad.Offset)
		r.refuseAt(line, col, bad.Remedy, "%s", bad.Text)
		return nil
	}
	return pathdata.Round(path)
}

// within returns the place in the file of a byte of a scalar's value. YAML may
// have folded its lines, so characters that are not blank are counted in both;
// where they differ (escapes), the place is that of the scalar.
func (r *reader) within(n *yaml.Node, offset int) (line, col int) {
	at := r.file.Offset(n.Line, n.Column)
	text := r.file.Rest(at)
	switch {
	case n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
		at++
		text = text[1:]
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		if i := strings.IndexByte(text, '\n'); i >= 0 {
			at += i
			text = text[i:]
		}
	}
	i, last := 0, 0 // in text; last is past the character before
	for j, c := range n.Value {
		if unicode.IsSpace(c) {
			if j >= offset {
				break
			}
			continue
		}
		skipped := strings.TrimLeft(text[i:], " \t\r\n")
		i = len(text) - len(skipped)
		if j >= offset {
			return r.file.Place(at + i)
		}
		if !strings.HasPrefix(skipped, string(c)) {
			return n.Line, n.Column
		}
		i += len(string(c))
		last = i
	}
	return r.file.Place(at + last)
}

// join joins the edges, and refuses gaps too wide to be rounding.
func (r *boundaryReader) join() {
	edges := r.piece.Edges
	join(edges, func(i int, mm float64, closing bool) {
		e := edges[i]
		if closing {
			start := edges[0].Path.Start()
			r.gap(i, fmt.Sprintf("the boundary does not close: edge %s ends %s from where edge %s starts (%s)", source.Quote(e.Name), unit.Length(mm), source.Quote(edges[0].Name), at(start)),
				fmt.Sprintf("let it end at %s, or add the edge that is missing", at(start)))
			return
		}
		before := edges[i-1]
		end := before.Path.End()
		r.gap(i, fmt.Sprintf("edge %s starts %s from where edge %s ends (%s)", source.Quote(e.Name), unit.Length(mm), source.Quote(before.Name), at(end)),
			fmt.Sprintf("start it with M %s %s, or let %s end at %s", unit.Float(end.X), unit.Float(end.Y), source.Quote(before.Name), at(e.Path.Start())))
	})
}

func (r *boundaryReader) gap(i int, text, remedy string) {
	r.refuse(r.paths[i], remedy, "%s", text)
	r.broken = true
}

func at(q geom.Point) string { return unit.Float(q.X) + ", " + unit.Float(q.Y) }

var pressed = map[string]pattern.Pressed{"start": pattern.PressedToStart, "end": pattern.PressedToEnd}

var pleatKinds = map[string]pattern.PleatKind{"knife": pattern.Knife, "box": pattern.Box, "inverted": pattern.Inverted, "tuck": pattern.Tuck}

var gatherKinds = map[string]pattern.GatherKind{"gathers": pattern.Gathers, "ease": pattern.Ease, "cartridge": pattern.Cartridge}

// marks reads landmarks, darts, pleats, gathers and notches.
func (r *boundaryReader) marks(f fields) {
	p := r.piece
	place := func(m fields, key string) float64 {
		r.need(m, key)
		return r.number(m, key)
	}
	landmarks, takeUps := map[string]*yaml.Node{}, map[string]*yaml.Node{}
	r.each(f, "landmarks", func(m fields, name, _ string) {
		r.unique(landmarks, m, "landmarks of this piece", name)
		r.need(m, "at")
		p.Landmarks = append(p.Landmarks, pattern.Landmark{Name: name, At: r.point(m, "at")})
	})
	const takeUpsHere = "darts, pleats or gathers of this piece"
	r.each(f, "darts", func(m fields, name, edge string) {
		r.unique(takeUps, m, takeUpsHere, name)
		r.need(m, "point")
		p.Darts = append(p.Darts, pattern.Dart{
			Name: name, Edge: edge, From: place(m, "from"), To: place(m, "to"),
			Point: r.point(m, "point"), Pressed: choice(r.reader, m, "pressed", "", pressed),
		})
	})
	r.each(f, "pleats", func(m fields, name, edge string) {
		r.unique(takeUps, m, takeUpsHere, name)
		p.Pleats = append(p.Pleats, pattern.Pleat{
			Name: name, Edge: edge, From: place(m, "from"), To: place(m, "to"),
			Kind: choice(r.reader, m, "kind", pattern.Knife, pleatKinds), Pressed: choice(r.reader, m, "pressed", "", pressed),
		})
	})
	r.each(f, "gathers", func(m fields, name, edge string) {
		r.unique(takeUps, m, takeUpsHere, name)
		r.need(m, "length")
		p.Gathers = append(p.Gathers, pattern.Gather{
			Name: name, Edge: edge, From: place(m, "from"), To: place(m, "to"),
			Length: r.number(m, "length"), Kind: choice(r.reader, m, "kind", pattern.Gathers, gatherKinds),
			Stitch: r.number(m, "stitch"), Rows: r.count(m, "rows", 0),
		})
	})
	notches := map[string]map[string]*yaml.Node{}
	r.each(f, "notches", func(m fields, name, edge string) {
		if notches[edge] == nil {
			notches[edge] = map[string]*yaml.Node{}
		}
		r.unique(notches[edge], m, "notches of this edge", name)
		p.Notches = append(p.Notches, pattern.Notch{Name: name, Edge: edge, At: place(m, "at"), Count: r.count(m, "count", 1)})
	})
}

// each reads the marks of one sort.
func (r *boundaryReader) each(f fields, key string, read func(m fields, name, edge string)) {
	of := f.takes(key, listKind).of
	for _, n := range r.list(f, key) {
		start := len(r.problems)
		m, ok := r.form(n, of)
		if !ok {
			continue
		}
		name := r.named(m)
		edge := ""
		if of.field("edge") != nil {
			r.need(m, "edge")
			edge = r.word(m, "edge")
			if e := m.values["edge"]; edge != "" && r.edges[edge] == nil && !r.unnamed {
				r.refuse(e, spelling.Remedy(edge, sortedKeys(r.edges)), "piece %s has no edge %s", source.Quote(r.piece.Name), source.Quote(edge))
			}
		}
		read(m, name, edge)
		r.places.markOn(r.piece.Name, edge, name, n, len(r.problems) > start)
	}
}
