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
	c, err := repository(ctx, "--changed-since")
	if err != nil {
		return nil, err
	}
	commit, said, err := git(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", rev+"^{commit}")
	if err != nil {
		return nil, untold(fmt.Sprintf("there is no revision %s", source.Quote(rev)), said, err)
	}
	from := strings.TrimSpace(string(commit))
	// Without a common commit, as in a shallow clone, the revision itself has to
	// do: then too much is checked, and not too little.
	if base, _, err := git(ctx, "merge-base", from, "HEAD"); err == nil {
		from = strings.TrimSpace(string(base))
	}
	if err := c.add(ctx, "diff", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "--ignore-submodules", from, "--"); err != nil {
		return nil, err
	}
	return c, c.add(ctx, "ls-files", "-z", "--others", "--exclude-standard", "--full-name", "--", ":/")
}

// staged asks git what the next commit would change.
func staged(ctx context.Context) (*changes, error) {
	c, err := repository(ctx, "--staged")
	if err != nil {
		return nil, err
	}
	return c, c.add(ctx, "diff", "--cached", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--no-relative", "--ignore-submodules", "--")
}

// repository is the one we are in, with nothing changed yet.
func repository(ctx context.Context, flag string) (*changes, error) {
	top, said, err := git(ctx, "rev-parse", "--show-toplevel")
	if errors.Is(err, exec.ErrNotFound) {
		return nil, &operation.Refusal{Why: flag + " needs git, which is not on PATH", Instead: "install git, or check without " + flag}
	}
	if err != nil {
		return nil, untold("what has changed cannot be told", said, err)
	}
	root, err := filepath.EvalSymlinks(strings.TrimSuffix(string(top), "\n"))
	if err != nil {
		return nil, err
	}
	return &changes{root: root, paths: map[string]bool{}}, nil
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
func (c *changes) add(ctx context.Context, args ...string) error {
	out, said, err := git(ctx, args...)
	if err != nil {
		return untold("what has changed cannot be told", said, err)
	}
	for name := range bytes.SplitSeq(out, []byte{0}) {
		if len(name) > 0 {
			c.paths[filepath.Join(c.root, filepath.FromSlash(string(name)))] = true
		}
	}
	return nil
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
