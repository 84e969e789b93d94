package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Borrowing says what is taken from another pattern and how it is fitted here.
type Borrowing struct {
	// Lender is the pattern that the part is taken from. It is not changed.
	Lender *pattern.Pattern
	// Roles are those of the pieces that make the part: a skirt's are skirt-front
	// and skirt-back. Piece, if not empty, names one piece of the lender in their
	// place.
	Roles []pattern.Role
	Piece string
	// Ease is by how many mm a sleeve's head is to be longer than its armscye;
	// below 0, it keeps what it had in the lender. A gathered head takes none.
	Ease float64
	// Waist is how a skirt's waist comes to the bodice's; empty is WaistFitOwn.
	Waist WaistFit
	// MostAtSide is the most in mm that one side edge of a skirt's piece may be
	// taken in or let out at the waist.
	MostAtSide float64
}

// WaistFit is how a borrowed skirt's waist comes to the length of the bodice's.
type WaistFit string

// WaistFitOwn takes in or lets out at the sides what MostAtSide allows, unless
// the skirt is gathered already or has more to spare than that: then it is
// gathered. WaistFitGathers and WaistFitSides do the one or the other.
const (
	WaistFitOwn     WaistFit = "own"
	WaistFitGathers WaistFit = "gathers"
	WaistFitSides   WaistFit = "sides"
)

// Borrow takes a part of a garment from another pattern: the pieces asked for
// with what hangs on them (a sleeve's band, a skirt's waistband), their marks and
// the seams among them. It replaces the pieces of the same roles here with what
// hangs on those, or, where there are none, is added to the edges here that
// answer to those it is sewn to in its own pattern and are not sewn yet. Then it
// is fitted to what it joins here: a sleeve's head to the armscye, in height, as
// RefitCap does; a skirt's waist to the bodice's, by gathers or at the sides; a
// collar to the neckline, in length. Any other edge must have the length wanted.
//
// A piece or seam whose name is taken here gets a number after it. Notches of
// the edges that join are set anew, facing those here. Parts drawn for the other
// side of the body are turned over.
//
// Kept: every other piece, and the borrowed part but for what is fitted; a
// skirt's side seams keep their length. Changed: the fitted edges. Lengths are
// mm. The part's lines are new to the pattern: no lineage.
//
// Degenerate: a part that is not there, is sewn in fewer or more seams than
// here, or would have to change by more than it can be, is refused.
func Borrow(p *pattern.Pattern, o Borrowing) (*operation.Answer, error) {
	if o.Lender == nil {
		return nil, refuse("it is not said which pattern to borrow from", "name one of the patterns that the chain lists")
	}
	b := &borrowing{Borrowing: o, here: p, e: &edit{}}
	if err := b.choose(); err != nil {
		return nil, err
	}
	if err := b.match(); err != nil {
		return nil, err
	}
	if b.otherHand {
		b.turnOver()
	}
	joined, lineage := b.assemble()
	answer := &operation.Answer{Pattern: joined, Lineage: lineage, Changes: b.e.changes, Cautions: b.e.cautions}
	for _, j := range b.joints {
		fitted, err := b.fit(answer.Pattern, j)
		if err != nil {
			return nil, err
		}
		if fitted == nil {
			continue
		}
		answer.Pattern, answer.Lineage = fitted.Pattern, answer.Lineage.Then(fitted.Lineage)
		answer.Changes = append(answer.Changes, fitted.Changes...)
		answer.Cautions = append(answer.Cautions, fitted.Cautions...)
	}
	for _, j := range b.joints {
		faceNotches(answer.Pattern, j.name, j.groupIsB)
	}
	for _, name := range b.innerNames {
		if s := answer.Pattern.Seam(name); len(s.B) > 0 && len(notchesAlong(answer.Pattern, s.A)) == 0 {
			faceNotches(answer.Pattern, name, true)
		}
	}
	return answer, nil
}

