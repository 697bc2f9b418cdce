package jobs_test

import (
	"strings"
	"testing"

	"newelbook/jobs"
)

func TestParseStrokes(t *testing.T) {
	got, err := jobs.ParseStrokes("10,20 30,40;500,299")
	if err != nil || len(got) != 2 || len(got[0]) != 2 || got[0][1] != [2]int{30, 40} || got[1][0] != [2]int{500, 299} {
		t.Errorf("strokes %v, %v", got, err)
	}
	if got, err := jobs.ParseStrokes(""); got != nil || err != nil {
		t.Errorf("no signature reads as %v, %v", got, err)
	}
	for _, text := range []string{"1", "1,2;", " 1,2", "1,2  3,4", "-1,2", "1001,2", "1,301", "a,b", "1,2,3", "1.5,2", strings.Repeat("1,1 ", 4000) + "1,1", "<script>"} {
		if got, err := jobs.ParseStrokes(text); err == nil {
			t.Errorf("%.20q reads as %v", text, got)
		}
	}
}

// FuzzParseStrokes: whatever is sent, a signature that is taken lies within its field.
func FuzzParseStrokes(f *testing.F) {
	f.Add("10,20 30,40;500,299")
	f.Add(";;,")
	f.Fuzz(func(t *testing.T, text string) {
		all, err := jobs.ParseStrokes(text)
		if err != nil && all != nil {
			t.Fatalf("an error and strokes %v", all)
		}
		for _, line := range all {
			if len(line) == 0 {
				t.Fatal("an empty stroke")
			}
			for _, p := range line {
				if p[0] < 0 || p[0] > jobs.SignatureWide || p[1] < 0 || p[1] > jobs.SignatureHigh {
					t.Fatalf("point %v outside the field", p)
				}
			}
		}
	})
}
