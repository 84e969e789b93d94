package stock

// Suppression is the sum every fitted bodice draft makes at the waist: the
// half laid off at the bust, and what the seams take of it before any dart.
// Lengths are in one unit throughout, whichever it is.
type Suppression struct {
	Half       float64   // half the bust as drafted, ease and all
	Standoff   float64   // how far in the half starts, where the centre back slants; 0 from an upright line
	CentreBack float64   // taken in at the waist of the centre back
	Seams      []float64 // taken out at the waist between pieces
}

// Standoff returns how far the slanting centre back stands from the upright
// at the depth of scye. The line leaves the upright at the nape, drop below
// the top of the draft, and reaches in at the waist, length below it.
func Standoff(in, scyeDepth, drop, length float64) float64 {
	return in * (scyeDepth - drop) / length
}

// HalfWaist returns what the half draft measures at the waist.
func (s Suppression) HalfWaist() float64 {
	w := s.Half + s.Standoff - s.CentreBack
	for _, t := range s.Seams {
		w -= t
	}
	return w
}

// Darts returns what is left for the darts to take, all together.
func (s Suppression) Darts(halfBody float64) float64 { return s.HalfWaist() - halfBody }
