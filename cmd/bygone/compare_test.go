package main

import "testing"

// A page calls two files by what tells them apart, and by no folders beyond.
func TestHeads(t *testing.T) {
	for _, c := range []struct{ first, second, a, b string }{
		{"/workroom/patterns/blouse.yaml", "mended/pattern.yaml", "blouse.yaml", "pattern.yaml"},
		{"/workroom/old/pattern.yaml", "/workroom/new/pattern.yaml", "old/pattern.yaml", "new/pattern.yaml"},
		{"pattern.yaml", "new/pattern.yaml", "pattern.yaml", "new/pattern.yaml"},
		{"p/a.yaml", "p/a.yaml", "p/a.yaml", "p/a.yaml"},
		{"standard input", "x/a.yaml", "standard input", "a.yaml"},
	} {
		if got := heads(c.first, c.second); got != [2]string{c.a, c.b} {
			t.Errorf("heads(%q, %q) = %q", c.first, c.second, got)
		}
	}
}
