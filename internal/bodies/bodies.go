// Package bodies reads real body measurements, one person a row, and makes of
// them figures that the stock dress can be drafted for and wearers that steps
// can look at.
//
// What a survey did not measure is estimated; Body says what, and why so.
package bodies

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"bygone.example/core/wearer"
	"bygone.example/internal/stock"
	"bygone.example/testdata"
)

// The columns that are read, by the survey's own names. Others are passed
// over, in whatever order they come. All are mm.
const (
	stature    = "stature"
	waistHigh  = "waistheightomphalion"
	neckBase   = "neckcircumferencebase"
	shoulder   = "shoulderlength"
	chest      = "chestcircumference"
	navel      = "waistcircumference"
	buttock    = "buttockcircumference"
	backLength = "waistbacklength"
	outseam    = "sleeveoutseam"
	biceps     = "bicepscircumferenceflexed"
	wrist      = "wristcircumference"
)

// Columns are the names of the measures that every file must have, in mm.
var Columns = []string{stature, waistHigh, neckBase, shoulder, chest, navel, buttock, backLength, outseam, biceps, wrist}

// A file may have these too: the number by which its source knows the row, and
// whether the person is a man.
const (
	number = "row"
	gender = "gender"
)

// Bounds in mm of what is a measure of a grown person at all. A value outside
// is a misreading, or in another unit.
const least, most = 50, 3000

// Person is one row.
type Person struct {
	// Row is what the file calls it, or its place among the rows from 1.
	Row int
	// Man is whether the file says so; one that says nothing is of women.
	Man bool

	measures map[string]float64 // mm
}

// Read reads bodies from CSV text with a header line. Lines that begin with #
// are passed over. Errors say which line is meant; name stands for the file.
func Read(name string, r io.Reader) ([]Person, error) {
	c := csv.NewReader(r)
	c.Comment = '#'
	head, err := c.Read()
	if errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: there is no header line", name)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	place := map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\uFEFF")))
		if _, twice := place[h]; !twice {
			place[h] = i
		}
	}
	for _, want := range Columns {
		if _, ok := place[want]; !ok {
			return nil, fmt.Errorf("%s: there is no column %s", name, want)
		}
	}
	var list []Person
	for {
		record, err := c.Read()
		if errors.Is(err, io.EOF) {
			return list, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := c.FieldPos(0)
		p := Person{Row: len(list) + 1, measures: map[string]float64{}}
		if i, ok := place[number]; ok {
			if p.Row, err = strconv.Atoi(strings.TrimSpace(record[i])); err != nil {
				return nil, fmt.Errorf("%s:%d: %s is no row number", name, line, strconv.Quote(record[i]))
			}
		}
		if i, ok := place[gender]; ok {
			p.Man = strings.EqualFold(strings.TrimSpace(record[i]), "male")
		}
		for _, column := range Columns {
			v, err := strconv.ParseFloat(strings.TrimSpace(record[place[column]]), 64)
			if err != nil || !(v >= least && v <= most) {
				return nil, fmt.Errorf("%s:%d: %s of %s is no measure in mm", name, line, column, strconv.Quote(record[place[column]]))
			}
			p.measures[column] = v
		}
		list = append(list, p)
	}
}

// Women returns the women of testdata/bodies.
func Women() ([]Person, error) { return ours("women.csv") }

// Men returns the men of testdata/bodies.
func Men() ([]Person, error) { return ours("men.csv") }

func ours(name string) ([]Person, error) {
	f, err := testdata.Bodies.Open("bodies/" + name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return Read(name, f)
}

// narrowWaist is what the narrowest waist of a woman measures of the girth at
// the level of the navel, which is what the survey took; from memory. A man's
// trousers and waistcoats are taken at the navel's level (common practice).
const narrowWaist = 0.9

// Body makes a figure to draft for, all in mm. These are measured: height,
// bust, hip, base of the neck, nape to waist, shoulder, arm and wrist; the
// upper arm too, though flexed, so that the sleeve comes out a little wide. All
// else the survey did not take:
//
//   - The waist is estimated from the girth at the navel (narrowWaist), since
//     the tape was not laid where a dress is narrowest. Nape to waist was
//     measured down to the navel and is left so: the block comes out long in
//     the waist, never short.
//   - The widths of back and chest, bust depth and bust span, and by how much
//     the front is longer than the back, grow with the bust as on the stock
//     figure. The survey's interscye lies along the muscles of the back from
//     fold to fold, and is not the upright width that an armscye is drawn to.
//   - The depth of the hip grows with the height: the survey's seat is its most
//     backward point, well above the trade's hip line.
func (p Person) Body() stock.Body {
	s, b := stock.StockBody, stock.Body{
		Height: p.measures[stature], Bust: p.measures[chest], Waist: narrowWaist * p.measures[navel], Hip: p.measures[buttock],
		NeckBase: p.measures[neckBase], BackLength: p.measures[backLength], Shoulder: p.measures[shoulder],
		UpperArm: p.measures[biceps], ArmLength: p.measures[outseam], Wrist: p.measures[wrist],
	}
	if p.Man {
		b.Waist = p.measures[navel]
	}
	girth, long := b.Bust/s.Bust, b.Height/s.Height
	b.BackWidth, b.ChestWidth = s.BackWidth*girth, s.ChestWidth*girth
	b.FrontLength = b.BackLength + (s.FrontLength-s.BackLength)*girth
	b.BustDepth, b.BustSpan, b.HipDepth = s.BustDepth*girth, s.BustSpan*girth, s.HipDepth*long
	return b
}

// Wearer returns the measures that steps look at, as Body has them; the girth
// under the bust was not taken.
func (p Person) Wearer() wearer.Wearer {
	b := p.Body()
	return wearer.Wearer{
		Name:  fmt.Sprintf("row-%d", p.Row),
		Title: fmt.Sprintf("Row %d of a survey", p.Row),
		Measures: map[wearer.Measure]float64{
			wearer.Height: b.Height, wearer.BustGirth: b.Bust, wearer.WaistGirth: b.Waist, wearer.HipGirth: b.Hip,
			wearer.NeckGirth: b.NeckBase, wearer.BackLength: b.BackLength, wearer.FrontLength: b.FrontLength,
			wearer.BackWidth: b.BackWidth, wearer.ShoulderLen: b.Shoulder, wearer.UpperArm: b.UpperArm,
			wearer.ArmLength: b.ArmLength, wearer.WaistHeight: p.measures[waistHigh], wearer.WristGirth: b.Wrist,
		},
	}
}

// Every returns the first of the list and every nth from there.
func Every(list []Person, n int) []Person {
	var some []Person
	for i := 0; i < len(list); i += max(1, n) {
		some = append(some, list[i])
	}
	return some
}

// Extremes returns those of the list who have the least or the most of some
// measure, and of waist to bust, each once and in the list's order; of equals
// the first.
func Extremes(list []Person) []Person {
	if len(list) == 0 {
		return nil
	}
	keep := map[int]bool{}
	ends := func(of func(Person) float64) {
		low, high := 0, 0
		for i, p := range list {
			if of(p) < of(list[low]) {
				low = i
			}
			if of(p) > of(list[high]) {
				high = i
			}
		}
		keep[low], keep[high] = true, true
	}
	for _, column := range Columns {
		ends(func(p Person) float64 { return p.measures[column] })
	}
	ends(func(p Person) float64 { return p.measures[navel] / p.measures[chest] })
	var some []Person
	for i, p := range list {
		if keep[i] {
			some = append(some, p)
		}
	}
	return some
}
