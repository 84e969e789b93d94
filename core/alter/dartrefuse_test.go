package alter

import (
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// The stack test (NIMI p. 195): whatever way the bust dart has gone, in one or
// in parts, closed into one place again every version has the same outline.
func TestDartStack(t *testing.T) {
	for _, b := range realBodies(t) {
		p := draftOf(t, b)
		long := func(edge string) float64 { return length(p, "bodice-front", edge) }
		whole := func(edge string, share float64) alteration {
			return of(RotateDart, Rotation{Piece: "bodice-front", Dart: "bust-dart", Edge: edge, At: share * long(edge), Share: 1})
		}
		home := func(q *pattern.Pattern) *pattern.Pattern {
			for _, d := range q.Piece("bodice-front").Darts {
				if d.Edge == "shoulder" || d.Name == "waist-dart" {
					continue
				}
				r := Rotation{Piece: "bodice-front", Dart: d.Name, Edge: "shoulder", At: 0.5 * long("shoulder"), Share: 1}
				for _, o := range q.Piece("bodice-front").Darts {
					if o.Edge == "shoulder" {
						r.Into = o.Name
					}
				}
				q = done(t, q, of(RotateDart, r)).Pattern
			}
			return q
		}
		want := home(p).Piece("bodice-front")
		for name, steps := range map[string][]alteration{
			"armscye":           {whole("armscye", 0.5)},
			"neckline":          {whole("neckline", 0.6)},
			"waist":             {whole("waist", 0.1)},
			"there and back":    {whole("armscye", 0.4), whole("neckline", 0.3)},
			"neck and armscye":  {of(SplitDart, Splitting{Piece: "bodice-front", Dart: "bust-dart", Places: []Opening{{"neckline", 0.5 * long("neckline"), 0.5}, {"armscye", 0.5 * long("armscye"), 0.5}}})},
			"half on the waist": {of(SplitDart, Splitting{Piece: "bodice-front", Dart: "bust-dart", Places: []Opening{{"armscye", 0.5 * long("armscye"), 0.5}}})},
		} {
			got := home(after(t, p, steps...)).Piece("bodice-front")
			within(t, "stacked, by way of the "+name, apart(got, want), 0, laidOff)
		}
	}
}

func TestDartShapeRefuses(t *testing.T) {
	p := dress(t)
	lame := p.Clone()
	lame.Piece("bodice-back").Darts[0].Point.X += 9
	inside := p.Clone()
	d := &inside.Piece("bodice-back").Darts[0]
	d.Point = d.Point.Add(geom.Pt(0, -400))
	refusals{
		{"into one", p, of(SplitDart, Splitting{Piece: "bodice-back", Dart: "waist-dart", Into: 1, Apart: 10}), `dart "waist-dart" cannot be divided into 1; ask for two or more, with cloth between them`},
		{"more than it", p, of(SplitDart, Splitting{Piece: "bodice-back", Dart: "waist-dart", Places: []Opening{{"side", 50, 0.8}, {"armscye", 50, 0.5}}}), `the shares of dart "waist-dart" add up to 1.30; let them add up to 1 or less`},
		{"too short", p, of(MoveDartPoint, PointMove{Piece: "bodice-back", Dart: "waist-dart", Longer: -189}), `dart "waist-dart" of piece "bodice-back" would be 2.0 mm long; leave it 10 mm or more`},
		{"point outside", p, of(MoveDartPoint, PointMove{Piece: "bodice-back", Dart: "waist-dart", Longer: 600}), `dart "waist-dart" would point out of piece "bodice-back"; turn or let out that dart first`},
		{"bound", lame, of(TrueLegs, Truing{Piece: "bodice-back", Dart: "waist-dart", By: ByPoint, Bound: 5}), `to true the legs of dart "waist-dart" on piece "bodice-back", 192.0 mm and 191.0 mm, its point would move by 9.0 mm; allow more, or draw the dart anew`},
		{"by what", lame, of(TrueLegs, Truing{Piece: "bodice-back", Dart: "waist-dart", By: "hand", Bound: 5}), `legs are trued by the point or by the mouth, not "hand"; say point or mouth`},
		{"cap unequal legs", lame, of(CapDart, Capping{Piece: "bodice-back", Dart: "waist-dart"}), `the legs of dart "waist-dart" on piece "bodice-back" measure 192.0 and 191.0 mm; true the dart's legs first`},
		{"inside out", inside, of(CapDart, Capping{Piece: "bodice-back", Dart: "waist-dart"}), `the legs of dart "waist-dart" on piece "bodice-back" lie the wrong way round: it lets width in instead of taking it up; let the dart out, or draw it anew`},
		{"pressed up", p, of(CapDart, Capping{Piece: "bodice-back", Dart: "waist-dart", Press: "up"}), `a dart is pressed to the start or the end of its edge, not "up"; say start or end`},
		{"tuck beyond the point", p, of(FoldDart, Folding{Piece: "bodice-back", Dart: "waist-dart", Kind: pattern.Tuck, Level: 300}), `a tuck in dart "waist-dart" of piece "bodice-back" cannot be released 300.0 mm from the edge; choose a level between 0 and 191.0 mm, where the dart ends`},
		{"no such fold", p, of(FoldDart, Folding{Piece: "bodice-back", Dart: "waist-dart", Kind: "ruche"}), `there is no fold of the kind "ruche"; use knife, box, inverted or tuck`},
		{"over a dart", p, of(AddDart, NewDart{Piece: "bodice-back", Edge: "waist", At: 95, Intake: 20, Depth: 80, MadeUp: LetOut}), `there is no room for a dart of 20.0 mm at 95.0 mm along edge "waist" of piece "bodice-back"; choose another place, clear of corners and other marks`},
		{"taken in", p, of(AddDart, NewDart{Piece: "bodice-back", Edge: "side", At: 95, Intake: 10, Depth: 50, MadeUp: TakenIn}), `edge "side" of piece "bodice-back" is sewn to another and cannot just be taken in; let the width out, or ease the mate`},
		{"no mate", p, of(AddDart, NewDart{Piece: "skirt-back", Edge: "hem", At: 150, Intake: 10, Depth: 50, MadeUp: MateEased}), `edge "hem" of piece "skirt-back" has no other piece's edge sewn to it that could be eased; let the width out instead`},
		{"out of the piece", p, of(AddDart, NewDart{Piece: "bodice-back", Edge: "side", At: 95, Intake: 10, Depth: 500, MadeUp: LetOut}), `a dart of 500.0 mm depth would point out of piece "bodice-back"; make it shorter`},
		{"no neighbour", p, of(AddDart, NewDart{Piece: "skirt-back", Edge: "waist", At: 80, Intake: 10, Depth: 50, MadeUp: LetOut, Neighbour: "hem"}), `edge "hem" is no neighbour of "waist" on piece "skirt-back"; name "side" or "centre-back.opening"`},
		{"no intake", p, of(AddDart, NewDart{Piece: "skirt-back", Edge: "waist", At: 80, Depth: 50, MadeUp: LetOut}), `a dart of 0.0 mm intake and 50.0 mm depth cannot be sewn; give it an intake, and a depth of 10 mm or more`},
	}.try(t)
}
