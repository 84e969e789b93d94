package pattern_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// sound returns a small pattern that breaks no rule: two pieces of a bodice
// with one of each mark.
func sound() *pattern.Pattern {
	line := func(x0, y0, x1, y1 float64) geom.Path {
		return geom.Path{geom.Line(geom.Pt(x0, y0), geom.Pt(x1, y1))}
	}
	piece := func(name string, role pattern.Role) pattern.Piece {
		return pattern.Piece{
			Name: name, Role: role, Cut: pattern.Cut{Count: 1},
			Edges: []pattern.Edge{
				{Name: "waist", Path: line(0, 0, 200, 0), Allowance: 15},
				{Name: "side", Path: line(200, 0, 200, 300), Corner: pattern.Square},
				{Name: "top", Path: geom.Path{geom.Cubic(geom.Pt(200, 300), geom.Pt(150, 250), geom.Pt(50, 250), geom.Pt(0, 300))}, Finish: pattern.Hemmed},
				{Name: "centre", Path: line(0, 300, 0, 0), Finish: pattern.Fold},
			},
			Grain:     pattern.Grain{From: geom.Pt(50, 50), To: geom.Pt(50, 200)},
			Landmarks: []pattern.Landmark{{Name: "bust-point", At: geom.Pt(100, 200)}},
			Darts:     []pattern.Dart{{Name: "dart", Edge: "waist", From: 90, To: 110, Point: geom.Pt(100, 150)}},
			Pleats:    []pattern.Pleat{{Name: "pleat", Edge: "waist", From: 130, To: 140, Kind: pattern.Knife}},
			Gathers:   []pattern.Gather{{Name: "gather", Edge: "waist", From: 120, To: 180, Length: 30, Kind: pattern.Gathers}},
			Notches:   []pattern.Notch{{Name: "a", Edge: "side", At: 100, Count: 1}, {Name: "a", Edge: "waist", At: 10, Count: 2}},
		}
	}
	return &pattern.Pattern{
		Name: "bodice",
		Pieces: []pattern.Piece{
			piece("front", pattern.BodiceFront),
			piece("back", pattern.BodiceBack),
		},
		Seams: []pattern.Seam{
			{Name: "side", A: pattern.Run{{Piece: "front", Edge: "side"}}, B: pattern.Run{{Piece: "back", Edge: "side"}},
				Meeting: pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: 0, Max: 5}}},
			{Name: "waist", A: pattern.Run{{Piece: "front", Edge: "waist"}}, B: pattern.Run{{Piece: "back", Edge: "waist"}},
				Meeting: pattern.Meeting{Kind: pattern.Gathered, Ratio: pattern.Range{Min: 1, Max: 3}}},
		},
	}
}

// reshape gives the first piece another outline of straight edges a, b, c….
func reshape(p *pattern.Pattern, points ...geom.Point) {
	piece := &p.Pieces[0]
	*piece = pattern.Piece{Name: "front", Cut: pattern.Cut{Count: 1}}
	for i, q := range points {
		piece.Edges = append(piece.Edges, pattern.Edge{
			Name: string(rune('a' + i)), Path: geom.Polyline(q, points[(i+1)%len(points)]),
		})
	}
	p.Seams = nil
}

func TestValidateSound(t *testing.T) {
	if got := sound().Validate(); got != nil {
		t.Errorf("Validate() of a sound pattern = %v, want none", got)
	}
	p := sound()
	p.Pieces[0].Edges[0].Path[0].P1.X += 5e-7 // within JoinTolerance
	if got := p.Validate(); got != nil {
		t.Errorf("Validate() with a joint off by 5e-7 mm = %v, want none", got)
	}
}

