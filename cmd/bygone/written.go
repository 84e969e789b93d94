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
	"bygone.example/core/report/listing"
)

// replaceFlag is the user's word that a file of theirs may be written over.
type replaceFlag struct {
	Replace bool `help:"Write over a file that is there already, whoever wrote it."`
}

// writeFile writes a file with our sign in it. One that is there is written over
// only if it carries that sign and is as we wrote it, or if the user says so.
// The flag is the one that named the file.
func (r replaceFlag) writeFile(flag, path string, form form, data []byte) error {
	if err := r.mayWrite(flag, path); err != nil {
		return err
	}
	return replaceFile(flag, path, sign(form, data))
}

// mayWrite refuses a file that is somebody else's.
func (r replaceFlag) mayWrite(flag, path string) error {
	if r.Replace {
		return nil
	}
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() {
		return nil // not there, or replaceFile says what it is
	}
	old, err := os.ReadFile(path)
	if err == nil && signed(old) {
		return nil
	}
	return &operation.Refusal{
		Why:     fmt.Sprintf("%q is there already, and bygone did not write it or it was changed since", path),
		Instead: fmt.Sprintf("choose another name with %s, or add --replace to write over it", flag),
	}
}

// form is what a file is written in: by it a sign stands where it is no part of
// what is shown or said.
type form int

const (
	markupForm form = iota // SVG, HTML and XML
	pdfForm
	pngForm
	jsonForm
	sarifForm
	textForm
	forms // how many there are
)

// formOf is the form of a picture or page of that name.
func formOf(path string) form {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".pdf":
		return pdfForm
	case ".png":
		return pngForm
	}
	return markupForm
}

// signWords stand before the checksum of all the rest of a file.
const signWords = "bygone wrote this file and may replace it: SHA-256 "

// wrap returns what stands around our sign, and the place in data where it
// belongs.
func (f form) wrap(data []byte) (before, after string, at int) {
	switch f {
	case pdfForm: // a comment ahead of the pointer to the table of contents, which moves nothing that is pointed to
		return "% ", "\n", max(0, bytes.LastIndex(data, []byte("startxref")))
	case pngForm: // a chunk of text ahead of the last chunk, IEND, whose length never differs
		const end = 12
		return "\x00\x00\x00\x00tEXtComment\x00", "\x00\x00\x00\x00", max(0, len(data)-end)
	case jsonForm: // the last key
		return ",\n \"" + listing.Written + "\": \"", "\"", max(0, bytes.LastIndex(data, []byte("\n}")))
	case sarifForm: // the last key, in the bag that the standard has for what it does not know (3.8, 3.13)
		return ",\n \"properties\": {\"" + listing.Written + "\": \"", "\"}", max(0, bytes.LastIndex(data, []byte("\n}")))
	case textForm:
		return "(", ")\n", len(data)
	}
	return "<!-- ", " -->\n", len(data)
}

// sign returns data with a checksum of it where it shows nowhere.
func sign(f form, data []byte) []byte {
	before, after, at := f.wrap(data)
	mark := []byte(before + signWords + fmt.Sprintf("%x", sha256.Sum256(data)) + after)
	if f == pngForm {
		const head, sum = 8, 4 // length and kind; checksum
		binary.BigEndian.PutUint32(mark, uint32(len(mark)-head-sum))
		binary.BigEndian.PutUint32(mark[len(mark)-sum:], crc32.ChecksumIEEE(mark[4:len(mark)-sum]))
	}
	return slices.Concat(data[:at], mark, data[at:])
}

// signed reports whether sign made these bytes, in any form, and nobody changed
// them.
func signed(data []byte) bool {
	words := bytes.LastIndex(data, []byte(signWords))
	if words < 0 {
		return false
	}
	for f := range forms {
		before, after, _ := f.wrap(nil)
		start, end := words-len(before), words+len(signWords)+2*sha256.Size+len(after)
		if start >= 0 && end <= len(data) && bytes.Equal(sign(f, slices.Concat(data[:start], data[end:])), data) {
			return true
		}
	}
	return false
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

// replaceFile writes a file beside its place and moves it there. The flag is the
// one that named it.
func replaceFile(flag, path string, data []byte) error {
	refuse := func(err error) error {
		if inner, ok := errors.AsType[*fs.PathError](err); ok {
			err = inner.Err
		}
		return &operation.Refusal{Why: fmt.Sprintf("%q cannot be written: %v", path, err), Instead: "choose another place with " + flag}
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
