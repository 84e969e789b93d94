package report

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/unit"
)

// findings is the shape of findings.json. Lengths are mm to a nanometre.
type findings struct {
	Pattern named             `json:"pattern"`
	Chain   named             `json:"chain"`
	Wearer  *named            `json:"wearer,omitempty"`
	Sound   bool              `json:"sound"` // every seam of the last pattern goes together
	Arrival []finding.Finding `json:"arrival"`
	Steps   []stepFindings    `json:"steps"`
	Seams   []seamFigures     `json:"seams"` // of the last pattern
}

type named struct {
	Name  string `json:"name"`
	Title string `json:"title,omitempty"`
}

type stepFindings struct {
	Name      string            `json:"name"`
	Operation string            `json:"operation"`
	Cautions  []string          `json:"cautions,omitempty"`
	Changes   []changeFigures   `json:"changes,omitempty"`
	Findings  []finding.Finding `json:"findings"`
}

type changeFigures struct {
	What   string  `json:"what"`
	Piece  string  `json:"piece,omitempty"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
	Unit   string  `json:"unit,omitempty"`
}

type seamFigures struct {
	Seam       string      `json:"seam"`
	A          sideFigures `json:"a"`
	B          sideFigures `json:"b"`
	Difference float64     `json:"difference"`
	Meeting    string      `json:"meeting"`
	OK         bool        `json:"ok"`
	Text       string      `json:"text"`
}

type sideFigures struct {
	Edges string  `json:"edges"`
	Cut   float64 `json:"cut"`
	Sewn  float64 `json:"sewn"`
}

// JSON writes what the checks found: on arrival, after each step, and how the
// seams of the last pattern measure. Equal results give equal bytes.
func JSON(w io.Writer, r *chain.Result) error {
	if r.Before == nil {
		return fmt.Errorf("writing findings: there is no pattern to report on")
	}
	walks := pairing.Walk(r.After())
	sound, _ := verdict(walks)
	out := findings{
		Pattern: named{r.Before.Name, r.Before.Title}, Chain: named{r.Chain.Name, r.Chain.Title},
		Sound: sound, Arrival: tidy(r.Arrival), Steps: []stepFindings{}, Seams: []seamFigures{},
	}
	if r.Wearer.Name != "" {
		out.Wearer = &named{r.Wearer.Name, r.Wearer.Title}
	}
	for _, done := range r.Steps {
		s := stepFindings{Name: done.Step.Name, Operation: done.Step.Operation, Cautions: done.Cautions, Findings: tidy(done.Findings)}
		for _, c := range done.Changes {
			s.Changes = append(s.Changes, changeFigures{c.What, c.Piece, unit.Round(c.Before), unit.Round(c.After), c.Unit})
		}
		out.Steps = append(out.Steps, s)
	}
	for _, k := range walks {
		out.Seams = append(out.Seams, seamFigures{
			k.Seam, sideFigures{k.A.Label, unit.Round(k.A.Cut), unit.Round(k.A.Sewn)}, sideFigures{k.B.Label, unit.Round(k.B.Cut), unit.Round(k.B.Sewn)},
			unit.Round(k.Difference), newSeam(k).Meeting, k.OK, k.Text,
		})
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(out); err != nil {
		return fmt.Errorf("writing findings: %w", err)
	}
	return nil
}

// tidy sorts findings and rounds their figures, on a copy.
func tidy(list []finding.Finding) []finding.Finding {
	out := append([]finding.Finding{}, slices.Clone(list)...)
	for i := range out {
		if f := out[i].Figures; f != nil {
			out[i].Figures = &finding.Figures{A: unit.Round(f.A), B: unit.Round(f.B), Difference: unit.Round(f.Difference), Unit: f.Unit}
		}
		if at := out[i].Place.At; at != nil {
			out[i].Place.At = &geom.Point{X: unit.Round(at.X), Y: unit.Round(at.Y)}
		}
	}
	finding.Sort(out)
	return out
}
