package stock

import (
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// facingWide is the width of the neckline facings, mm; common practice.
const facingWide = 60

// facings drafts the neckline's facings from the bodice: the same neckline,
// and a free edge facingWide from it.
func facings(fp, bp *pattern.Piece) (frontPiece, backPiece pattern.Piece) {
	shoulder := fp.Edge(pattern.Shoulder).Path.Between(0, facingWide)
	neckline := fp.Edge(pattern.Neckline).Path.Clone()
	foot := neckline.Start().Sub(geom.Pt(0, facingWide))
	frontPiece = pattern.Piece{
		Name: "facing-front", Title: "Front neck facing", Role: pattern.FacingFront,
		Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			{Name: "outer", Path: beside(neckline.Reverse(), facingWide), Finish: pattern.Open},
			{Name: pattern.CentreFront, Path: geom.Path{geom.Line(foot, neckline.Start())}, Finish: pattern.Fold},
			{Name: pattern.Neckline, Path: neckline},
			{Name: pattern.Shoulder, Path: shoulder},
		},
		Grain: grainline(-20, foot.Y+8, foot.Y+facingWide-8),
	}

	whole := bp.Edge(pattern.Shoulder).Path
	shoulder = whole.Between(whole.Length()-facingWide, whole.Length())
	neckline = bp.Edge(pattern.Neckline).Path.Clone()
	foot = neckline.End().Sub(geom.Pt(0, facingWide))
	backPiece = pattern.Piece{
		Name: "facing-back", Title: "Back neck facing", Role: pattern.FacingBack,
		Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			{Name: "outer", Path: beside(neckline.Reverse(), facingWide), Finish: pattern.Open},
			{Name: pattern.Shoulder, Path: shoulder},
			{Name: pattern.Neckline, Path: neckline},
			{Name: "centre-back.opening", Path: geom.Path{geom.Line(neckline.End(), foot)}, Finish: pattern.Open},
		},
		Grain: grainline(20, foot.Y+8, foot.Y+facingWide-8),
	}
	return frontPiece, backPiece
}

// beside draws a smooth line d mm to the right of the path: through points
// square to it at its ends, quarters and middle.
func beside(path geom.Path, d float64) geom.Path {
	var points []geom.Point
	l := path.Length()
	for i := range 5 {
		at := l * float64(i) / 4
		points = append(points, path.At(at).Add(path.Direction(at).Right().Mul(d)))
	}
	return geom.Smooth(points, path.StartDirection(), path.EndDirection())
}