// borrowing is one borrowing under way.
type borrowing struct {
	Borrowing
	here       *pattern.Pattern
	e          *edit             // for its changes and cautions
	group      []pattern.Piece   // copies of what is taken, under their own names until assembled
	inner      []pattern.Seam    // the seams among them
	outer      []pattern.Seam    // those to the rest of the lender
	removed    map[string]bool   // pieces here that are replaced
	joints     []joint           // parallel to outer
	names      map[string]string // of the group's pieces, here
	innerNames []string          // of the seams among them, here
	// otherHand is set when the part was drawn for the other side of the body.
	otherHand bool
}

// joint is a seam that a borrowed part joins here.
type joint struct {
	name  string      // the seam's, here
	old   int         // the seam here that is taken over, -1 for one that is new
	rest  pattern.Run // the edges here
	group pattern.Run // the part's edges, in the same direction, under their own names
	// groupIsB tells on which side the part stands.
	groupIsB bool
	meeting  pattern.Meeting
}

// choose finds the part in the lender and what it replaces here.
func (b *borrowing) choose() error {
	lender := b.Lender
	seeds := map[string]bool{}
	if b.Piece != "" {
		piece := lender.Piece(b.Piece)
		if piece == nil {
			return refuse(fmt.Sprintf("pattern %q has no piece %q", lender.Name, b.Piece), "its pieces are "+strings.Join(lender.PieceNames(), ", "))
		}
		seeds[b.Piece] = true
		b.Roles = nil
		if piece.Role != "" {
			b.Roles = []pattern.Role{piece.Role}
		}
	} else {
		for _, piece := range lender.Pieces {
			if slices.Contains(b.Roles, piece.Role) {
				seeds[piece.Name] = true
			}
		}
		if len(seeds) == 0 {
			return refuse(fmt.Sprintf("pattern %q has no piece with the role %s", lender.Name, rolesText(b.Roles)),
				"name the piece that is meant; its pieces are "+strings.Join(lender.PieceNames(), ", "))
		}
	}
	taken := hanging(lender, seeds, b.Roles)
	if len(taken) == len(lender.Pieces) {
		return refuse(fmt.Sprintf("that would take all of pattern %q", lender.Name), "alter that pattern in the place of this one")
	}
	for _, piece := range lender.Pieces {
		if taken[piece.Name] {
			b.group = append(b.group, piece.Clone())
		}
	}
	for _, s := range lender.Clone().Seams {
		a, mixedA := allOf(s.A, taken)
		c, mixedC := allOf(s.B, taken)
		switch {
		case mixedA || mixedC:
			return refuse(fmt.Sprintf("seam %q of pattern %q has the part and the rest on one side", s.Name, lender.Name), "name a piece whose seams begin and end with it")
		case a && (c || len(s.B) == 0):
			b.inner = append(b.inner, s)
		case a || c:
			b.outer = append(b.outer, s)
		}
	}
	if len(b.outer) == 0 {
		return refuse(fmt.Sprintf("piece %q of pattern %q is sewn to nothing else there", b.group[0].Name, lender.Name), "nothing tells where it would go here")
	}
	here := map[string]bool{}
	for _, piece := range b.here.Pieces {
		if piece.Role != "" && slices.Contains(b.Roles, piece.Role) {
			here[piece.Name] = true
		}
	}
	b.removed = hanging(b.here, here, b.Roles)
	if len(b.removed) == len(b.here.Pieces) {
		return refuse("that would replace the whole pattern", "borrow less")
	}
	return nil
}

// bodyRoles are the pieces that a garment is known by: none of them hangs on
// another.
var bodyRoles = []pattern.Role{
	pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront, pattern.SkirtFront, pattern.SkirtBack,
	pattern.Sleeve, pattern.Collar, pattern.FacingFront, pattern.FacingBack,
}

