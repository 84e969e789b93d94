package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bygone.example/core/operation"
)

// replaceFlag is the user's word that a file of theirs may be written over.
type replaceFlag struct {
	Replace bool `help:"Write over a file that is there already, whoever wrote it."`
}

// writeFile writes a picture or page with our sign in it. A file that is there
// is written over only if it carries that sign and is as we wrote it, or if the
// user says so.
func (r replaceFlag) writeFile(path string, data []byte) error {
	if err := r.mayWrite(path); err != nil {
		return err
	}
	return replaceFile(path, sign(path, data))
}

// mayWrite refuses a file that is somebody else's.
func (r replaceFlag) mayWrite(path string) error {
	if r.Replace {
		return nil
	}
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() {
		return nil // not there, or replaceFile says what it is
	}
	old, err := os.ReadFile(path)
	if err == nil && signed(path, old) {
		return nil
	}
	return &operation.Refusal{
		Why:     fmt.Sprintf("%q is there already, and bygone did not write it or it was changed since", path),
		Instead: "choose another name with -o, or add --replace to write over it",
	}
}

// signWords stand before the checksum of all the rest of a file.
const signWords = "bygone wrote this file and may replace it: SHA-256 "

// wrap returns what stands around our sign in a file of this name, where it is
// no part of what is shown, and the place in data where it belongs.
func wrap(path string, data []byte) (before, after string, at int) {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".pdf": // a comment ahead of the pointer to the table of contents, which moves nothing that is pointed to
		return "% ", "\n", max(0, bytes.LastIndex(data, []byte("startxref")))
	case ".png": // a chunk of text ahead of the last chunk, IEND, whose length never differs
		const end = 12
		return "\x00\x00\x00\x00tEXtComment\x00", "\x00\x00\x00\x00", max(0, len(data)-end)
	}
	return "<!-- ", " -->\n", len(data)
}

// sign returns data with a checksum of it where it shows nowhere.
func sign(path string, data []byte) []byte {
	before, after, at := wrap(path, data)
	mark := []byte(before + signWords + fmt.Sprintf("%x", sha256.Sum256(data)) + after)
	if strings.ToLower(filepath.Ext(path)) == ".png" {
		const head, sum = 8, 4 // length and kind; checksum
		binary.BigEndian.PutUint32(mark, uint32(len(mark)-head-sum))
		binary.BigEndian.PutUint32(mark[len(mark)-sum:], crc32.ChecksumIEEE(mark[4:len(mark)-sum]))
	}
	return slices.Concat(data[:at], mark, data[at:])
}

// signed reports whether sign made these bytes, and nobody changed them.
func signed(path string, data []byte) bool {
	before, after, _ := wrap(path, nil)
	start := bytes.LastIndex(data, []byte(signWords)) - len(before)
	end := start + len(before) + len(signWords) + 2*sha256.Size + len(after)
	if start < 0 || end > len(data) {
		return false
	}
	return bytes.Equal(sign(path, slices.Concat(data[:start], data[end:])), data)
}

// same reports whether two paths lead to one file that is there.
func same(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}

// replaceFile writes a file beside its place and moves it there.
func replaceFile(path string, data []byte) error {
	refuse := func(err error) error {
		if inner, ok := errors.AsType[*fs.PathError](err); ok {
			err = inner.Err
		}
		return &operation.Refusal{Why: fmt.Sprintf("%q cannot be written: %v", path, err), Instead: "choose another place with -o"}
	}
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return refuse(errors.New("it is there and not an ordinary file"))
	}
	f, err := createBeside(path)
	if err != nil {
		return refuse(err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return refuse(err)
	}
	return nil
}

// createBeside makes a hidden file beside path, as open to others as the user
// wants new files to be.
func createBeside(path string) (*os.File, error) {
	for n := 1; ; n++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.new-%d", filepath.Base(path), n))
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if err == nil || !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}
