package pairing_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// within is the bar for places in mm and figures in their unit.
const within = 0.05

// want is a finding as the table writes it; a zero At or Size is not compared.
type want struct {
	code              finding.Code
	seam, piece, edge string
	at                geom.Point
	size              float64 // the figures' difference
}

func edgeOf(p *pattern.Pattern, piece, edge string) *pattern.Edge {
	return p.Edge(pattern.EdgeRef{Piece: piece, Edge: edge})
}

func turn(v geom.Point, degrees float64) geom.Point {
	return geom.Rotation(geom.Point{}, degrees*math.Pi/180).Apply(v)
}

// TestPlantedFaults plants one fault at a time in a sound garment and wants it
// found at its place and size, and nothing else that the fault does not entail.
func TestPlantedFaults(t *testing.T) {
	type pat = pattern.Pattern
	slope := pt(-110, 40)
	alongShoulder := slope.Unit()
	for _, c := range []struct {
		name  string
		plant func(*pat)
		want  []want
	}{
		{"underarm 9 mm long at the wrist", func(p *pat) {
			edgeOf(p, "sleeve", "hem").Path = line(pt(0, -9), pt(300, 0))
			edgeOf(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(0, -9))
		}, []want{{pairing.SeamLength, "underarm", "sleeve", "underarm.back", pt(0, -9), -9}}},
		{"underarm 9 mm long at the top", func(p *pat) {
			p.Piece("sleeve").Notches[3].At = 199 // the elbow, in step from the wrist
			edgeOf(p, "sleeve", "underarm.back").Path = line(pt(0, 409), pt(0, 0))
			cap := edgeOf(p, "sleeve", "cap").Path
			cap[1].P1, cap[1].C2 = pt(0, 409), cap[1].C2.Add(pt(0, 9))
		}, []want{
			{pairing.SeamLength, "underarm", "sleeve", "underarm.back", pt(0, 409), -9},
			{pairing.NotchDrift, "armhole", "sleeve", "cap", geom.Point{}, 0}, // the head has lost ease behind
		}},
		{"shoulder 3 mm long", func(p *pat) {
			neck := pt(70, 400).Add(alongShoulder.Mul(3))
			edgeOf(p, "front", "shoulder").Path = line(pt(180, 360), neck)
			edgeOf(p, "front", "neckline").Path = sweep(neck, slope.Left(), pt(0, 320), pt(-1, 0))
		}, []want{{pairing.SeamLength, "shoulder", "front", "shoulder", pt(70, 400).Add(alongShoulder.Mul(3)), 3}}},
		{"shoulder 0.15 mm short", func(p *pat) {
			neck := pt(70, 400).Sub(alongShoulder.Mul(0.15))
			edgeOf(p, "front", "shoulder").Path = line(pt(180, 360), neck)
			edgeOf(p, "front", "neckline").Path = sweep(neck, slope.Left(), pt(0, 320), pt(-1, 0))
		}, []want{{pairing.SeamLength, "shoulder", "back", "shoulder", pt(-70, 410), -0.15}}},
		{"neckline with a dent at the shoulder", func(p *pat) {
			edgeOf(p, "front", "neckline").Path = sweep(pt(70, 400), turn(slope.Left(), -15), pt(0, 320), pt(-1, 0))
		}, []want{{pairing.CornerKink, "shoulder", "front", "neckline", pt(70, 400), 15}}},
		{"armscye with a peak at the shoulder", func(p *pat) {
			edgeOf(p, "front", "armscye").Path = sweep(pt(220, 200), pt(-1, 0), pt(180, 360), turn(slope.Right(), -12))
		}, []want{{pairing.CornerKink, "shoulder", "front", "armscye", pt(180, 360), -12}}},
		{"armscye kinked so far that scissors will not mend it", func(p *pat) {
			edgeOf(p, "front", "armscye").Path = sweep(pt(220, 200), turn(pt(-1, 0), -30), pt(180, 360), slope.Right())
		}, []want{{pairing.CornerKink, "side", "front", "armscye", pt(220, 200), 30}}},
		{"neckline dips at the fold", func(p *pat) {
			edgeOf(p, "front", "neckline").Path = sweep(pt(70, 400), slope.Left(), pt(0, 320), turn(pt(-1, 0), 10))
		}, []want{{pairing.CornerCentre, "", "front", "neckline", pt(0, 320), 20}}},
		{"neckline dips at a centre front that hooks shut", func(p *pat) {
			edgeOf(p, "front", "neckline").Path = sweep(pt(70, 400), slope.Left(), pt(0, 320), turn(pt(-1, 0), 10))
			edgeOf(p, "front", "centre-front").Finish = pattern.Open
			p.Piece("front").Cut = pattern.Cut{Count: 2, Mirrored: true}
		}, []want{{pairing.CornerCentre, "", "front", "neckline", pt(0, 320), 20}}},
		{"V-neck", func(p *pat) {
			edgeOf(p, "front", "neckline").Path = sweep(pt(70, 400), slope.Left(), pt(0, 320), turn(pt(-1, 0), 40))
		}, []want{{pairing.CornerPoint, "", "front", "neckline", pt(0, 320), 80}}},
		{"hem pointed at the skirt's side", func(p *pat) {
			for _, gore := range []string{"gore-front", "gore-back"} {
				e := edgeOf(p, gore, "hem")
				e.Path = line(e.Path.Start(), e.Path.End())
			}
		}, []want{{pairing.CornerKink, "skirt-side", "gore-front", "hem", pt(400, -890), -2 * hemPeak()}}},
		{"notch 3 mm off", func(p *pat) { p.Piece("front").Notches[0].At += 3 },
			[]want{{pairing.NotchDrift, "side", "back", "side", pt(-220, 80), 3}}},
		{"notch of an eased seam below the ease", func(p *pat) { p.Piece("sleeve").Notches[0].At -= 2 },
			[]want{{pairing.NotchDrift, "armhole", "sleeve", "cap", geom.Point{}, 2}}},
		{"ease let out again between notches", func(p *pat) {
			p.Piece("sleeve").Notches[0].At += 15 // 15 mm of ease below the front notch
			p.Piece("sleeve").Notches[1].At -= 12 // and 8 in all at the back one
		}, []want{
			{pairing.NotchDrift, "armhole", "sleeve", "cap", geom.Point{}, 7},
			{pairing.CapEase, "armhole", "sleeve", "cap", geom.Point{}, 10},
			{pairing.CapEase, "armhole", "sleeve", "cap", geom.Point{}, 7},
		}},
		{"notch of a gathered seam", func(p *pat) { p.Piece("back").Notches[2].At += 4 },
			[]want{{pairing.NotchDrift, "waist", "gore-back", "waist", geom.Point{}, 4}}},
		{"notch on one side only", func(p *pat) { p.Piece("front").Notches[0].Name = "b" }, []want{
			{pairing.NotchMissing, "side", "front", "side", pt(220, 80), 0},
			{pairing.NotchMissing, "side", "back", "side", pt(-220, 80), 0},
		}},
		{"no notches", func(p *pat) {
			for _, name := range []string{"front", "back"} {
				piece := p.Piece(name)
				piece.Notches = slices.DeleteFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == "side" })
			}
		}, []want{{pairing.NotchNone, "side", "front", "side", pt(220, 100), 50}}},
		{"single notch to a double one", func(p *pat) { p.Piece("front").Notches[0].Count = 2 },
			[]want{{pairing.NotchCount, "side", "back", "side", pt(-220, 80), 0}}},
		{"side walked the wrong way", func(p *pat) { p.Seam("side").B[0].Backwards = false }, []want{
			{pairing.NotchDrift, "side", "back", "side", pt(-220, 80), -40},
			{pairing.SeamTwist, "side", "back", "side", geom.Point{}, 0},
		}},
		{"waist run out of order", func(p *pat) { p.Seam("waist").A[0].Backwards = true }, []want{
			{pairing.SeamRun, "waist", "front", "waist", pt(0, 0), 0},
		}},
		{"dart with one leg longer", func(p *pat) { p.Piece("front").Darts[0].Point.X = 103 },
			[]want{{pairing.DartLegs, "", "front", "waist", pt(103, 170), math.Hypot(13, 170) - math.Hypot(7, 170)}}},
		{"dart not trued", func(p *pat) { p.Piece("front").Darts[0].Point.Y = 60 },
			[]want{{pairing.DartMouth, "", "front", "waist", pt(90, 0), 2 * math.Atan(10.0/60) * 180 / math.Pi}}},
		{"dart out of the piece", func(p *pat) { p.Piece("front").Darts[0].Point.Y = 600 },
			[]want{{pairing.DartPoint, "", "front", "waist", pt(100, 600), 0}}},
		{"too much ease", func(p *pat) { p.Seam("armhole").Meeting.Ease.Max = 15 },
			[]want{{pairing.SeamEase, "armhole", "sleeve", "cap", pt(0, 400), -20}}},
		{"more ease than can be worked in", func(p *pat) {
			p.Seam("underarm").Meeting.Kind = pattern.Eased
			edgeOf(p, "sleeve", "hem").Path = line(pt(0, -51), pt(300, 0))
			edgeOf(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(0, -51))
		}, []want{{pairing.SeamEase, "underarm", "sleeve", "underarm.back", pt(0, 400), -51}}},
		{"gathers 6 mm short", func(p *pat) { p.Piece("gore-front").Gathers[0].Length = 194 }, []want{
			{pairing.FullnessLength, "waist", "front", "waist", pt(220, 0), 6}, // between the front's two corners, of which neither is likelier
		}},
		{"too full", func(p *pat) { p.Seam("waist").Meeting.Ratio.Max = 1.4 },
			[]want{{pairing.FullnessRatio, "waist", "back", "waist", pt(0, 0), 2*edgeLength(garment(), "gore-front", "waist")/420 - 1.4}}},
		{"said to be gathered", func(p *pat) {
			p.Seam("side").Meeting.Kind = pattern.Gathered
		}, []want{{pairing.FullnessMissing, "side", "front", "side", geom.Point{}, 0}}},
		{"lost seam", func(p *pat) {
			p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "skirt-side" })
		}, []want{
			{pairing.EdgeLoose, "", "gore-front", "side", geom.Point{}, 0},
			{pairing.EdgeLoose, "", "gore-back", "side", geom.Point{}, 0},
			{pairing.SeamRun, "waist", "gore-front", "waist", geom.Point{}, 0},
		}},
		{"hemmed and sewn", func(p *pat) { edgeOf(p, "front", "side").Finish = pattern.Hemmed },
			[]want{{pairing.EdgeTwoFates, "side", "front", "side", pt(220, 100), 0}}},
		{"mirror image that is not cut", func(p *pat) {
			p.Piece("sleeve").Cut = pattern.Cut{Count: 1}
			p.Seams[3].B = nil
			edgeOf(p, "sleeve", "underarm.back").Finish = pattern.Open
			p.Piece("sleeve").Notches = p.Piece("sleeve").Notches[:2]
		}, []want{
			{pairing.SeamMirror, "underarm", "sleeve", "underarm.front", pt(300, 400), 0},
			{pairing.CutCount, "armhole", "sleeve", "cap", geom.Point{}, -1},
		}},
		{"no grainline", func(p *pat) { p.Piece("back").Grain = pattern.Grain{} },
			[]want{{pairing.GrainMissing, "", "back", "", geom.Point{}, 0}}},
		{"grainline outside", func(p *pat) { p.Piece("back").Grain.To = pt(-60, 500) },
			[]want{{pairing.GrainOutside, "", "back", "", pt(-60, 500), 0}}},
		{"bent fold", func(p *pat) {
			edgeOf(p, "front", "centre-front").Path = geom.Polyline(pt(0, 320), pt(0.4, 160), pt(0, 0))
		}, []want{{pairing.FoldBent, "", "front", "centre-front", pt(0.4, 160), 0.4}}},
		{"two folds", func(p *pat) {
			p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "underarm" })
			p.Piece("sleeve").Notches = p.Piece("sleeve").Notches[:2]
			edgeOf(p, "sleeve", "underarm.front").Finish = pattern.Fold
			edgeOf(p, "sleeve", "underarm.back").Finish = pattern.Fold
		}, []want{
			{pairing.FoldApart, "", "sleeve", "underarm.back", geom.Point{}, 300},
			{pairing.CutCount, "armhole", "sleeve", "cap", geom.Point{}, 2}, // four sleeves
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := garment()
			c.plant(p)
			if c.name != "bent fold" && !strings.HasPrefix(c.name, "dart out") {
				mustBeValid(t, p)
			}
			got := pairing.Check(p)
			turned := p.Clone()
			fromTheOtherEnd(turned)
			if a, b := codesOf(got), codesOf(pairing.Check(turned)); !slices.Equal(a, b) {
				t.Errorf("walked from the other end, Check() finds %v, not %v", b, a)
			}
			for _, w := range c.want {
				i := slices.IndexFunc(got, func(f finding.Finding) bool { return matches(f, w) })
				if i < 0 {
					t.Errorf("Check() lacks %+v", w)
					continue
				}
				if e, ok := pairing.Explain(got[i].Code); !ok || e.Title == "" || e.Why == "" || got[i].Remedy != e.Remedy {
					t.Errorf("Explain(%s) = %+v", got[i].Code, e)
				}
				got = slices.Delete(got, i, i+1)
			}
			for _, f := range got {
				t.Errorf("Check() also found %s", show(f))
			}
		})
	}
}

