package stock

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write testdata/patterns anew from the drafts")

const testdata = "../../testdata"

// The files in testdata/patterns are what the drafts give, and read back as
// sound patterns whose seams still go together: rounding to the decimals that
// files keep may cost a few of the last of them.
func TestPatternFiles(t *testing.T) {
	const fileWithin = 1e-4 // mm
	for _, c := range []struct {
		name  string
		draft func() (*pattern.Pattern, error)
		off   map[string]float64 // by how much B exceeds A
	}{
		{"stock-dress", Dress, map[string]float64{"armscye": headEaseFront + headEaseBack}},
		{"untested-blouse", Blouse, map[string]float64{
			"armscye": headEaseFront + headEaseBack, "side": BlouseSideLong, "shoulder": -BlouseShoulderLong,
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := c.draft()
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(testdata, "patterns", c.name+".yaml")
			want := yamlfile.Write(p)
			if *update {
				if err := os.WriteFile(file, want, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			got, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s is not what the draft gives; run go generate ./internal/stock\n%s", file, cmp.Diff(string(got), string(want)))
			}
			read, err := yamlfile.Read(file, got)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range read.Seams {
				if len(s.B) == 0 {
					continue
				}
				if d := read.RunLength(s.B) - read.RunLength(s.A); math.Abs(d-c.off[s.Name]) > fileWithin {
					t.Errorf("seam %s: off by %v mm as read, want %v", s.Name, d, c.off[s.Name])
				}
			}
		})
	}
}

// The demo's leading lady takes the stock size, so that what the chain alters
// is the period and not the fit.
func TestLeadingLady(t *testing.T) {
	file := filepath.Join(testdata, "wearers", "leading-lady.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	w, err := yamlfile.ReadWearer(file, data)
	if err != nil {
		t.Fatal(err)
	}
	b := StockBody
	want := map[wearer.Measure]float64{
		wearer.Height: b.Height, wearer.BustGirth: b.Bust, wearer.WaistGirth: b.Waist, wearer.HipGirth: b.Hip,
		wearer.NeckGirth: b.NeckBase, wearer.BackLength: b.BackLength, wearer.FrontLength: b.FrontLength,
		wearer.BackWidth: b.BackWidth, wearer.ShoulderLen: b.Shoulder, wearer.UpperArm: b.UpperArm,
		wearer.ArmLength: b.ArmLength, wearer.WristGirth: b.Wrist,
		wearer.UnderBust: 790, wearer.WaistHeight: 1050,
	}
	if diff := cmp.Diff(want, w.Measures); diff != "" {
		t.Errorf("measures, want − and got +:\n%s", diff)
	}
}
