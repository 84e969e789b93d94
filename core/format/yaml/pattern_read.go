package yamlfile

import (
	"errors"
	"fmt"
	"math"
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

// SnapTolerance is how far in mm one edge may start from the end of the one
// before it and still be joined to it, and how far a mark may lie beyond its
// edge and still be moved back onto it. It is what rounding by hand or by
// another program leaves, and far below a pencil line.
const SnapTolerance = 0.01

// Read reads a pattern file. The name is what the user calls the file, and is
// only used in refusals. An error is a source.Problems.
func Read(name string, data []byte) (*pattern.Pattern, error) {
	r, root := load(name, data)
	if root == nil {
		return nil, r.problems.Err()
	}
	f, _ := r.fields(root, "the pattern", "bygone", "name", "title", "notes", "pieces", "seams")
	if !r.header(f, "pattern") && f.values["bygone"] != nil {
		return nil, r.problems[len(r.problems)-1:].Err() // the rest is noise: it is another kind of file
	}
	pr := &patternReader{reader: r, pattern: &pattern.Pattern{}, places: newPlaces(root)}
	pr.read(f)
	pr.validate()
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return pr.pattern, nil
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
	r.require(f, "name", "add a name in lower-case letters, digits and hyphens, for instance name: stock-dress")
	p.Name = r.word(f, "name")
	if n := f.values["name"]; n != nil {
		r.places.root = n
	}
	r.places.mark(r.places.root, len(r.problems) > start)
	p.Title = r.word(f, "title")
	p.Notes = r.text(f, "notes")
	if r.require(f, "pieces", "add a list of pieces") {
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

const nameRemedy = "give it a name of lower-case letters, digits and hyphens"

func (r *patternReader) piece(n *yaml.Node) {
	start := len(r.problems)
	f, ok := r.fields(n, "the piece", "name", "title", "role", "cut", "grain", "edges", "landmarks", "darts", "pleats", "gathers", "notches")
	if !ok || !r.require(f, "name", nameRemedy) {
		r.unnamed = true
		if !ok {
			return
		}
	}
	p := pattern.Piece{Name: r.word(f, "name"), Title: r.word(f, "title"), Role: pattern.Role(r.word(f, "role")), Cut: pattern.Cut{Count: 1}}
	if !r.unique(r.places.pieces, f, "pieces", p.Name) {
		r.unnamed = true // one of the two was meant to be called otherwise
	}
	if f.has("cut") {
		if c, ok := r.fields(f.values["cut"], "cut", "count", "mirrored"); ok {
			p.Cut.Count = r.count(c, "count", 1)
			p.Cut.Mirrored = r.yes(c, "mirrored")
		}
	}
	if f.has("grain") {
		p.Grain = r.grain(f.values["grain"])
	}
	where := f.node
	if name := f.values["name"]; name != nil {
		where = name
	}
	r.places.mark(where, len(r.problems) > start)

	b := boundaryReader{patternReader: r, piece: &p, edges: map[string]*yaml.Node{}}
	if r.require(f, "edges", "list its edges counter-clockwise, each with a name and a path") {
		for _, e := range r.list(f, "edges") {
			b.edge(e)
		}
	}
	if len(p.Edges) == 0 {
		b.broken, b.unnamed = true, true
	}
	b.join()
	b.marks(f)
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

var corners = map[string]pattern.Corner{"meet": pattern.Meet, "bevel": pattern.Bevel, "square": pattern.Square}

func (r *boundaryReader) edge(n *yaml.Node) {
	start := len(r.problems)
	f, ok := r.fields(n, "the edge", "name", "path", "finish", "role", "allowance", "corner")
	if !ok {
		r.broken, r.unnamed = true, true
		return
	}
	if !r.require(f, "name", nameRemedy+", such as side or side.upper") {
		r.unnamed = true
	}
	e := pattern.Edge{
		Name: r.word(f, "name"), Role: r.word(f, "role"),
		Finish:    choice(r.reader, f, "finish", pattern.Sewn, finishes),
		Allowance: r.number(f, "allowance"),
		Corner:    choice(r.reader, f, "corner", pattern.Meet, corners),
	}
	if base, _, _ := strings.Cut(e.Name, "."); e.Role == base {
		e.Role = "" // one form for one meaning
	}
	if !r.unique(r.edges, f, "edges of this piece", e.Name) {
		r.unnamed = true // one of the two was meant to be called otherwise
	}
	if r.require(f, "path", "draw it, for instance path: M 0 0 L 0 100") {
		e.Path = r.path(f)
	}
	if e.Path == nil {
		r.broken = true
	}
	at := f.node
	if name := f.values["name"]; name != nil {
		at = name
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

// join lets each edge start where the one before it ends, and the last end
// where the first starts, or refuses a gap too wide to be rounding.
func (r *boundaryReader) join() {
	edges := r.piece.Edges
	for i := range edges {
		e := &edges[i]
		last := i == len(edges)-1
		if i > 0 && len(edges[i-1].Path) > 0 && len(e.Path) > 0 {
			end := edges[i-1].Path.End()
			if gap := end.Dist(e.Path.Start()); gap > SnapTolerance {
				r.gap(i, fmt.Sprintf("edge %s starts %s from where edge %s ends (%s)", source.Quote(e.Name), unit.Length(gap), source.Quote(edges[i-1].Name), at(end)),
					fmt.Sprintf("start it with M %s %s, or let %s end at %s", unit.Float(end.X), unit.Float(end.Y), source.Quote(edges[i-1].Name), at(e.Path.Start())))
			} else {
				e.Path[0].P0 = end
			}
		}
		if last && len(e.Path) > 0 && len(edges[0].Path) > 0 {
			start := edges[0].Path.Start()
			if gap := e.Path.End().Dist(start); gap > SnapTolerance {
				r.gap(i, fmt.Sprintf("the boundary does not close: edge %s ends %s from where edge %s starts (%s)", source.Quote(e.Name), unit.Length(gap), source.Quote(edges[0].Name), at(start)),
					fmt.Sprintf("let it end at %s, or add the edge that is missing", at(start)))
			} else {
				e.Path[len(e.Path)-1].P1 = start
			}
		}
	}
}

func (r *boundaryReader) gap(i int, text, remedy string) {
	r.refuse(r.paths[i], remedy, "%s", text)
	r.broken = true
}

func at(q geom.Point) string { return unit.Float(q.X) + ", " + unit.Float(q.Y) }

var pressed = map[string]pattern.Pressed{"start": pattern.PressedToStart, "end": pattern.PressedToEnd}

var pleatKinds = map[string]pattern.PleatKind{"knife": pattern.Knife, "box": pattern.Box, "inverted": pattern.Inverted, "tuck": pattern.Tuck}

var gatherKinds = map[string]pattern.GatherKind{"gathers": pattern.Gathers, "ease": pattern.Ease}

// marks reads landmarks, darts, pleats, gathers and notches.
func (r *boundaryReader) marks(f fields) {
	p := r.piece
	lengths := map[string]float64{}
	for i := range p.Edges {
		if e := &p.Edges[i]; !r.broken && lengths[e.Name] == 0 {
			lengths[e.Name] = e.Path.Length()
		}
	}
	place := func(m fields, key, edge string) float64 {
		r.require(m, key, "say where it is, in mm from the start of the edge")
		return onto(r.number(m, key), lengths[edge])
	}
	landmarks, takeUps := map[string]*yaml.Node{}, map[string]*yaml.Node{}
	r.each(f, "landmarks", "the landmark", []string{"name", "at"}, func(m fields, name, _ string) {
		r.unique(landmarks, m, "landmarks of this piece", name)
		r.require(m, "at", "say where it is, for instance at: [95, 180]")
		p.Landmarks = append(p.Landmarks, pattern.Landmark{Name: name, At: r.point(m, "at")})
	})
	const takeUpsHere = "darts, pleats or gathers of this piece"
	r.each(f, "darts", "the dart", []string{"name", "edge", "from", "to", "point", "pressed"}, func(m fields, name, edge string) {
		r.unique(takeUps, m, takeUpsHere, name)
		r.require(m, "point", "say where it runs to, for instance point: [95, 190]")
		p.Darts = append(p.Darts, pattern.Dart{
			Name: name, Edge: edge, From: place(m, "from", edge), To: place(m, "to", edge),
			Point: r.point(m, "point"), Pressed: choice(r.reader, m, "pressed", "", pressed),
		})
	})
	r.each(f, "pleats", "the pleat", []string{"name", "edge", "from", "to", "kind", "pressed"}, func(m fields, name, edge string) {
		r.unique(takeUps, m, takeUpsHere, name)
		p.Pleats = append(p.Pleats, pattern.Pleat{
			Name: name, Edge: edge, From: place(m, "from", edge), To: place(m, "to", edge),
			Kind: choice(r.reader, m, "kind", pattern.Knife, pleatKinds), Pressed: choice(r.reader, m, "pressed", "", pressed),
		})
	})
	r.each(f, "gathers", "the gather", []string{"name", "edge", "from", "to", "length", "kind"}, func(m fields, name, edge string) {
		r.unique(takeUps, m, takeUpsHere, name)
		r.require(m, "length", "say what it measures once drawn up, in mm")
		g := pattern.Gather{
			Name: name, Edge: edge, From: place(m, "from", edge), To: place(m, "to", edge),
			Length: r.number(m, "length"), Kind: choice(r.reader, m, "kind", pattern.Gathers, gatherKinds),
		}
		g.Length = onto(g.Length, flatLength(p, g))
		p.Gathers = append(p.Gathers, g)
	})
	notches := map[string]map[string]*yaml.Node{}
	r.each(f, "notches", "the notch", []string{"name", "edge", "at", "count"}, func(m fields, name, edge string) {
		if notches[edge] == nil {
			notches[edge] = map[string]*yaml.Node{}
		}
		r.unique(notches[edge], m, "notches of this edge", name)
		p.Notches = append(p.Notches, pattern.Notch{Name: name, Edge: edge, At: place(m, "at", edge), Count: r.count(m, "count", 1)})
	})
}

// each reads the marks of one sort.
func (r *boundaryReader) each(f fields, key, what string, known []string, read func(m fields, name, edge string)) {
	for _, n := range r.list(f, key) {
		start := len(r.problems)
		m, ok := r.fields(n, what, known...)
		if !ok {
			continue
		}
		r.require(m, "name", nameRemedy)
		edge := ""
		if known[1] == "edge" {
			r.require(m, "edge", "say which edge of the piece it is on")
			edge = r.word(m, "edge")
			if e := m.values["edge"]; edge != "" && r.edges[edge] == nil && !r.unnamed {
				r.refuse(e, spelling.Remedy(edge, sortedKeys(r.edges)), "piece %s has no edge %s", source.Quote(r.piece.Name), source.Quote(edge))
			}
		}
		name := r.word(m, "name")
		read(m, name, edge)
		r.places.markOn(r.piece.Name, edge, name, n, len(r.problems) > start)
	}
}

// onto moves a place back onto its edge when it lies beyond the end by no more
// than rounding. Rounding down keeps it there when it is written and read.
func onto(place, length float64) float64 {
	switch {
	case place < 0 && place >= -SnapTolerance:
		return 0
	case length > 0 && place > length && place <= length+SnapTolerance:
		scale := math.Pow10(unit.Decimals)
		return unit.Round(math.Floor(length*scale) / scale)
	}
	return place
}

// flatLength returns the most that a gather can be drawn up to: its stretch
// less the darts and pleats inside it.
func flatLength(p *pattern.Piece, g pattern.Gather) float64 {
	most := g.To - g.From
	for _, d := range p.Darts {
		if d.Edge == g.Edge && d.From >= g.From && d.To <= g.To {
			most -= d.To - d.From
		}
	}
	for _, d := range p.Pleats {
		if d.Edge == g.Edge && d.From >= g.From && d.To <= g.To {
			most -= d.To - d.From
		}
	}
	return most
}
