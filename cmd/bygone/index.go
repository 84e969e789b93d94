package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"

	"bygone.example/core/shelf"
)

// staging is what a commit would hold where the disk holds something else: what
// was changed after it was staged, or is not staged at all.
func (r *repository) staging(ctx context.Context, into shelf.Texts) error {
	out, said, err := r.git(ctx, "diff", "--raw", "-z", "--no-abbrev", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "--ignore-submodules", "--")
	if err != nil {
		return untold("what is staged cannot be told", said, err)
	}
	// Each is ":MODE MODE OBJECT OBJECT STATUS", the first of each two being the
	// staged one's, and then the path.
	fields := bytes.Split(out, []byte{0})
	for i := 0; i+1 < len(fields); i += 2 {
		about := strings.Fields(string(fields[i]))
		if len(about) != 5 || about[4] == "U" { // of what is not merged there is no staged text
			continue
		}
		place := r.place(fields[i+1])
		if mode := strings.TrimPrefix(about[0], ":"); strings.HasPrefix(mode, "100") { // an ordinary file
			into[place] = r.text(ctx, about[2])
		} else {
			into[place] = nil
		}
	}
	out, said, err = r.git(ctx, "ls-files", "-z", "--others", "--exclude-standard", "--full-name", "--", ":/")
	if err != nil {
		return untold("what is staged cannot be told", said, err)
	}
	for name := range bytes.SplitSeq(out, []byte{0}) {
		if len(name) > 0 {
			into[r.place(name)] = nil
		}
	}
	return nil
}

// text reads an object of the repository.
func (r *repository) text(ctx context.Context, object string) shelf.Text {
	return func(most int64) ([]byte, error) {
		cmd := gitCommand(ctx, r.from, "cat-file", "blob", object)
		out, err := cmd.StdoutPipe()
		if err != nil {
			return nil, err
		}
		if err := cmd.Start(); err != nil {
			return nil, err
		}
		data, err := io.ReadAll(io.LimitReader(out, most))
		out.Close()
		if failed := cmd.Wait(); err == nil && int64(len(data)) < most {
			err = failed // of one that was not read to its end, git complains
		}
		return data, err
	}
}

// place is where a file is that git names.
func (r *repository) place(name []byte) string {
	return filepath.Join(r.root, filepath.FromSlash(string(name)))
}

// there reports whether a file is there for the check.
func there(texts shelf.Texts, path string) bool {
	if text, known := texts[shelf.Place(path)]; known {
		return text != nil
	}
	_, err := os.Lstat(path)
	return err == nil
}
