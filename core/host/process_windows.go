package host

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// ownGroup keeps Ctrl-C from reaching the process.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{CreationFlags: syscall.CREATE_NEW_PROCESS_GROUP}
}

// killGroup kills the process; what it has started is not ended here.
func killGroup(cmd *exec.Cmd) error {
	if err := cmd.Process.Kill(); !errors.Is(err, os.ErrProcessDone) {
		return err
	}
	return nil
}
