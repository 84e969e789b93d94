package draw

import (
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// frock is a made-up garment with one of everything that can be drawn: a
// darted bodice, sleeve, skirt gores and a narrow band.
func frock() *pattern.Pattern {
	pt := geom.Pt
	curve := func(a, b, c, d geom.Point) geom.Path { return geom.Path{geom.Cubic(a, b, c, d)} }
	line := func(a, b geom.Point) geom.Path { return geom.Path{geom.Line(a, b)} }
	edge := func(name string, p geom.Path, w float64) pattern.Edge {
		return pattern.Edge{Name: name, Path: p, Allowance: w}
	}
	fold := func(name string, p geom.Path) pattern.Edge {
		return pattern.Edge{Name: name, Path: p, Finish: pattern.Fold}
	}
	hem := func(p geom.Path) pattern.Edge {
		return pattern.Edge{Name: "hem", Path: p, Allowance: 40, Finish: pattern.Hemmed}
	}
	front := pattern.Piece{
		Name: "bodice-front", Title: "Bodice front", Role: pattern.BodiceFront, Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			edge("waist", geom.Path{geom.Cubic(pt(0, 0), pt(80, 0), pt(160, 6), pt(235, 18))}, 15),
			edge("side", line(pt(235, 18), pt(246, 215)), 20),
			edge("armscye", geom.Path{geom.Cubic(pt(246, 215), pt(200, 222), pt(178, 270), pt(190, 390))}, 10),
			edge("shoulder", line(pt(190, 390), pt(72, 432)), 15),
			edge("neckline", geom.Path{geom.Cubic(pt(72, 432), pt(70, 380), pt(45, 345), pt(0, 345))}, 10),
			fold("centre-front", line(pt(0, 345), pt(0, 0))),
		},
		Grain:     pattern.Grain{From: pt(40, 90), To: pt(40, 290)},
		Landmarks: []pattern.Landmark{{Name: pattern.BustPoint, At: pt(100, 190)}},
		Darts: []pattern.Dart{
			{Name: "waist-dart", Edge: "waist", From: 85, To: 120, Point: pt(102, 165)},
			{Name: "bust-dart", Edge: "side", From: 120, To: 150, Point: pt(130, 180)},
		},
		Notches: []pattern.Notch{{Name: "f", Edge: "armscye", At: 70, Count: 1}, {Name: "s", Edge: "side", At: 60, Count: 1}},
	}
	back := pattern.Piece{
		Name: "bodice-back", Title: "Bodice back", Role: pattern.BodiceBack, Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			edge("waist", line(pt(15, 0), pt(225, 8)), 15),
			edge("side", line(pt(225, 8), pt(232, 205)), 20),
			edge("armscye", geom.Path{geom.Cubic(pt(232, 205), pt(195, 215), pt(178, 280), pt(182, 380))}, 10),
			edge("shoulder", line(pt(182, 380), pt(70, 425)), 15),
			edge("neckline", geom.Path{geom.Cubic(pt(70, 425), pt(60, 408), pt(30, 402), pt(0, 402))}, 10),
			edge("centre-back", geom.Path{geom.Cubic(pt(0, 402), pt(0, 260), pt(15, 140), pt(15, 0))}, 20),
		},
		Grain: pattern.Grain{From: pt(60, 80), To: pt(60, 300)},
		Darts: []pattern.Dart{{Name: "waist-dart", Edge: "waist", From: 80, To: 110, Point: pt(112, 180)}},
		Notches: []pattern.Notch{
			{Name: "b", Edge: "armscye", At: 75, Count: 2}, {Name: "s", Edge: "side", At: 60, Count: 1},
		},
	}
	sleeve := pattern.Piece{
		Name: "sleeve", Title: "Sleeve", Role: pattern.Sleeve, Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			edge("hem", line(pt(60, 0), pt(300, 0)), 15),
			edge("underarm.front", line(pt(300, 0), pt(370, 200)), 15),
			edge("cap", geom.Path{
				geom.Cubic(pt(370, 200), pt(300, 205), pt(290, 350), pt(185, 350)),
				geom.Cubic(pt(185, 350), pt(80, 350), pt(70, 205), pt(0, 200)),
			}, 10),
			edge("underarm.back", line(pt(0, 200), pt(60, 0)), 15),
		},
		Grain: pattern.Grain{From: pt(185, 30), To: pt(185, 320)},
		Gathers: []pattern.Gather{
			{Name: "head", Edge: "cap", From: 160, To: 420, Length: 150, Kind: pattern.Gathers},
			{Name: "hem", Edge: "hem", From: 20, To: 220, Length: 180, Kind: pattern.Ease},
		},
		Notches: []pattern.Notch{{Name: "f", Edge: "cap", At: 95, Count: 1}, {Name: "b", Edge: "cap", At: 480, Count: 2}},
	}
	gore := func(name, title string, role pattern.Role, top, low float64, onFold bool) pattern.Piece {
		left := edge("centre-back", line(pt(0, 980), pt(0, 0)), 20)
		cut := pattern.Cut{Count: 2, Mirrored: true}
		if onFold {
			left, cut = fold("centre-front", line(pt(0, 980), pt(0, 0))), pattern.Cut{Count: 1}
		}
		return pattern.Piece{
			Name: name, Title: title, Role: role, Cut: cut,
			Edges: []pattern.Edge{
				hem(curve(pt(0, 0), pt(low/3, 0), pt(low*2/3, 8), pt(low, 30))),
				edge("side", line(pt(low, 30), pt(top, 985)), 15),
				edge("waist", curve(pt(top, 985), pt(top*2/3, 980), pt(top/3, 980), pt(0, 980)), 15),
				left,
			},
			Grain:   pattern.Grain{From: pt(60, 250), To: pt(60, 750)},
			Notches: []pattern.Notch{{Name: "s", Edge: "side", At: 700, Count: 1}},
		}
	}
	skirtFront := gore("skirt-front", "Skirt front", pattern.SkirtFront, 210, 330, true)
	skirtBack := gore("skirt-back", "Skirt back", pattern.SkirtBack, 260, 400, false)
	skirtBack.Pleats = []pattern.Pleat{
		{Name: "p1", Edge: "waist", From: 120, To: 160, Kind: pattern.Knife, Pressed: pattern.PressedToEnd},
		{Name: "p2", Edge: "waist", From: 180, To: 220, Kind: pattern.Box},
	}
	band := pattern.Piece{
		Name: "sleeve-band", Title: "Sleeve band", Role: pattern.SleeveBand, Cut: pattern.Cut{Count: 2},
		Edges: []pattern.Edge{
			edge("lower", line(pt(0, 0), pt(260, 0)), 10), edge("right", line(pt(260, 0), pt(260, 24)), 10),
			edge("upper", line(pt(260, 24), pt(0, 24)), 10), edge("left", line(pt(0, 24), pt(0, 0)), 10),
		},
		Grain: pattern.Grain{From: pt(20, 12), To: pt(240, 12)},
	}
	facing := pattern.Piece{
		Name: "facing-front", Title: "Façade du col — parementure", Role: pattern.FacingFront, Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			fold("centre-front", line(pt(0, 50), pt(0, 0))),
			{Name: "outer", Path: curve(pt(0, 0), pt(80, 0), pt(120, 50), pt(125, 100)), Finish: pattern.Open},
			edge("shoulder", line(pt(125, 100), pt(72, 115)), 15),
			edge("neckline", curve(pt(72, 115), pt(70, 80), pt(45, 50), pt(0, 50)), 10),
		},
	}
	return &pattern.Pattern{
		Name: "frock", Title: "House frock, size 12",
		Pieces: []pattern.Piece{front, back, sleeve, skirtFront, skirtBack, band, facing},
	}
}

