package main

import (
	"slices"
	"strings"
	"testing"
)

// subcommands reads the commands that a help text lists.
func subcommands(help string) []string {
	_, list, ok := strings.Cut(help, "\nAvailable Commands:\n")
	if !ok {
		return nil
	}
	list, _, _ = strings.Cut(list, "\n\n")
	var names []string
	for line := range strings.Lines(list) {
		names = append(names, strings.Fields(line)[0])
	}
	return names
}

// Each command that help lists, and each below it, shows itself in use.
func TestEveryCommandShowsHow(t *testing.T) {
	seen := 0
	var walk func(path []string)
	walk = func(path []string) {
		help := must(t, "", append(slices.Clone(path), "--help")...)
		if name := strings.Join(append([]string{"newelbook"}, path...), " "); len(path) > 0 {
			seen++
			if _, examples, _ := strings.Cut(help, "\nExamples:\n"); !strings.HasPrefix(strings.TrimSpace(examples), name) {
				t.Errorf("%s has no example of itself:\n%s", name, help)
			}
		}
		for _, sub := range subcommands(help) {
			if sub != "help" {
				walk(append(slices.Clone(path), sub))
			}
		}
	}
	walk(nil)
	if seen != 19 {
		t.Errorf("%d commands were seen, want 19", seen)
	}
}
