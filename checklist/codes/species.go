package codes

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Species is a wood as it is sold, with the figures that fastening and drying need.
type Species struct {
	Key  string `json:"key"` // western-redcedar
	Name string `json:"name"`
	// G is the assigned specific gravity of the species combination: oven-dry weight over oven-dry volume. Do not mix
	// it with values at 12 % moisture.
	G         float64  `json:"g"`
	GGroup    string   `json:"g_group"` // the species combination that the table names
	GSource   string   `json:"g_source"`
	GStanding Standing `json:"g_standing"`
	// Shrinkage is the zero value when no figure was found.
	Shrinkage Shrinkage `json:"shrinkage,omitzero"`
	// Durable says how the wood stands up to decay outdoors, with its own standing.
	Durable         string   `json:"durable"`
	DurableStanding Standing `json:"durable_standing"`
	// CedarFamily woods bleed extractives that stain with iron: stainless fasteners under a clear finish or none
	// (association tip sheets, secondary text).
	CedarFamily bool   `json:"cedar_family"`
	Note        string `json:"note"`
}

// Shrinkage is what a wood loses across the grain from green to oven-dry, in percent of the green size. The zero value
// means that no figure was found.
type Shrinkage struct {
	Radial     float64  `json:"radial"`
	Tangential float64  `json:"tangential"`
	Of         string   `json:"of"` // the botanical species or growth that was measured
	Source     string   `json:"source"`
	Standing   Standing `json:"standing"`
}

// Density returns the density in kilograms per cubic metre at a moisture content in percent (0 to 30), for weights of
// pieces: 1000 G / (1 + 0.009 G M) x (1 + M/100), the relation of the NDS Supplement section 3.1.3 (from memory). A moisture
// content out of range is taken as the nearer end.
func (s Species) Density(moisture float64) float64 {
	moisture = min(max(moisture, 0), 30)
	return 1000 * s.G / (1 + 0.009*s.G*moisture) * (1 + moisture/100)
}

// ReadSpecies reads the species file and checks it, and returns the species sorted by key. All that is wrong with it is
// in the error, one line each.
func ReadSpecies(r io.Reader) ([]Species, error) {
	var list []Species
	if err := readJSON(r, &list); err != nil {
		return nil, fmt.Errorf("read species: %w", err)
	}
	var wrong []error
	seen := map[string]bool{}
	for _, s := range list {
		if err := s.wrong(); err != nil {
			wrong = append(wrong, fmt.Errorf("species %q: %w", s.Key, err))
		}
		if seen[s.Key] {
			wrong = append(wrong, fmt.Errorf("species %q: written twice", s.Key))
		}
		seen[s.Key] = true
	}
	if len(wrong) > 0 {
		return nil, fmt.Errorf("read species: %w", errors.Join(wrong...))
	}
	slices.SortFunc(list, func(a, b Species) int { return strings.Compare(a.Key, b.Key) })
	return list, nil
}

// wrong returns what is missing or impossible.
func (s Species) wrong() error {
	var wrong []error
	for _, field := range []struct{ name, value string }{
		{"key", s.Key}, {"name", s.Name}, {"group", s.GGroup}, {"source of G", s.GSource}, {"durable note", s.Durable},
	} {
		if field.value == "" {
			wrong = append(wrong, fmt.Errorf("no %s", field.name))
		}
	}
	if s.G < 0.2 || s.G > 1.1 {
		wrong = append(wrong, fmt.Errorf("specific gravity %v is no wood's", s.G))
	}
	standings := []Standing{s.GStanding, s.DurableStanding}
	if shrinkage := s.Shrinkage; shrinkage != (Shrinkage{}) {
		standings = append(standings, shrinkage.Standing)
		if shrinkage.Of == "" || shrinkage.Source == "" {
			wrong = append(wrong, errors.New("shrinkage without its wood or source"))
		}
		if shrinkage.Radial <= 0 || shrinkage.Tangential <= shrinkage.Radial || shrinkage.Tangential > 15 {
			wrong = append(wrong, fmt.Errorf("shrinkage is %v radial, %v tangential", shrinkage.Radial, shrinkage.Tangential))
		}
	}
	for _, standing := range standings {
		if standing != OfficialText && standing != SecondaryText && standing != Memory {
			wrong = append(wrong, fmt.Errorf("standing is %q", standing))
		}
	}
	return errors.Join(wrong...)
}
