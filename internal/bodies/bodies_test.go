package bodies

import (
	"math"
	"strings"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/internal/stock"
)

// smallestMouth in mm is the least that a dart is worth sewing for. The draft
// keeps a little more, the curve of the waist takes some back.
const smallestMouth = 6

// The stock dress is drafted for every body of the survey: sound, with every
// seam going together and every dart taking something up.
func TestEveryBodyIsDrafted(t *testing.T) {
	for _, c := range []struct {
		name string
		read func() ([]Person, error)
		rows int // as testdata/bodies/README.md says
	}{{"women", Women, 497}, {"men", Men, 1021}} {
		list, err := c.read()
		if err != nil {
			t.Fatal(err)
		}
		if len(list) != c.rows {
			t.Errorf("%d %s, want %d", len(list), c.name, c.rows)
		}
		for _, person := range list {
			if person.Man != (c.name == "men") {
				t.Errorf("%s row %d: man %v", c.name, person.Row, person.Man)
			}
			p, err := stock.Draft(person.Body())
			if err != nil {
				t.Errorf("%s row %d: %v", c.name, person.Row, err)
				continue
			}
			for _, bad := range p.Validate() {
				t.Errorf("%s row %d: %v", c.name, person.Row, bad)
			}
			for _, f := range pairing.Check(p) {
				t.Errorf("%s row %d: %s %+v: %s", c.name, person.Row, f.Code, f.Place, f.Text)
			}
			for i := range p.Pieces {
				for _, d := range p.Pieces[i].Darts {
					if m := mouth(&p.Pieces[i], d); m < smallestMouth {
						t.Errorf("%s row %d: %s of %s takes up %.1f mm", c.name, person.Row, d.Name, p.Pieces[i].Name, m)
					}
				}
			}
		}
	}
}

// mouth is what a dart takes up in mm, below 0 when it runs backwards.
func mouth(p *pattern.Piece, d pattern.Dart) float64 {
	path := p.Edge(d.Edge).Path
	a, b := path.At(d.From), path.At(d.To)
	return math.Copysign(a.Dist(b), geom.Turn(a.Sub(d.Point), b.Sub(d.Point)))
}

// A row of the file is what Body and Wearer make of it.
func TestBodyAndWearer(t *testing.T) {
	list, err := Women()
	if err != nil {
		t.Fatal(err)
	}
	p := list[0] // row 1 as README's source has it: stature 1560, chest 922, navel 850
	b, w := p.Body(), p.Wearer()
	if p.Row != 1 || b.Height != 1560 || b.Bust != 922 || b.Waist != 765 || b.Hip != 1011 {
		t.Errorf("row %d is %+v", p.Row, b)
	}
	for m, want := range map[wearer.Measure]float64{
		wearer.Height: 1560, wearer.WaistGirth: 765, wearer.WaistHeight: 942, wearer.ArmLength: 513, wearer.BackLength: 406,
	} {
		if got, ok := w.Of(m); !ok || got != want {
			t.Errorf("%s: %v, want %v", m, got, want)
		}
	}
	if _, ok := w.Of(wearer.UnderBust); ok {
		t.Error("the wearer has a girth under the bust, which was not taken")
	}
	p.Man = true
	if got := p.Body().Waist; got != 850 {
		t.Errorf("a man's waist is %v, want the girth at the navel, 850", got)
	}
}

func TestRead(t *testing.T) {
	head := strings.Join(Columns, ",")
	row := "1560,942,368,148,922,850,1011,406,513,315,152"
	for _, c := range []struct {
		name, text, err string
		rows            int
	}{
		{"plain", head + "\n" + row + "\n" + row + "\n", "", 2},
		{"a comment first", "# where from\n" + head + "\n" + row + "\n", "", 1},
		{"other spelling, more columns, a byte order mark", "\uFEFFsubjectid, " + strings.ToUpper(head) + ",Gender\n10001," + row + ",Male\n", "", 1},
		{"no rows", head + "\n", "", 0},
		{"nothing", "", "f.csv: there is no header line", 0},
		{"a column is missing", strings.Replace(head, navel, "waist", 1) + "\n", "f.csv: there is no column waistcircumference", 0},
		{"a word", head + "\n" + strings.Replace(row, "922", "many", 1) + "\n", `f.csv:2: chestcircumference of "many" is no measure in mm`, 0},
		{"in cm", head + "\n" + row + "\n" + strings.Replace(row, "148", "14.8", 1) + "\n", `f.csv:3: shoulderlength of "14.8" is no measure in mm`, 0},
		{"not a number at all", head + "\n" + strings.Replace(row, "922", "NaN", 1) + "\n", `f.csv:2: chestcircumference of "NaN" is no measure in mm`, 0},
		{"a bad number of a row", "row," + head + "\nx," + row + "\n", `f.csv:2: "x" is no row number`, 0},
		{"a row cut short", head + "\n1,2\n", "f.csv: record on line 2: wrong number of fields", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, err := Read("f.csv", strings.NewReader(c.text))
			got := ""
			if err != nil {
				got = err.Error()
			}
			if got != c.err || len(list) != c.rows {
				t.Errorf("%d rows, error %q; want %d, %q", len(list), got, c.rows, c.err)
			}
			if c.rows > 0 && list[0].Body().Bust != 922 {
				t.Errorf("bust %v, want 922", list[0].Body().Bust)
			}
			if strings.Contains(c.text, "Male") && !list[0].Man {
				t.Error("a man was not told from a woman")
			}
		})
	}
}

func TestEveryAndExtremes(t *testing.T) {
	list, err := Women()
	if err != nil {
		t.Fatal(err)
	}
	if got := Every(list, 100); len(got) != 5 || got[1].Row != list[100].Row {
		t.Errorf("every 100th of %d are %d", len(list), len(got))
	}
	ends := Extremes(list)
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range list {
		least, most = min(least, p.Body().Bust), max(most, p.Body().Bust)
	}
	var low, high bool
	for _, p := range ends {
		low, high = low || p.Body().Bust == least, high || p.Body().Bust == most
	}
	if !low || !high || len(ends) > 2*len(Columns)+2 || len(Extremes(nil)) != 0 {
		t.Errorf("%d extremes; least bust among them %v, most %v", len(ends), low, high)
	}
}
