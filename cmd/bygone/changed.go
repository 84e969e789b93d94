package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/rules"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// changes are the files of the repositories at the paths checked that differ from
// a revision.
type changes struct {
	repositories []*repository
	texts        shelf.Texts // of what is staged, where the disk holds something else
}

// repository is one of git's, and what has changed in it.
type repository struct {
	from  string // the folder in it that git is run in
	root  string // links resolved
	paths map[string]bool
}

// changedSince asks git what has changed since the work left a revision: since
// the last commit that is also the revision's, so that what others have done
// there meanwhile does not count. Files that are not committed yet, or that git
// does not know yet, have changed too; so have those that are gone.
func changedSince(ctx context.Context, rev string, paths []string) (*changes, error) {
	c, err := repositories(ctx, "--changed-since", paths)
	if err != nil {
		return nil, err
	}
	for _, r := range c.repositories {
		commit, said, err := r.git(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", rev+"^{commit}")
		if err != nil {
			return nil, untold(fmt.Sprintf("there is no revision %s", source.Quote(rev)), said, err)
		}
		from := strings.TrimSpace(string(commit))
		// Without a common commit, as in a shallow clone, the revision itself has to
		// do: then too much is checked, and not too little.
		if base, _, err := r.git(ctx, "merge-base", from, "HEAD"); err == nil {
			from = strings.TrimSpace(string(base))
		}
		if err := r.add(ctx, "diff", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "--ignore-submodules", from, "--"); err != nil {
			return nil, err
		}
		if err := r.add(ctx, "ls-files", "-z", "--others", "--exclude-standard", "--full-name", "--", ":/"); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// staged asks git what the next commit would change, and what it would hold.
func staged(ctx context.Context, paths []string) (*changes, error) {
	c, err := repositories(ctx, "--staged", paths)
	if err != nil {
		return nil, err
	}
	c.texts = shelf.Texts{}
	for _, r := range c.repositories {
		if err := r.add(ctx, "diff", "--cached", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "--ignore-submodules", "--"); err != nil {
			return nil, err
		}
		if err := r.staging(ctx, c.texts); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// repositories are those that the paths are in, with nothing changed yet. Some of
// the paths may be in none.
func repositories(ctx context.Context, flag string, paths []string) (*changes, error) {
	c := &changes{}
	seen := map[string]bool{}
	var first error
	for _, folder := range foldersOf(paths) {
		if seen[folder] {
			continue
		}
		seen[folder] = true
		r := &repository{from: folder, paths: map[string]bool{}}
		top, said, err := r.git(ctx, "rev-parse", "--show-toplevel")
		switch {
		case errors.Is(err, exec.ErrNotFound):
			return nil, &operation.Refusal{Why: flag + " needs git, which is not on PATH", Instead: "install git, or check without " + flag}
		case ctx.Err() != nil:
			return nil, err
		case err != nil:
			first = cmp.Or(first, untold("what has changed cannot be told", said, err))
			continue
		}
		if r.root, err = filepath.EvalSymlinks(strings.TrimSuffix(string(top), "\n")); err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(c.repositories, func(other *repository) bool { return other.root == r.root }) {
			c.repositories = append(c.repositories, r)
		}
	}
	if len(c.repositories) == 0 {
		return nil, first
	}
	return c, nil
}

// foldersOf are the folders to ask git in about the paths. Where git has told us
// already which repository it is about, as it tells its hooks, it is asked here.
func foldersOf(paths []string) (list []string) {
	if os.Getenv("GIT_DIR") != "" || os.Getenv("GIT_INDEX_FILE") != "" {
		return []string{"."}
	}
	for _, path := range paths {
		if path == "-" {
			path = "."
		}
		for path != filepath.Dir(path) {
			if info, err := os.Stat(path); err == nil && info.IsDir() {
				break
			}
			path = filepath.Dir(path) // of a file, or of what is gone
		}
		list = append(list, path)
	}
	return list
}

// untold is why git cannot tell what has changed.
func untold(why, said string, err error) error {
	if errors.Is(err, context.Canceled) {
		return err
	}
	if line, _, _ := strings.Cut(strings.TrimSpace(said), "\n"); line != "" {
		why += ": " + source.Harmless(strings.TrimPrefix(line, "fatal: "), 200)
	}
	return &operation.Refusal{Why: why, Instead: "be in a git repository, and give --changed-since a branch, a tag or a commit of it, for instance main or HEAD~1"}
}

// add adds the paths that a command of git lists, each ended by a zero byte.
func (r *repository) add(ctx context.Context, args ...string) error {
	out, said, err := r.git(ctx, args...)
	if err != nil {
		return untold("what has changed cannot be told", said, err)
	}
	for name := range bytes.SplitSeq(out, []byte{0}) {
		if len(name) > 0 {
			r.paths[r.place(name)] = true
		}
	}
	return nil
}

// has reports whether a file has changed or is in none of the repositories, which
// then cannot tell.
func (c *changes) has(path string) bool {
	place := shelf.Place(path)
	known, changed := 0, true
	for _, r := range c.repositories {
		// Of a repository inside another, the inner one knows.
		if rel, err := filepath.Rel(r.root, place); err == nil && filepath.IsLocal(rel) && len(r.root) > known {
			known, changed = len(r.root), r.paths[place]
		}
	}
	return changed
}

// touched leaves of what was found what has changed. When the rules have, that
// is everything.
func (c *changes) touched(found shelf.Found, in *shelf.InForce) shelf.Found {
	if c.hasRules() || in != nil && c.has(in.Path) {
		return found
	}
	return shelf.Touched(found, c.has)
}

// hasRules reports whether a file of rules has changed, or is gone.
func (c *changes) hasRules() bool {
	for _, r := range c.repositories {
		for path := range r.paths {
			if filepath.Base(path) == rules.FileName {
				return true
			}
		}
	}
	return false
}

// git runs git in the repository.
func (r *repository) git(ctx context.Context, args ...string) (stdout []byte, stderr string, err error) {
	cmd := gitCommand(ctx, r.from, args...)
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if ctx.Err() != nil {
		err = context.Cause(ctx)
	}
	return out, said.String(), err
}

// gitCommand is git run in a folder, with what it says in English. It is asked to
// look only, and to start nothing that a repository's settings name.
func gitCommand(ctx context.Context, folder string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, "git", append([]string{"-c", "core.fsmonitor=false", "-c", "core.quotePath=false"}, args...)...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "LC_ALL=C", "GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0")
	return cmd
}
