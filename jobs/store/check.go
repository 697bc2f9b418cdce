package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"newelbook/jobs"
)

// Finding is one thing that the check found wrong. Sentence is a finished sentence.
type Finding struct {
	Job      string // id; empty where it is the file itself
	Table    string
	Row      string // the row's key within its job, parts joined by a space
	Sentence string
}

// CheckChains looks for damage, in the file, in each job's chain and in the job tables, and lists all that it finds.
// The tables are made again from the events in an empty database at scratchPath, which must not exist and is removed
// afterwards, and compared row by row. The store may serve meanwhile: the check sees one snapshot.
//
// A consequence is not reported beside its cause: the tables of a job are not compared while its chain is broken, nor its
// record with its events while a row is wrong. An error means that the check could not be made, not that it found something.
func (s *Store) CheckChains(ctx context.Context, scratchPath string) (findings []Finding, err error) {
	if _, err := os.Lstat(scratchPath); !errors.Is(err, fs.ErrNotExist) {
		return nil, errors.Join(fmt.Errorf("check: scratch database %s: %w", scratchPath, fs.ErrExist), err)
	}
	scratch, err := Open(ctx, scratchPath, s.opt)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("check: scratch database: %w", err), removeDatabase(scratchPath))
	}
	defer func() { err = errors.Join(err, scratch.Close(), removeDatabase(scratchPath)) }()

	c := &check{fresh: scratch, found: map[string]bool{}}
	err = s.View(ctx, func(held jobs.Tx) error {
		c.held = held.(*tx)
		return c.run(ctx)
	})
	if err != nil && !errors.Is(err, errBrokenFile) {
		return nil, fmt.Errorf("check: %w", err)
	}
	return c.findings, nil
}

// errBrokenFile ends a check whose findings say that the file is broken: its rows say nothing about the record.
var errBrokenFile = errors.New("broken database file")

// removeDatabase removes a closed database with the files that SQLite may have left beside it.
func removeDatabase(path string) error {
	var errs []error
	for _, suffix := range []string{"", "-wal", "-shm"} {
		if err := os.Remove(path + suffix); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	return errors.Join(errs...)
}

// check is one check under way: the database held against a fresh one made from its events.
type check struct {
	held     *tx
	fresh    *Store
	events   []jobs.Event // of the job that is being looked at
	findings []Finding
	found    map[string]bool // jobs with a finding
}

func (c *check) say(f Finding) {
	c.findings = append(c.findings, f)
	c.found[f.Job] = true
}

func (c *check) run(ctx context.Context) error {
	if err := c.file(); err != nil {
		return err
	}
	ids, err := c.jobs()
	if err != nil {
		return err
	}
	for _, id := range ids {
		for _, step := range []func(context.Context, string) error{c.chain, c.tables, c.record} {
			if err := step(ctx, id); err != nil {
				return fmt.Errorf("job %s: %w", id, err)
			}
			if c.found[id] {
				break
			}
		}
	}
	return c.references()
}

// file asks SQLite whether the file is whole: errBrokenFile where it is not. On a read-only connection SQLite leaves CHECK
// constraints out of it; the comparison of rows finds what they would have found.
func (c *check) file() error {
	var lines []string
	if err := c.held.db.Raw("PRAGMA integrity_check").Scan(&lines).Error; err != nil {
		if code, ok := errorCode(err); !ok || code&0xff != 11 && code&0xff != 26 { // SQLITE_CORRUPT, SQLITE_NOTADB
			return err
		}
		lines = append(lines, err.Error())
	}
	if len(lines) == 1 && lines[0] == "ok" {
		return nil
	}
	for line := range strings.Lines(strings.Join(lines, "\n")) {
		if line = strings.TrimSpace(line); !strings.HasPrefix(line, "***") { // the heading of a database
			c.say(Finding{Sentence: "The database file is damaged: " + line + "."})
		}
	}
	return errBrokenFile
}

// jobs lists the id of every job that any table names.
func (c *check) jobs() ([]string, error) {
	parts := []string{"SELECT job_id AS id FROM events"}
	for _, t := range jobTables() {
		parts = append(parts, "SELECT "+t.job+" FROM "+t.name)
	}
	var ids []string
	err := c.held.db.Raw(strings.Join(parts, " UNION ") + " ORDER BY id").Scan(&ids).Error
	return ids, err
}

// chain verifies a job's chain and writes it into the fresh database. A job that only the job tables know has no events.
func (c *check) chain(ctx context.Context, jobID string) (err error) {
	if c.events, err = c.held.Events(jobID, 1); err != nil && !errors.Is(err, jobs.ErrNotFound) {
		return c.unreadable(Finding{Job: jobID, Table: "events"}, err)
	}
	for _, fault := range jobs.VerifyChain(c.events) {
		c.say(Finding{Job: jobID, Table: "events", Sentence: fault})
	}
	if c.found[jobID] {
		return nil
	}
	err = c.fresh.Update(ctx, func(fresh jobs.Tx) error {
		for _, e := range c.events {
			if err := fresh.Append(e); err != nil {
				return err
			}
		}
		return nil
	})
	return c.unreadable(Finding{Job: jobID, Table: "events"}, err)
}

// unreadable turns an error that the data themselves brought about into a finding, and leaves others as they are.
func (c *check) unreadable(f Finding, err error) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	if code, ok := errorCode(err); ok && !slices.Contains([]int{11, 19, 20}, code&0xff) { // SQLITE_CORRUPT, _CONSTRAINT, _MISMATCH
		return err
	}
	f.Sentence = "It cannot be read: " + strings.TrimSuffix(err.Error(), ".") + "."
	c.say(f)
	return nil
}

// record compares a job's record as loaded from the tables with the one that its events replay to.
func (c *check) record(_ context.Context, jobID string) error {
	replayed, err := jobs.Replay(c.events)
	if err != nil {
		return c.unreadable(Finding{Job: jobID, Table: "events"}, err)
	}
	loaded, err := c.held.Load(jobID)
	if err != nil {
		return c.unreadable(Finding{Job: jobID}, err)
	}
	want, err := json.Marshal(replayed)
	if err != nil {
		return err
	}
	got, err := json.Marshal(loaded)
	if err != nil {
		return err
	}
	if !bytes.Equal(want, got) {
		c.say(Finding{Job: jobID, Sentence: "The record that the tables give is not the one that the events give."})
	}
	return nil
}

// references reports references between rows that lead nowhere, for jobs in which nothing else was found.
func (c *check) references() error {
	var broken []struct {
		Table, Parent string
		Rowid         sql.NullInt64
	}
	if err := c.held.db.Raw("PRAGMA foreign_key_check").Scan(&broken).Error; err != nil {
		return err
	}
	had := map[string]bool{}
	for id := range c.found {
		had[id] = true
	}
	for _, b := range broken {
		f := Finding{Table: b.Table, Sentence: fmt.Sprintf("It refers to a row of %s that is not there.", b.Parent)}
		if t, ok := jobTableNamed(b.Table); ok {
			key, err := c.keyOf(t, b.Rowid.Int64)
			if err != nil {
				return err
			}
			f.Job, f.Row = key[0], strings.Join(key[1:], " ")
		}
		if !had[f.Job] {
			c.say(f)
		}
	}
	return nil
}
