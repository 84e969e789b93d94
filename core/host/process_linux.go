package host

import (
	"os/exec"
	"runtime"
	"syscall"
)

// ownGroup puts the process in a group of its own, so that Ctrl-C at the
// terminal reaches us alone and what it starts can be ended with it; and has
// the kernel kill it when we are killed and cannot.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
}

// newForker returns a function that runs others, one after another, on a thread
// that lives until stop is called. The kernel takes the death of the thread
// that started a process for the death of its parent (prctl(2),
// PR_SET_PDEATHSIG), and Go ends threads as it pleases.
func newForker() (fork func(func() error) error, stop func()) {
	type job struct {
		do   func() error
		done chan error
	}
	jobs, quit := make(chan job), make(chan struct{})
	go func() {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		for {
			select {
			case j := <-jobs:
				j.done <- j.do()
			case <-quit:
				return
			}
		}
	}()
	fork = func(do func() error) error {
		j := job{do, make(chan error, 1)}
		jobs <- j
		return <-j.done
	}
	return fork, func() { close(quit) }
}
