package main

import (
	"regexp"
	"strings"
	"testing"
)

// Pictures of different chains have different names, and no name leads out of
// the folder, whatever a chain's file is called.
func TestPictureName(t *testing.T) {
	if got := pictureName("chains/high-waist.yaml"); got != "chains--high-waist" {
		t.Errorf("pictureName = %q", got)
	}
	plain, seen := regexp.MustCompile(`^[a-z0-9-]+$`), map[string]string{}
	for _, path := range []string{
		"a/b.yaml", "a--b.yaml", "a-b.yaml", "a b.yaml", "A-b.yaml", "a_b.yaml", "../../etc/x.yaml", "..", "/", "", "\x1b[2J.yaml", "é.yaml", "ê.yaml",
		strings.Repeat("x", 300) + "1.yaml", strings.Repeat("x", 300) + "2.yaml",
	} {
		name := pictureName(path)
		if path != "" && !plain.MatchString(name) || len(name) > 120 {
			t.Errorf("pictureName(%q) = %q", path, name)
		}
		if other, taken := seen[name]; taken {
			t.Errorf("%q and %q are both %q", path, other, name)
		}
		seen[name] = path
	}
}
