package shelf

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/source"
)

// Part is the result of one shard, and the name of the file it was read from.
type Part struct {
	Name   string
	Result *Result
}

// Merge joins the results of all shards of a shelf: the result is the one that
// a check of the whole would have given. An error is a source.Problems: a shard
// is missing or there twice, or the parts are not of one whole.
func Merge(parts []Part) (*Result, error) {
	var problems source.Problems
	refuse := func(name, remedy, format string, args ...any) {
		problems.Add(source.Problem{File: name, Text: fmt.Sprintf(format, args...), Remedy: remedy})
	}
	if len(parts) == 0 {
		return &Result{}, nil
	}
	first := parts[0]
	of := map[int]string{}
	for _, p := range parts {
		switch s := p.Result.Shard; {
		case s == nil:
			refuse(p.Name, "give what was written by --shard and --format json", "this is not the result of a shard")
		case s.K < 1 || s.N < s.K || s.N > MaxShards:
			refuse(p.Name, "check that shard again", "there is no shard %s", s)
		case first.Result.Shard != nil && s.N != first.Result.Shard.N:
			refuse(p.Name, "give the shards of one check", "this is shard %s, but %s is shard %s", s, source.Quote(first.Name), first.Result.Shard)
		case p.Result.Settings != first.Result.Settings:
			refuse(p.Name, "check all shards by one rules file", "this was checked by other tolerances, exceptions or measures than %s", source.Quote(first.Name))
		case p.Result.Program != first.Result.Program:
			refuse(p.Name, "check all shards with one program and the same plugins", "this was checked by another program, or with other plugins, than %s", source.Quote(first.Name))
		case p.Result.Of != first.Result.Of || s.N > 1 && p.Result.Of == "":
			refuse(p.Name, "check all shards of the same paths, in the same state", "this is of other files than %s, or of the same before or after a change", source.Quote(first.Name))
		case of[s.K] != "":
			refuse(p.Name, "leave one of them out", "this is shard %s, as %s is", s, source.Quote(of[s.K]))
		default:
			of[s.K] = p.Name
		}
	}
	if len(problems) == 0 {
		var missing []string
		for k := 1; k <= first.Result.Shard.N && len(missing) <= maxMissing; k++ {
			if of[k] == "" {
				missing = append(missing, Shard{k, first.Result.Shard.N}.String())
			}
		}
		if len(missing) > maxMissing {
			missing[maxMissing] = "…"
		}
		if len(missing) > 0 {
			refuse(first.Name, "add the results of the others: what is in them was not looked at", "of the shards that belong with this, %s is missing", strings.Join(missing, ", "))
		}
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	whole := &Result{Base: first.Result.Base, Settings: first.Result.Settings}
	for _, p := range parts {
		whole.Files = append(whole.Files, p.Result.Files...)
		whole.Passed.add(p.Result.Passed)
	}
	whole.sort()
	// The rules are told of by every shard: each of what it has looked at.
	whole.Files = joinRules(whole.Files)
	return whole, nil
}

// maxMissing is how many missing shards are named.
const maxMissing = 10

func joinRules(files []Checked) []Checked {
	var out []Checked
	for _, c := range files {
		if n := len(out); n > 0 && c.Kind == Rules && out[n-1].Kind == Rules && out[n-1].Path == c.Path {
			out[n-1].Findings = slices.Concat(out[n-1].Findings, c.Findings)
			out[n-1].settle()
			continue
		}
		out = append(out, c)
	}
	return out
}
