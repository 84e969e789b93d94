package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"

	"bygone.example/core/host"
	"bygone.example/core/shelf"
)

// openCache is the cache in a folder; without one named, in the place where the
// system keeps such things for the user. It is nil where there is no such place
// or we cannot tell which program we are: results of another must not be taken
// for ours.
func openCache(folder string) *shelf.Cache {
	if folder == "" {
		users, err := os.UserCacheDir()
		if err != nil {
			return nil
		}
		folder = filepath.Join(users, "bygone", "check")
	}
	path, err := os.Executable()
	if err != nil {
		return nil
	}
	sum := sha256.New()
	if addFile(sum, path) != nil {
		return nil
	}
	return shelf.NewCache(folder, sum.Sum(nil))
}

// program is a sum over this program and the plugins outside it that it would
// take, for shards: what two programs found is not joined.
func (f pluginFlags) program() (string, error) {
	self, err := os.Executable()
	if err != nil {
		return "", err
	}
	found, err := f.discover()
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	if err := addFile(sum, self); err != nil {
		return "", err
	}
	for _, p := range found {
		if !p.Taken || p.Origin == host.House {
			continue
		}
		fmt.Fprintf(sum, "\n%s\n", p.Name)
		if err := addFile(sum, p.Path); err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil)[:16]), nil
}

// addFile adds what is in a file to a sum.
func addFile(sum hash.Hash, path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(sum, f)
	return err
}
