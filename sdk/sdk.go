// Package sdk is what the author of a plugin imports. A plugin is a value of
// type Plugin that lists operations, and a main that hands it to Main:
//
//	func main() { sdk.Main(plugin) }
//
// built as an executable called bygone-plugin-NAME. Operations work with the
// types of core/pattern and core/geom; most of those are here under the same
// names. Package sdktest tests a plugin against the contract.
//
// An operation must not change the pattern it is given: alter a Clone of it.
// What the maker can act on is returned as Refuse; any other error, and a
// panic, is a fault of the plugin and ends the run.
package sdk

import (
	"fmt"
	"io"
	"os"

	"bygone.example/core/operation"
	"bygone.example/core/wire"
	"bygone.example/sdk/internal/serve"
)

// Main serves the plugin to the program that has started it, and does not
// return: it ends the process when the program is done, or at once if the
// plugin does not Validate or was started by hand.
func Main(p *Plugin) { os.Exit(Serve(p, os.Stderr)) }

// Serve is Main for a program that is more than one plugin: it returns the exit
// code. Trouble is told on stderr.
func Serve(p *Plugin, stderr io.Writer) int {
	if err := Validate(p); err != nil {
		fmt.Fprintf(stderr, "this plugin cannot be served:\n%v\n", err)
		return 1
	}
	if os.Getenv(wire.CookieKey) != wire.CookieValue {
		fmt.Fprintf(stderr, "This is the plugin %s of bygone, and does nothing by itself.\n"+
			"bygone starts it: show it the file, called bygone-plugin-%s, with --plugin FILE.\n", p.Name, p.Name)
		return 1
	}
	serve.Plugin(p, stderr)
	return 0
}

// Refuse returns the error that tells the maker why an operation cannot be done
// with this pattern, and what would be possible instead, which may be empty.
// Both begin in lower case and have no full stop.
func Refuse(why, instead string) error { return &operation.Refusal{Why: why, Instead: instead} }
