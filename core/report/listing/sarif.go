package listing

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	pathpkg "path"
	"slices"
	"strings"
	"unicode/utf8"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/rules"
	"bygone.example/core/shelf"
)

// SARIF 2.1.0 (OASIS standard, errata 01). Columns are counted in Unicode code
// points, as source counts them, and the run says so (columnKind, 3.14.17).
const (
	sarifSchema  = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	sarifVersion = "2.1.0"
	sarifColumns = "unicodeCodePoints"
	// fingerprint is the name and version of the way we tell that two results
	// are the same one (3.27.17): by what is found in which part of which file,
	// so that lines may be put in before it.
	fingerprint = "bygoneFinding/v1"
	// refused is the rule of a file that cannot be used: no finding of the check.
	refused = "file-refused"
)

type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool    sarifTool     `json:"tool"`
		Columns string        `json:"columnKind"`
		Results []sarifResult `json:"results"`
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name  string      `json:"name"`
		Full  sarifText   `json:"fullDescription"`
		Rules []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID      string       `json:"id"`
		Short   sarifText    `json:"shortDescription"`
		Full    sarifText    `json:"fullDescription"`
		Help    sarifText    `json:"help"`
		Default sarifDefault `json:"defaultConfiguration"`
	}
	sarifDefault struct {
		Level string `json:"level"`
	}
	sarifText struct {
		Text string `json:"text"`
	}
	sarifResult struct {
		Rule         string             `json:"ruleId"`
		Index        int                `json:"ruleIndex"`
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Fingerprints map[string]string  `json:"partialFingerprints"`
		Properties   *sarifProperties   `json:"properties,omitempty"`
		Suppressions []sarifSuppression `json:"suppressions,omitempty"`
	}
	sarifSuppression struct {
		Kind          string `json:"kind"`
		Justification string `json:"justification"`
	}
	sarifLocation struct {
		Physical sarifPhysical  `json:"physicalLocation"`
		Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   *sarifRegion  `json:"region,omitempty"`
	}
	sarifArtifact struct {
		URI string `json:"uri"`
	}
	sarifRegion struct {
		StartLine   int        `json:"startLine"`
		StartColumn int        `json:"startColumn,omitempty"`
		EndLine     int        `json:"endLine,omitempty"`
		EndColumn   int        `json:"endColumn,omitempty"`
		Snippet     *sarifText `json:"snippet,omitempty"`
	}
	sarifLogical struct {
		Name string `json:"name"`
		Full string `json:"fullyQualifiedName"`
		Kind string `json:"kind"`
	}
	sarifProperties struct {
		At      *[2]float64      `json:"at,omitempty"` // mm, in the piece's own plane
		Figures *finding.Figures `json:"figures,omitempty"`
		Since   string           `json:"since,omitempty"`
	}
)

