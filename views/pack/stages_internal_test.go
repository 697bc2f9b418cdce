package pack

import (
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// A check's row says once what its length is taken from.
func TestTitled(t *testing.T) {
	for _, tt := range []struct {
		check checklist.Check
		want  string
	}{
		{checklist.Check{Title: "Centre of the post from the datum", Reference: checklist.FromDatum}, "Centre of the post from the datum"},
		{checklist.Check{Title: "Height of the post", Reference: checklist.FromDecking}, "Height of the post\nfrom the finished decking"},
		{checklist.Check{Title: "Widest gap in the bay", Sample: "the worst that was found in the bay"}, "Widest gap in the bay\na sample: the worst that was found in the bay"},
	} {
		if got := titled(tt.check); got != tt.want {
			t.Errorf("titled(%q, %q) = %q, want %q", tt.check.Title, tt.check.Reference, got, tt.want)
		}
	}
}

// Where nothing was read yet, "not recorded" and "not checked" each have a line to themselves.
func TestChecksNotReadHaveTheirLine(t *testing.T) {
	b := &builder{style: length.InchFraction}
	table := b.checks("Framing", []jobs.ExportCheck{{Check: checklist.Check{Title: "Blocking is in"}}})
	all := 0.0
	for _, c := range table.Columns {
		all += c.Weight
	}
	for i, words := range map[int]string{3: "not recorded", 4: "not checked"} {
		if got := table.Rows[0][i].Text; got != words {
			t.Errorf("column %d says %q, want %q", i, got, words)
		}
		if wide := table.Columns[i].Weight / all; wide < 0.14 {
			t.Errorf("%q has %.0f %% of the width, want 14 %%", words, wide*100)
		}
	}
}
