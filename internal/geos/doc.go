// Package geos holds tests alone: they compare what our geometry makes of
// curved outlines with what GEOS makes of them, and for mitred offsets with
// Clipper, since GEOS simplifies its input before it offsets. Both are driven
// by one Python program, testdata/outlines.py.
package geos
