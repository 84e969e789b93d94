package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"bygone.example/core/chain"
	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/plugins/house"
)

// pluginFlags say where plugins outside the program are and which may run.
type pluginFlags struct {
	Plugin      []string `help:"Use the plugin in this executable (bygone-plugin-NAME). To name it is to trust it." placeholder:"FILE" sep:"none"`
	PluginsFrom []string `help:"Look for plugins in this folder too." placeholder:"DIR" sep:"none"`
	Allow       []string `help:"Let a plugin of this name run that was found in a folder or on PATH." placeholder:"NAME"`
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
func (f pluginFlags) start(ctx context.Context, names []string) (*session, []*host.Missing, error) {
	found, err := f.discover()
	if err != nil {
		return nil, nil, err
	}
	picked, missing := host.Pick(found, names...)
	s, err := host.Start(ctx, picked, host.Options{})
	if err != nil {
		return nil, nil, err
	}
	return &session{s}, missing, nil
}

// offers returns what the started plugins offer.
func (s *session) offers() []chain.Offer {
	var offers []chain.Offer
	for _, d := range s.Specs() {
		offers = append(offers, chain.Offer{Plugin: d.Name, Operations: d.Operations})
	}
	return offers
}

// untaken makes a refusal of plugins that are there but may not run.
func untaken(missing []*host.Missing) error {
	for _, m := range missing {
		if len(m.Refused) > 0 {
			return &operation.Refusal{Why: m.Error(), Instead: "bygone plugins tells more; --allow " + m.Name + " lets it run, if you trust it"}
		}
	}
	return nil
}