// TestValidateRules breaks one rule at a time and wants that rule and no other.
func TestValidateRules(t *testing.T) {
	type pat = pattern.Pattern
	for _, c := range []struct {
		name, rule string
		breakIt    func(*pat)
		where      string // part of the problem's String
	}{
		{"pattern name", pattern.RuleName, func(p *pat) { p.Name = "My Dress" }, `"My Dress"`},
		{"piece name with dot", pattern.RuleName, func(p *pat) { p.Pieces[0].Name = "front.a"; p.Seams = nil }, "piece front.a"},
		{"edge name", pattern.RuleName, func(p *pat) { p.Pieces[0].Edges[2].Name = "top." }, "edge top."},
		{"role", pattern.RuleName, func(p *pat) { p.Pieces[0].Role = "../x" }, "piece front"},
		{"long name", pattern.RuleName, func(p *pat) { p.Seams[0].Name = strings.Repeat("a", 65) }, "seam"},
		{"no pattern name", pattern.RuleName, func(p *pat) { p.Name = "" }, `""`},

		{"two pieces of one name", pattern.RuleUnique, func(p *pat) { p.Pieces[1].Name = "front"; p.Seams = nil }, "piece front"},
		{"two edges of one name", pattern.RuleUnique, func(p *pat) { p.Pieces[0].Edges[3].Name = "top" }, "edge top"},
		{"two seams of one name", pattern.RuleUnique, func(p *pat) { p.Seams[1].Name = "side" }, "seam side"},
		{"dart and gather of one name", pattern.RuleUnique, func(p *pat) { p.Pieces[0].Gathers[0].Name = "dart" }, "mark dart"},
		{"two landmarks of one name", pattern.RuleUnique, func(p *pat) {
			p.Pieces[0].Landmarks = append(p.Pieces[0].Landmarks, p.Pieces[0].Landmarks[0])
		}, "mark bust-point"},
		{"two notches of one name on an edge", pattern.RuleUnique, func(p *pat) { p.Pieces[0].Notches[1].Edge = "side" }, "mark a"},

		{"no pieces", pattern.RuleNoPieces, func(p *pat) { p.Pieces, p.Seams = nil, nil }, "no pieces"},
		{"no edges", pattern.RuleNoEdges, func(p *pat) { p.Pieces[0] = pattern.Piece{Name: "front", Cut: pattern.Cut{Count: 1}}; p.Seams = nil }, "piece front"},

		{"NaN", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Edges[2].Path[0].C1.X = math.NaN() }, "edge top"},
		{"1e308", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Edges[2].Path[0].C2.Y = 1e308 }, "edge top"},
		{"infinite landmark", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Landmarks[0].At.X = math.Inf(1) }, "mark bust-point"},
		{"dart point", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Darts[0].Point.Y = -1e6 }, "mark dart"},
		{"grain", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Grain.From.X = math.NaN() }, "piece front"},
		{"NaN place", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Darts[0].From = math.NaN() }, "mark dart"},
		{"NaN notch", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Notches[0].At = math.NaN() }, "mark a"},
		{"NaN gather", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Gathers[0].Length = math.NaN() }, "mark gather"},
		{"NaN ease", pattern.RuleNumber, func(p *pat) { p.Seams[0].Meeting.Ease.Max = math.NaN() }, "seam side"},
		{"negative allowance", pattern.RuleNumber, func(p *pat) { p.Pieces[0].Edges[0].Allowance = -1 }, "edge waist"},

		{"finish", pattern.RuleWord, func(p *pat) { p.Pieces[0].Edges[2].Finish = "glued" }, "edge top"},
		{"corner", pattern.RuleWord, func(p *pat) { p.Pieces[0].Edges[2].Corner = "round" }, "edge top"},
		{"pressed", pattern.RuleWord, func(p *pat) { p.Pieces[0].Darts[0].Pressed = "up" }, "mark dart"},
		{"pleat", pattern.RuleWord, func(p *pat) { p.Pieces[0].Pleats[0].Kind = "" }, "mark pleat"},
		{"gather", pattern.RuleWord, func(p *pat) { p.Pieces[0].Gathers[0].Kind = "ruched" }, "mark gather"},
		{"meeting", pattern.RuleWord, func(p *pat) { p.Seams[0].Meeting.Kind = "" }, "seam side"},

		{"cut none", pattern.RuleCut, func(p *pat) { p.Pieces[0].Cut.Count = 0 }, "piece front"},
		{"cut three mirrored", pattern.RuleCut, func(p *pat) { p.Pieces[0].Cut = pattern.Cut{Count: 3, Mirrored: true} }, "piece front"},

		{"empty edge", pattern.RuleShortEdge, func(p *pat) {
			e := &p.Pieces[0].Edges
			*e = append((*e)[:3:3], pattern.Edge{Name: "nothing"}, (*e)[3])
		}, "edge nothing"},
		{"short edge", pattern.RuleShortEdge, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 1e-4), geom.Pt(50, 100))
		}, "edge b"},

		{"gap", pattern.RuleGap, func(p *pat) {
			p.Pieces[0].Edges[1].Path = geom.Path{geom.Line(geom.Pt(200, 0), geom.Pt(200, 100)), geom.Line(geom.Pt(200, 100.001), geom.Pt(200, 300))}
		}, "edge side"},
		{"open", pattern.RuleOpen, func(p *pat) { p.Pieces[0].Edges[1].Path[0].P0.Y = 1e-5 }, "edge side"},

		{"figure of eight", pattern.RuleCrossing, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(100, 100), geom.Pt(100, 0), geom.Pt(0, 150))
		}, "at 60.0, 60.0"},
		{"doubling back", pattern.RuleCrossing, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 50), geom.Pt(100, 0.5), geom.Pt(50, 100))
		}, "at 100.0, 0.5"},
		{"doubling back at the closing joint", pattern.RuleCrossing, func(p *pat) {
			reshape(p, geom.Pt(100, 50), geom.Pt(100, 0.5), geom.Pt(50, 100), geom.Pt(0, 0), geom.Pt(100, 0))
		}, "edge e"},
		{"corner touching a side", pattern.RuleCrossing, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 100), geom.Pt(50, 0), geom.Pt(0, 100))
		}, "at 50.0, 0.0"},
		{"sides upon each other", pattern.RuleCrossing, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 50), geom.Pt(60, 0), geom.Pt(40, 0), geom.Pt(0, 50))
		}, "front"},
		{"looped curve", pattern.RuleCrossing, func(p *pat) {
			p.Pieces[0].Edges[2].Path = geom.Path{geom.Cubic(geom.Pt(200, 300), geom.Pt(-200, 500), geom.Pt(400, 500), geom.Pt(0, 300))}
		}, "edge top"},

		{"clockwise", pattern.RuleDirection, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(0, 100), geom.Pt(100, 100), geom.Pt(100, 0))
		}, "piece front"},
		{"no area", pattern.RuleArea, func(p *pat) {
			reshape(p, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(50, 0.01))
		}, "piece front"},
		{"bent fold", pattern.RuleFold, func(p *pat) {
			p.Pieces[0].Edges[3].Path = geom.Polyline(geom.Pt(0, 300), geom.Pt(0.11, 150), geom.Pt(0, 0))
		}, "edge centre"},

		{"dart on no edge", pattern.RuleMarkEdge, func(p *pat) { p.Pieces[0].Darts[0].Edge = "hem" }, "mark dart"},
		{"notch on no edge", pattern.RuleMarkEdge, func(p *pat) { p.Pieces[0].Notches[0].Edge = "hem" }, "mark a"},
		{"dart off its edge", pattern.RuleMarkPlace, func(p *pat) { p.Pieces[0].Darts[0] = pattern.Dart{Name: "dart", Edge: "waist", From: 190, To: 201} }, "mark dart"},
		{"dart backwards", pattern.RuleMarkPlace, func(p *pat) { p.Pieces[0].Darts[0].From = 111 }, "mark dart"},
		{"notch off its edge", pattern.RuleMarkPlace, func(p *pat) { p.Pieces[0].Notches[0].At = 300.001 }, "mark a"},

		{"overlap of dart and pleat", pattern.RuleOverlap, func(p *pat) { p.Pieces[0].Darts[0].To, p.Pieces[0].Gathers = 131, nil }, "mark pleat"},
		{"dart half in gather", pattern.RuleOverlap, func(p *pat) { p.Pieces[0].Darts[0].To = 121 }, "mark gather"},
		{"gather in gather", pattern.RuleOverlap, func(p *pat) {
			p.Pieces[0].Gathers = append(p.Pieces[0].Gathers, pattern.Gather{Name: "g2", Edge: "waist", From: 150, To: 160, Length: 5, Kind: pattern.Ease})
		}, "mark g2"},
		{"gather to nothing", pattern.RuleGather, func(p *pat) { p.Pieces[0].Gathers[0].Length = 0 }, "mark gather"},
		{"gather to more than the fold leaves", pattern.RuleGather, func(p *pat) { p.Pieces[0].Gathers[0].Length = 50.1 }, "mark gather"},
		{"stitches of plain gathers", pattern.RuleGather, func(p *pat) { p.Pieces[0].Gathers[0].Stitch = 5 }, "mark gather"},
		{"cartridge pleats without stitches", pattern.RuleGather, func(p *pat) { p.Pieces[0].Gathers[0].Kind, p.Pieces[0].Gathers[0].Rows = pattern.Cartridge, 3 }, "mark gather"},
		{"cartridge pleats without rows", pattern.RuleGather, func(p *pat) {
			p.Pieces[0].Gathers[0].Kind, p.Pieces[0].Gathers[0].Stitch = pattern.Cartridge, 5
		}, "mark gather"},
		{"NaN stitch", pattern.RuleNumber, func(p *pat) {
			g := &p.Pieces[0].Gathers[0]
			g.Kind, g.Stitch, g.Rows = pattern.Cartridge, math.NaN(), 3
		}, "mark gather"},
		{"notch count", pattern.RuleNotchCount, func(p *pat) { p.Pieces[0].Notches[0].Count = 4 }, "mark a"},

		{"seam without a side", pattern.RuleSeamEmpty, func(p *pat) { p.Seams[0].A = nil }, "seam side"},
		{"seam of a missing edge", pattern.RuleSeamEdge, func(p *pat) { p.Seams[0].A[0].Edge = "hem" }, "edge hem"},
		{"seam of a missing piece", pattern.RuleSeamEdge, func(p *pat) { p.Seams[0].B[0].Piece = "yoke" }, "piece yoke"},
		{"kind of seam", pattern.RuleWord, func(p *pat) { p.Seams[0].Kind = "glued" }, "seam side"},
		{"layer joined as well", pattern.RuleSeamTwice, func(p *pat) { layers(p, "veil"); p.Seams[0].A[0] = p.Seams[2].A[0] }, "piece veil, edge waist"},
		{"layer basted twice", pattern.RuleSeamTwice, func(p *pat) { layers(p, "veil", "gauze"); p.Seams[3].A = p.Seams[2].A }, "piece veil, edge waist"},
		{"layer upon layer", pattern.RuleSeamTwice, func(p *pat) { layers(p, "veil", "gauze"); p.Seams[3].B = p.Seams[2].A }, "seam veil, piece veil"},
		{"under edge twice in a layer's seam", pattern.RuleSeamTwice, func(p *pat) { layers(p, "veil"); p.Seams[2].B = append(p.Seams[2].B, p.Seams[2].B[0]) }, "seam veil, piece front"},
		{"layer on nothing", pattern.RuleBasted, func(p *pat) { layers(p, "veil"); p.Seams[2].B = nil }, "seam veil"},
		{"layer on itself", pattern.RuleBasted, func(p *pat) { layers(p, "veil"); p.Seams[2].B[0] = pattern.EdgeRef{Piece: "veil", Edge: "side"} }, "seam veil, piece veil"},
		{"edge in two seams", pattern.RuleSeamTwice, func(p *pat) { p.Seams[1].B[0].Edge = "side" }, "edge side"},
		{"range backwards", pattern.RuleMeeting, func(p *pat) { p.Seams[0].Meeting.Ease.Min = 6 }, "seam side"},
		{"ease on a plain seam", pattern.RuleMeeting, func(p *pat) { p.Seams[0].Meeting.Kind = pattern.Plain }, "seam side"},
		{"ratio on an eased seam", pattern.RuleMeeting, func(p *pat) { p.Seams[1].Meeting.Kind = pattern.Eased }, "seam waist"},
		{"ratio below one", pattern.RuleMeeting, func(p *pat) { p.Seams[1].Meeting.Ratio.Min = 0.5 }, "seam waist"},

		{"too many lines", pattern.RuleTooDetailed, func(p *pat) {
			var zigzag []geom.Point
			for i := range pattern.MaxSegments + 2 {
				zigzag = append(zigzag, geom.Pt(200-200*float64(i)/(pattern.MaxSegments+1), 300+float64(i%2)))
			}
			zigzag[len(zigzag)-1].Y = 300
			p.Pieces[0].Edges[2].Path = geom.Polyline(zigzag...)
		}, "piece front"},
		{"too many notches", pattern.RuleTooDetailed, func(p *pat) {
			p.Pieces[0].Notches = make([]pattern.Notch, pattern.MaxCount+1)
		}, "piece front"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sound()
			c.breakIt(p)
			got := p.Validate()
			if len(got) == 0 {
				t.Fatalf("Validate() found nothing, want rule %s", c.rule)
			}
			for _, problem := range got {
				if problem.Rule != c.rule {
					t.Errorf("Validate() broke rule %s (%v), want %s only", problem.Rule, problem, c.rule)
				}
				if problem.Text == "" || problem.Remedy == "" {
					t.Errorf("Validate() gave %+v without text or remedy", problem)
				}
			}
			if s := got[0].String(); !strings.Contains(s, c.where) {
				t.Errorf("Validate()[0] = %q, want it to name %q", s, c.where)
			}
			ofShape := slices.Contains([]string{pattern.RuleCrossing, pattern.RuleDirection, pattern.RuleArea, pattern.RuleFold}, c.rule)
			if parts := p.ValidateParts(); ofShape && len(parts) > 0 || !ofShape && len(parts) != len(got) {
				t.Errorf("ValidateParts() = %v of what breaks rule %s", parts, c.rule)
			}
		})
	}
}

