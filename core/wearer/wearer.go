// Package wearer holds one body's measures.
package wearer

// Measure is the name of a body measure. The names follow the terms of ISO
// 8559-1:2017; where to lay the tape is told in our own words.
type Measure string

// The measures that steps look at. All are mm.
const (
	Height      Measure = "height"
	HeadGirth   Measure = "head-girth" // round the head above the ears, at its widest
	BustGirth   Measure = "bust-girth"
	UnderBust   Measure = "under-bust-girth"
	WaistGirth  Measure = "waist-girth"
	HipGirth    Measure = "hip-girth"
	NeckGirth   Measure = "neck-base-girth"
	BackLength  Measure = "back-waist-length" // nape to waist
	FrontLength Measure = "front-waist-length"
	BackWidth   Measure = "back-width" // across the back between the armscyes
	ShoulderLen Measure = "shoulder-length"
	UpperArm    Measure = "upper-arm-girth"
	ArmLength   Measure = "arm-length"   // shoulder point over the bent elbow to the wrist
	WaistHeight Measure = "waist-height" // floor to waist
	WristGirth  Measure = "wrist-girth"
)

// All returns every measure, in the order in which a tape goes over the body.
func All() []Measure {
	return []Measure{
		Height, HeadGirth, NeckGirth, ShoulderLen, BackWidth, BustGirth, UnderBust, WaistGirth, HipGirth,
		FrontLength, BackLength, WaistHeight, ArmLength, UpperArm, WristGirth,
	}
}

// Wearer is one body.
type Wearer struct {
	Name     string // an id, not a person's name
	Title    string
	Measures map[Measure]float64 // mm; what was not taken is absent
}

// Of returns a measure in mm; ok is false when it was not taken.
func (w Wearer) Of(m Measure) (mm float64, ok bool) {
	mm, ok = w.Measures[m]
	return mm, ok
}
