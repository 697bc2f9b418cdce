package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"newelbook/views/pack"
)

// TestStrangersQuestions asks the demonstration's handover pack, of its PDF alone, what an inspector, an owner or whoever comes ten years
// later would ask. Each answer stands in the text that a person can read, search and copy; ids, hashes and times are left open.
func TestStrangersQuestions(t *testing.T) {
	last := handedOver(t)
	reader := tool(t, "pdftotext")
	text := map[pack.Edition]string{}
	for _, e := range []pack.Edition{pack.OwnerEdition, pack.InspectorEdition} {
		path := filepath.Join(last, string(e)+".pdf")
		if _, err := os.Stat(path); err != nil {
			t.Fatal(err)
		}
		out, err := exec.CommandContext(t.Context(), reader, "-raw", path, "-").Output()
		if err != nil {
			t.Fatalf("pdftotext of the %s's edition: %v", e, err)
		}
		text[e] = strings.Join(strings.Fields(string(out)), " ")
	}
	for _, q := range []struct {
		in     pack.Edition
		ask    string
		answer string
	}{
		{pack.InspectorEdition, "Under which permit was it built, and whose is the site?", `Permit ML-2026-0418`},
		{pack.InspectorEdition, "Held to which code, and which edition?", `International Residential Code, 2018`},
		{pack.InspectorEdition, "Which reading cannot be told from its limit, and by how much?", `R2-B1 Widest gap in the bay 3 15/16″ too close to call: 3 15/16″ is under 4″ by 1/16″`},
		{pack.InspectorEdition, "What fixes the first post, and who saw it?", `R1-P1 2 bolts of 1/2″ through the framing; upper 2 1/4″ below the top, lower 2 1/4″ above the underside stainless .{0,60}tension tie`},
		{pack.InspectorEdition, "Was the framing inspected before it was covered, by whom and when?", `Inspected before it was covered, as claimed\. R\. Quill \(invented\), Town of Marl Landing.{0,120}accepted.{0,80}2026`},
		{pack.InspectorEdition, "When was R1 decked over, and by whom?", `R1 6 May 2026, by Jo Lind \(invented\)`},
		{pack.InspectorEdition, "How far down is it from R1, and where was that measured?", `49 1/2″ 144″ from the datum, at the edge`},
		{pack.InspectorEdition, "What did this builder neither build nor check?", `ledger.{0,60}beams, columns and footings`},
		{pack.InspectorEdition, "What was accepted off the layout, by whom and why?", `Ines Tarrow \(invented\): Seen on site by the owner: the cap follows a bow in the board`},
		{pack.InspectorEdition, "Who answered for the removable length?", `Acknowledged by accepting pack [0-9]+\. Accepted by the authority over pack [0-9]+`},
		{pack.InspectorEdition, "What failed its limit, and was it put right and measured again?", `Upper bolt below the top of the framing: 1 1/2″ is not at least 2″ .{0,300}Put right and measured again: 2 1/4″`},
		{pack.InspectorEdition, "How large a ball passes under the rail of the stair?", `Largest ball through the triangle of riser, tread and bottom rail 5 25/64″, rounded up`},
		{pack.InspectorEdition, "Can a hand close around the handrail, by which figure?", `The separate handrail, round, measures 1 1/2″ across, figure at least 1 1/4″ \(R311\.7\.8\.3`},
		{pack.InspectorEdition, "Which record was this made from?", `SHA-256 of record\.json [0-9a-f]{64} Head of the chain, event [0-9]+ [0-9a-f]{64}`},
		{pack.OwnerEdition, "Whom do I call?", `Maren Holt, ring the yard between 7 and 8`},
		{pack.OwnerEdition, "Which length lifts out, and why?", `R4 is a removable length, because: the kiln for the owner's pottery is craned onto the deck`},
		{pack.OwnerEdition, "How does the removable length come out?", `Lift it straight up by [0-9 /]+″ until it clears its sleeves`},
		{pack.OwnerEdition, "How heavy is it?", `weighs about [0-9]+ lb \([0-9]+ kg\)`},
		{pack.OwnerEdition, "What must I do every year?", `every year`},
		{pack.OwnerEdition, "What must I never do?", `Never climb|never climb`},
	} {
		if !regexp.MustCompile(q.answer).MatchString(text[q.in]) {
			t.Errorf("the %s's edition does not answer %q: nothing in its text fits %q", q.in, q.ask, q.answer)
		}
	}
}

// handedOver is the payload of the demonstration's last pack.
func handedOver(t *testing.T) string {
	t.Helper()
	dir, err := seeded()
	if err != nil {
		t.Fatal(err)
	}
	found, err := filepath.Glob(filepath.Join(dir, packsFolder, "*", "*", "data"))
	if err != nil || len(found) == 0 {
		t.Fatalf("no pack in the demonstration: %v", err)
	}
	return found[len(found)-1] // numbers are the beginnings of their names, and there are fewer than ten
}

// TestInspectorCarriesRecord takes the record out of the inspector's PDF with poppler: it is the one beside it, and its hash stands on
// the page.
func TestInspectorCarriesRecord(t *testing.T) {
	last, out := handedOver(t), filepath.Join(t.TempDir(), "record.json")
	path := filepath.Join(last, pack.InspectorEdition.PDF())
	if text, err := exec.CommandContext(t.Context(), tool(t, "pdfdetach"), "-save", "1", "-o", out, path).CombinedOutput(); err != nil {
		t.Fatalf("pdfdetach: %v\n%s", err, text)
	}
	within, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	beside, err := os.ReadFile(filepath.Join(last, "record.json"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(within, beside) {
		t.Error("the record within the PDF is not the one beside it")
	}
	text, err := exec.CommandContext(t.Context(), tool(t, "pdftotext"), "-raw", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	if hash := fmt.Sprintf("%x", sha256.Sum256(within)); !bytes.Contains(text, []byte(hash)) {
		t.Errorf("the hash of the record within, %s, does not stand on the page", hash)
	}
}

// TestRecordFitsItsSchema holds the demonstration's record to the schema beside it, by a validator that shares nothing with the schema's
// maker: the job of every kind of run, reading and answer.
func TestRecordFitsItsSchema(t *testing.T) {
	last := handedOver(t)
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join(last, "record.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	body, err := os.Open(filepath.Join(last, "record.json"))
	if err != nil {
		t.Fatal(err)
	}
	defer body.Close()
	record, err := jsonschema.UnmarshalJSON(body)
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(record); err != nil {
		t.Errorf("record.json: %v", err)
	}
}