// layers lays copies of the front's waist onto it, each in a basted seam.
func layers(p *pattern.Pattern, names ...string) {
	for _, name := range names {
		c := p.Pieces[0].Clone()
		c.Name = name
		p.Pieces = append(p.Pieces, c)
		p.Seams = append(p.Seams, pattern.Seam{
			Name: name, Kind: pattern.Basted, Meeting: pattern.Meeting{Kind: pattern.Plain},
			A: pattern.Run{{Piece: name, Edge: "waist"}}, B: pattern.Run{{Piece: "front", Edge: "waist"}},
		})
	}
}

// TestValidateAllowed holds what looks like a fault and is none.
func TestValidateAllowed(t *testing.T) {
	for _, c := range []struct {
		name  string
		allow func(*pattern.Pattern)
	}{
		{"one closed curve", func(p *pattern.Pattern) {
			reshape(p)
			top := geom.Cubic(geom.Pt(100, 0), geom.Pt(100, 130), geom.Pt(-100, 130), geom.Pt(-100, 0))
			p.Pieces[0].Edges = []pattern.Edge{{Name: "rim", Finish: pattern.Bound, Path: geom.Path{top, geom.Cubic(geom.Pt(-100, 0), geom.Pt(-100, -130), geom.Pt(100, -130), geom.Pt(100, 0))}}}
		}},
		{"cartridge pleats", func(p *pattern.Pattern) {
			g := &p.Pieces[0].Gathers[0]
			g.Kind, g.Stitch, g.Rows = pattern.Cartridge, 5, 3
		}},
		{"two layers over an edge that is joined", func(p *pattern.Pattern) { layers(p, "veil", "gauze") }},
		{"a layer over an edge that is hemmed", func(p *pattern.Pattern) { layers(p, "veil"); p.Seams[2].B[0].Edge = "top" }},
		{"an edge twice in its seam", func(p *pattern.Pattern) { p.Seams[0].B = p.Seams[0].A }},
		{"crescent with curves that part at a tangent", func(p *pattern.Pattern) {
			reshape(p)
			p.Pieces[0].Edges = []pattern.Edge{
				{Name: "under", Path: geom.Path{geom.Cubic(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(200, 20), geom.Pt(300, 60))}},
				{Name: "over", Path: geom.Path{geom.Cubic(geom.Pt(300, 60), geom.Pt(200, 30), geom.Pt(120, 0), geom.Pt(0, 0))}},
			}
		}},
		{"touching darts", func(p *pattern.Pattern) {
			p.Pieces[0].Darts = append(p.Pieces[0].Darts, pattern.Dart{Name: "second", Edge: "waist", From: 110, To: 120})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sound()
			c.allow(p)
			if got := p.Validate(); got != nil {
				t.Errorf("Validate() = %v, want none", got)
			}
		})
	}
}