// hanging returns the pieces that begin the part and those sewn to them, and to
// those, that are not parts of the garment in their own right.
func hanging(p *pattern.Pattern, seeds map[string]bool, roles []pattern.Role) map[string]bool {
	part := map[string]bool{}
	for name := range seeds {
		part[name] = true
	}
	mayHang := func(name string) bool {
		piece := p.Piece(name)
		return piece != nil && !part[name] && (!slices.Contains(bodyRoles, piece.Role) || slices.Contains(roles, piece.Role) && len(seeds) > 1)
	}
	for grown := true; grown; {
		grown = false
		for _, s := range p.Seams {
			run := slices.Concat(s.A, s.B)
			if !slices.ContainsFunc(run, func(r pattern.EdgeRef) bool { return part[r.Piece] }) {
				continue
			}
			for _, r := range run {
				if mayHang(r.Piece) {
					part[r.Piece], grown = true, true
				}
			}
		}
	}
	return part
}

// allOf reports whether all of the run is of the pieces, and whether only part
// of it is.
func allOf(run pattern.Run, pieces map[string]bool) (all, mixed bool) {
	n := 0
	for _, r := range run {
		if pieces[r.Piece] {
			n++
		}
	}
	return n > 0 && n == len(run), n > 0 && n < len(run)
}

func rolesText(roles []pattern.Role) string {
	s := ""
	for i, r := range roles {
		if i > 0 {
			s += " or "
		}
		s += string(r)
	}
	return s
}

// assemble puts the pattern together as it is before anything is fitted.
func (b *borrowing) assemble() (*pattern.Pattern, pattern.Lineage) {
	out := b.here.Clone()
	at := len(out.Pieces)
	for i := len(out.Pieces) - 1; i >= 0; i-- {
		if b.removed[out.Pieces[i].Name] {
			at = i
		}
	}
	for i := range out.Pieces[:at] {
		if b.removed[out.Pieces[i].Name] {
			at--
		}
	}
	out.Pieces = slices.DeleteFunc(out.Pieces, func(p pattern.Piece) bool { return b.removed[p.Name] })
	lineage := pattern.Same(out)
	b.names = map[string]string{}
	for i := range b.group {
		piece := &b.group[i]
		b.names[piece.Name] = freeName(piece.Name, func(n string) bool {
			return out.Piece(n) != nil || slices.ContainsFunc(b.group, func(g pattern.Piece) bool { return n != piece.Name && g.Name == n })
		})
	}
	for i := range b.group {
		piece := b.group[i].Clone()
		piece.Name = b.names[piece.Name]
		for _, edge := range piece.Edges {
			lineage = append(lineage, pattern.Span{New: pattern.Stretch{Piece: piece.Name, Edge: edge.Name, To: edge.Path.Length()}})
		}
		out.Pieces = slices.Insert(out.Pieces, at+i, piece)
	}
	b.e.changed("pieces taken from "+b.Lender.Name, "", 0, float64(len(b.group)), "")
	if len(b.removed) > 0 {
		b.e.changed("pieces that they replace", "", float64(len(b.removed)), 0, "")
	}
	b.seams(out)
	return out, lineage
}

// seams puts the part's seams into the pattern, takes out those of what it
// replaces, and gives the seams that join both their new sides.
func (b *borrowing) seams(out *pattern.Pattern) {
	renamed := func(r pattern.Run) pattern.Run {
		r = slices.Clone(r)
		for i := range r {
			r[i].Piece = b.names[r[i].Piece]
		}
		return r
	}
	taken := func(n string) bool { return out.Seam(n) != nil }
	var gone []string
	for i := range out.Seams {
		s := &out.Seams[i]
		if k := slices.IndexFunc(b.joints, func(j joint) bool { return j.old == i }); k >= 0 {
			b.joints[k].put(s, renamed)
		} else if touches(*s, b.removed) {
			gone = append(gone, s.Name)
		}
	}
	out.Seams = slices.DeleteFunc(out.Seams, func(s pattern.Seam) bool { return slices.Contains(gone, s.Name) })
	for k := range b.joints {
		j := &b.joints[k]
		if j.old >= 0 {
			continue
		}
		j.name = freeName(j.name, taken)
		s := pattern.Seam{Name: j.name}
		j.put(&s, renamed)
		out.Seams = append(out.Seams, s)
		for _, ref := range j.rest {
			out.Edge(ref).Finish = pattern.Sewn
		}
	}
	for _, s := range b.inner {
		s.Name, s.A, s.B = freeName(s.Name, taken), renamed(s.A), renamed(s.B)
		out.Seams = append(out.Seams, s)
		b.innerNames = append(b.innerNames, s.Name)
	}
	for _, j := range b.joints { // they are set anew once everything fits
		for _, ref := range sideOf(out.Seam(j.name), j.groupIsB) {
			piece := out.Piece(ref.Piece)
			piece.Notches = slices.DeleteFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == ref.Edge })
		}
	}
}

