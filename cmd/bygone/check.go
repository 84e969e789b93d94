package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/report/listing"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
	"bygone.example/core/unit"
	"bygone.example/core/wearer"
)

// checkCommand walks the seams of patterns, one by one or of a whole shelf.
type checkCommand struct {
	Paths        []string `arg:"" name:"path" help:"Pattern files, folders of patterns and chains, or - for standard input."`
	Format       []string `help:"How to write what was found: text, json, sarif or junit; with =FILE, into a file. May be given several times. Text goes to standard output unless another format does." placeholder:"FORMAT[=FILE]" sep:"none"`
	Rules        string   `help:"The file of tolerances and exceptions; unless said, bygone.yaml in the folder or above it in its repository." placeholder:"FILE"`
	Wearer       string   `help:"Whose head and hips must pass the openings." placeholder:"FILE"`
	ClothWidth   string   `help:"From selvedge to selvedge: no piece may be wider." placeholder:"LENGTH"`
	ClothWeight  float64  `help:"Grams a square metre: how full it may be gathered." placeholder:"GRAMS"`
	ChangedSince string   `help:"Check only what has changed since this git revision, and the chains that use it." placeholder:"REVISION" xor:"changes"`
	Staged       bool     `help:"Check only what is staged for the next commit, and the chains that use it." xor:"changes"`
	Shard        string   `help:"Check only the K-th of N parts, so that several machines can share the work." placeholder:"K/N"`
	Merge        bool     `help:"Join the results of all shards: the paths are what --format json wrote for each."`
	Cache        string   `help:"Keep what was found in unchanged files in this folder; unless said, in the user's own." placeholder:"DIR"`
	NoCache      bool     `help:"Check every file anew."`
	Pictures     string   `help:"Draw here what a chain makes otherwise than it is expected to." placeholder:"DIR"`
	replaceFlag
	startFlags
}

// Run checks every file, also after one that is refused.
func (c *checkCommand) Run(ctx context.Context, s *streams) error {
	outputs, err := parseFormats(c.Format)
	if err != nil {
		return err
	}
	result, err := c.result(ctx, s, outputs)
	if s.out.failed != nil {
		return nil // the program tells of it
	}
	if err != nil {
		return err
	}
	if err := outputs.write(s, result, c.replaceFlag); err != nil {
		return err
	}
	return verdict(result)
}

func (c *checkCommand) result(ctx context.Context, s *streams, outputs outputs) (*shelf.Result, error) {
	if c.Merge {
		return c.merge(ctx, s, outputs)
	}
	changes, err := c.changes(ctx)
	if err != nil {
		return nil, err
	}
	o, err := c.options(ctx, s, changes)
	if err != nil {
		return nil, err
	}
	found, err := c.find(ctx, s)
	if err != nil {
		return nil, err
	}
	if changes != nil && changes.texts != nil {
		found = found.Instead(changes.texts, c.Paths)
	}
	if c.Rules == "" {
		if err := unruled(found, o.Rules); err != nil {
			return nil, err
		}
	}
	if err := outputs.apart(c.inputs(found, o.Rules), c.replaceFlag); err != nil {
		return nil, err
	}
	if changes != nil {
		found = changes.touched(found, o.Rules)
	}
	result, err := c.check(ctx, s, found, o, outputs)
	if err == nil && changes == nil && c.Shard == "" && nothing(result) {
		// A check of nothing must not look like one that was passed.
		return nil, &operation.Refusal{Why: "there is no pattern, chain or wearer at the paths named", Instead: "name a folder that holds YAML files beginning with a line such as: bygone: pattern/1"}
	}
	return result, err
}

// inputs are the files that the check reads.
func (c *checkCommand) inputs(found shelf.Found, in *shelf.InForce) (paths []string) {
	for _, f := range found.Files {
		if f.Data == nil {
			paths = append(paths, f.Path)
		}
	}
	if in != nil {
		paths = append(paths, in.Path)
	}
	if c.Wearer != "" {
		paths = append(paths, c.Wearer)
	}
	return paths
}

// nothing reports whether no file but that of the rules was checked.
func nothing(r *shelf.Result) bool {
	return !slices.ContainsFunc(r.Files, func(c shelf.Checked) bool { return c.Kind != shelf.Rules })
}

// options reads what the check is done by. What is wrong is told all at once.
func (c *checkCommand) options(ctx context.Context, s *streams, changes *changes) (shelf.Options, error) {
	var problems source.Problems
	o := shelf.Options{Base: base()}
	var texts shelf.Texts
	if changes != nil {
		texts = changes.texts
	}
	var err error
	o.Rules, err = readRules(ctx, c.Rules, c.Paths, texts, s)
	if err := gather(&problems, err); err != nil {
		return o, err
	}
	if c.Wearer != "" {
		var w wearer.Wearer
		name, data, err := readFile(ctx, c.Wearer, s)
		if err == nil {
			w, err = yamlfile.ReadWearer(name, data)
		}
		if err := gather(&problems, err); err != nil {
			return o, err
		}
		o.Pairing.Wearer = &w
	}
	problems.Add(c.cloth(&o.Pairing.Cloth)...)
	if c.Shard != "" {
		shard, err := shelf.ParseShard(c.Shard)
		if err != nil {
			problems.Add(source.Problem{File: "bygone", Text: fmt.Sprintf("--shard: %s is not one of several parts", source.Quote(c.Shard)),
				Remedy: fmt.Sprintf("write K/N, with K from 1 to N and N no more than %d, for instance 2/8", shelf.MaxShards)})
		}
		o.Shard = &shard
		if o.Program, err = c.program(); err != nil {
			return o, err
		}
	}
	return o, problems.Err()
}