// altered is the frock after a step: waist raised, the sleeve band gone, a sash new.
func altered() *pattern.Pattern {
	p := frock().Clone()
	pt := geom.Pt
	f := p.Piece("bodice-front")
	f.Edges[0].Path = geom.Path{geom.Cubic(pt(0, 90), pt(80, 90), pt(160, 96), pt(239.2, 100))}
	f.Edges[1].Path = geom.Path{geom.Line(pt(239.2, 100), pt(246, 215))}
	f.Edges[5].Path = geom.Path{geom.Line(pt(0, 345), pt(0, 90))}
	f.Darts = nil
	f.Notches = f.Notches[:1]
	f.Gathers = []pattern.Gather{{Name: "g", Edge: "waist", From: 50, To: 190, Length: 95, Kind: pattern.Gathers}}
	f.Grain.From.Y = 130
	p.Pieces = append(p.Pieces[:5:5], p.Pieces[6])
	p.Pieces = append(p.Pieces, pattern.Piece{
		Name: "sash", Title: "Sash", Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			{Name: "lower", Path: geom.Polyline(pt(0, 0), pt(700, 0)), Allowance: 10}, {Name: "right", Path: geom.Polyline(pt(700, 0), pt(700, 60)), Allowance: 10},
			{Name: "upper", Path: geom.Polyline(pt(700, 60), pt(0, 60)), Allowance: 10}, {Name: "left", Path: geom.Polyline(pt(0, 60), pt(0, 0)), Allowance: 10},
		},
	})
	return p
}
