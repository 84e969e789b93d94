// Package unit turns text with units into numbers and back: lengths to and
// from millimetres, angles to and from radians, bare ratios.
//
// Length, Angle and Ratio print for people. Float is the one way in which a
// number is written into a file, Round the value that survives being written.
package unit