// put gives the seam the joint's sides and meeting.
func (j *joint) put(s *pattern.Seam, renamed func(pattern.Run) pattern.Run) {
	j.name = s.Name
	s.A, s.B, s.Meeting, s.Kind = slices.Clone(j.rest), renamed(j.group), j.meeting, pattern.Joined
	if !j.groupIsB {
		s.A, s.B = s.B, s.A
	}
}

func touches(s pattern.Seam, pieces map[string]bool) bool {
	return slices.ContainsFunc(slices.Concat(s.A, s.B), func(r pattern.EdgeRef) bool { return pieces[r.Piece] })
}

// freeName returns the name, with a number after it if it is taken.
func freeName(name string, taken func(string) bool) string {
	if !taken(name) {
		return name
	}
	for n := 2; ; n++ {
		if s := fmt.Sprintf("%s-%d", name, n); !taken(s) {
			return s
		}
	}
}

// turnOver draws the part for the other side of the body: left becomes right,
// every edge runs the other way and begins where it ended.
func (b *borrowing) turnOver() {
	for i := range b.group {
		b.group[i] = mirrored(b.group[i])
	}
	flip := func(r pattern.Run) {
		for i := range r {
			r[i].Backwards = !r[i].Backwards
		}
	}
	for i := range b.inner {
		flip(b.inner[i].A)
		flip(b.inner[i].B)
	}
	for i := range b.joints {
		flip(b.joints[i].group)
	}
}

// overY turns the paper over.
var overY = geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))

// mirrored returns the piece turned over about the y axis.
func mirrored(p pattern.Piece) pattern.Piece {
	p = p.Clone()
	lengths := map[string]float64{}
	slices.Reverse(p.Edges)
	for i := range p.Edges {
		lengths[p.Edges[i].Name] = p.Edges[i].Path.Length()
		p.Edges[i].Path = p.Edges[i].Path.Transform(overY).Reverse()
	}
	// A corner's treatment is written on the edge that ends there: each now ends
	// where it began.
	corners := make([]pattern.Corner, len(p.Edges))
	for i := range p.Edges {
		corners[i] = p.Edges[(i+1)%len(p.Edges)].Corner
	}
	for i := range p.Edges {
		p.Edges[i].Corner = corners[i]
	}
	p.Grain.From, p.Grain.To = overY.Apply(p.Grain.From), overY.Apply(p.Grain.To)
	for i := range p.Landmarks {
		p.Landmarks[i].At = overY.Apply(p.Landmarks[i].At)
	}
	swap := func(edge string, from, to *float64) { *from, *to = lengths[edge]-*to, lengths[edge]-*from }
	other := map[pattern.Pressed]pattern.Pressed{pattern.PressedToStart: pattern.PressedToEnd, pattern.PressedToEnd: pattern.PressedToStart}
	for i := range p.Darts {
		d := &p.Darts[i]
		swap(d.Edge, &d.From, &d.To)
		d.Point, d.Pressed = overY.Apply(d.Point), other[d.Pressed]
	}
	for i := range p.Pleats {
		swap(p.Pleats[i].Edge, &p.Pleats[i].From, &p.Pleats[i].To)
		p.Pleats[i].Pressed = other[p.Pleats[i].Pressed]
	}
	for i := range p.Gathers {
		swap(p.Gathers[i].Edge, &p.Gathers[i].From, &p.Gathers[i].To)
	}
	for i := range p.Notches {
		n := &p.Notches[i]
		n.At = math.Max(0, lengths[n.Edge]-n.At)
	}
	return p
}
