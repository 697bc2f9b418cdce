package store_test

import (
	"database/sql"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	_ "modernc.org/sqlite"

	"newelbook/jobs"
	"newelbook/jobs/store"
)

// damage opens a database behind the store's back, without its rules, and runs statements on it.
func damage(t *testing.T, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, s := range append([]string{"PRAGMA foreign_keys = OFF", "PRAGMA ignore_check_constraints = ON", "PRAGMA writable_schema = OFF"}, statements...) {
		if _, err := db.Exec(s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	b, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, b, 0o600); err != nil {
		t.Fatal(err)
	}
}

// free takes the triggers off a table, which refuse what the damage does, and says how to put them back.
func free(t *testing.T, path string, tables ...string) (drop, restore []string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	rows, err := db.Query("SELECT name, tbl_name, sql FROM sqlite_schema WHERE type = 'trigger'")
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var name, table, text string
		if err := rows.Scan(&name, &table, &text); err != nil {
			t.Fatal(err)
		}
		if slices.Contains(tables, table) {
			drop, restore = append(drop, "DROP TRIGGER "+name), append(restore, text)
		}
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
	return drop, restore
}

// Each case changes one thing in a sound database and must be told of that, and of nothing else. JOB, LAST, READING and
// so on stand for what the sound job has.
func TestCheckFindsDamage(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	sound := filepath.Join(dir, "sound.db")
	s, closeNow := openAt(t, sound)
	x := newSite(t, s)
	x.whole(t)
	other := newSite(t, s) // a second job, in which nothing is ever wrong
	r := x.record(t)
	closeNow()
	reading, superseded := r.Readings[len(r.Readings)-1], r.Readings[1]
	if reading.Supersedes != superseded.ID {
		t.Fatalf("the last reading supersedes %q, want %q", reading.Supersedes, superseded.ID)
	}
	words := strings.NewReplacer("JOB", x.job, "OTHER", other.job, "READING", reading.ID, "OLDER", superseded.ID, "PHOTO", r.Photos[0].ID,
		"LINK", r.Links[0].ID, "DEVIATION", r.Deviations[0].ID, "TICK", r.Ticks[0].ID, "STOCK", r.OnHand[0].ID, "PAPER", r.Papers[0].ID, "RUN", r.Runs[0].ID)
	in := func(table, row, sentence string) store.Finding {
		return store.Finding{Job: x.job, Table: table, Row: words.Replace(row), Sentence: words.Replace(sentence)}
	}
	readings := []string{"readings"}
	events := []string{"events"}
	for _, c := range []struct {
		name   string
		tables []string // whose triggers stand in the way
		sql    []string
		want   []store.Finding
	}{
		{"nothing", nil, nil, nil},

		// A row that was changed.
		{"a verdict column", readings, []string{"UPDATE readings SET verdict = 'good' WHERE id = 'OLDER'"},
			[]store.Finding{in("readings", "OLDER", "The row is not what the events say, in: verdict.")}},
		{"a verdict in a body", readings, []string{"UPDATE readings SET body = json_set(body, '$.result.verdict', 'good') WHERE id = 'OLDER'"},
			[]store.Finding{in("readings", "OLDER", "The row is not what the events say, in: body.")}},
		{"a body that is no JSON", readings, []string{"UPDATE readings SET body = '{' WHERE id = 'OLDER'"},
			[]store.Finding{in("readings", "OLDER", "The row is not what the events say, in: body.")}},
		{"a time", nil, []string{"UPDATE photos SET received_at = '2026-05-04 15:00:00+00:00' WHERE id = 'PHOTO'"},
			[]store.Finding{in("photos", "PHOTO", "The row is not what the events say, in: received_at.")}},
		{"a time that is none", nil, []string{"UPDATE deviations SET opened_at = 'yesterday' WHERE id = 'DEVIATION'"},
			[]store.Finding{in("deviations", "DEVIATION", "The row is not what the events say, in: opened_at.")}},
		{"two columns", nil, []string{"UPDATE links SET expires_at = '2036-01-01 00:00:00+00:00', name = 'C. Sample' WHERE id = 'LINK'"},
			[]store.Finding{in("links", "LINK", "The row is not what the events say, in: expires_at, name.")}},
		{"a row in each of two tables", nil, []string{"UPDATE jobs SET ref = 'S-2' WHERE id = 'JOB'", "UPDATE stages SET closed = 0 WHERE stage = 'framing'"},
			[]store.Finding{in("jobs", "", "The row is not what the events say, in: ref."), in("stages", "framing", "The row is not what the events say, in: closed.")}},
		{"a pack's hash", []string{"packs"}, []string{"UPDATE packs SET hash = replace(hash, substr(hash, 1, 1), 'x')"},
			[]store.Finding{in("packs", "1", "The row is not what the events say, in: hash.")}},

		{"a tick", []string{"ticks"}, []string{"UPDATE ticks SET done = 0 WHERE id = 'TICK'"},
			[]store.Finding{in("ticks", "TICK", "The row is not what the events say, in: done.")}},
		{"a paper that is held to again", nil, []string{"UPDATE papers SET withdrawn_at = NULL, why = '' WHERE id = 'PAPER'"},
			[]store.Finding{in("papers", "PAPER", "The row is not what the events say, in: why, withdrawn_at.")}},
		{"the file of a paper", nil, []string{"UPDATE papers SET media = replace(media, 'a', 'b') WHERE id = 'PAPER'"},
			[]store.Finding{in("papers", "PAPER", "The row is not what the events say, in: media.")}},
		{"a paper taken out", []string{"papers"}, []string{"DELETE FROM papers WHERE id = 'PAPER'"},
			[]store.Finding{in("papers", "PAPER", "The events have a row here and the table has none.")}},
		{"stock on hand", nil, []string{"UPDATE on_hand SET count = 9, length_nm = 5 WHERE id = 'STOCK'"},
			[]store.Finding{in("on_hand", "STOCK", "The row is not what the events say, in: count, length_nm.")}},

		// A row too few or too many.
		{"a tick taken away", []string{"ticks"}, []string{"DELETE FROM ticks WHERE id = 'TICK'"},
			[]store.Finding{in("ticks", "TICK", "The events have a row here and the table has none.")}},
		{"a reading taken away", readings, []string{"DELETE FROM readings WHERE id = 'READING'"},
			[]store.Finding{in("readings", "READING", "The events have a row here and the table has none.")}},
		{"a diary page taken away", []string{"diary_pages"}, []string{"DELETE FROM diary_pages"},
			[]store.Finding{in("diary_pages", "2026-05-04", "The events have a row here and the table has none.")}},
		{"a cover put in", nil, []string{"INSERT INTO stages SELECT job_id, 'rails', closed, at, by_id, by_name, by_role, deviations, reason, version, first_seq, 1 FROM stages"},
			[]store.Finding{in("stages", "rails", "No event accounts for this row.")}},

		// The chain.
		{"a payload byte", events, []string{"UPDATE events SET payload = replace(payload, 'The rail is chipped.', 'The rail is chopped.') WHERE type = 'deviation.changed'"},
			[]store.Finding{in("events", "", "The content of event N (deviation.changed) was changed.")}},
		{"a time in a header", events, []string{"UPDATE events SET at = '2026-05-04 15:00:00+00:00' WHERE type = 'run.covered'"},
			[]store.Finding{in("events", "", "The header of event N (run.covered) was changed.")}},
		{"an actor in a header", events, []string{"UPDATE events SET actor_name = 'Somebody' WHERE type = 'run.covered'"},
			[]store.Finding{in("events", "", "The header of event N (run.covered) was changed.")}},
		{"an event taken away", events, []string{"DELETE FROM events WHERE job_id = 'JOB' AND seq = 3"},
			[]store.Finding{in("events", "", "Event 4 stands where event 3 should.")}},
		{"two events swapped", events, []string{
			"UPDATE events SET seq = 1003 WHERE job_id = 'JOB' AND seq = 3", "UPDATE events SET seq = 3 WHERE job_id = 'JOB' AND seq = 4",
			"UPDATE events SET seq = 4 WHERE job_id = 'JOB' AND seq = 1003"},
			[]store.Finding{in("events", "", "Event 3 does not follow from the event before it."), in("events", "", "Event 4 does not follow from the event before it."),
				in("events", "", "Event 5 does not follow from the event before it.")}},
		{"an event's time that is none", events, []string{"UPDATE events SET at = 'yesterday' WHERE job_id = 'JOB' AND seq = 3"},
			[]store.Finding{in("events", "", `It cannot be read: events of job JOB: sql: Scan error on column index 3, name "at": unsupported Scan, storing driver.Value type string into type *time.Time.`)}},
		// A cut chain is whole in itself: the row that it leaves behind shows it.
		{"the last event taken away", events, []string{"DELETE FROM events WHERE job_id = 'JOB' AND seq = (SELECT max(seq) FROM events WHERE job_id = 'JOB')"},
			[]store.Finding{in("links", r.Links[1].ID, "The row is not what the events say, in: revoked_at, seq.")}},
		{"the whole chain taken away", events, []string{"DELETE FROM events WHERE job_id = 'OTHER'"},
			[]store.Finding{{Job: other.job, Table: "jobs", Sentence: "No event accounts for this row."}}},

		// What stands beside the jobs.
		{"a session of nobody", nil, []string{"INSERT INTO sessions VALUES (hex(zeroblob(32)), x'', '2026-05-04 15:00:00+00:00', 'nobody', 0)"},
			[]store.Finding{{Table: "sessions", Sentence: "It refers to a row of accounts that is not there."}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			path := filepath.Join(t.TempDir(), "damaged.db")
			copyFile(t, sound, path)
			drop, restore := free(t, path, c.tables...)
			statements := drop
			for _, s := range c.sql {
				statements = append(statements, words.Replace(s))
			}
			damage(t, path, append(statements, restore...)...)
			s, _ := openAt(t, path)
			got := findings(t, s)
			for i := range got {
				got[i].Sentence = unnumbered(got[i].Sentence, c.want, i)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("CheckChains found\n%+v\nwant\n%+v", got, c.want)
			}
		})
	}
}

// unnumbered puts N for the number of an event where the wanted sentence has N.
func unnumbered(sentence string, want []store.Finding, i int) string {
	if i >= len(want) || !strings.Contains(want[i].Sentence, "event N ") {
		return sentence
	}
	before, after, ok := strings.Cut(sentence, "event ")
	_, after, ok2 := strings.Cut(after, " ")
	if !ok || !ok2 {
		return sentence
	}
	return before + "event N " + after
}

// Somebody who can write the file can also seal a false event anew. Then the chain is whole in itself, and the row shows it.
func TestCheckFindsResealedEvent(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "resealed.db")
	s, closeNow := openAt(t, path)
	x := newSite(t, s)
	x.whole(t)
	var events []jobs.Event
	if err := s.View(t.Context(), func(tx jobs.Tx) (err error) {
		events, err = tx.Events(x.job, 1)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	link := x.record(t).Links[1]
	closeNow()
	last := events[len(events)-1]
	forged := last
	forged.Payload = strings.Replace(last.Payload, "B. Sample", "C. Sample", 1)
	forged = forged.Seal(events[len(events)-2].Head())
	drop, restore := free(t, path, "events")
	damage(t, path, drop...)
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec("UPDATE events SET payload = ?, digest = ?, hash = ? WHERE job_id = ? AND seq = ?", forged.Payload, forged.Digest, forged.Hash, x.job, last.Seq); err != nil {
		t.Fatal(err)
	}
	damage(t, path, restore...)
	s, _ = openAt(t, path)
	want := []store.Finding{{Job: x.job, Table: "links", Row: link.ID, Sentence: "The row is not what the events say, in: name."}}
	if got := findings(t, s); !slices.Equal(got, want) {
		t.Errorf("CheckChains found\n%+v\nwant\n%+v", got, want)
	}
}

// A page of the file that was overwritten is told of as such, and nothing is read out of it.
func TestCheckFindsBrokenFile(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "broken.db")
	s, closeNow := openAt(t, path)
	x := newSite(t, s)
	x.whole(t)
	closeNow()
	var root int
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.QueryRow("SELECT rootpage FROM sqlite_schema WHERE name = 'readings'").Scan(&root); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteAt(make([]byte, 4096), int64(root-1)*4096); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	s, _ = openAt(t, path)
	got := findings(t, s)
	if len(got) == 0 {
		t.Fatal("CheckChains found nothing wrong with a broken file")
	}
	for _, f := range got {
		if f.Job != "" || !strings.HasPrefix(f.Sentence, "The database file is damaged: ") {
			t.Errorf("found %+v, want the file alone", f)
		}
	}
}

// The rules that the schema itself holds, whoever writes.
func TestSchemaRefuses(t *testing.T) {
	path := filepath.Join(t.TempDir(), "newelbook.db")
	s, _ := openAt(t, path)
	x := newSite(t, s)
	x.whole(t)
	db, err := sql.Open("sqlite", path+"?_pragma=foreign_keys(1)")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, statement := range []string{
		// Written once.
		"UPDATE events SET type = 'x'", "DELETE FROM events", "UPDATE readings SET verdict = 'good'", "DELETE FROM readings",
		"UPDATE layouts SET basis = 'x'", "DELETE FROM layouts", "UPDATE packs SET purpose = 'x'", "DELETE FROM packs",
		"UPDATE answers SET text = 'x'", "DELETE FROM answers",
		// Never deleted.
		"DELETE FROM jobs", "DELETE FROM runs", "DELETE FROM photos", "DELETE FROM deviations", "DELETE FROM stages", "DELETE FROM covered",
		"DELETE FROM diary_pages", "DELETE FROM links",
		// Words, forms and references.
		"UPDATE deviations SET state = 'forgotten'", "UPDATE deviations SET state = 'open'", "UPDATE deviations SET reason = '' WHERE state = 'accepted'",
		"UPDATE photos SET media = 'abc'", "UPDATE photos SET number = 1", "UPDATE photos SET place_run_id = 'none'", "UPDATE photos SET place_run_id = NULL",
		"UPDATE runs SET position = 1", "UPDATE runs SET kind = 'curved'", "UPDATE runs SET seq = 9999", "UPDATE jobs SET lat = 91", "UPDATE jobs SET body = '{'",
		"UPDATE links SET pack = 9", "UPDATE links SET for_role = 'builder'", "UPDATE diary_pages SET day = 'Monday'", "UPDATE covered SET run_id = 'none'",
		"INSERT INTO accounts VALUES ('a', 'n', 'Upper', '', 'crew', 0, '2026-05-04', 1)", "INSERT INTO accounts VALUES ('a', 'n', 'low', '', 'owner', 0, '2026-05-04', 1)",
	} {
		if _, err := db.Exec(statement); err == nil {
			t.Errorf("the schema took %s", statement)
		}
	}
	if err := s.View(t.Context(), func(tx jobs.Tx) error { _, err := tx.Load(x.job); return err }); err != nil {
		t.Error(err)
	}
	x.agree(t)
}
