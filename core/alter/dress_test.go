package alter

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// job is the house chain's alterations in their order, at the house's numbers.
var job = []struct {
	name string
	do   func(*pattern.Pattern) (*operation.Answer, error)
}{
	{"turn the bust dart into the waist dart", func(p *pattern.Pattern) (*operation.Answer, error) {
		return RotateDart(p, Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1})
	}},
	{"divide the back", func(p *pattern.Pattern) (*operation.Answer, error) {
		return DivideBack(p, Panel{AtArmscye: 110})
	}},
	{"narrow the back", func(p *pattern.Pattern) (*operation.Answer, error) {
		return NarrowBack(p, Narrowing{AtWaist: 25, AtArmscye: 25})
	}},
	{"move the shoulder", func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveShoulder(p, ShoulderMove{AtNeck: 20, AtArm: 45})
	}},
	{"raise the waist", func(p *pattern.Pattern) (*operation.Answer, error) {
		return RaiseWaist(p, WaistRaise{BelowArmscye: 64, AtCentreBack: 15, KeepLength: true})
	}},
	{"let the waist dart out", func(p *pattern.Pattern) (*operation.Answer, error) {
		return ReleaseDart(p, Release{Piece: "bodice-front", Dart: "waist-dart", Kind: pattern.Gathers, Spread: 40})
	}},
	{"add front fullness", func(p *pattern.Pattern) (*operation.Answer, error) {
		return AddFullness(p, Fullness{Piece: "bodice-front", Edge: "waist", Add: 40, Slashes: 3})
	}},
	{"lengthen the skirt", func(p *pattern.Pattern) (*operation.Answer, error) { return LengthenSkirt(p, 380) }},
	{"gather the back", func(p *pattern.Pattern) (*operation.Answer, error) {
		return GatherBack(p, BackFullness{Zone: 152, Ratio: 2.5})
	}},
	{"set the hem", func(p *pattern.Pattern) (*operation.Answer, error) {
		return SetHem(p, HemSweep{Circumference: 2083, Slashes: 5})
	}},
	{"move flare to the back", func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveFlareBack(p, MoveFlare{Amount: 100, Slashes: 5})
	}},
	{"shorten the sleeve", func(p *pattern.Pattern) (*operation.Answer, error) { return ShortenSleeve(p, 60) }},
	{"puff the sleeve", func(p *pattern.Pattern) (*operation.Answer, error) {
		return PuffSleeve(p, Puff{Band: 315, BandHeight: 13, Ratio: 1.45, HeadShare: 1, From: 0.35, To: 0.85, Slashes: 6})
	}},
	{"refit the head", func(p *pattern.Pattern) (*operation.Answer, error) { return RefitCap(p, 0) }},
	{"set notches", func(p *pattern.Pattern) (*operation.Answer, error) {
		return PlaceNotches(p, NotchRule{LongerThan: 150, Clear: 20})
	}},
	{"set allowances", func(p *pattern.Pattern) (*operation.Answer, error) {
		return SetAllowances(p, Allowances{Seam: 15, Curve: 10, Hem: 40, Small: 15})
	}},
}

// TestJob runs the alterations of the house chain one after another over the
// stock dress, as the chain does, and holds after each what DESIGN promises:
// the pieces are sound, the lineage adds up, and every seam still pairs.
func TestJob(t *testing.T) {
	p, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	dump := os.Getenv("BYGONE_DUMP")
	for n, step := range job {
		before := p.Clone()
		a, err := step.do(p)
		if err != nil {
			t.Fatalf("%s: %v", step.name, err)
		}
		if problems := a.Pattern.Validate(); len(problems) > 0 {
			t.Errorf("%s: %v", step.name, problems[0])
		}
		if problems := a.Lineage.Check(before, a.Pattern); len(problems) > 0 {
			t.Errorf("%s: lineage: %v", step.name, problems)
		}
		for _, f := range pairing.Check(a.Pattern) {
			if f.Severity == finding.Fault || dump != "" {
				t.Errorf("%s: %s %s %+v %s", step.name, f.Severity, f.Code, f.Place, f.Text)
			}
		}
		if dump != "" {
			for _, c := range a.Changes {
				t.Logf("  %-45s %-14s %9.2f -> %9.2f %s", c.What, c.Piece, c.Before, c.After, c.Unit)
			}
			os.WriteFile(fmt.Sprintf("%s/%02d.svg", dump, n), []byte(sketch(a.Pattern)), 0o644)
		}
		p = a.Pattern
	}
}

// sketch is the plainest drawing of a pattern's pieces, side by side.
func sketch(p *pattern.Pattern) string {
	var b strings.Builder
	x, h := 0.0, 0.0
	for _, piece := range p.Pieces {
		box := piece.Boundary().Bounds()
		fmt.Fprintf(&b, `<g transform="translate(%.1f 0)"><path fill="none" stroke="black" stroke-width="1.5" d="`, x-box.Min.X+20)
		for _, e := range piece.Edges {
			for i, q := range e.Path.Flatten(0.2) {
				c := "L"
				if i == 0 {
					c = "M"
				}
				fmt.Fprintf(&b, "%s%.2f %.2f ", c, q.X, box.Max.Y-q.Y+30)
			}
		}
		b.WriteString(`"/>`)
		for _, e := range piece.Edges {
			q := e.Path.At(e.Path.Length() / 2)
			fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="2" fill="red"/><text font-size="9" x="%.1f" y="%.1f">%s %.0f</text>`, e.Path.Start().X, box.Max.Y-e.Path.Start().Y+30, q.X, box.Max.Y-q.Y+30, e.Name, e.Path.Length())
		}
		for _, d := range piece.Darts {
			path := piece.Edge(d.Edge).Path
			f, t := path.At(d.From), path.At(d.To)
			fmt.Fprintf(&b, `<path fill="none" stroke="blue" d="M%.1f %.1fL%.1f %.1fL%.1f %.1f"/>`, f.X, box.Max.Y-f.Y+30, d.Point.X, box.Max.Y-d.Point.Y+30, t.X, box.Max.Y-t.Y+30)
		}
		for _, d := range piece.Gathers {
			path := piece.Edge(d.Edge).Path
			for i := 0; i <= 40; i++ {
				q := path.At(d.From + (d.To-d.From)*float64(i)/40)
				fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="1.5" fill="green"/>`, q.X, box.Max.Y-q.Y+30)
			}
		}
		for _, n := range piece.Notches {
			q := piece.Edge(n.Edge).Path.At(n.At)
			fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="4" fill="none" stroke="orange"/>`, q.X, box.Max.Y-q.Y+30)
		}
		fmt.Fprintf(&b, `<path stroke="gray" d="M%.1f %.1fL%.1f %.1f"/></g>`, piece.Grain.From.X, box.Max.Y-piece.Grain.From.Y+30, piece.Grain.To.X, box.Max.Y-piece.Grain.To.Y+30)
		x += box.Width() + 40
		h = max(h, box.Height()+60)
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f"><rect width="100%%" height="100%%" fill="white"/>%s</svg>`, x, h, x, b.String())
}
