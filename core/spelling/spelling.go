// Package spelling finds the word that was meant.
package spelling

import (
	"slices"
	"strings"
)

// maxWord bounds the cost of one comparison; no name of ours is longer.
const maxWord = 64

// Nearest returns the choice that word was most likely meant to be. ok is
// false when none is near: more than a third of its letters would have to
// change. Of equally near ones the first in alphabetical order is returned.
func Nearest(word string, choices []string) (choice string, ok bool) {
	if len(word) > maxWord || word == "" {
		return "", false
	}
	w := fold(word)
	best := -1
	for _, c := range slices.Sorted(slices.Values(choices)) {
		if len(c) > maxWord || c == "" {
			continue
		}
		d := distance(w, fold(c))
		if d <= max(len(w), len(c))/3 && (best < 0 || d < best) {
			best, choice = d, c
		}
	}
	return choice, best >= 0
}

// maxListed is how many choices a remedy lists before it leaves off.
const maxListed = 16

// Remedy says which word was meant or, when none is near, which there are:
// did you mean "hem"? or: one of "fold", "hem". Of no choices, it is empty.
func Remedy(word string, choices []string) string {
	if c, ok := Nearest(word, choices); ok {
		return `did you mean "` + c + `"?`
	}
	return List(choices)
}

// List names the choices in the order given; of none, it is empty.
func List(choices []string) string {
	if len(choices) == 0 {
		return ""
	}
	shown, rest := choices, ""
	if len(shown) > maxListed {
		shown, rest = shown[:maxListed], " …"
	}
	if len(choices) == 1 {
		return `there is only "` + choices[0] + `"`
	}
	return `choose from "` + strings.Join(shown, `", "`) + `"` + rest
}

// fold takes away what does not make another word.
func fold(s string) []rune {
	return []rune(strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(s)))
}

// distance counts the letters to insert, drop, change or swap with their
// neighbour to make a into b.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
