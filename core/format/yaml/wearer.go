package yamlfile

import (
	"errors"
	"slices"

	"bygone.example/core/source"
	"bygone.example/core/spelling"
	"bygone.example/core/unit"
	"bygone.example/core/wearer"
)

// The bounds in mm on a measure of a body: outside them a unit was mistaken or
// a digit lost (common sense, not anthropometry).
const (
	minMeasure = 10
	maxMeasure = 3000
)

// ReadWearer reads a wearer file. An error is a source.Problems.
func ReadWearer(name string, data []byte) (wearer.Wearer, error) {
	r, root := load(name, data)
	if root == nil {
		return wearer.Wearer{}, r.problems.Err()
	}
	f, _ := r.form(root, wearerForm)
	if !r.header(f, "wearer") && f.values["bygone"] != nil {
		return wearer.Wearer{}, r.problems[len(r.problems)-1:].Err()
	}
	w := wearer.Wearer{Name: r.identifier(f, "lead"), Title: r.word(f, "title"), Measures: map[wearer.Measure]float64{}}
	if r.need(f, "measures") {
		known := f.takes("measures", measureKind).keys
		if m, ok := r.fields(f.values["measures"], "measures"); ok {
			for _, key := range m.order {
				if !slices.Contains(known, key) {
					r.refuse(m.keys[key], measureRemedy(key, known), "%s is not a measure that is known", source.Quote(key))
				} else if mm, ok := r.measure(m, key); ok {
					w.Measures[wearer.Measure(key)] = mm
				}
			}
		}
	}
	if err := r.problems.Err(); err != nil {
		return wearer.Wearer{}, err
	}
	return w, nil
}

// measureRemedy finds what was meant by the name that people use: bust, waist.
func measureRemedy(key string, known []string) string {
	if _, near := spelling.Nearest(key, known); !near {
		for _, suffix := range []string{"-girth", "-length"} {
			if slices.Contains(known, key+suffix) {
				key += suffix
			}
		}
	}
	return spelling.Remedy(key, known)
}

func (r *reader) measure(m fields, key string) (mm float64, ok bool) {
	if !m.has(key) {
		r.refuse(m.keys[key], "write the measure with its unit, or leave the line out", "%s has no value", key)
		return 0, false
	}
	n, ok := r.scalar(m, key)
	if !ok {
		return 0, false
	}
	mm, err := unit.ParseLength(n.Value)
	if bad, isUnit := errors.AsType[*unit.Error](err); isUnit {
		remedy := bad.Remedy
		if v, err := unit.ParseNumber(n.Value); err == nil && v < 300 && v > 20 {
			remedy = "write " + n.Value + "cm if that is what is meant"
		}
		r.refuse(n, remedy, "%s: %s", key, bad.Text)
		return 0, false
	}
	if mm = unit.Round(mm); mm < minMeasure || mm > maxMeasure {
		r.refuse(n, "a measure of a body lies between 1cm and 3m: check the unit", "%s is %s, which no body measures", key, source.Quote(n.Value))
		return 0, false
	}
	return mm, true
}

// WriteWearer returns the wearer as a file that ReadWearer reads back the
// same, measures in the order of wearer.All.
func WriteWearer(b wearer.Wearer) []byte {
	w := &writer{}
	w.line(0, "bygone: wearer/1")
	w.line(0, "name: %s", scalar(b.Name, inBlock))
	w.text(0, "title", b.Title)
	if len(b.Measures) == 0 {
		w.line(0, "measures: {}")
		return []byte(w.String())
	}
	w.line(0, "measures:")
	for _, m := range wearer.All() {
		mm, ok := b.Measures[m]
		if !ok {
			continue
		}
		text := unit.Float(mm) + "mm"
		if cm := unit.Float(mm / 10); len(cm) <= len("123.4") { // as people write it, where that is exact
			if back, err := unit.ParseLength(cm + "cm"); err == nil && unit.Round(back) == unit.Round(mm) {
				text = cm + "cm"
			}
		}
		w.line(2, "%s: %s", m, text)
	}
	return []byte(w.String())
}
