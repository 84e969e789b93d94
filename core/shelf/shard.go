package shelf

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// MaxShards is how many parts a shelf may be divided into: more than machines
// that anybody would start for it.
const MaxShards = 10_000

// Shard is one of several equal parts of a shelf, of about the same number of
// files each. Which part a file is in depends on its path alone: a file that
// comes or goes moves no other.
type Shard struct {
	K int `json:"k"` // from 1
	N int `json:"n"`
}

// ParseShard reads K/N.
func ParseShard(s string) (Shard, error) {
	k, n, ok := strings.Cut(s, "/")
	one, errK := strconv.Atoi(k)
	all, errN := strconv.Atoi(n)
	if !ok || errK != nil || errN != nil || one < 1 || all < one || all > MaxShards {
		return Shard{}, fmt.Errorf("%q is not a shard: write K/N with K from 1 to N and N no more than %d", s, MaxShards)
	}
	return Shard{one, all}, nil
}

// String is K/N.
func (s Shard) String() string { return fmt.Sprintf("%d/%d", s.K, s.N) }

// Has reports whether a path, with forward slashes, is in this shard. Every
// path is in one of the N.
func (s Shard) Has(path string) bool {
	sum := sha256.Sum256([]byte(path))
	return binary.BigEndian.Uint64(sum[:])%uint64(s.N) == uint64(s.K-1)
}

// Of leaves of what was found what is in this shard. What the walk passed over
// is counted by the first shard.
func (s Shard) Of(found Found) Found {
	found.Files = slices.DeleteFunc(slices.Clone(found.Files), func(f File) bool { return !s.Has(f.slash()) })
	if s.K != 1 {
		found.Passed = Passed{}
	}
	return found
}

// Without returns what was found but for one file, as when the rules are told
// of by themselves.
func (f Found) Without(path string) Found {
	abs, err := filepath.Abs(path)
	if err != nil {
		return f
	}
	f.Files = slices.DeleteFunc(slices.Clone(f.Files), func(file File) bool {
		other, err := filepath.Abs(file.Path)
		return err == nil && other == abs && file.Data == nil
	})
	return f
}
