package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"newelbook/jobs"
)

// The record of a pack is set against other rules by whoever has it: readings as well as the layout, and it must be named by the
// rules that it stands under.
func TestRulesOnARecord(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	if err := copyDemo(dir); err != nil {
		t.Fatal(err)
	}
	found, err := filepath.Glob(filepath.Join(dir, "packs", "*", "2-*", "data", "record.json"))
	if err != nil || len(found) != 1 {
		t.Fatalf("records of pack 2: %q, %v", found, err)
	}
	file := found[0]
	body, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var x jobs.Export
	if err := json.Unmarshal(body, &x); err != nil {
		t.Fatal(err)
	}
	out := must(t, "", "rules", x.Job.RuleSet, "--against", "nbc-2020", "--job", file, "--json")
	var c comparison
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	if c.Compared == 0 || len(c.Readings) == 0 || len(c.Job) == 0 || len(c.Figures) == 0 || c.WhatIf == "" {
		t.Errorf("%d readings compared, %d of another word, %d changes, %d figures, what-if %q", c.Compared, len(c.Readings), len(c.Job), len(c.Figures), c.WhatIf)
	}
	for _, r := range c.Readings {
		if r.Was == r.Would || r.Place == "" || r.Check == "" || r.Why == "" {
			t.Errorf("a reading of another word: %+v", r)
		}
	}
	text := must(t, "", "rules", x.Job.RuleSet, "--against", "nbc-2020", "--job", file)
	for _, want := range []string{"This is a what-if", "would come to another word.\n", "AS RECORDED", c.Readings[0].Why} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	own := must(t, string(body), "rules", x.Job.RuleSet, "--against", x.Job.RuleSet, "--job", "-", "--json")
	c = comparison{}
	if err := json.Unmarshal([]byte(own), &c); err != nil {
		t.Fatal(err)
	}
	if c.Compared == 0 || len(c.Readings) != 0 {
		t.Errorf("under its own rules: %+v", c.Readings)
	}

	code, _, errs := newelbook(t, "", "rules", "ontario-9.8", "--against", "nbc-2020", "--job", file)
	if want := "newelbook: this record stands under " + x.Job.RuleSet + ": newelbook rules " + x.Job.RuleSet + " --against nbc-2020\n"; code != exitFound || errs != want {
		t.Errorf("under rules that it does not stand under: %d, %q, want %q", code, errs, want)
	}
	x.Chain[1].Payload = "{"
	broken, err := json.Marshal(x)
	if err != nil {
		t.Fatal(err)
	}
	code, _, errs = newelbook(t, string(broken), "rules", x.Job.RuleSet, "--against", "nbc-2020", "--job", "-")
	if want := "newelbook: the record cannot be read: its chain is damaged, which newelbook verify tells more of\n"; code != exitFound || errs != want {
		t.Errorf("a damaged record: %d, %q, want %q", code, errs, want)
	}
}
