//go:build unix

package host

import (
	"errors"
	"os/exec"
	"syscall"
)

// killGroup kills the process and all in its group; it is no error that there
// are none.
func killGroup(cmd *exec.Cmd) error {
	err := syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
	if errors.Is(err, syscall.ESRCH) {
		return nil
	}
	return err
}
