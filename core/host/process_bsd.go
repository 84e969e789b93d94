//go:build unix && !linux

package host

import (
	"os/exec"
	"syscall"
)

// ownGroup puts the process in a group of its own, so that Ctrl-C at the
// terminal reaches us alone and what it starts can be ended with it. A plugin
// outlives a host that is killed outright until it is next spoken to.
func ownGroup(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }
