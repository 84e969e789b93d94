package alter_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/draw"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

type alteration = func(*pattern.Pattern) (*operation.Answer, error)

// Pictures of every operation at work on the stock dress, before and after, for
// a cutter to judge. The steps that only prepare are not drawn.
func TestGoldenPictures(t *testing.T) {
	var (
		intoWaist = func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.RotateDart(p, alter.Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1})
		}
		divide = func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.DivideBack(p, alter.Panel{AtArmscye: 110})
		}
		letOut = func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.ReleaseDart(p, alter.Release{Piece: "bodice-front", Dart: "waist-dart", Kind: pattern.Gathers, Spread: 40})
		}
		longer = func(p *pattern.Pattern) (*operation.Answer, error) { return alter.LengthenSkirt(p, 380) }
		short  = func(p *pattern.Pattern) (*operation.Answer, error) { return alter.ShortenSleeve(p, 60) }
	)
	for _, c := range []struct {
		name  string
		first []alteration
		do    alteration
	}{
		{"rotate-dart-into", nil, intoWaist},
		{"rotate-dart-half", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.RotateDart(p, alter.Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "shoulder", At: 60, Share: 0.5})
		}},
		{"release-dart", []alteration{intoWaist}, letOut},
		{"add-fullness", []alteration{intoWaist, letOut}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddFullness(p, alter.Fullness{Piece: "bodice-front", Edge: "waist", Add: 40, Slashes: 3})
		}},
		{"divide-back", nil, divide},
		{"narrow-back", []alteration{divide}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.NarrowBack(p, alter.Narrowing{AtWaist: 25, AtArmscye: 25})
		}},
		{"move-shoulder", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveShoulder(p, alter.ShoulderMove{AtNeck: 25, AtArm: 25})
		}},
		{"raise-waist", []alteration{intoWaist, divide}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.RaiseWaist(p, alter.WaistRaise{BelowArmscye: 64, AtCentreBack: 15, KeepLength: true})
		}},
		{"lengthen-skirt", nil, longer},
		{"set-hem", []alteration{longer}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SetHem(p, alter.HemSweep{Circumference: 2600, Slashes: 5})
		}},
		{"set-hem-narrower", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SetHem(p, alter.HemSweep{Circumference: 1150, Slashes: 4})
		}},
		{"move-flare-back", []alteration{longer}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveFlareBack(p, alter.MoveFlare{Amount: 200, Slashes: 5})
		}},
		{"gather-back", []alteration{longer}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.GatherBack(p, alter.BackFullness{Zone: 152, Ratio: 2.5})
		}},
		{"shorten-sleeve", nil, short},
		{"puff-sleeve", []alteration{short}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PuffSleeve(p, alter.Puff{Band: 315, BandHeight: 13, Ratio: 1.45, HeadShare: 1, From: 0.35, To: 0.85, Slashes: 6})
		}},
		{"refit-cap", nil, func(p *pattern.Pattern) (*operation.Answer, error) { return alter.RefitCap(p, 5) }},
		{"set-allowances", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SetAllowances(p, alter.Allowances{Seam: 15, Curve: 10, Hem: 40, Small: 15})
		}},
		{"place-notches", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PlaceNotches(p, alter.NotchRule{LongerThan: 150, Clear: 20})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := stock.Dress()
			if err != nil {
				t.Fatal(err)
			}
			for _, do := range append(c.first, c.do) {
				a, err := do(p)
				if err != nil {
					t.Fatal(err)
				}
				if len(c.first) > 0 {
					c.first = c.first[1:]
					p = a.Pattern
					continue
				}
				var got bytes.Buffer
				if err := draw.Step(p, a.Pattern).SVG(&got, c.name); err != nil {
					t.Fatal(err)
				}
				compare(t, c.name+".svg", got.Bytes())
			}
		})
	}
}

func compare(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v (run with -update)", err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from the golden picture; look at both, then run with -update", name)
	}
}
