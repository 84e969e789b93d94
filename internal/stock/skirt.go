package stock

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// The skirt, mm; common practice.
const (
	kneeShare   = 0.36 // of the height: waist to a hem at the knee
	gorePerSide = 52   // each edge of a gore springs out this much from hip to hem
	sideHollow  = 11   // the side comes in this much at the waist from the line of its lower part
	openingLong = 200  // the opening runs this far below the waist
)

// gore is a quarter of the skirt: one edge at the centre, one at the side, no
// dart. Below the hip both edges are straight; above it they curve in to the
// waist.
type gore struct {
	hip, length, hipDepth float64
	waist                 float64 // what the waist edge must measure
}

// goreShape is a gore drawn with its centre edge to the right: hem walked
// left to right, centre up, waist right to left, side down.
type goreShape struct{ hem, centre, waist, side geom.Path }

// draw hollows the centre edge until the waist measures what it must.
func (g gore) draw() (goreShape, error) {
	drop := g.length - g.hipDepth
	spring := gorePerSide / drop // mm sideways for every mm down
	shape := func(hollow float64) goreShape {
		// edge runs from the waist down; right is +1 for the right edge.
		edge := func(right, hollow float64) geom.Path {
			hip := geom.Pt(right*g.hip/2, -g.hipDepth)
			hem := hip.Add(geom.Pt(right*gorePerSide, -drop))
			down := hem.Sub(hip).Unit()
			waist := geom.Pt(hip.X-right*(spring*g.hipDepth+hollow), 0)
			lead := geom.Pt(right*(spring+1.6*hollow/g.hipDepth), -1)
			return geom.Smooth([]geom.Point{waist, hip}, lead, down).Join(geom.Path{geom.Line(hip, hem)})
		}
		centre, side := edge(1, hollow), edge(-1, sideHollow)
		return goreShape{
			hem: geom.Smooth([]geom.Point{side.End(), centre.End()},
				side.EndDirection().Left(), centre.EndDirection().Left()),
			centre: centre.Reverse(),
			waist: geom.Smooth([]geom.Point{centre.Start(), side.Start()},
				centre.StartDirection().Right(), side.StartDirection().Right()),
			side: side,
		}
	}
	x, err := solve("a skirt gore", func(x []float64) []float64 {
		return []float64{shape(x[0]).waist.Length() - g.waist}
	}, sideHollow)
	if err != nil {
		return goreShape{}, err
	}
	return shape(x[0]), nil
}

// openingEnd is where the opening ends along the centre back: where a line of it
// does, if that is as good as openingLong, so that no stub is left.
func openingEnd(centre geom.Path) float64 {
	const stub = 0.5 // mm, as a notch is snipped
	along := 0.0
	for _, s := range centre {
		if along += s.Length(); math.Abs(along-openingLong) < stub {
			return along
		}
	}
	return openingLong
}

// skirt drafts the front and back gores to fit the bodice's net waists.
func (b Body) skirt(frontWaist, backWaist float64) (front, back pattern.Piece, err error) {
	g := gore{hip: (b.Hip + hipEase) / 4, length: b.Height * kneeShare, hipDepth: b.HipDepth}
	g.waist = frontWaist
	f, err := g.draw()
	if err != nil {
		return front, back, err
	}
	g.waist = backWaist
	k, err := g.draw()
	if err != nil {
		return front, back, err
	}
	grain := grainline(0, 120-g.length, -90)
	front = pattern.Piece{
		Name: "skirt-front", Title: "Skirt front", Role: pattern.SkirtFront,
		Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			{Name: pattern.Hem, Path: f.hem, Finish: pattern.Hemmed},
			{Name: pattern.CentreFront, Path: f.centre},
			{Name: pattern.Waist, Path: f.waist},
			{Name: pattern.Side, Path: f.side},
		},
		Grain: grain,
	}
	// The back's centre lies to the left: the gore is turned over, and with it
	// the way round.
	over := geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
	turn := func(p geom.Path) geom.Path { return p.Transform(over).Reverse() }
	centre := turn(k.centre)
	opening, seam := centre.Split(openingEnd(centre))
	back = pattern.Piece{
		Name: "skirt-back", Title: "Skirt back", Role: pattern.SkirtBack,
		Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			{Name: pattern.Hem, Path: turn(k.hem), Finish: pattern.Hemmed},
			{Name: pattern.Side, Path: turn(k.side)},
			{Name: pattern.Waist, Path: turn(k.waist)},
			{Name: "centre-back.opening", Path: opening, Finish: pattern.Open},
			{Name: pattern.CentreBack, Path: seam},
		},
		Grain: grain,
	}
	return front, back, nil
}
