// Package report tells a maker what running a chain did: as one page to read
// or print, as findings for machines, and as a short summary for a terminal.
package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"bygone.example/core/chain"
	"bygone.example/core/draw"
)

// Options are all optional.
type Options struct {
	// Pictures are those that Draw made, if they were made already.
	Pictures *Pictures
	// Files are listed at the end of the page as links, in order.
	Files []File
}

// File is something that was written beside the page.
type File struct {
	Name string // relative to the page
	What string // a few words, no full stop
}

// Pictures are the drawings of one result.
type Pictures struct {
	Before, After draw.Drawing   // small, in one scale
	Pieces        draw.Drawing   // the last good pattern, with everything
	Steps         []draw.Drawing // what each step changed
}

// Draw makes the pictures of a result, several at a time.
func Draw(r *chain.Result) *Pictures {
	p := &Pictures{Steps: make([]draw.Drawing, len(r.Steps))}
	var wg sync.WaitGroup
	wg.Go(func() { p.Before, p.After = draw.Overview(r.Before, r.After()) })
	wg.Go(func() { p.Pieces = draw.Pieces(r.After()) })
	before := r.Before
	for i, s := range r.Steps {
		from, to := before, s.Pattern
		wg.Go(func() { p.Steps[i] = draw.Step(from, to) })
		before = s.Pattern
	}
	wg.Wait()
	return p
}

var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	pageStyle string

	pageTemplate = sync.OnceValue(func() *template.Template {
		return template.Must(template.New("page").Parse(pageText))
	})
)

// HTML writes the report as one page that needs nothing else: no script, no
// font, no other file. Equal results give equal bytes.
func HTML(w io.Writer, r *chain.Result, opts Options) error {
	if r.Before == nil {
		return fmt.Errorf("writing the report: there is no pattern to report on")
	}
	pics := opts.Pictures
	if pics == nil {
		pics = Draw(r)
	}
	if len(pics.Steps) != len(r.Steps) {
		return fmt.Errorf("writing the report: %d pictures for %d steps", len(pics.Steps), len(r.Steps))
	}
	p := newPage(r)
	p.Style = template.CSS(pageStyle)
	p.Files = opts.Files
	figures := []figure{
		{&p.BeforePicture, pics.Before, "b-"}, {&p.AfterPicture, pics.After, "a-"}, {&p.PiecesPicture, pics.Pieces, "p-"},
	}
	for i := range p.Steps {
		figures = append(figures, figure{&p.Steps[i].Picture, pics.Steps[i], fmt.Sprintf("s%d-", i+1)})
	}
	if err := inline(figures); err != nil {
		return fmt.Errorf("writing the report: %w", err)
	}
	var b bytes.Buffer
	if err := pageTemplate().Execute(&b, p); err != nil {
		return fmt.Errorf("writing the report: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// figure is a drawing and where in the page it goes.
type figure struct {
	to     *template.HTML
	draw   draw.Drawing
	prefix string // of the ids in it, so that none occurs twice in the page
}

func inline(figures []figure) error {
	errs := make([]error, len(figures))
	var wg sync.WaitGroup
	for i, f := range figures {
		wg.Go(func() {
			var b strings.Builder
			errs[i] = f.draw.SVG(&b, f.prefix)
			*f.to = template.HTML(b.String())
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
