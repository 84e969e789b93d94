// Package pattern says what a sewing pattern is: pieces bounded by named
// edges, the darts, pleats, gathers and notches on those edges, and the seams
// that join them.
//
// Lengths are millimetres, y points up, and a piece's edges run
// counter-clockwise around it, each starting where the one before it ends.
// The boundary is the seam line; allowance is a property of an edge and only
// becomes a cut line when drawn. A half piece cut on the fold has one straight
// edge finished as a fold, and every length on it is the half garment's.
//
// Types are plain data. Validate lists what is wrong with them; Clone gives a
// copy that shares nothing.
package pattern

import (
	"math"
	"strings"

	"bygone.example/core/geom"
)

// Pattern is the pieces of one garment and the seams that join them.
type Pattern struct {
	Name   string // a name in the sense of ValidName
	Title  string // what a person calls it
	Notes  string // anything worth telling, free text
	Pieces []Piece
	Seams  []Seam
}

// Piece is one flat shape to cut.
type Piece struct {
	Name  string // unique in the pattern
	Title string // printed on the paper
	Role  Role   // which part of the garment it is; empty when none of ours
	Cut   Cut

	Edges     []Edge // counter-clockwise, closed
	Grain     Grain
	Landmarks []Landmark
	Darts     []Dart
	Pleats    []Pleat
	Gathers   []Gather
	Notches   []Notch
}

// Role is the part of the garment a piece is, so that a step finds it whatever
// the pattern calls it.
type Role string

// The roles that steps look for. A pattern may use others; no step will.
const (
	BodiceFront     Role = "bodice-front"
	BodiceBack      Role = "bodice-back"
	BodiceSideBack  Role = "bodice-side-back"
	BodiceSideFront Role = "bodice-side-front"
	SkirtFront      Role = "skirt-front"
	SkirtBack       Role = "skirt-back"
	Sleeve          Role = "sleeve"
	SleeveBand      Role = "sleeve-band"
	SleeveCuff      Role = "sleeve-cuff"
	SleeveTop       Role = "sleeve-top"   // of a sleeve in two pieces, the upper one
	SleeveUnder     Role = "sleeve-under" // and the lower one
	Undersleeve     Role = "undersleeve"  // a sleeve of its own, worn under another
	Flounce         Role = "flounce"
	Tier            Role = "tier"
	Collar          Role = "collar"
	FacingFront     Role = "facing-front"
	FacingBack      Role = "facing-back"
)

// Cut says how many of a piece to cut.
type Cut struct {
	Count    int  // how many in all, at least 1; a piece on the fold counts once
	Mirrored bool // half of them turned over, as for left and right
}

// Edge is a named stretch of a piece's boundary between two corners.
type Edge struct {
	Name   string // unique in the piece; parts of a divided edge are side.upper, side.lower
	Role   string // what the edge is; empty means the name up to its first dot
	Path   geom.Path
	Finish Finish // how it ends up; Sewn when a seam takes it

	// Allowance is what is cut beyond the seam line, in mm; 0 is none. Corner
	// is how the cut line turns at the end of this edge; empty means Meet.
	Allowance float64
	Corner    Corner
}

// Is returns the edge's role: Role, or the name up to its first dot.
func (e Edge) Is() string {
	if e.Role != "" {
		return e.Role
	}
	base, _, _ := strings.Cut(e.Name, ".")
	return base
}

// Edge roles that steps look for.
const (
	Shoulder    = "shoulder"
	Neckline    = "neckline"
	Armscye     = "armscye"
	Side        = "side"
	SideBack    = "side-back" // the seam between centre back and side back
	Waist       = "waist"
	Hem         = "hem"
	CentreFront = "centre-front"
	CentreBack  = "centre-back"
	Cap         = "cap" // the sleeve's head
	Underarm    = "underarm"
)

// Finish is what becomes of an edge that no seam takes up.
type Finish string

// Every edge is Sewn (and then in a seam) or one of the others.
const (
	Sewn   Finish = ""
	Fold   Finish = "fold"
	Hemmed Finish = "hem"
	Faced  Finish = "faced"
	Bound  Finish = "bound"
	Open   Finish = "open" // left open on purpose: a placket, the edge of a facing
)

// Corner is how the cut line turns from one edge to the next.
type Corner string

// Meet runs both cut lines on until they meet; Bevel cuts the corner off
// square to its bisector; Square ends both at right angles to the seam line.
//
// Turned folds the allowance that is turned up back along its seam line: it
// mirrors the cut line of its neighbour, so that it lies flat on the piece. The
// allowance is the hemmed edge's of the two; where both or neither are hemmed,
// the wider one's. Two hems of one width are mitred.
//
// Matched ends the allowance of the seam that is closed first square to it,
// where the other cut line reaches that seam's line: both sides of the seam get
// the same end, and their raw edges lie level when sewn.
const (
	Meet    Corner = ""
	Bevel   Corner = "bevel"
	Square  Corner = "square"
	Turned  Corner = "turned"
	Matched Corner = "matched"
)

// Grain is the grainline, drawn from one point to another along the warp. The
// zero value is a piece without one.
type Grain struct{ From, To geom.Point }

// Given reports whether the piece has a grainline.
func (g Grain) Given() bool { return g.From != g.To }

// Landmark is a named point: bust-point, shoulder-point, underarm.
type Landmark struct {
	Name string
	At   geom.Point
}

// Landmark names that steps look for.
const (
	BustPoint = "bust-point"
)

