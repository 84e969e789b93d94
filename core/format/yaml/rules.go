package yamlfile

import (
	"path"
	"strings"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/rules"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
	"bygone.example/core/unit"
)

// maxTolerance bounds a tolerance, in mm, degrees or as a ratio: what is larger
// was meant otherwise, and switches the check off.
const maxTolerance = 1000

// ReadRules reads the rules file of a shared repository. An error is a
// source.Problems.
func ReadRules(name string, data []byte) (rules.Rules, error) {
	r, root := load(name, data)
	if root == nil {
		return rules.Rules{}, r.problems.Err()
	}
	f, _ := r.form(root, rulesForm)
	if !r.header(f, "rules") && f.values["bygone"] != nil {
		return rules.Rules{}, r.problems[len(r.problems)-1:].Err()
	}
	r.text(f, "notes")
	out := rules.Default()
	r.tolerances(f, &out.Tolerances)
	for _, n := range r.list(f, "exceptions") {
		if e, ok := r.exception(n); ok {
			out.Exceptions = append(out.Exceptions, e)
		}
	}
	if err := r.problems.Err(); err != nil {
		return rules.Rules{}, err
	}
	return out, nil
}

func (r *reader) tolerances(f fields, to *pairing.Tolerances) {
	if !f.has("tolerances") {
		return
	}
	all := pairing.AllTolerances()
	set, ok := r.fields(f.values["tolerances"], "tolerances", f.takes("tolerances", boundsKind).keys...)
	if !ok {
		return
	}
	for _, d := range all {
		if !set.has(d.Name) {
			continue
		}
		n := set.values[d.Name]
		v, ok := r.numeral(n, d.Name)
		switch {
		case !ok:
		case v <= 0 || v > maxTolerance:
			r.refuse(n, "write a number of "+unitOf(d)+"; the house's is "+unit.Float(d.Default), "%s is %s, which is no tolerance", d.Name, source.Quote(n.Value))
		default:
			*d.Of(to) = v
		}
	}
	if to.KinkWarning > to.KinkFault {
		r.refuse(f.values["tolerances"], "make kink-warning the smaller of the two", "kink-warning, %s degrees, is more than kink-fault, %s", unit.Float(to.KinkWarning), unit.Float(to.KinkFault))
	}
}

func unitOf(d pairing.Tolerance) string {
	if d.Unit == "ratio" {
		return "a ratio"
	}
	return d.Unit
}

func (r *reader) exception(n *yaml.Node) (e rules.Exception, ok bool) {
	before := len(r.problems)
	f, ok := r.form(n, exceptionForm)
	if !ok {
		return e, false
	}
	e = rules.Exception{
		Code: finding.Code(r.word(f, "code")), File: r.word(f, "file"), Seam: r.word(f, "seam"), Piece: r.word(f, "piece"), Edge: r.word(f, "edge"),
		Reason: strings.TrimSpace(r.text(f, "reason")), Line: n.Line, Col: n.Column,
	}
	if r.need(f, "code") {
		if _, known := pairing.Explain(e.Code); !known && len(r.problems) == before {
			var codes []string
			for _, x := range pairing.Codes() {
				codes = append(codes, string(x.Code))
			}
			r.refuse(f.values["code"], spelling.Remedy(string(e.Code), codes), "there is no finding %s", source.Quote(string(e.Code)))
		}
	}
	if r.need(f, "file") {
		if clean := path.Clean(e.File); clean != e.File || strings.HasPrefix(clean, "/") || clean == "." || strings.Contains(e.File, `\`) || strings.HasPrefix(clean, "../") {
			r.refuse(f.values["file"], "write it as seen from the folder of the rules file, with / between folders, for instance patterns/blouse.yaml", "%s is no file of the repository", source.Quote(e.File))
		}
	}
	if f.has("edge") && !f.has(f.takes("edge").with) {
		r.refuse(f.values["edge"], "add the piece that it is an edge of", "the exception names an edge, but no piece")
	}
	for _, key := range []string{"seam", "piece", "edge"} {
		if v, ok := r.scalar(f, key); ok && !pattern.ValidDotted(v.Value) {
			r.refuse(v, "write the name as the pattern has it", "%s cannot be the name of a part: %s", key, source.Quote(v.Value))
		}
	}
	if r.need(f, "reason") && e.Reason == "" && len(r.problems) == before {
		r.refuse(f.values["reason"], "say why it may stay: who reads the pattern next cannot ask you", "the exception gives no reason")
	}
	return e, len(r.problems) == before
}
