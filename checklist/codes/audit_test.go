package codes_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/codes"
)

// tradeNotes is the text of the notes on the rules of the trade, which lie beside the checkout. Without them the test skips,
// unless they are asked for.
func tradeNotes(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "shared", "trade", "rules.md"))
	if errors.Is(err, fs.ErrNotExist) {
		if os.Getenv("NEWELBOOK_REQUIRE_SHARED") != "" {
			t.Fatalf("%v, and NEWELBOOK_REQUIRE_SHARED is set", err)
		}
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// noteRows are the rows of the tables of the notes, by the number of their section ("1.1", "2.").
func noteRows(text string) map[string][]string {
	rows := map[string][]string{}
	section := ""
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "#"):
			section, _, _ = strings.Cut(strings.TrimLeft(line, "# "), " ")
		case strings.HasPrefix(line, "|") && !strings.HasPrefix(line, "|-"):
			rows[section] = append(rows[section], line)
		}
	}
	return rows
}

// auditLine is one line of testdata/audit.txt.
type auditLine struct {
	set, key, section, row, words string
	worked                        string // how the figure was worked out of the words; empty where they write it
}

func auditLines(t *testing.T) []auditLine {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "audit.txt"))
	if err != nil {
		t.Fatal(err)
	}
	groups := map[string][]string{
		"irc": {"irc-2018", "irc-2021", "irc-2024"}, "us": {"irc-2018", "irc-2021", "irc-2024", "california-residential"}, "canada": {"nbc-2020", "ontario-9.8"},
	}
	var lines []auditLine
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, " | ")
		if len(cells) == 5 {
			cells = append(cells, "")
		}
		if len(cells) != 6 {
			t.Fatalf("audit.txt: %q has %d parts, want 5 or 6", line, len(cells))
		}
		sets, ok := groups[cells[0]]
		if !ok {
			sets = strings.Split(cells[0], ",")
		}
		for _, set := range sets {
			lines = append(lines, auditLine{set, cells[1], cells[2], cells[3], cells[4], cells[5]})
		}
	}
	return lines
}

// auditedSet is a rule set, or the practice beside them, by its id.
func auditedSet(t *testing.T, id string) codes.RuleSet {
	t.Helper()
	if id == codes.Reference().ID {
		return codes.Reference()
	}
	return ruleSet(t, id)
}

var (
	joinedFraction = regexp.MustCompile(`(\d)-(\d+/\d+)`)
	thousandsComma = regexp.MustCompile(`(\d),(\d{3})`)
	valueNumber    = regexp.MustCompile(`^(?:\d+ ft \d+|\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)`)
)

// asData writes a text of the notes as the data write figures: 7-3/4 as 7 3/4, 1,070 as 1070.
func asData(text string) string {
	return thousandsComma.ReplaceAllString(joinedFraction.ReplaceAllString(text, "$1 $2"), "$1$2")
}

// numbers are the ways in which the notes may write the number of a figure.
func numbers(t *testing.T, f codes.Figure) []string {
	t.Helper()
	text := asData(f.Text)
	if f.Kind == codes.KindRatio {
		return []string{text, strings.Replace(text, " in ", ":", 1)}
	}
	n := valueNumber.FindString(text)
	if n == "" {
		t.Fatalf("%s: no number in %q", f.Key, f.Text)
	}
	all := []string{n}
	if whole, ok := strings.CutSuffix(n, " 1/2"); ok {
		all = append(all, whole+".5")
	}
	if f.Kind == codes.KindLength && f.Value%(100*mm) == 0 { // metres
		all = append(all, strings.TrimSuffix(fmt.Sprintf("%.1f", float64(f.Value)/float64(1000*mm)), ".0"))
	}
	return all
}

// holdsNumber says whether the words have the number as a whole one, not as a part of another.
func holdsNumber(words, number string) bool {
	return regexp.MustCompile(`(^|[^\d./])`+regexp.QuoteMeta(number)+`($|[^\d./]|[./]($|[^\d])|/\d)`).MatchString(words) ||
		regexp.MustCompile(`/`+regexp.QuoteMeta(number)+`(/| )`).MatchString(words) // in a list 30/23/18
}

// saidBound is the bound that the words state in so many words; empty where they do not.
func saidBound(words string) codes.Bound {
	switch {
	case strings.Contains(words, ">="), strings.Contains(words, "or more"):
		return codes.AtLeast
	case strings.Contains(words, "<="):
		return codes.AtMost
	}
	return ""
}

