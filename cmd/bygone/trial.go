package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"bygone.example/core/chain"
	"bygone.example/core/draw"
	"bygone.example/core/finding"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
	"bygone.example/plugins/house"
)

// trial tries the chains of a shelf on what they say they make. A plugin is
// started when the first chain asks for it, and serves all.
type trial struct {
	flags    startFlags
	over     replaceFlag
	pictures string // folder for pictures of what comes out otherwise; empty for none

	mu       sync.Mutex
	started  []*session
	sessions map[string]*session // by plugin; nil of one that is not to be had
	missing  map[string]*host.Missing
}

var _ shelf.Trial = (*trial)(nil)

// Repeatable reports whether all plugins of the chain are our own: another's
// may have changed since.
func (t *trial) Repeatable(c chain.Chain) bool {
	return !slices.ContainsFunc(c.Plugins(), func(name string) bool { return house.Plugin(name) == nil })
}

// Try runs the chain over each pattern that it has an expectation of.
func (t *trial) Try(ctx context.Context, c chain.Chain, file *source.File, files chain.Files) ([]finding.Finding, error) {
	if err := t.start(ctx, c.Plugins()); err != nil {
		return nil, err
	}
	if err := untaken(t.missed(c.Plugins()), c, file); err != nil {
		return nil, err
	}
	outcomes, err := chain.Expect(ctx, c, file, files, t.offers(c.Plugins()), t)
	if err != nil {
		return nil, err
	}
	var list []finding.Finding
	for i := range outcomes {
		o := &outcomes[i]
		f, unmet := o.Finding(file)
		if !unmet {
			continue
		}
		if o.Comparison != nil && t.pictures != "" {
			path, err := t.draw(o, file.Name, i+1)
			if err != nil {
				return nil, err
			}
			f.Remedy += " A picture of it is in " + filepath.ToSlash(path) + "."
		}
		list = append(list, f)
	}
	return list, nil
}

// Apply hands a step to the plugin that it is of.
func (t *trial) Apply(ctx context.Context, plugin, op string, r *operation.Request) (*operation.Answer, error) {
	t.mu.Lock()
	s := t.sessions[plugin]
	t.mu.Unlock()
	if s == nil {
		return nil, fmt.Errorf("plugin %s was not started", plugin)
	}
	return s.Apply(ctx, plugin, op, r)
}

// start starts those of the plugins that do not run yet.
func (t *trial) start(ctx context.Context, names []string) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	fresh := slices.DeleteFunc(slices.Clone(names), func(name string) bool { _, known := t.sessions[name]; return known })
	if len(fresh) == 0 {
		return nil
	}
	s, missing, err := t.flags.start(ctx, fresh)
	if err != nil {
		return err
	}
	t.started = append(t.started, s)
	for _, name := range fresh {
		t.sessions[name] = s
	}
	for _, m := range missing {
		t.sessions[m.Name], t.missing[m.Name] = nil, m
	}
	return nil
}

func (t *trial) missed(names []string) (list []*host.Missing) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, name := range names {
		if m := t.missing[name]; m != nil {
			list = append(list, m)
		}
	}
	return list
}

// offers are what the plugins of these names offer.
func (t *trial) offers(names []string) (list []chain.Offer) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, name := range names {
		if s := t.sessions[name]; s != nil {
			for _, o := range s.offers() {
				if o.Plugin == name {
					list = append(list, o)
				}
			}
		}
	}
	return list
}

// Close ends every plugin.
func (t *trial) Close() {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, s := range t.started {
		s.Close()
	}
}

// draw draws the n-th expectation of a chain file against what came out, and
// returns where. What is a stranger's name does not become a file's as it is.
func (t *trial) draw(o *chain.Outcome, name string, n int) (string, error) {
	path := filepath.Join(t.pictures, fmt.Sprintf("%s-%d.svg", pictureName(name), n))
	var b bytes.Buffer
	if err := draw.Compared(o.Want, o.Run.After(), o.Comparison).SVG(&b, "d-"); err != nil {
		return "", err
	}
	if err := os.MkdirAll(t.pictures, 0o755); err != nil {
		return "", &operation.Refusal{Why: fmt.Sprintf("folder %q cannot be made: %v", t.pictures, errors.Unwrap(err)), Instead: "choose another with --pictures"}
	}
	return path, t.over.writeFile("--pictures", path, markupForm, b.Bytes())
}

// pictureName makes a chain file's path into part of a picture's name: letters,
// digits and hyphens, different for different paths.
func pictureName(path string) string {
	stem := strings.TrimSuffix(filepath.ToSlash(path), filepath.Ext(path))
	lossy := strings.Contains(stem, "--") || len(stem) > maxPictureName
	var b strings.Builder
	for _, r := range stem {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-':
			b.WriteRune(r)
		case r == '/':
			b.WriteString("--")
		default: // capitals too: not every disk tells them from small ones
			b.WriteByte('-')
			lossy = true
		}
	}
	name := b.String()
	if lossy {
		sum := sha256.Sum256([]byte(path))
		name = fmt.Sprintf("%s-%x", name[max(0, len(name)-maxPictureName):], sum[:6])
	}
	return name
}

// maxPictureName in bytes leaves room for the rest of a name within the 255 that
// disks allow.
const maxPictureName = 100