func TestValidName(t *testing.T) {
	for s, want := range map[string]bool{
		"front": true, "side-back": true, "a": true, "2": true, "side.upper": false, "": false, "-a": false, "a-": false, "é": false, "A": false, "a b": false,
	} {
		if got := pattern.ValidName(s); got != want {
			t.Errorf("ValidName(%q) = %v, want %v", s, got, want)
		}
	}
	for s, want := range map[string]bool{"side.upper": true, "side": true, "side..a": false, ".a": false, "a.": false, "": false} {
		if got := pattern.ValidDotted(s); got != want {
			t.Errorf("ValidDotted(%q) = %v, want %v", s, got, want)
		}
	}
}

func BenchmarkValidate(b *testing.B) {
	p := sound()
	for i := range 10 { // twelve pieces in all
		c := p.Pieces[0].Clone()
		c.Name = "piece-" + string(rune('a'+i))
		p.Pieces = append(p.Pieces, c)
	}
	for i := range p.Pieces { // as many curves as an armscye and a neckline have
		e := &p.Pieces[i].Edges[2]
		one, two := e.Path.Split(100)
		three, four := two.Split(60)
		e.Path = one.Join(three).Join(four)
	}
	if got := p.Validate(); got != nil {
		b.Fatal(got)
	}
	b.ReportAllocs()
	for b.Loop() {
		p.Validate()
	}
}
