// Package host finds plugins, starts them, speaks to them and ends them. It is
// the only package of the library that runs other programs.
//
// Nothing a plugin does is trusted. Each call has a deadline, each message a
// limit, and what an answer holds is bounded by package wire; that the pattern
// in it is sound, and its lineage adds up, is for the caller to check. A plugin
// gets a process group, an environment, a working folder and a socket folder
// (mode 0700) of its own, and no standard input. All of its processes are ended
// when the session is closed, when the context of Start is cancelled, and, on
// Linux, when this process is killed.
//
// The line is not encrypted: the socket lies in a folder that only this user
// can enter, and who can read that can read this process as well.
package host

import (
	"time"

	"bygone.example/core/wire"
)

// What plugins may take of time where Options say nothing.
const (
	// DefaultCallTimeout is for one call. A step on a large pattern takes
	// milliseconds.
	DefaultCallTimeout = 10 * time.Second
	// DefaultStartTimeout is from starting a process to its description. A slow
	// interpreter takes half a second.
	DefaultStartTimeout = 5 * time.Second
)

// Options bound what plugins may take. The zero value has the defaults.
type Options struct {
	// CallTimeout is for one call; DefaultCallTimeout by default.
	CallTimeout time.Duration
	// StartTimeout is from starting a process to its description;
	// DefaultStartTimeout by default.
	StartTimeout time.Duration
	// TempDir is where the folder for sockets is made; the system's by default.
	// Where that makes a path too long for a socket, /tmp is used.
	TempDir string
}

func (o Options) withDefaults() Options {
	if o.CallTimeout <= 0 {
		o.CallTimeout = DefaultCallTimeout
	}
	if o.StartTimeout <= 0 {
		o.StartTimeout = DefaultStartTimeout
	}
	return o
}

// Described is one plugin of a session: where it was found and what it offers.
type Described struct {
	Found Found
	wire.Description
}
