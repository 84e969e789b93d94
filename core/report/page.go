package report

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"bygone.example/core/chain"
	"bygone.example/core/cutline"
	"bygone.example/core/draw"
	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// page is what the template sees: words and figures ready to set.
type page struct {
	Style         template.CSS
	From, To      string
	Job           string // in one sentence
	Sound         bool
	Verdict, When string
	Notes         string
	BeforePicture template.HTML
	AfterPicture  template.HTML
	PiecesPicture template.HTML
	Steps         []step
	Seams         []seam
	Arrival       []fact
	Standing      []fact // findings after the last step
	Cautions      []caution
	CutNotes      []string // where the cut line is not what the allowances ask for
	MockUp        []string
	Measures      []measure
	Files         []File
}

type step struct {
	Number   int
	ID       string
	Title    string
	Why      string
	Purpose  string
	Doer     string // the operation that did it
	Changes  []change
	Numbers  []number
	Cautions []string
	New      []fact
	Verdict  string
	Sound    bool
	Picture  template.HTML
	Shows    bool // the picture has something to show
}

type change struct{ What, Where, Before, After, Difference, Unit string }

type number struct{ Name, Value, From, Mark, Source, Meaning string }

type fact struct{ Severity, Where, Text, Remedy, Since string }

type caution struct{ Step, Text string }

type measure struct{ Name, Value string }

type seam struct {
	Name, A, B              string
	CutA, CutB, SewA, SewB  string
	Difference, Meeting     string
	OK                      bool
	Verdict, Text, Fullness string
}

func newPage(r *chain.Result) *page {
	after := r.After()
	walks := pairing.Walk(after)
	p := &page{From: titleOf(r.Before), To: destination(r.Chain), Notes: strings.TrimSpace(r.Chain.Notes)}
	p.Sound, p.Verdict = verdict(walks)
	p.Job = job(r, p.Verdict)
	p.When = "Walked after the last step"
	if !slices.ContainsFunc(r.Steps, func(d chain.Done) bool {
		return slices.ContainsFunc(d.Findings, func(f finding.Finding) bool { return f.Severity == finding.Fault })
	}) {
		p.When = "Walked after every step"
	}
	before := r.Before
	for i, done := range r.Steps {
		s := newStep(i, done)
		s.Shows = len(draw.Changed(before, done.Pattern)) > 0
		before = done.Pattern
		p.Steps = append(p.Steps, s)
		for _, c := range done.Cautions {
			p.Cautions = append(p.Cautions, caution{stepTitle(done.Step), c})
		}
	}
	for _, w := range walks {
		p.Seams = append(p.Seams, newSeam(w))
	}
	p.Arrival = facts(r.Arrival)
	if n := len(r.Steps); n > 0 {
		p.Standing = facts(r.Steps[n-1].Findings)
	}
	p.CutNotes = cutNotes(after)
	p.MockUp = mockUp(r, walks)
	for _, m := range sortedMeasures(r) {
		v, _ := r.Wearer.Of(m)
		p.Measures = append(p.Measures, measure{plain(string(m)), cm(v) + " cm"})
	}
	return p
}

// verdict judges the seams of the last pattern in a few words.
func verdict(walks []pairing.SeamWalk) (sound bool, text string) {
	open := 0
	for _, w := range walks {
		if !w.OK {
			open++
		}
	}
	switch {
	case len(walks) == 0:
		return false, "the pattern names no seams, so none could be walked"
	case open == 0:
		return true, "every seam goes together"
	case open == 1:
		return false, fmt.Sprintf("1 of %d seams does not go together yet", len(walks))
	}
	return false, fmt.Sprintf("%d of %d seams do not go together yet", open, len(walks))
}

func job(r *chain.Result, verdict string) string {
	text := titleOf(r.Before) + " → " + destination(r.Chain)
	if r.Wearer.Title != "" {
		text += ", for " + lowerFirst(r.Wearer.Title)
	}
	return fmt.Sprintf("%s, in %s; %s.", text, count(len(r.Steps), "step", "steps"), verdict)
}

