package house

import (
	"cmp"
	"slices"
	"testing"

	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

// TestContract holds every house plugin to what any plugin is held to.
func TestContract(t *testing.T) {
	for _, p := range Plugins {
		t.Run(p.Name, func(t *testing.T) { sdktest.Plugin(t, p) })
	}
}

func TestSorted(t *testing.T) {
	if !slices.IsSortedFunc(Plugins, func(a, b *sdk.Plugin) int { return cmp.Compare(a.Name, b.Name) }) {
		t.Error("the house plugins are not sorted by name")
	}
	if Plugin("waist") == nil || Plugin("no-such") != nil {
		t.Error("Plugin does not find by name")
	}
}
