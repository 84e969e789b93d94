// Package alter holds the cutter's operations: what is done to flat pieces to
// turn one cut into another. Each is a function from a pattern and a few
// numbers to an operation.Answer, and leaves its input untouched.
//
// Every operation works on an edit: a copy of the pattern in which each
// stretch of line remembers which stretch of the input it came from. When the
// edit is finished that memory becomes the answer's lineage, and seams, darts,
// pleats, gathers and notches are carried over by it, here and nowhere else.
//
// What cannot be done is refused with an *operation.Refusal that says why and
// what would be possible; an operation never returns a piece whose boundary
// crosses itself. Lengths are mm, angles radians.
package alter
