package report

import (
	"bytes"
	"cmp"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"sync"

	"bygone.example/core/draw"
	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pairing/example"
	"bygone.example/core/rules"
)

// Shown is a code with what there is to see of it.
type Shown struct {
	pairing.Explanation
	// Found is what the check says of the example; nil where there is none, and
	// Unshown says why.
	Found   *finding.Finding
	Unshown string
	// Bounds are the tolerances that it is judged by.
	Bounds []pairing.Tolerance

	example example.Example
}

// Codes lists every code that a check can print, with what it means, sorted:
// those of a pattern, and those of a repository.
func Codes() []pairing.Explanation {
	list := append(pairing.Codes(), rules.ExplainExpired())
	slices.SortFunc(list, func(a, b pairing.Explanation) int { return cmp.Compare(a.Code, b.Code) })
	return list
}

// Show looks a code up; ok is false of one that is not ours.
func Show(code finding.Code) (s Shown, ok bool) {
	all := Codes()
	i := slices.IndexFunc(all, func(e pairing.Explanation) bool { return e.Code == code })
	if i < 0 {
		return s, false
	}
	s.Explanation = all[i]
	s.Bounds = pairing.Bounds(code)
	e, has := example.Of(code)
	if !has {
		s.Unshown = example.Unshown[code]
		if code == rules.Expired {
			s.Unshown = "it is about a line of the rules file, and not of a pattern"
		}
		return s, true
	}
	s.example = e
	for _, f := range pairing.CheckWith(e.Before, e.Options) {
		if f.Code == code {
			s.Found = &f
			break
		}
	}
	return s, true
}

// Picture draws the code, before and after; ok is false where there is nothing
// to see.
func (s Shown) Picture() (d draw.Drawing, ok bool) {
	if s.Found == nil {
		return d, false
	}
	return draw.Explained(s.example, *s.Found), true
}

// explainedPage is what the template sees.
type explainedPage struct {
	Style template.CSS
	Title string
	Codes []explainedCode
}

type explainedCode struct {
	Shown
	Picture template.HTML
}

var (
	//go:embed explained.html
	explainedText string

	explainedTemplate = sync.OnceValue(func() *template.Template {
		return template.Must(template.New("explained").Parse(explainedText))
	})
)

// Explained writes what codes of the check mean as one page that needs nothing
// else.
func Explained(w io.Writer, list []Shown) error {
	p := explainedPage{Style: template.CSS(pageStyle), Title: "What the check finds"}
	if len(list) == 1 {
		p.Title = list[0].Title
	}
	p.Codes = make([]explainedCode, len(list))
	var figures []figure
	for i, s := range list {
		p.Codes[i].Shown = s
		if d, ok := s.Picture(); ok {
			figures = append(figures, figure{&p.Codes[i].Picture, d, fmt.Sprintf("c%d-", i+1)})
		}
	}
	if err := inline(figures); err != nil {
		return fmt.Errorf("writing the explanations: %w", err)
	}
	var b bytes.Buffer
	if err := explainedTemplate().Execute(&b, p); err != nil {
		return fmt.Errorf("writing the explanations: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}
