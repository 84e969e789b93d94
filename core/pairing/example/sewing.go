package example

import (
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// Allowed is the sound garment with allowances: 15 mm on seams, a hem of 40 on
// the skirt and of 20 on the sleeve.
func Allowed() *pattern.Pattern {
	p := Garment()
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		for j := range piece.Edges {
			switch e := &piece.Edges[j]; {
			case e.Finish == pattern.Fold:
			case e.Finish == pattern.Hemmed && piece.Role == pattern.Sleeve:
				e.Allowance = 20
			case e.Finish == pattern.Hemmed:
				e.Allowance = 40
			default:
				e.Allowance = 15
			}
		}
	}
	return p
}

var ofSewing = map[finding.Code]shown{
	pairing.FullnessCloth: {sound: Allowed, entails: []finding.Code{"opening-missing"}, options: pairing.Options{Cloth: pairing.Cloth{Weight: 400}}, plant: func(p *pattern.Pattern) {
		// Twice as full, in heavy cloth: bodice and skirt drawn up to half.
		for _, name := range []string{"gore-front", "gore-back"} {
			p.Piece(name).Gathers[0].Length /= 2
		}
		for _, name := range []string{"front", "back"} {
			piece := p.Piece(name)
			length := piece.SewnLength("waist")
			piece.Darts = nil
			piece.Gathers = []pattern.Gather{{Name: "waist", Edge: "waist", To: edge(p, name, "waist").Path.Length(), Length: length / 2, Kind: pattern.Gathers}}
		}
		p.Seam("waist").Meeting.Ratio.Max = 4
	}},
	pairing.AllowanceMismatch: {sound: Allowed, look: Closed, plant: func(p *pattern.Pattern) { edge(p, "back", "side").Allowance = 10 }},
	pairing.AllowanceCrossing: {sound: Allowed, plant: slit(12), mended: slit(44)},
	pairing.HemTurn: {sound: Allowed, plant: func(p *pattern.Pattern) { tapered(p); edge(p, "sleeve", "hem").Allowance = 80 },
		mended: func(p *pattern.Pattern) { tapered(p); edge(p, "sleeve", "hem").Allowance = 50 }},
	pairing.ClothWidth: {sound: Allowed, options: pairing.Options{Cloth: pairing.Cloth{Width: 900}}, plant: func(p *pattern.Pattern) {
		// A skirt front 100 mm wider at the hem than the cloth lets it be.
		widened(p)
	}},
	pairing.CutCount: {plant: func(p *pattern.Pattern) { p.Piece("sleeve").Cut = pattern.Cut{Count: 1} }},
	pairing.SewingOrder: {plant: func(p *pattern.Pattern) { // the side seam goes on into the skirt, through a waist that is sewn when it is
		p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "skirt-side" })
		s := p.Seam("side")
		s.A = append(pattern.Run{{Piece: "gore-front", Edge: "side"}}, s.A...)
		s.B = append(pattern.Run{{Piece: "gore-back", Edge: "side", Backwards: true}}, s.B...)
	}},
}

// slit cuts a slit of that width with a round end into the sleeve's hem, faced
// like a placket.
func slit(width float64) func(*pattern.Pattern) {
	return func(p *pattern.Pattern) {
		const deep = 70
		l, r := 150-width/2, 150+width/2
		top := pt(150, deep+width/2)
		path := geom.Path{
			geom.Line(pt(l, 0), pt(l, deep)),
			geom.Cubic(pt(l, deep), pt(l, deep+width*0.276), pt(150-width*0.224, top.Y), top),
			geom.Cubic(top, pt(150+width*0.224, top.Y), pt(r, deep+width*0.276), pt(r, deep)),
			geom.Line(pt(r, deep), pt(r, 0)),
		}
		sleeve := p.Piece("sleeve")
		sleeve.Grain = pattern.Grain{From: pt(80, 50), To: pt(80, 350)}
		i := sleeve.EdgeIndex("hem")
		hem := sleeve.Edges[i]
		first, second := hem, hem
		first.Name, first.Path = "hem.front", line(pt(0, 0), pt(l, 0))
		second.Name, second.Path = "hem.back", line(pt(r, 0), pt(300, 0))
		placket := pattern.Edge{Name: "placket", Path: path, Finish: pattern.Bound, Allowance: 10}
		sleeve.Edges = slices.Replace(sleeve.Edges, i, i+1, first, placket, second)
	}
}

// tapered slopes the sleeve's sides in to the wrist.
func tapered(p *pattern.Pattern) {
	edge(p, "sleeve", "hem").Path = line(pt(20, 0), pt(280, 0))
	edge(p, "sleeve", "underarm.front").Path = line(pt(280, 0), pt(300, 400))
	edge(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(20, 0))
}

// widened flares both gores, their hems square to their sides still.
func widened(p *pattern.Pattern) {
	waist, hem := pt(300, -5), pt(440, -884)
	side := waist.Sub(hem)
	flip := geom.Reflection(pt(0, 0), pt(0, -1))
	front := []geom.Path{sweep(pt(0, -900), pt(1, 0), hem, side.Right()), line(hem, waist), sweep(waist, side.Left(), pt(0, -20), pt(-1, 0))}
	for i, name := range []string{"hem", "side", "waist"} {
		edge(p, "gore-front", name).Path = front[i]
		edge(p, "gore-back", name).Path = front[i].Transform(flip).Reverse()
	}
	length := front[2].Length()
	for _, name := range []string{"gore-front", "gore-back"} {
		p.Piece(name).Gathers[0].To = length
	}
	for i := range p.Piece("gore-back").Notches {
		if n := &p.Piece("gore-back").Notches[i]; n.Edge == "waist" {
			n.At = length / 2
		}
	}
	for i := range p.Piece("gore-front").Notches {
		if n := &p.Piece("gore-front").Notches[i]; n.Edge == "side" {
			n.At = front[1].Length() - 200
		}
	}
}
