package store

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"
)

// jobTable is a job table and its key: the column of the job, and those that name a row within it.
type jobTable struct {
	name string
	job  string
	key  []string
}

// jobTables lists the tables that project writes.
func jobTables() []jobTable {
	return []jobTable{
		{"jobs", "id", nil},
		{"runs", "job_id", []string{"id"}},
		{"layouts", "job_id", []string{"run_id", "version"}},
		{"readings", "job_id", []string{"id"}},
		{"photos", "job_id", []string{"id"}},
		{"deviations", "job_id", []string{"id"}},
		{"stages", "job_id", []string{"stage"}},
		{"covered", "job_id", []string{"run_id"}},
		{"diary_pages", "job_id", []string{"day"}},
		{"packs", "job_id", []string{"number"}},
		{"links", "job_id", []string{"id"}},
		{"answers", "job_id", []string{"id"}},
		{"ticks", "job_id", []string{"id"}},
		{"on_hand", "job_id", []string{"id"}},
		{"papers", "job_id", []string{"id"}},
	}
}

// jobTableNamed is the job table of that name. The events stand beside the job tables and have a key of the same form.
func jobTableNamed(name string) (jobTable, bool) {
	tables := append(jobTables(), jobTable{"events", "job_id", []string{"seq"}})
	i := slices.IndexFunc(tables, func(t jobTable) bool { return t.name == name })
	if i < 0 {
		return jobTable{}, false
	}
	return tables[i], true
}

// tables compares each row of a job with the row that the events give.
func (c *check) tables(ctx context.Context, jobID string) error {
	for _, t := range jobTables() {
		held, err := rowsOf(c.held.db, t, jobID)
		if err != nil {
			return fmt.Errorf("rows of %s: %w", t.name, err)
		}
		fresh, err := rowsOf(c.fresh.r.WithContext(ctx), t, jobID)
		if err != nil {
			return fmt.Errorf("rows of %s made again: %w", t.name, err)
		}
		c.compare(jobID, t, held, fresh)
	}
	return nil
}

// rawRow is a row as the driver gives it, whatever stands in it.
type rawRow struct {
	key    string
	values map[string]any
}

func rowsOf(db *gorm.DB, t jobTable, jobID string) ([]rawRow, error) {
	var found []map[string]any
	q := db.Table(t.name).Where(t.job+" = ?", jobID)
	for _, column := range t.key {
		q = q.Order(column)
	}
	if err := q.Find(&found).Error; err != nil {
		return nil, err
	}
	var out []rawRow
	for _, values := range found {
		var key []string
		for _, column := range t.key {
			key = append(key, fmt.Sprint(values[column]))
		}
		out = append(out, rawRow{strings.Join(key, " "), values})
	}
	return out, nil
}

// compare reports rows that differ, that are missing and that nothing accounts for.
func (c *check) compare(jobID string, t jobTable, held, fresh []rawRow) {
	want := map[string]rawRow{}
	for _, row := range fresh {
		want[row.key] = row
	}
	for _, row := range held {
		f := Finding{Job: jobID, Table: t.name, Row: row.key}
		made, ok := want[row.key]
		delete(want, row.key)
		if !ok {
			f.Sentence = "No event accounts for this row."
			c.say(f)
			continue
		}
		if columns := row.differs(made); len(columns) > 0 {
			f.Sentence = fmt.Sprintf("The row is not what the events say, in: %s.", strings.Join(columns, ", "))
			c.say(f)
		}
	}
	for _, row := range fresh {
		if _, missing := want[row.key]; missing {
			c.say(Finding{Job: jobID, Table: t.name, Row: row.key, Sentence: "The events have a row here and the table has none."})
		}
	}
}

// differs lists the columns in which two rows of a table are not the same.
func (r rawRow) differs(other rawRow) []string {
	var out []string
	for column, a := range r.values {
		b := other.values[column]
		at, isTime := a.(time.Time)
		bt, bothTimes := b.(time.Time)
		if isTime && bothTimes && at.Equal(bt) || reflect.DeepEqual(a, b) {
			continue
		}
		out = append(out, column)
	}
	slices.Sort(out)
	return out
}

// keyOf is the job and the key of a row by SQLite's own number for it.
func (c *check) keyOf(t jobTable, rowid int64) ([]string, error) {
	var found []map[string]any
	if err := c.held.db.Table(t.name).Where("rowid = ?", rowid).Find(&found).Error; err != nil {
		return nil, err
	}
	key := []string{""}
	for _, row := range found {
		key[0] = fmt.Sprint(row[t.job])
		for _, column := range t.key {
			key = append(key, fmt.Sprint(row[column]))
		}
	}
	return key, nil
}