// The bounds on a cloth, wide enough for ribbon and for felt; outside them a unit
// was mistaken (common sense).
const (
	minClothWidth, maxClothWidth   = 100, 10_000 // mm
	minClothWeight, maxClothWeight = 5, 3000     // grams a square metre
)

// cloth reads what the flags say of the cloth.
func (c *checkCommand) cloth(to *pairing.Cloth) (problems source.Problems) {
	refuse := func(text, remedy string) { problems.Add(source.Problem{File: "bygone", Text: text, Remedy: remedy}) }
	if c.ClothWidth != "" {
		mm, err := unit.ParseLength(c.ClothWidth)
		switch {
		case err != nil:
			refuse(fmt.Sprintf("--cloth-width: %v", err), "write a length, for instance --cloth-width 140cm")
		case !(mm >= minClothWidth && mm <= maxClothWidth):
			refuse(fmt.Sprintf("--cloth-width: no cloth is %s wide", source.Quote(c.ClothWidth)), "write a length between 10cm and 10m: check the unit")
		default:
			to.Width = mm
		}
	}
	switch {
	case c.ClothWeight == 0:
	case !(c.ClothWeight >= minClothWeight && c.ClothWeight <= maxClothWeight):
		refuse(fmt.Sprintf("--cloth-weight: no cloth weighs %g grams a square metre", c.ClothWeight), "write a number between 5 and 3000, for instance --cloth-weight 120")
	default:
		to.Weight = c.ClothWeight
	}
	return problems
}

// changes are what the check is to keep to; nil for everything.
func (c *checkCommand) changes(ctx context.Context) (*changes, error) {
	switch {
	case c.Staged:
		return staged(ctx, c.Paths)
	case c.ChangedSince != "":
		return changedSince(ctx, c.ChangedSince, c.Paths)
	}
	return nil, nil
}

// merge joins the results of shards.
func (c *checkCommand) merge(ctx context.Context, s *streams, outputs outputs) (*shelf.Result, error) {
	if c.Shard != "" || c.ChangedSince != "" || c.Staged || c.Rules != "" || c.Wearer != "" || c.ClothWidth != "" || c.ClothWeight != 0 {
		return nil, &operation.Refusal{Why: "--merge joins what was found already, and checks nothing", Instead: "give the other flags when the shards are checked"}
	}
	if err := outputs.apart(c.Paths, c.replaceFlag); err != nil {
		return nil, err
	}
	var problems source.Problems
	var parts []shelf.Part
	for _, path := range c.Paths {
		name, data, err := readUpTo(ctx, path, s, listing.MaxSize+1)
		if err == nil {
			var r *shelf.Result
			if r, err = listing.Read(name, data); err == nil {
				parts = append(parts, shelf.Part{Name: name, Result: r})
			}
		}
		if err := gather(&problems, err); err != nil {
			return nil, err
		}
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	result, err := shelf.Merge(parts)
	if err != nil || !outputs.text() {
		return result, err
	}
	for i := range result.Files {
		if err := listing.Lines(s.out, &result.Files[i], false); err != nil {
			return nil, err
		}
	}
	return result, listing.Summary(s.out, result.Counts(), result.Passed)
}

// verdict is the error of a result: what was refused before what was found.
func verdict(r *shelf.Result) error {
	if err := r.Problems().Err(); err != nil {
		return err
	}
	if !r.Counts().Clean() {
		return errFindings
	}
	return nil
}

// find lists what is to be checked.
func (c *checkCommand) find(ctx context.Context, s *streams) (shelf.Found, error) {
	paths := slices.DeleteFunc(slices.Clone(c.Paths), func(p string) bool { return p == "-" })
	found, err := shelf.Find(ctx, paths)
	if err != nil || len(paths) == len(c.Paths) {
		return found, err
	}
	for range len(c.Paths) - len(paths) {
		data, err := s.readIn(ctx)
		if err != nil {
			return found, err
		}
		found.Files = append(found.Files, shelf.File{Path: stdinName, Named: true, Data: append([]byte{}, data...)})
	}
	return found, nil
}

// check checks the files and, where text is for standard output, prints what
// was found in each as soon as it is its turn.
func (c *checkCommand) check(ctx context.Context, s *streams, found shelf.Found, o shelf.Options, outputs outputs) (*shelf.Result, error) {
	folders := slices.ContainsFunc(found.Files, func(f shelf.File) bool { return !f.Named })
	if !c.NoCache && (folders || c.Cache != "") { // for a file or two it is quicker to look again
		o.Cache = openCache(c.Cache)
	}
	trial := &trial{flags: c.startFlags, over: c.replaceFlag, pictures: c.Pictures, sessions: map[string]*session{}, missing: map[string]*host.Missing{}}
	defer trial.Close()
	o.Trial = trial
	progress := newProgress(s, len(found.Files))
	if outputs.text() {
		o.Progress = progress.files
		named := map[string]bool{}
		for _, f := range found.Files {
			named[filepath.ToSlash(f.Path)] = f.Named
		}
		o.Each = func(c *shelf.Checked) error {
			progress.done()
			return listing.Lines(s.out, c, named[c.Path])
		}
	}
	result, err := shelf.Check(ctx, found, o)
	progress.done()
	if err != nil {
		return nil, err
	}
	if o.Cache != nil {
		o.Cache.Tidy(shelf.MaxCached)
	}
	// Of files named one by one each has had its line already.
	if outputs.text() && (folders || len(found.Files) == 0) {
		return result, listing.Summary(s.out, result.Counts(), result.Passed)
	}
	return result, nil
}

// maxPath of a file's path is shown, in runes: what systems have room for.
const maxPath = 4096
