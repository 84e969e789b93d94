// Package house lists the plugins that are inside the executable.
package house

import (
	"bygone.example/plugins/allowance"
	"bygone.example/plugins/back"
	"bygone.example/plugins/borrow"
	"bygone.example/plugins/collar"
	"bygone.example/plugins/darts"
	"bygone.example/plugins/finish"
	"bygone.example/plugins/fullness"
	"bygone.example/plugins/layer"
	"bygone.example/plugins/length"
	"bygone.example/plugins/notch"
	"bygone.example/plugins/piece"
	"bygone.example/plugins/seam"
	"bygone.example/plugins/shoulder"
	"bygone.example/plugins/skirt"
	"bygone.example/plugins/slash"
	"bygone.example/plugins/sleeve"
	"bygone.example/plugins/truing"
	"bygone.example/plugins/waist"
	"bygone.example/sdk"
)

// Plugins are the house plugins, sorted by name.
var Plugins = []*sdk.Plugin{
	allowance.Plugin,
	back.Plugin,
	borrow.Plugin,
	collar.Plugin,
	darts.Plugin,
	finish.Plugin,
	fullness.Plugin,
	layer.Plugin,
	length.Plugin,
	notch.Plugin,
	piece.Plugin,
	seam.Plugin,
	shoulder.Plugin,
	skirt.Plugin,
	slash.Plugin,
	sleeve.Plugin,
	truing.Plugin,
	waist.Plugin,
}

// Plugin returns the house plugin of that name, or nil.
func Plugin(name string) *sdk.Plugin {
	for _, p := range Plugins {
		if p.Name == name {
			return p
		}
	}
	return nil
}