func newStep(i int, done chain.Done) step {
	s := step{
		Number: i + 1, ID: fmt.Sprintf("step-%d", i+1), Title: stepTitle(done.Step),
		Why: strings.TrimSpace(done.Step.Why), Purpose: done.Spec.Purpose, Doer: done.Step.Operation,
		Cautions: done.Cautions, Numbers: numbers(done), Sound: true,
	}
	for _, c := range done.Changes {
		s.Changes = append(s.Changes, newChange(c, done.Pattern))
	}
	var fresh []finding.Finding
	for _, f := range done.Findings {
		if f.Since == done.Step.Name && f.Since != "" {
			fresh = append(fresh, f)
			s.Sound = s.Sound && f.Severity != finding.Fault
		}
	}
	s.New = facts(fresh)
	switch {
	case len(fresh) == 0:
		s.Verdict = "Seams walked: this step brought in nothing to mend."
	case s.Sound:
		s.Verdict = "Seams walked: they still go together; look at what is listed below."
	default:
		s.Verdict = "Seams walked: this step opened what is listed below."
	}
	return s
}

func newChange(c operation.Change, p *pattern.Pattern) change {
	what := c.What
	if !strings.Contains(what, " ") {
		what = plain(what) // the bare name of an edge
	}
	out := change{What: upperFirst(what), Where: pieceTitle(p, c.Piece)}
	diff := c.After - c.Before
	switch c.Unit {
	case "mm":
		out.Before, out.After, out.Difference, out.Unit = cm(c.Before), cm(c.After), signed(cm, diff), "cm"
	case "degrees":
		out.Before, out.After, out.Difference, out.Unit = tenth(c.Before), tenth(c.After), signed(tenth, diff), "°"
	default:
		out.Before, out.After, out.Difference = bare(c.Before), bare(c.After), signed(bare, diff)
	}
	return out
}

// told is what a change is called outside its table: with its piece, unless
// its own words name it.
func told(c operation.Change, p *pattern.Pattern) string {
	piece := pieceTitle(p, c.Piece)
	if c.Piece == "" || strings.Contains(strings.ToLower(plain(c.What)), strings.ToLower(piece)) {
		return upperFirst(c.What)
	}
	return piece + ", " + lowerFirst(newChange(c, p).What)
}

// numbers lists every parameter of a step with its value as used, in the
// operation's order, and where the value is known from.
func numbers(done chain.Done) []number {
	var out []number
	for _, param := range done.Spec.Parameters {
		n := number{Name: plain(param.Name), Meaning: param.Meaning, From: "default", Mark: string(param.Mark), Source: param.Source}
		v, used := done.Values[param.Name]
		if used {
			n.Value = valueText(v)
		} else {
			n.Value, n.From = found(done, param)
		}
		for _, set := range done.Step.Settings {
			if set.Parameter != param.Name {
				continue
			}
			n.Mark, n.Source = string(set.Mark), set.Source
			n.From = "set in the chain"
			if set.Line == 0 {
				n.From = "set for this run"
			}
			if !used {
				n.Value = set.Value
			}
		}
		out = append(out, n)
	}
	return out
}

// found tells what a step found for a parameter that was not set, and from what,
// as far as the step tells: in a change that begins with the parameter's name and
// ", from " or ", found "; and of the piece, where all that it changed is on one.
func found(done chain.Done, param operation.Parameter) (value, from string) {
	for _, c := range done.Changes {
		rest, ok := strings.CutPrefix(c.What, param.Name+", ")
		if !ok || !strings.HasPrefix(rest, "from ") && !strings.HasPrefix(rest, "found ") {
			continue
		}
		switch c.Unit {
		case "mm":
			return cm(c.After) + " cm", rest
		case "degrees":
			return tenth(c.After) + "°", rest
		}
		return bare(c.After), rest
	}
	if param.Kind == operation.Name && param.Name == "piece" {
		on := map[string]bool{}
		for _, c := range done.Changes {
			if c.Piece != "" {
				on[c.Piece] = true
			}
		}
		if len(on) == 1 {
			for name := range on {
				return plain(name), param.DefaultNote
			}
		}
	}
	return "found by the step", param.DefaultNote
}

func valueText(v operation.Value) string {
	switch v.Kind {
	case operation.Length:
		return cm(v.Number) + " cm"
	case operation.Angle:
		return tenth(v.Number*180/math.Pi) + "°"
	case operation.Switch:
		if v.Number != 0 {
			return "yes"
		}
		return "no"
	case operation.Choice, operation.Name, operation.OtherPattern:
		return v.Text
	}
	return bare(v.Number)
}

