// Package testdata holds the demo's own files inside the program, so that the
// demo runs from anywhere, and the bodies that tests draft for.
package testdata

import "embed"

// Demo holds patterns/, chains/ and wearers/ as they lie beside this file.
//
//go:embed patterns/*.yaml chains/*.yaml wearers/*.yaml
var Demo embed.FS

// Bodies holds bodies/women.csv and bodies/men.csv. The program does not refer
// to it, so the linker leaves it out.
//
//go:embed bodies/*.csv
var Bodies embed.FS
