package main

import (
	"bytes"
	"fmt"
	"io"
	"sync"

	"bygone.example/core/chain"
	"bygone.example/core/draw"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/outfolder"
	"bygone.example/core/paper"
	"bygone.example/core/pattern"
	"bygone.example/core/report"
)

// pngWidth is the width of pieces.png: enough to read a piece's name on a
// screen, and small enough to send.
const pngWidth = 2000

// results makes the files of a run, several at a time. Equal results give equal
// files.
func results(r *chain.Result) ([]outfolder.File, error) {
	pictures := report.Draw(r)
	links := []report.File{
		{Name: "pattern.yaml", What: "the altered pattern"},
		{Name: "pieces.svg", What: "all pieces"},
		{Name: "pieces.png", What: "the same as an image"},
		{Name: "a4.pdf", What: "the pieces at true size on A4 pages to join; bygone print lays them on other paper"},
		{Name: "sheets.pdf", What: "the pieces at true size on one sheet"},
		{Name: "findings.json", What: "what the walk along the seams found, for machines"},
	}
	var jobs []func() (outfolder.File, error)
	add := func(path string, write func(io.Writer) error) {
		jobs = append(jobs, func() (outfolder.File, error) {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				return outfolder.File{}, fmt.Errorf("making %s: %w", path, err)
			}
			return outfolder.File{Path: path, Data: b.Bytes()}, nil
		})
	}
	// The slowest first, so that no core waits at the end.
	add("pieces.png", func(w io.Writer) error { return pictures.Pieces.PNG(w, pngWidth) })
	add("report.html", func(w io.Writer) error {
		return report.HTML(w, r, report.Options{Pictures: pictures, Files: links})
	})
	add("a4.pdf", func(w io.Writer) error { return onA4(w, r.After()) })
	add("sheets.pdf", func(w io.Writer) error { return draw.Sheet(r.After()).PDF(w) })
	add("pieces.svg", func(w io.Writer) error { return pictures.Pieces.SVG(w, "p-") })
	for i, picture := range pictures.Steps {
		add(fmt.Sprintf("steps/%02d-%s.svg", i+1, fileName(r.Steps[i].Step.Name)), func(w io.Writer) error {
			return picture.SVG(w, "s-")
		})
	}
	add("findings.json", func(w io.Writer) error { return report.JSON(w, r) })
	add("pattern.yaml", func(w io.Writer) error {
		_, err := w.Write(yamlfile.Write(r.After()))
		return err
	})
	files, errs := make([]outfolder.File, len(jobs)), make([]error, len(jobs))
	var wg sync.WaitGroup
	for i, job := range jobs {
		wg.Go(func() { files[i], errs[i] = job() })
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return files, nil
}

// onA4 lays a pattern on the paper most people have.
func onA4(w io.Writer, p *pattern.Pattern) error {
	size, err := paper.ParseSize("a4")
	if err != nil {
		return err
	}
	sheet, err := paper.Lay(p, paper.Options{Grid: paper.Grid{Size: size, Margin: paper.DefaultMargin, Overlap: paper.DefaultOverlap}})
	if err != nil {
		return err
	}
	return sheet.Document().PDF(w)
}
