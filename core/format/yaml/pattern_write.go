package yamlfile

import (
	"fmt"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/geom/pathdata"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// Write returns the pattern as a file. Equal patterns give equal bytes, and
// Read gives back what was written, as AtRest has it. What Validate would
// refuse is written all the same, and Read refuses it.
func Write(p *pattern.Pattern) []byte {
	p = AtRest(p)
	w := &writer{}
	w.line(0, "bygone: pattern/1")
	w.line(0, "name: %s", scalar(p.Name, inBlock))
	w.text(0, "title", p.Title)
	w.text(0, "notes", p.Notes)
	if len(p.Pieces) == 0 {
		w.line(0, "pieces: []")
	} else {
		w.line(0, "pieces:")
	}
	for i := range p.Pieces {
		w.piece(&p.Pieces[i])
	}
	if len(p.Seams) > 0 {
		w.line(0, "seams:")
	}
	for _, s := range p.Seams {
		w.seam(s)
	}
	return []byte(w.String())
}

func (w *writer) piece(p *pattern.Piece) {
	w.line(2, "- name: %s", scalar(p.Name, inBlock))
	w.text(4, "title", p.Title)
	if p.Role != "" {
		w.line(4, "role: %s", scalar(string(p.Role), inBlock))
	}
	cut := fmt.Sprintf("count: %d", p.Cut.Count)
	if p.Cut.Mirrored {
		cut += ", mirrored: true"
	}
	w.line(4, "cut: {%s}", cut)
	if p.Grain.Given() {
		w.line(4, "grain: [%s, %s]", point(p.Grain.From), point(p.Grain.To))
	}
	if len(p.Edges) == 0 {
		w.line(4, "edges: []")
	} else {
		w.line(4, "edges:")
	}
	for _, e := range p.Edges {
		w.edge(e)
	}
	w.marks(p)
}

func (w *writer) edge(e pattern.Edge) {
	w.line(6, "- name: %s", scalar(e.Name, inBlock))
	w.line(8, "path: %s", pathdata.Format(e.Path))
	if e.Finish != pattern.Sewn {
		w.line(8, "finish: %s", scalar(string(e.Finish), inBlock))
	}
	if e.Role != "" {
		w.line(8, "role: %s", scalar(e.Role, inBlock))
	}
	if a := unit.Float(e.Allowance); a != "0" {
		w.line(8, "allowance: %s", a)
	}
	if e.Corner != pattern.Meet {
		w.line(8, "corner: %s", scalar(string(e.Corner), inBlock))
	}
}

// item is one mark on a line of its own.
type item struct{ strings.Builder }

func (t *item) add(key, value string) *item {
	if t.Len() > 0 {
		t.WriteString(", ")
	}
	t.WriteString(key + ": " + value)
	return t
}

func mark(name, edge string) *item {
	t := new(item).add("name", scalar(name, inFlow))
	if edge != "" {
		t.add("edge", scalar(edge, inFlow))
	}
	return t
}

func (t *item) stretch(from, to float64) *item {
	return t.add("from", unit.Float(from)).add("to", unit.Float(to))
}

func (t *item) word(key, word string) *item {
	if word == "" {
		return t
	}
	return t.add(key, scalar(word, inFlow))
}

func (w *writer) marks(p *pattern.Piece) {
	list := func(key string, n int, at func(i int) *item) {
		if n > 0 {
			w.line(4, "%s:", key)
		}
		for i := range n {
			w.line(6, "- {%s}", at(i))
		}
	}
	list("landmarks", len(p.Landmarks), func(i int) *item {
		l := p.Landmarks[i]
		return mark(l.Name, "").add("at", point(l.At))
	})
	list("darts", len(p.Darts), func(i int) *item {
		d := p.Darts[i]
		return mark(d.Name, d.Edge).stretch(d.From, d.To).add("point", point(d.Point)).word("pressed", string(d.Pressed))
	})
	list("pleats", len(p.Pleats), func(i int) *item {
		d := p.Pleats[i]
		return mark(d.Name, d.Edge).stretch(d.From, d.To).word("kind", string(d.Kind)).word("pressed", string(d.Pressed))
	})
	list("gathers", len(p.Gathers), func(i int) *item {
		g := p.Gathers[i]
		t := mark(g.Name, g.Edge).stretch(g.From, g.To).add("length", unit.Float(g.Length)).word("kind", string(g.Kind))
		if g.Kind == pattern.Cartridge {
			t.add("stitch", unit.Float(g.Stitch)).add("rows", fmt.Sprint(g.Rows))
		}
		return t
	})
	list("notches", len(p.Notches), func(i int) *item {
		n := p.Notches[i]
		t := mark(n.Name, n.Edge).add("at", unit.Float(n.At))
		if n.Count != 1 {
			t.add("count", fmt.Sprint(n.Count))
		}
		return t
	})
}

func (w *writer) seam(s pattern.Seam) {
	w.line(2, "- name: %s", scalar(s.Name, inBlock))
	w.line(4, "a: %s", run(s.A))
	if len(s.B) == 0 {
		w.line(4, "b: %s", mirror)
	} else {
		w.line(4, "b: %s", run(s.B))
	}
	if s.Kind != pattern.Joined {
		w.line(4, "kind: %s", scalar(string(s.Kind), inBlock))
	}
	m := s.Meeting
	kind := string(m.Kind)
	if !m.Ease.Given() && !m.Ratio.Given() {
		w.line(4, "meeting: %s", scalar(kind, inBlock))
		return
	}
	t := new(item).add("kind", scalar(kind, inFlow))
	if m.Ease.Given() {
		t.add("ease", between(m.Ease))
	}
	if m.Ratio.Given() {
		t.add("ratio", between(m.Ratio))
	}
	w.line(4, "meeting: {%s}", t)
}

func run(r pattern.Run) string {
	refs := make([]string, len(r))
	for i, ref := range r {
		refs[i] = ref.String()
		if !plain(refs[i], inFlow) || strings.Trim(refs[i], "-abcdefghijklmnopqrstuvwxyz0123456789./") != "" {
			refs[i] = quoted(refs[i])
		}
	}
	return "[" + strings.Join(refs, ", ") + "]"
}

func point(q geom.Point) string      { return "[" + unit.Float(q.X) + ", " + unit.Float(q.Y) + "]" }
func between(r pattern.Range) string { return "[" + unit.Float(r.Min) + ", " + unit.Float(r.Max) + "]" }
