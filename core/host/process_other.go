//go:build !linux

package host

// newForker returns a function that runs others: only Linux needs a thread for
// them.
func newForker() (fork func(func() error) error, stop func()) {
	return func(do func() error) error { return do() }, func() {}
}
