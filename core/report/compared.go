package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"sync"

	"bygone.example/core/differ"
	"bygone.example/core/draw"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// Comparison is two patterns and how they differ.
type Comparison struct {
	First, Second string // what their files are called
	A, B          *pattern.Pattern
	Found         *differ.Comparison
}

// comparedPage is what the template of a comparison sees.
type comparedPage struct {
	Style                    template.CSS
	First, Second, Tolerance string
	Different                bool
	Verdict                  string
	Picture                  template.HTML
	Rows, Harmless           []comparedRow
}

type comparedRow struct{ Number, Text, At, MM string }

var (
	//go:embed compared.html
	comparedText string

	comparedTemplate = sync.OnceValue(func() *template.Template {
		return template.Must(template.New("compared").Parse(comparedText))
	})
)

// Compared writes a comparison as one page that needs nothing else: the picture,
// and every difference in words.
func Compared(w io.Writer, c Comparison) error {
	p := comparedPage{
		Style: template.CSS(pageStyle), First: c.First, Second: c.Second,
		Tolerance: unit.Length(c.Found.Tolerance), Different: c.Found.Different(),
	}
	p.Verdict = "the two patterns make the same garment"
	if p.Different {
		p.Verdict = c.Found.Summary()
	}
	numbers := draw.Numbered(c.Found)
	for i, d := range c.Found.Differences {
		row := comparedRow{Text: d.Text}
		if n := numbers[i]; n > 0 {
			row.Number = fmt.Sprint(n)
		}
		if d.MM > 0 {
			row.MM = unit.Length(d.MM)
		}
		if d.At != nil && d.MM > 0 {
			row.At = fmt.Sprintf("%.1f, %.1f", d.At.X, d.At.Y)
		}
		if d.Harmless {
			p.Harmless = append(p.Harmless, row)
		} else {
			p.Rows = append(p.Rows, row)
		}
	}
	if err := inline([]figure{{&p.Picture, draw.Compared(c.A, c.B, c.Found), "d-"}}); err != nil {
		return fmt.Errorf("writing the comparison: %w", err)
	}
	var b bytes.Buffer
	if err := comparedTemplate().Execute(&b, p); err != nil {
		return fmt.Errorf("writing the comparison: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}