func facts(list []finding.Finding) []fact {
	sorted := slices.Clone(list)
	finding.Sort(sorted)
	var out []fact
	for _, f := range sorted {
		out = append(out, fact{string(f.Severity), placeText(f.Place), sentence(f.Text), f.Remedy, f.Since})
	}
	return out
}

func placeText(p finding.Place) string {
	var parts []string
	if p.Seam != "" {
		parts = append(parts, plain(p.Seam)+" seam")
	}
	if p.Piece != "" {
		parts = append(parts, plain(p.Piece))
	}
	if p.Edge != "" {
		parts = append(parts, plain(p.Edge))
	}
	if p.Where != "" {
		parts = append(parts, p.Where)
	}
	return strings.Join(parts, ", ")
}

func newSeam(w pairing.SeamWalk) seam {
	s := seam{
		Name: upperFirst(plain(w.Seam)), A: sideText(w.A.Label), B: sideText(w.B.Label),
		CutA: cm(w.A.Cut), CutB: cm(w.B.Cut), SewA: cm(w.A.Sewn), SewB: cm(w.B.Sewn),
		Difference: signed(cm, w.Difference), Meeting: string(w.Meeting.Kind), OK: w.OK, Text: w.Text,
	}
	if s.Meeting == "" {
		s.Meeting = string(pattern.Plain)
	}
	if w.Kind == pattern.Basted {
		s.Meeting += ", basted"
	}
	// Less than half a millimetre shows as nothing; a fault must show a figure.
	if !w.OK && math.Abs(w.Difference) < 0.5 {
		s.Difference = fmt.Sprintf("%+.2f mm", w.Difference)
	}
	s.Verdict = "goes together"
	if !w.OK {
		s.Verdict = "does not go together"
	}
	return s
}

// cutNotes tells where a cut line could not be drawn as the allowances ask.
func cutNotes(p *pattern.Pattern) []string {
	var out []string
	for i := range p.Pieces {
		for _, n := range cutline.Of(&p.Pieces[i]).Notes {
			text := pieceTitle(p, p.Pieces[i].Name) + ": " + sentence(n.Text)
			if !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	return out
}

// mockUp lists what to look at on the body, drawn from what was changed, from
// the fullness in the seams and from what is still open.
func mockUp(r *chain.Result, walks []pairing.SeamWalk) []string {
	var out []string
	type moved struct {
		c        operation.Change
		what, in string
	}
	var large []moved
	for _, done := range r.Steps {
		for _, c := range done.Changes {
			if c.Unit == "mm" && c.Before > 0 && math.Abs(c.After-c.Before) >= worthTrying {
				large = append(large, moved{c, told(c, done.Pattern), stepTitle(done.Step)})
			}
		}
	}
	slices.SortStableFunc(large, func(a, b moved) int {
		x, y := math.Abs(a.c.After-a.c.Before), math.Abs(b.c.After-b.c.Before)
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for i, m := range large {
		if i == mostTried {
			break
		}
		out = append(out, fmt.Sprintf("%s: %s → %s cm (%s).", m.what, cm(m.c.Before), cm(m.c.After), lowerFirst(m.in)))
	}
	for _, w := range walks {
		switch w.Meeting.Kind {
		case pattern.Gathered, pattern.Pleated:
			full := math.Max(w.A.Cut, w.B.Cut)
			sewn := math.Min(w.A.Sewn, w.B.Sewn)
			if sewn > 0 {
				out = append(out, fmt.Sprintf("The %s seam brings %s cm down to %s cm: try a hand's breadth of it in the real cloth.", plain(w.Seam), cm(full), cm(sewn)))
			}
		}
		if !w.OK {
			out = append(out, fmt.Sprintf("The %s seam does not go together: mend it on paper first (%s).", plain(w.Seam), strings.TrimSuffix(w.Text, ".")))
		}
	}
	return out
}

// worthTrying is the change in mm from which a maker will want to see it on
// the body: 2 cm, more than the ease of a close bodice hides (common practice).
// mostTried keeps the list to what one fitting can look at.
const worthTrying, mostTried = 20.0, 8
