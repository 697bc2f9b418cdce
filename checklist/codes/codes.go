// Package codes holds the limits by code edition and place, as data with the clause each came from.
//
// Callers start with Get, put the job's own figures over the rule set with Apply, and ask Applied.Figure for a key
// such as OpeningLevel. A figure carries its Bound, so strict and inclusive limits are kept apart: a gap of exactly 4 in
// is outside "under 4 in" and a gap of exactly 100 mm is inside "at most 100 mm".
//
// Invariants: every figure names its clause, edition and standing; a rule set never answers for a figure that its code
// does not have (absence means "no figure in this rule set"); an unknown rule set is an error, never a guess; an
// amendment lies over the figure and both stay visible; what differs between two editions differs in the data, never in
// code. Compare lists the differences.
//
// It deliberately does not measure, lay out or judge a job, and it says nothing of what a rule set leaves out. The data
// are JSON files in data/, read and checked once. To add a rule set, add its file and its id to ruleSetIDs.
// Test it with: go test ./checklist/codes
package codes

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
)

//go:embed data/*.json
var data embed.FS

// ErrUnknown: there is no rule set of that id. An UnknownError is one.
var ErrUnknown = errors.New("unknown rule set")

// UnknownError names the id that no rule set has.
type UnknownError struct{ ID string }

// Error returns the text for logs.
func (e *UnknownError) Error() string { return fmt.Sprintf("%v %q", ErrUnknown, e.ID) }

// Is says that this is an ErrUnknown.
func (e *UnknownError) Is(target error) bool { return target == ErrUnknown }

// Sentence returns a finished sentence that lists the rule sets there are.
func (e *UnknownError) Sentence() string {
	return fmt.Sprintf("There is no rule set called %q: choose one of %s.", e.ID, strings.Join(ruleSetIDs(), ", "))
}

const referenceID = "reference"

// ruleSetIDs names the data files that a job may choose from, in the order they are offered.
func ruleSetIDs() []string {
	return []string{
		"irc-2018", "irc-2021", "irc-2024", "ibc-2021", "wisconsin-sps-325", "california-residential", "existing-condition",
		"nbc-2020", "ontario-9.8", "england-k", "ireland-k", "australia-ncc-2022", "new-zealand-f4-d1",
	}
}

// library is everything in data/, read and checked.
type library struct {
	sets      []RuleSet
	reference RuleSet
	species   []Species
}

// embedded reads the data once. What it returns is never changed: callers are given copies.
var embedded = sync.OnceValues(readLibrary)

func readLibrary() (library, error) {
	var lib library
	for _, id := range ruleSetIDs() {
		set, err := readEmbedded(id)
		if err != nil {
			return library{}, err
		}
		lib.sets = append(lib.sets, set)
	}
	var err error
	if lib.reference, err = readEmbedded(referenceID); err != nil {
		return library{}, err
	}
	text, err := data.ReadFile("data/species.json")
	if err != nil {
		return library{}, fmt.Errorf("read species: %w", err)
	}
	if lib.species, err = ReadSpecies(bytes.NewReader(text)); err != nil {
		return library{}, err
	}
	return lib, nil
}

func readEmbedded(id string) (RuleSet, error) {
	text, err := data.ReadFile("data/" + id + ".json")
	if err != nil {
		return RuleSet{}, fmt.Errorf("read rule set %s: %w", id, err)
	}
	set, err := ReadRuleSet(bytes.NewReader(text))
	if err != nil {
		return RuleSet{}, err
	}
	if set.ID != id {
		return RuleSet{}, fmt.Errorf("read rule set %s: the file calls itself %q", id, set.ID)
	}
	return set, nil
}

// sound returns the data, which the build has tested; unsound data are a fault of the program and stop it.
func sound() library {
	lib, err := embedded()
	if err != nil {
		panic(err)
	}
	return lib
}

// Load reads and checks all data of the package: rule sets, reference practice and species. Call it at start-up; the
// other functions panic where Load returns an error.
func Load() error {
	_, err := embedded()
	return err
}

// IDs lists the rule sets that a job may choose from, in the order they are offered.
func IDs() []string { return ruleSetIDs() }

// All returns every rule set that a job may choose from, in the order of IDs.
func All() []RuleSet {
	var sets []RuleSet
	for _, set := range sound().sets {
		sets = append(sets, set.clone())
	}
	return sets
}

// Get returns the rule set of that id, or an *UnknownError.
func Get(id string) (RuleSet, error) {
	for _, set := range sound().sets {
		if set.ID == id {
			return set.clone(), nil
		}
	}
	return RuleSet{}, &UnknownError{ID: id}
}

// Title returns the name of the figure of that key, as the first rule set that has it names it, or the practice beside them;
// the key itself where nothing has it.
func Title(key string) string {
	lib := sound()
	for _, set := range append(slices.Clone(lib.sets), lib.reference) {
		if f, found := set.Figure(key); found {
			return f.Title
		}
	}
	return key
}

// Reference returns the figures of practice that no chosen code holds, such as the hold-down's capacity, each with its
// own source. A job does not choose it; it stands beside every rule set.
func Reference() RuleSet { return sound().reference.clone() }

// AllSpecies returns every species, sorted by key.
func AllSpecies() []Species { return slices.Clone(sound().species) }

// SpeciesByKey returns the species of that key.
func SpeciesByKey(key string) (Species, bool) {
	for _, s := range sound().species {
		if s.Key == key {
			return s, true
		}
	}
	return Species{}, false
}