// better says whether a standing claims more than the row has seen.
func better(standing codes.Standing, row string) bool {
	official, secondary := strings.Contains(row, string(codes.OfficialText)), strings.Contains(row, string(codes.SecondaryText))
	switch standing {
	case codes.OfficialText:
		return !official
	case codes.SecondaryText:
		return !official && !secondary
	}
	return false
}

// Every figure of the data is held to the row of the notes that it was taken from.
func TestAudit(t *testing.T) {
	rows := noteRows(tradeNotes(t))
	audited := 0
	for _, line := range auditLines(t) {
		name := line.set + " " + line.key
		f, found := auditedSet(t, line.set).Figure(line.key)
		if !found {
			t.Errorf("%s: audited, but there is no such figure", name)
			continue
		}
		i := slices.IndexFunc(rows[line.section], func(row string) bool {
			return strings.HasPrefix(strings.TrimSpace(strings.TrimPrefix(row, "|")), line.row) && strings.Contains(row, line.words)
		})
		if i < 0 {
			t.Errorf("%s: no row %q of section %s says %q", name, line.row, line.section, line.words)
			continue
		}
		row := rows[line.section][i]
		audited++
		if better(f.Standing, row) {
			t.Errorf("%s claims %q, which its row has not: %s", name, f.Standing, row)
		}
		if f.Kind == codes.KindText || line.worked != "" {
			continue
		}
		words := asData(line.words)
		if !slices.ContainsFunc(numbers(t, f), func(n string) bool { return holdsNumber(words, n) }) {
			t.Errorf("%s is %s, and its row says %q", name, f.Text, line.words)
		}
		if b := saidBound(words); b != "" && b != f.Bound {
			t.Errorf("%s is %q the figure, and its row says %q", name, f.Bound, line.words)
		}
	}
	if audited < 300 {
		t.Errorf("%d figures were audited, want most of them", audited)
	}
}

// What the notes do not have is marked as from memory (or, beside the rule sets, as common practice), whoever remembers it.
func TestWhatTheNotesLackIsFromMemory(t *testing.T) {
	has := map[string]bool{}
	for _, line := range auditLines(t) {
		has[line.set+" "+line.key] = true
	}
	for _, set := range append(codes.All(), codes.Reference()) {
		for _, f := range set.Figures {
			if !has[set.ID+" "+f.Key] && f.Standing != codes.Memory && f.Standing != codes.CommonPractice {
				t.Errorf("%s %s is marked %q, and audit.txt names no row for it", set.ID, f.Key, f.Standing)
			}
		}
	}
}

// The audit itself notices a wrong number, a wrong bound and a standing that claims too much.
func TestAuditNotices(t *testing.T) {
	for _, tt := range []struct {
		words, number string
		want          bool
	}{
		{"more than 30 in", "30", true}, {"more than 30 in", "3", false}, {"more than 30 in", "0", false}, {"1.2 m", "2", false}, {"0.75 kN/m", "0.5", false},
		{"lags 30/23/18/15 in", "23", true}, {"lags 30/23/18/15 in", "3", false}, {"lags 30/23/18/15 in", "15", true}, {"perimeter 4 to 6 1/4 in", "6 1/4", true}, {"150-190 / 250-400", "190", true},
		{"1:20 slope splits", "1:20", true}, {"on 1 sq ft", "1", true}, {"0.5 kN/m or 1.0 kN point", "1.0", true},
	} {
		if got := holdsNumber(tt.words, tt.number); got != tt.want {
			t.Errorf("%q holds %s: %t, want %t", tt.words, tt.number, got, tt.want)
		}
	}
	for _, tt := range []struct {
		standing codes.Standing
		row      string
		want     bool
	}{
		{codes.OfficialText, "| x | official text |", false}, {codes.OfficialText, "| x | secondary text |", true}, {codes.OfficialText, "| x | memory |", true},
		{codes.SecondaryText, "| x | secondary text |", false}, {codes.SecondaryText, "| x | memory |", true}, {codes.Memory, "| x | memory |", false},
	} {
		if got := better(tt.standing, tt.row); got != tt.want {
			t.Errorf("%s over %s: %t, want %t", tt.standing, tt.row, got, tt.want)
		}
	}
	if saidBound(">= 36 in") != codes.AtLeast || saidBound("<= 42 deg") != codes.AtMost || saidBound("1 m or more") != codes.AtLeast || saidBound("4 in sphere") != "" {
		t.Error("a bound in words is not read")
	}
}
