//go:build unix

package hostile

import (
	"os/exec"
	"syscall"
)

// runAway puts the process into a session of its own.
func runAway(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }
