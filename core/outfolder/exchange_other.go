//go:build !linux && !darwin

package outfolder

import "errors"

// exchange needs a system that has it.
func exchange(string, string) error { return errors.ErrUnsupported }