func writeSARIF(w io.Writer, r *shelf.Result) error {
	known := sarifRules()
	at := map[string]int{}
	for i, rule := range known {
		at[rule.ID] = i
	}
	run := sarifRun{
		Tool: sarifTool{sarifDriver{
			Name: "bygone", Full: sarifText{"Walks the seams of sewing patterns and says what will not go together."}, Rules: known,
		}},
		Columns: sarifColumns, Results: []sarifResult{},
	}
	for i := range r.Files {
		file := r.Files[i]
		file.Path = fromTop(r.Base, file.Path)
		c := &file
		prints := prints{}
		for _, p := range c.Refused {
			run.Results = append(run.Results, sarifResult{
				Rule: refused, Index: at[refused], Level: "error", Message: message(p.Text, p.Remedy),
				Locations:    []sarifLocation{{Physical: physical(c, p.Line, p.Column)}},
				Fingerprints: prints.of(refused, c.Path, p.Text),
			})
		}
		for _, f := range c.Findings {
			result, err := sarifOf(c, f, at, prints)
			if err != nil {
				return err
			}
			run.Results = append(run.Results, result)
		}
		for _, e := range c.Excepted {
			result, err := sarifOf(c, e.Finding, at, prints)
			if err != nil {
				return err
			}
			result.Suppressions = []sarifSuppression{{"external", e.Reason}}
			run.Results = append(run.Results, result)
		}
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(sarifLog{sarifSchema, sarifVersion, []sarifRun{run}})
}

// sarifOf is one finding of a file.
func sarifOf(c *shelf.Checked, f finding.Finding, at map[string]int, prints prints) (sarifResult, error) {
	index, known := at[string(f.Code)]
	if !known {
		return sarifResult{}, fmt.Errorf("writing SARIF: nothing explains the code %s", f.Code)
	}
	location := sarifLocation{Physical: physical(c, f.Place.Line, f.Place.Column)}
	if name := part(f.Place); name != "" {
		location.Logical = []sarifLogical{{Name: cmp.Or(f.Place.Edge, f.Place.Piece, f.Place.Seam), Full: name, Kind: kindOf(f.Place)}}
	}
	return sarifResult{
		Rule: string(f.Code), Index: index, Level: level(f.Severity), Message: message(f.Text, f.Remedy),
		Locations: []sarifLocation{location}, Properties: properties(f),
		Fingerprints: prints.of(string(f.Code), c.Path, f.Place.Seam, f.Place.Piece, f.Place.Edge),
	}, nil
}

// sarifRules are all codes, whether or not any of them was found: a result's
// rule has the same index in every file.
func sarifRules() []sarifRule {
	var list []sarifRule
	for _, e := range append(pairing.Codes(), rules.ExplainExpired()) {
		list = append(list, sarifRule{
			ID: string(e.Code), Short: sarifText{e.Title + "."}, Full: sarifText{e.Why},
			Help: sarifText{e.Why + "\n\n" + e.Remedy}, Default: sarifDefault{level(e.Severity)},
		})
	}
	list = append(list, sarifRule{
		ID: refused, Short: sarifText{"The file cannot be used."}, Full: sarifText{"Nothing could be checked in it."},
		Help: sarifText{"Nothing could be checked in it.\n\nMend the file as the message says."}, Default: sarifDefault{"error"},
	})
	slices.SortFunc(list, func(a, b sarifRule) int { return cmp.Compare(a.ID, b.ID) })
	return list
}

func level(s finding.Severity) string {
	switch s {
	case finding.Fault:
		return "error"
	case finding.Warning:
		return "warning"
	}
	return "note"
}

// message is what viewers are sure to show, so the remedy is in it. Braces and
// brackets would stand for arguments and links (3.11.5, 3.11.6).
func message(text, remedy string) sarifText {
	text = strings.TrimSuffix(text, ".") + "."
	if remedy != "" {
		text += " " + strings.TrimSuffix(remedy, ".") + "."
	}
	return sarifText{strings.NewReplacer("{", "{{", "}", "}}", "[", `\[`, "]", `\]`, `\`, `\\`).Replace(text)}
}

// physical is a place in a file. A region without an end goes to the end of its
// line (3.30.8); where we have the line we say so.
func physical(c *shelf.Checked, line, column int) sarifPhysical {
	p := sarifPhysical{Artifact: sarifArtifact{uri(c.Path)}}
	if line < 1 {
		return p
	}
	p.Region = &sarifRegion{StartLine: line, StartColumn: max(column, 0), EndLine: line}
	if text, ok := c.Line(line); ok {
		p.Region.EndColumn = max(utf8.RuneCountInString(text)+1, column)
		p.Region.Snippet = &sarifText{text}
	}
	return p
}

// fromTop is a path from the top of the repository, wherever in it the check was
// run: services look for it there. An absolute path stays as it is.
func fromTop(base, path string) string {
	if base == "" || pathpkg.IsAbs(path) || len(path) > 1 && path[1] == ':' {
		return path
	}
	return pathpkg.Join(base, path)
}

// uri is a path as a URI reference (3.4.3); of an absolute path, a file URI.
func uri(path string) string {
	u := url.URL{Path: path}
	switch {
	case strings.HasPrefix(path, "/"):
		u.Scheme = "file"
	case len(path) > 2 && path[1] == ':' && path[2] == '/': // of Windows
		u.Scheme, u.Path = "file", "/"+path
	}
	return u.String()
}

func kindOf(p finding.Place) string {
	switch {
	case p.Edge != "":
		return "edge"
	case p.Piece != "":
		return "piece"
	}
	return "seam"
}

func properties(f finding.Finding) *sarifProperties {
	p := &sarifProperties{Figures: f.Figures, Since: f.Since}
	if f.Place.At != nil {
		p.At = &[2]float64{f.Place.At.X, f.Place.At.Y}
	}
	if *p == (sarifProperties{}) {
		return nil
	}
	return p
}

// prints counts equal results, so that the second of them is another one.
type prints map[string]int

func (p prints) of(parts ...string) map[string]string {
	key := strings.Join(parts, "\x00")
	n := p[key]
	p[key]++
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\x00%d", key, n))
	return map[string]string{fingerprint: hex.EncodeToString(sum[:16])}
}
