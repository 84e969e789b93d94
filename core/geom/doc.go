// Package geom holds the plane geometry that patterns are made of: points,
// rigid moves, lines and cubic Béziers, and paths of them, measured by true
// arc length.
//
// Lengths are millimetres, angles radians, y points up and positive angles
// turn counter-clockwise. Values are small and never changed in place: a
// method that alters something returns a new value. Nothing here knows what a
// pattern piece is, and nothing imports more than the standard library.
package geom
