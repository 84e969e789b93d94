package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"bygone.example/core/chain"
	"bygone.example/core/host"
	"bygone.example/core/source"
	"bygone.example/plugins/house"
)

// pluginFlags say where plugins outside the program are and which may run.
type pluginFlags struct {
	Plugin      []string `help:"Use the plugin in this executable (bygone-plugin-NAME). To name it is to trust it." placeholder:"FILE" sep:"none"`
	PluginsFrom []string `help:"Look for plugins in this folder too." placeholder:"DIR" sep:"none"`
	Allow       []string `help:"Let a plugin of this name run that was found in a folder or on PATH." placeholder:"NAME"`
}

// startFlags are those of commands that start plugins.
type startFlags struct {
	pluginFlags
	Patience patience `help:"How long a plugin may take to start, and then over each step, before it is given up; 10s unless said." default:"10s" placeholder:"TIME"`
}

// patience is a time that is more than none.
type patience time.Duration

// UnmarshalText reads a time such as 2s or 500ms.
func (p *patience) UnmarshalText(text []byte) error {
	d, err := time.ParseDuration(string(text))
	if err != nil || d <= 0 {
		return fmt.Errorf("%s is no time to wait: write one with its unit, for instance 10s or 500ms", source.Quote(string(text)))
	}
	*p = patience(d)
	return nil
}

// options are those of the plugin host.
func (f startFlags) options() host.Options {
	return host.Options{CallTimeout: time.Duration(f.Patience), StartTimeout: time.Duration(f.Patience)}
}

// projectPlugins is the folder of a project's own plugins, looked through
// after those that flags name.
const projectPlugins = "plugins.d"

// discover lists every plugin there is, taken or not.
func (f pluginFlags) discover() ([]host.Found, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, fmt.Errorf("finding our own executable, to start the house plugins from: %w", err)
	}
	s := host.Search{
		HouseCommand: host.Command{Path: self, Args: []string{host.HouseArgument}},
		Files:        f.Plugin,
		Folders:      slices.Clone(f.PluginsFrom),
		Path:         filepath.SplitList(os.Getenv("PATH")),
		Allow:        f.Allow,
	}
	for _, p := range house.Plugins {
		s.House = append(s.House, p.Name)
	}
	if info, err := os.Stat(projectPlugins); err == nil && info.IsDir() {
		s.Folders = append(s.Folders, projectPlugins)
	}
	return host.Discover(s), nil
}

// session is the plugin processes of one run.
type session struct{ *host.Session }

// start starts the plugins of the given names together. A name that is not
// found, or not allowed, is left to the planner, which knows its place; what
// is known of why comes back as missing.
func (f startFlags) start(ctx context.Context, names []string) (*session, []*host.Missing, error) {
	found, err := f.discover()
	if err != nil {
		return nil, nil, err
	}
	if err := unusable(found); err != nil {
		return nil, nil, err
	}
	picked, missing := host.Pick(found, names...)
	s, err := host.Start(ctx, picked, f.options())
	if err != nil {
		return nil, nil, err
	}
	return &session{s}, missing, nil
}

// unusable refuses what a flag names and what cannot be used: to pass it over in
// silence would run something else in its place.
func unusable(found []host.Found) error {
	var problems source.Problems
	for _, f := range found {
		switch {
		case f.Taken:
		case f.Origin == host.File:
			problems.Add(source.Problem{File: "--plugin " + f.Path, Text: f.Why, Remedy: "name another file, or leave it out"})
		case f.Name == "": // a whole folder
			problems.Add(source.Problem{File: "--plugins-from " + f.Path, Text: f.Why, Remedy: "name another folder, or leave it out"})
		}
	}
	return problems.Err()
}

// offers returns what the started plugins offer.
func (s *session) offers() []chain.Offer {
	var offers []chain.Offer
	for _, d := range s.Specs() {
		offers = append(offers, chain.Offer{Plugin: d.Name, Operations: d.Operations})
	}
	return offers
}

// untaken tells of plugins that are there but may not run, at the steps that
// ask for them.
func untaken(missing []*host.Missing, c chain.Chain, file *source.File) error {
	var problems source.Problems
	for _, m := range missing {
		if len(m.Refused) == 0 {
			continue // the planner tells what was meant
		}
		for _, step := range c.Steps {
			if plugin, _, _ := strings.Cut(step.Operation, "."); plugin == m.Name {
				problems.Add(file.Problem(step.Line, step.Col, m.Error(), "--allow "+m.Name+" lets it run, if you trust it"))
			}
		}
	}
	return problems.Err()
}
