package yamlfile

import (
	"strings"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
)

// mirror is written for side b of a seam that joins an edge to its own mirror
// image, so that a side which was forgotten is not taken for one.
const mirror = "mirror"

func (r *patternReader) seam(n *yaml.Node) {
	start := len(r.problems)
	f, ok := r.form(n, seamForm)
	if !ok {
		return
	}
	s := pattern.Seam{Name: r.named(f), Meeting: pattern.Meeting{Kind: pattern.Plain}}
	r.unique(r.places.seams, f, "seams", s.Name)
	if r.need(f, "a") {
		s.A = r.run(f, "a", s.Name)
	}
	switch b := f.values["b"]; {
	case b == nil || empty(b):
		r.need(f, "b")
	case b.Kind == yaml.ScalarNode && b.Value == mirror:
	default:
		s.B = r.run(f, "b", s.Name)
	}
	if f.has("meeting") {
		s.Meeting = r.meeting(f)
	}
	s.Kind = choice(r.reader, f, "kind", pattern.Joined, seamKinds)
	if s.Name == "" {
		return
	}
	at := f.node
	if name := f.values["name"]; name != nil {
		at = name
	}
	r.places.seam(s.Name, at, len(r.problems) > start)
	r.pattern.Seams = append(r.pattern.Seams, s)
}

// run reads the edges of one side of a seam.
func (r *patternReader) run(f fields, key, seam string) (run pattern.Run) {
	n := f.values[key]
	if n.Kind == yaml.ScalarNode {
		remedy := "write it in brackets: " + key + ": [" + source.Harmless(n.Value, 80) + "]"
		if !strings.Contains(n.Value, "/") {
			remedy = "write piece/edge in brackets, for instance " + key + ": [front/side]"
		}
		r.refuse(n, remedy, "%s should be a list of edges, but is %s", key, source.Quote(n.Value))
		return nil
	}
	for _, item := range r.list(f, key) {
		if ref, ok := r.reference(item); ok {
			run = append(run, ref)
			remember(r.places.refs, refKey{seam, ref.Piece, ref.Edge}, item)
		}
	}
	return run
}

// reference reads piece/edge or -piece/edge, and sees that it is there.
func (r *patternReader) reference(n *yaml.Node) (ref pattern.EdgeRef, ok bool) {
	name, backwards := n.Value, false
	if n.Kind == yaml.ScalarNode {
		name, backwards = strings.CutPrefix(n.Value, "-")
	}
	piece, edge, cut := strings.Cut(name, "/")
	if n.Kind != yaml.ScalarNode || !cut || piece == "" || edge == "" || strings.Contains(edge, "/") {
		r.refuse(n, "write piece/edge, for instance front/side, with a minus before it when it is walked backwards", "%s is not an edge of a piece", kindOf(n))
		return ref, false
	}
	ref = pattern.EdgeRef{Piece: piece, Edge: edge, Backwards: backwards}
	at := r.places.known[piece]
	switch {
	case at == nil && r.unnamed:
	case at == nil:
		r.refuse(n, spelling.Remedy(piece, sortedKeys(r.places.known)), "there is no piece %s", source.Quote(piece))
		return ref, false
	case at.edges[edge] == nil && !at.unnamed:
		r.refuse(n, spelling.Remedy(edge, sortedKeys(at.edges)), "piece %s has no edge %s", source.Quote(piece), source.Quote(edge))
		return ref, false
	}
	return ref, true
}

var seamKinds = map[string]pattern.SeamKind{"joined": pattern.Joined, "basted": pattern.Basted}

var meetings = map[string]pattern.MeetingKind{
	"plain": pattern.Plain, "eased": pattern.Eased, "gathered": pattern.Gathered, "pleated": pattern.Pleated,
}

func (r *patternReader) meeting(f fields) (m pattern.Meeting) {
	if f.values["meeting"].Kind != yaml.MappingNode {
		return pattern.Meeting{Kind: choice(r.reader, f, "meeting", pattern.Plain, meetings)}
	}
	mf, _ := r.form(f.values["meeting"], f.takes("meeting", meetingKind).of)
	r.need(mf, "kind")
	m.Kind = choice(r.reader, mf, "kind", pattern.Plain, meetings)
	if mf.has("ease") {
		m.Ease.Min, m.Ease.Max, _ = r.pair(mf.values["ease"], "ease", "[5, 30]")
	}
	if mf.has("ratio") {
		m.Ratio.Min, m.Ratio.Max, _ = r.pair(mf.values["ratio"], "ratio", "[1.2, 3]")
	}
	return m
}
