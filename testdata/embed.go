// Package testdata holds the demo's own files inside the program, so that the
// demo runs from anywhere.
package testdata

import "embed"

// Demo holds patterns/, chains/ and wearers/ as they lie beside this file.
//
//go:embed patterns/*.yaml chains/*.yaml wearers/*.yaml
var Demo embed.FS