// Dart takes up the stretch of its edge between From and To (mm along the
// edge, From < To) and runs to nothing at Point. The edge's path follows the
// mouth, so that the piece's boundary is closed; the sewn length leaves it out.
type Dart struct {
	Name     string
	Edge     string
	From, To float64
	Point    geom.Point
	Pressed  Pressed
}

// Pressed is the way a dart or pleat is folded: towards the start of its edge
// or towards its end. Empty leaves it to the maker.
type Pressed string

// The two ways a fold can lie.
const (
	PressedToStart Pressed = "start"
	PressedToEnd   Pressed = "end"
)

// Pleat takes up the stretch of its edge between From and To whole, without
// running to a point.
type Pleat struct {
	Name     string
	Edge     string
	From, To float64
	Kind     PleatKind
	Pressed  Pressed
}

// PleatKind is how a pleat or tuck is laid.
type PleatKind string

// The kinds of pleat. A tuck is stitched along its fold.
const (
	Knife    PleatKind = "knife"
	Box      PleatKind = "box"
	Inverted PleatKind = "inverted"
	Tuck     PleatKind = "tuck"
)

// Gather draws the stretch of its edge between From and To up to Length.
// Darts and pleats must lie wholly outside or wholly inside the stretch; those
// inside are folded first.
type Gather struct {
	Name     string
	Edge     string
	From, To float64
	Length   float64 // what the stretch measures once drawn up, mm
	Kind     GatherKind
	// Stitch and Rows are of cartridge pleats, 0 of any others: how long a stitch
	// is in mm, and how many rows of them are sewn one below the other. Two
	// stitches make a tube.
	Stitch float64
	Rows   int
}

// Tubes returns how many tubes cartridge pleats stand in, net being what the
// stretch measures with what is folded inside it laid; 0 of any other gathers.
func (g Gather) Tubes(net float64) int {
	if g.Kind != Cartridge || !(g.Stitch > 0) {
		return 0
	}
	return int(math.Round(net / (2 * g.Stitch)))
}

// MaxRows is the most rows of stitches that cartridge pleats are drawn up by.
const MaxRows = 20

// GatherKind tells visible fullness from what is shrunk or worked in.
type GatherKind string

// Gathers show; ease does not. Cartridge pleats are gathers in even stitches, row
// below row, that stand out from the seam as tubes.
const (
	Gathers   GatherKind = "gathers"
	Ease      GatherKind = "ease"
	Cartridge GatherKind = "cartridge"
)

// Shows reports whether the fullness is there to be seen, as gathers and cartridge
// pleats are.
func (k GatherKind) Shows() bool { return k == Gathers || k == Cartridge }

// Notch is a mark on an edge at At mm along it. Notches of one name on the two
// sides of a seam belong together.
type Notch struct {
	Name  string
	Edge  string
	At    float64
	Count int // single, double, triple: 1 to 3
}

// Seam joins a run of edges to another run. A seam whose B is empty joins A to
// its own mirror image, as at centre back.
type Seam struct {
	Name    string
	A, B    Run
	Meeting Meeting
	Kind    SeamKind
}

// SeamKind is what is done to the two sides of a seam.
//
// A seam pairs two sides, and an edge is joined once. A garment of layers has
// places where three edges or more are sewn as one: gauze over satin, both into
// the waist. Were such an edge allowed in two ordinary seams, nothing would say
// which of them holds it, and a slip of the pen that names an edge twice would
// pass for a layer. So one of the layers speaks for all: the under one is
// joined, or finished, as if it were alone, and every layer over it is basted to
// it, edge to edge, beforehand. Each of those pairs is walked like any seam.
type SeamKind string

// A Joined seam sews the sides to each other. A Basted one lays side A, of an
// outer layer, onto side B, of the layer under it, and from then on both are
// one edge: what becomes of B is what becomes of both. An edge of A is in no
// other seam; one of B may have any number of layers basted onto it, and is in a
// joined seam or finished besides.
const (
	Joined SeamKind = ""
	Basted SeamKind = "basted"
)

// Run is edges one after another in the order they are sewn.
type Run []EdgeRef

// EdgeRef names an edge, and whether it is walked against its own direction.
type EdgeRef struct {
	Piece, Edge string
	Backwards   bool
}

// String returns the reference as files write it: piece/edge, with a leading
// minus when walked backwards.
func (r EdgeRef) String() string {
	if r.Backwards {
		return "-" + r.Piece + "/" + r.Edge
	}
	return r.Piece + "/" + r.Edge
}

// Meeting is how the two sides of a seam come to one length.
type Meeting struct {
	Kind MeetingKind
	// Ease, on an Eased seam, bounds by how many mm the sewn length of side B
	// exceeds that of side A.
	Ease Range
	// Ratio, on a Gathered or Pleated seam, bounds cut length over drawn-up
	// length of the fuller side's gathered stretch. The zero Range asks nothing.
	Ratio Range
}

// MeetingKind is plain, eased, gathered or pleated.
type MeetingKind string

// How the sides of a seam meet.
const (
	Plain    MeetingKind = "plain"
	Eased    MeetingKind = "eased"
	Gathered MeetingKind = "gathered"
	Pleated  MeetingKind = "pleated"
)

// Range is a closed interval; the zero value stands for none given.
type Range struct{ Min, Max float64 }

// Given reports whether the range was set.
func (r Range) Given() bool { return r != Range{} }

// Holds reports whether v lies in the range, ends included, within tol.
func (r Range) Holds(v, tol float64) bool { return v >= r.Min-tol && v <= r.Max+tol }
