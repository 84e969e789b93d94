package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/rules"
	"bygone.example/core/source"
)

// changes are the files of a git repository that differ from a revision.
type changes struct {
	root  string // of the repository, links resolved
	paths map[string]bool
}

// changedSince asks git what has changed since the work left a revision: since
// the last commit that is also the revision's, so that what others have done
// there meanwhile does not count. Files that are not committed yet, or that git
// does not know yet, have changed too; so have those that are gone.
func changedSince(ctx context.Context, rev string) (*changes, error) {
	refuse := func(why string, stderr string) error {
		if line, _, _ := strings.Cut(strings.TrimSpace(stderr), "\n"); line != "" {
			why += ": " + source.Harmless(strings.TrimPrefix(line, "fatal: "), 200)
		}
		return &operation.Refusal{Why: why, Instead: "give --changed-since a branch, a tag or a commit of the git repository you are in, for instance main or HEAD~1"}
	}
	top, said, err := git(ctx, "rev-parse", "--show-toplevel")
	if errors.Is(err, exec.ErrNotFound) {
		return nil, &operation.Refusal{Why: "--changed-since needs git, which is not on PATH", Instead: "install git, or check without --changed-since"}
	}
	if err != nil {
		return nil, refuse("what has changed cannot be told", said)
	}
	root, err := filepath.EvalSymlinks(strings.TrimSuffix(string(top), "\n"))
	if err != nil {
		return nil, err
	}
	commit, said, err := git(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", rev+"^{commit}")
	if err != nil {
		return nil, refuse(fmt.Sprintf("there is no revision %s", source.Quote(rev)), said)
	}
	from := strings.TrimSpace(string(commit))
	// Without a common commit, as in a shallow clone, the revision itself has to
	// do: then too much is checked, and not too little.
	if base, _, err := git(ctx, "merge-base", from, "HEAD"); err == nil {
		from = strings.TrimSpace(string(base))
	}
	c := &changes{root: root, paths: map[string]bool{}}
	for _, args := range [][]string{
		{"diff", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "--ignore-submodules", from, "--"},
		{"ls-files", "-z", "--others", "--exclude-standard", "--full-name", "--", ":/"},
	} {
		out, said, err := git(ctx, args...)
		if err != nil {
			return nil, refuse("what has changed cannot be told", said)
		}
		for name := range bytes.SplitSeq(out, []byte{0}) {
			if len(name) > 0 {
				c.paths[filepath.Join(root, filepath.FromSlash(string(name)))] = true
			}
		}
	}
	return c, nil
}

// has reports whether a file, by its absolute path, has changed or is of no
// concern to the repository, which then cannot tell.
func (c *changes) has(abs string) bool {
	// The last of the path may be gone, or be a link that itself has changed.
	if folder, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		abs = filepath.Join(folder, filepath.Base(abs))
	}
	if rel, err := filepath.Rel(c.root, abs); err != nil || !filepath.IsLocal(rel) {
		return true
	}
	return c.paths[abs]
}

// hasRules reports whether a file of rules has changed, or is gone.
func (c *changes) hasRules() bool {
	for path := range c.paths {
		if filepath.Base(path) == rules.FileName {
			return true
		}
	}
	return false
}

// git runs git in the folder we are in, with what it says in English. It is
// asked to look only, and to start nothing that a repository's settings name.
func git(ctx context.Context, args ...string) (stdout []byte, stderr string, err error) {
	cmd := exec.CommandContext(ctx, "git", append([]string{"-c", "core.fsmonitor=false", "-c", "core.quotePath=false"}, args...)...)
	cmd.Env = append(os.Environ(), "LC_ALL=C", "GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0")
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if ctx.Err() != nil {
		err = context.Cause(ctx)
	}
	return out, said.String(), err
}
