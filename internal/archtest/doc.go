// Package archtest holds the tests that keep the project's shape: which
// package may import which, what the library may not do, and what no file may
// contain. Each rule prints its reason when it is broken.
package archtest
