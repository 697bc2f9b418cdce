package checklist_test

import (
	"encoding/csv"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const (
	valuesFile = "../testdata/check-values.csv"
	provedFile = "../testdata/proved.txt"
)

// mapping is what proved.txt says of the check values: the tests that prove each, or why it is not proved.
type mapping struct {
	proved    map[string][]proof
	remaining map[string]string
}

// proof is one test function, by its package's folder in the module.
type proof struct{ folder, test string }

// readMapping reads lines of "proved ID folder TestName" and "remaining ID reason"; # starts a comment line. All that is
// wrong with it is returned, one line each.
func readMapping(text string) (mapping, []string) {
	m := mapping{proved: map[string][]proof{}, remaining: map[string]string{}}
	var faults []string
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		words := strings.Fields(line)
		switch {
		case words[0] == "proved" && len(words) == 4:
			p := proof{folder: words[2], test: words[3]}
			if slices.Contains(m.proved[words[1]], p) {
				faults = append(faults, fmt.Sprintf("line %d says the same twice: %s", i+1, line))
			}
			m.proved[words[1]] = append(m.proved[words[1]], p)
		case words[0] == "remaining" && len(words) > 2:
			if m.remaining[words[1]] != "" {
				faults = append(faults, fmt.Sprintf("line %d: %s is remaining twice", i+1, words[1]))
			}
			m.remaining[words[1]] = strings.Join(words[2:], " ")
		default:
			faults = append(faults, fmt.Sprintf("line %d is neither proved nor remaining: %s", i+1, line))
		}
	}
	return m, faults
}

// faults compares the mapping with the ids of the check values and with the module's tests.
func (m mapping) faults(ids []string, tests map[proof][]string) []string {
	var faults []string
	for _, id := range ids {
		_, remains := m.remaining[id]
		switch proofs := m.proved[id]; {
		case len(proofs) > 0 && remains:
			faults = append(faults, id+" is both proved and remaining")
		case len(proofs) == 0 && !remains:
			faults = append(faults, id+" is neither proved nor remaining")
		}
	}
	for id, proofs := range m.proved {
		if !slices.Contains(ids, id) {
			faults = append(faults, id+" is proved but is no check value")
		}
		for _, p := range proofs {
			if literals, ok := tests[p]; !ok {
				faults = append(faults, fmt.Sprintf("%s: %s has no test %s", id, p.folder, p.test))
			} else if !slices.Contains(literals, id) {
				faults = append(faults, fmt.Sprintf("%s: %s in %s never names it", id, p.test, p.folder))
			}
		}
	}
	for id := range m.remaining {
		if !slices.Contains(ids, id) {
			faults = append(faults, id+" is remaining but is no check value")
		}
	}
	slices.Sort(faults)
	return faults
}

var rowID = regexp.MustCompile(`^[A-G][0-9]{2}$`)

// rowIDs returns the ids of check values that stand as whole string literals in a test's source.
func rowIDs(body ast.Node) []string {
	var ids []string
	ast.Inspect(body, func(n ast.Node) bool {
		if literal, ok := n.(*ast.BasicLit); ok && literal.Kind == token.STRING {
			if text, err := strconv.Unquote(literal.Value); err == nil && rowID.MatchString(text) {
				ids = append(ids, text)
			}
		}
		return true
	})
	return ids
}

// moduleTests returns every test function of the module with the row ids that its source names.
func moduleTests(t *testing.T) map[proof][]string {
	t.Helper()
	tests := map[proof][]string{}
	err := filepath.WalkDir("..", func(path string, entry os.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && (strings.HasPrefix(entry.Name(), ".") && entry.Name() != ".." || entry.Name() == "testdata"):
			return filepath.SkipDir
		case entry.IsDir() || !strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		folder := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), ".."+string(filepath.Separator)))
		for _, decl := range file.Decls {
			if f, ok := decl.(*ast.FuncDecl); ok && f.Recv == nil && strings.HasPrefix(f.Name.Name, "Test") {
				tests[proof{folder, f.Name.Name}] = rowIDs(f.Body)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return tests
}

// valueIDs reads the ids of the check values.
func valueIDs(t *testing.T) []string {
	t.Helper()
	file, err := os.Open(valuesFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, row := range rows[1:] {
		if !rowID.MatchString(row[0]) || slices.Contains(ids, row[0]) {
			t.Errorf("%s: the id %q is malformed or stands twice", valuesFile, row[0])
		}
		ids = append(ids, row[0])
	}
	return ids
}

// Each check value of the trade is proved by a test whose source names its id, or is listed as remaining with a reason. That
// the named tests pass is for the test run itself: this only holds that none is claimed without one. Run with -v for the lists.
func TestCheckValues(t *testing.T) {
	text, err := os.ReadFile(provedFile)
	if err != nil {
		t.Fatal(err)
	}
	m, faults := readMapping(string(text))
	ids := valueIDs(t)
	for _, fault := range append(faults, m.faults(ids, moduleTests(t))...) {
		t.Error(fault)
	}
	for _, id := range ids {
		for _, p := range m.proved[id] {
			t.Logf("proved    %s by %s.%s", id, p.folder, p.test)
		}
	}
	for _, id := range ids {
		if reason, ok := m.remaining[id]; ok {
			t.Logf("remaining %s: %s", id, reason)
		}
	}
	t.Logf("%d of %d proved, %d remaining", len(m.proved), len(ids), len(m.remaining))
}

// The harness itself notices what it is there for.
func TestMappingNoticesDamage(t *testing.T) {
	ids := []string{"A01", "A02"}
	tests := map[proof][]string{{"checklist", "TestOne"}: {"A01"}, {"checklist", "TestTwo"}: nil}
	for _, tt := range []struct{ name, text, want string }{
		{"sound", "# note\nproved A01 checklist TestOne\nremaining A02 no such rule set\n", ""},
		{"unknown id proved", "proved A01 checklist TestOne\nremaining A02 why\nproved A09 checklist TestOne", "A09 is proved but is no check value; A09: TestOne in checklist never names it"},
		{"unknown id remaining", "proved A01 checklist TestOne\nremaining A02 why\nremaining A09 why", "A09 is remaining but is no check value"},
		{"no such test", "proved A01 checklist TestThree\nremaining A02 why", "A01: checklist has no test TestThree"},
		{"the test names another", "proved A01 checklist TestOne\nproved A02 checklist TestTwo", "A02: TestTwo in checklist never names it"},
		{"left out", "proved A01 checklist TestOne", "A02 is neither proved nor remaining"},
		{"both", "proved A01 checklist TestOne\nremaining A01 why\nremaining A02 why", "A01 is both proved and remaining"},
		{"remaining without a reason", "proved A01 checklist TestOne\nremaining A02", "line 2 is neither proved nor remaining: remaining A02; A02 is neither proved nor remaining"},
		{"twice", "proved A01 checklist TestOne\nproved A01 checklist TestOne\nremaining A02 why", "line 2 says the same twice: proved A01 checklist TestOne"},
	} {
		m, faults := readMapping(tt.text)
		if got := strings.Join(append(faults, m.faults(ids, tests)...), "; "); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}
