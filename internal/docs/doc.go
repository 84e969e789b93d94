// Package docs holds the tests of what contributors read: every command and
// every line of Go in DEVELOPERS.md, and the journey of a plugin from source to
// a chain.
package docs
