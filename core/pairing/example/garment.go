package example

import (
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

func pt(x, y float64) geom.Point { return geom.Pt(x, y) }

func line(a, b geom.Point) geom.Path { return geom.Path{geom.Line(a, b)} }

// sweep is a curve from a to b with unit directions u and v at its ends.
func sweep(a, u, b, v geom.Point) geom.Path {
	l := a.Dist(b)
	return geom.Path{geom.Hermite(a, u.Unit().Mul(l), b, v.Unit().Mul(l))}
}

var titles = map[string]string{"front": "Bodice front", "back": "Bodice back", "gore-front": "Skirt front", "gore-back": "Skirt back", "facing-front": "Front facing", "facing-back": "Back facing"}

func onFold(name string, role pattern.Role, grain geom.Point, edges ...pattern.Edge) pattern.Piece {
	return pattern.Piece{
		Name: name, Title: titles[name], Role: role, Cut: pattern.Cut{Count: 1}, Edges: edges,
		Grain: pattern.Grain{From: grain, To: grain.Add(pt(0, 100))},
	}
}

// Garment is a small sound dress in halves: the front on the fold, the back
// fastened behind, a sleeve with ease in its head, and two gores gathered to the
// waist. All shapes are ours; lines that run on across a seam are drawn square to it.
func Garment() *pattern.Pattern {
	left, down := pt(-1, 0), pt(0, -1)
	slope := pt(-110, 40)
	front := onFold("front", pattern.BodiceFront, pt(60, 50),
		pattern.Edge{Name: "waist", Path: line(pt(0, 0), pt(220, 0))},
		pattern.Edge{Name: "side", Path: line(pt(220, 0), pt(220, 200))},
		pattern.Edge{Name: "armscye", Path: sweep(pt(220, 200), left, pt(180, 360), slope.Right())},
		pattern.Edge{Name: "shoulder", Path: line(pt(180, 360), pt(70, 400))},
		pattern.Edge{Name: "neckline", Path: sweep(pt(70, 400), slope.Left(), pt(0, 320), left), Finish: pattern.Faced},
		pattern.Edge{Name: "centre-front", Path: line(pt(0, 320), pt(0, 0)), Finish: pattern.Fold},
	)
	front.Darts = []pattern.Dart{{Name: "waist", Edge: "waist", From: 90, To: 110, Point: pt(100, 170)}}
	slope = pt(-110, -40)
	back := onFold("back", pattern.BodiceBack, pt(-60, 50),
		pattern.Edge{Name: "centre-back", Path: line(pt(0, 0), pt(0, 390)), Finish: pattern.Open},
		pattern.Edge{Name: "neckline", Path: sweep(pt(0, 390), left, pt(-70, 410), slope.Right()), Finish: pattern.Faced},
		pattern.Edge{Name: "shoulder", Path: line(pt(-70, 410), pt(-180, 370))},
		pattern.Edge{Name: "armscye", Path: sweep(pt(-180, 370), slope.Left(), pt(-220, 200), left)},
		pattern.Edge{Name: "side", Path: line(pt(-220, 200), pt(-220, 0))},
		pattern.Edge{Name: "waist", Path: line(pt(-220, 0), pt(0, 0))},
	)
	back.Cut = pattern.Cut{Count: 2, Mirrored: true}
	frontArm, backArm := front.SewnLength("armscye"), back.SewnLength("armscye")

	// The sleeve's head is made as high as it takes for 20 mm of ease.
	head := func(h float64) geom.Path {
		return sweep(pt(300, 400), left, pt(150, 400+h), left).Join(sweep(pt(150, 400+h), left, pt(0, 400), left))
	}
	lo, hi := 10.0, 400.0
	for range 100 {
		if m := (lo + hi) / 2; head(m).Length() < frontArm+backArm+20 {
			lo = m
		} else {
			hi = m
		}
	}
	cap := head(lo)
	sleeve := pattern.Piece{
		Name: "sleeve", Title: "Sleeve", Role: pattern.Sleeve, Cut: pattern.Cut{Count: 2, Mirrored: true},
		Grain: pattern.Grain{From: pt(150, 50), To: pt(150, 350)},
		Edges: []pattern.Edge{
			{Name: "hem", Path: line(pt(0, 0), pt(300, 0)), Finish: pattern.Hemmed},
			{Name: "underarm.front", Path: line(pt(300, 0), pt(300, 400))},
			{Name: "cap", Path: cap},
			{Name: "underarm.back", Path: line(pt(0, 400), pt(0, 0))},
		},
	}

	waist, hem := pt(300, -5), pt(400, -890)
	side := waist.Sub(hem)
	frontGore := onFold("gore-front", pattern.SkirtFront, pt(100, -500),
		pattern.Edge{Name: "hem", Path: sweep(pt(0, -900), pt(1, 0), hem, side.Right()), Finish: pattern.Hemmed},
		pattern.Edge{Name: "side", Path: line(hem, waist)},
		pattern.Edge{Name: "waist", Path: sweep(waist, side.Left(), pt(0, -20), left)},
		pattern.Edge{Name: "centre-front", Path: line(pt(0, -20), pt(0, -900)), Finish: pattern.Fold},
	)
	flip := geom.Reflection(pt(0, 0), down)
	turned := func(e pattern.Edge, name string) pattern.Edge {
		e.Name, e.Path = name, e.Path.Transform(flip).Reverse()
		return e
	}
	fe := frontGore.Edges
	backGore := onFold("gore-back", pattern.SkirtBack, pt(-100, -500),
		turned(fe[0], "hem"), turned(fe[3], "centre-back"), turned(fe[2], "waist"), turned(fe[1], "side"))
	length := frontGore.SewnLength("waist")
	frontGore.Gathers = []pattern.Gather{{Name: "waist", Edge: "waist", From: 0, To: length, Length: 200, Kind: pattern.Gathers}}
	backGore.Gathers = []pattern.Gather{{Name: "waist", Edge: "waist", From: 0, To: length, Length: 220, Kind: pattern.Gathers}}

	notch := func(p *pattern.Piece, name, edge string, at float64) {
		p.Notches = append(p.Notches, pattern.Notch{Name: name, Edge: edge, At: at, Count: 1})
	}
	notch(&front, "side", "side", 80)
	notch(&back, "side", "side", 120)
	notch(&front, "front", "armscye", 80)
	notch(&sleeve, "front", "cap", 80)
	notch(&back, "back", "armscye", backArm-80)
	notch(&sleeve, "back", "cap", cap.Length()-80)
	notch(&sleeve, "elbow", "underarm.front", 210)
	notch(&sleeve, "elbow", "underarm.back", 190)
	side890 := frontGore.SewnLength("side")
	notch(&frontGore, "hip", "side", side890-200)
	notch(&backGore, "hip", "side", 200)
	notch(&back, "waist", "waist", 110)
	notch(&backGore, "waist", "waist", length/2)

	run := func(refs ...pattern.EdgeRef) pattern.Run { return refs }
	ref := func(piece, edge string) pattern.EdgeRef { return pattern.EdgeRef{Piece: piece, Edge: edge} }
	rev := func(piece, edge string) pattern.EdgeRef {
		return pattern.EdgeRef{Piece: piece, Edge: edge, Backwards: true}
	}
	plain := pattern.Meeting{Kind: pattern.Plain}
	return &pattern.Pattern{
		Name: "garment", Pieces: []pattern.Piece{front, back, sleeve, frontGore, backGore},
		Seams: []pattern.Seam{
			{Name: "shoulder", A: run(ref("front", "shoulder")), B: run(rev("back", "shoulder")), Meeting: plain},
			{Name: "side", A: run(ref("front", "side")), B: run(rev("back", "side")), Meeting: plain},
			{Name: "armhole", A: run(ref("front", "armscye"), ref("back", "armscye")), B: run(ref("sleeve", "cap")),
				Meeting: pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: 10, Max: 30}}},
			{Name: "underarm", A: run(ref("sleeve", "underarm.front")), B: run(rev("sleeve", "underarm.back")), Meeting: plain},
			{Name: "skirt-side", A: run(ref("gore-front", "side")), B: run(rev("gore-back", "side")), Meeting: plain},
			{Name: "waist", A: run(ref("front", "waist"), ref("back", "waist")), B: run(rev("gore-front", "waist"), rev("gore-back", "waist")),
				Meeting: pattern.Meeting{Kind: pattern.Gathered, Ratio: pattern.Range{Min: 1.2, Max: 2}}},
		},
	}
}
