package alter_test

import (
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pictures of what is done along seam lines, before and after.
func TestGoldenSeamLines(t *testing.T) {
	var (
		intoWaist = func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.RotateDart(p, alter.Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1})
		}
		divide = func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.DivideBack(p, alter.Panel{AtArmscye: 110})
		}
		yoke = func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SplitPiece(p, alter.Split{
				Piece: "bodice-back", From: "armscye", FromAt: 120, To: "centre-back.opening", ToAt: 100, Bow: -6, Name: "back-yoke", Title: "Back yoke",
			})
		}
	)
	pictures(t, []picture{
		{"move-seam-side", []alteration{intoWaist}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveSeam(p, alter.SeamMove{Seam: "side", AtStart: 20, AtEnd: 30})
		}},
		{"move-seam-skirt", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveSeam(p, alter.SeamMove{Seam: "skirt-side", AtStart: 20, AtEnd: 60})
		}},
		{"move-seam-bowed", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveSeam(p, alter.SeamMove{Seam: "shoulder", AtStart: 10, AtEnd: 30, Bow: 8})
		}},
		{"widen-panel-diamond", []alteration{intoWaist, divide}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.WidenPanel(p, alter.PanelWidth{Piece: "bodice-back", Lower: -35, Upper: -10, Middle: 8})
		}},
		{"curve-edge", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CurveEdge(p, alter.Curving{Piece: "skirt-front", Edge: "side", Out: 15, At: 0.4})
		}},
		{"split-piece-yoke", nil, yoke},
		{"split-piece-princess", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SplitPiece(p, alter.Split{
				Piece: "bodice-back", From: "waist", Through: "waist-dart", To: "shoulder", ToAt: 60, Name: "back-side", Title: "Back side panel",
			})
		}},
		{"join-pieces", []alteration{yoke}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.JoinPieces(p, alter.Join{Seam: "shoulder", Name: "front-and-yoke", Title: "Front and yoke in one"})
		}},
		{"lower-armscye", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LowerArmscye(p, alter.ScyeDepth{Down: 25, ScoopFront: 6, ScoopBack: 3})
		}},
		{"narrow-cross-back", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.NarrowCrossBack(p, alter.CrossBack{By: 15})
		}},
		{"lower-neckline", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LowerNeckline(p, alter.NeckOpening{AtFront: 70, AtBack: 40, AtShoulder: 38})
		}},
		{"unfold", nil, func(p *pattern.Pattern) (*operation.Answer, error) { return alter.Unfold(p, "bodice-front") }},
		{"mirror-piece", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MirrorPiece(p, "sleeve", "left-sleeve", "Left sleeve")
		}},
	})
}
