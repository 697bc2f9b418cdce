package checklist_test

import (
	"strings"
	"testing"

	"newelbook/checklist/layout"
)

// Every fact of common practice that says it leads to a check leads to one that the catalogue has.
func TestFactsLeadToChecks(t *testing.T) {
	keys := map[string]bool{}
	for _, c := range everyCheck(t) {
		keys[c.Key] = true
	}
	led := 0
	for _, f := range layout.Facts() {
		for _, lead := range f.Leads {
			key, ok := strings.CutPrefix(lead, "check ")
			if !ok {
				continue
			}
			led++
			if !keys[key] {
				t.Errorf("fact %s leads to the check %s, which the catalogue does not have", f.ID, key)
			}
		}
	}
	if led == 0 {
		t.Error("no fact leads to a check")
	}
}