// codesOf lists the codes of findings, sorted.
func codesOf(list []finding.Finding) (codes []string) {
	for _, f := range list {
		codes = append(codes, string(f.Code))
	}
	slices.Sort(codes)
	return codes
}

func show(f finding.Finding) string {
	s := fmt.Sprintf("%s %s %s/%s/%s", f.Severity, f.Code, f.Place.Seam, f.Place.Piece, f.Place.Edge)
	if f.Place.At != nil {
		s += fmt.Sprintf(" at %.3f,%.3f", f.Place.At.X, f.Place.At.Y)
	}
	if f.Figures != nil {
		s += fmt.Sprintf(" %+v", *f.Figures)
	}
	return s + ": " + f.Text
}

func matches(f finding.Finding, w want) bool {
	if f.Code != w.code || f.Place.Seam != w.seam || f.Place.Piece != w.piece || f.Place.Edge != w.edge {
		return false
	}
	if w.at != (geom.Point{}) && (f.Place.At == nil || !f.Place.At.Near(w.at, within)) {
		return false
	}
	return w.size == 0 || f.Figures != nil && math.Abs(f.Figures.Difference-w.size) <= within
}

func edgeLength(p *pattern.Pattern, piece, edge string) float64 {
	return edgeOf(p, piece, edge).Path.Length()
}

// hemPeak is by how much a straight front hem falls short of square to its side.
func hemPeak() float64 {
	hem, side := pt(400, -890).Sub(pt(0, -900)), pt(300, -5).Sub(pt(400, -890))
	return 90 - math.Acos(-hem.Unit().Dot(side.Unit()))*180/math.Pi
}
