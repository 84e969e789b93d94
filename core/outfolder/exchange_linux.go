package outfolder

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchange puts two folders in each other's place in one step (renameat2(2)).
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.EINVAL) { // an old kernel, or a disk of another kind
		return errors.ErrUnsupported
	}
	return err
}
