package store

import (
	"database/sql"
	"encoding/json"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"gorm.io/gorm"
	"pgregory.net/rapid"

	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/media"
)

// unruled is a database with the tables and none of the schema's rules, so that any value at all can be put into a row.
func unruled(t *testing.T) *gorm.DB {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rows.db")
	s, err := Open(t.Context(), path, Options{Now: fixed})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	pool, err := sql.Open(driverName, strings.Replace(dsn(path, writing), "foreign_keys%281%29", "foreign_keys%280%29", 1)+"&_pragma=ignore_check_constraints(1)")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { pool.Close() })
	pool.SetMaxOpenConns(1)
	db, err := openGORM(pool, fixed, s.opt.Log)
	if err != nil {
		t.Fatal(err)
	}
	var triggers []string
	if err := db.Raw("SELECT name FROM sqlite_schema WHERE type = 'trigger'").Scan(&triggers).Error; err != nil {
		t.Fatal(err)
	}
	for _, name := range triggers {
		if err := db.Exec("DROP TRIGGER " + name).Error; err != nil {
			t.Fatal(err)
		}
	}
	return db
}

// arbitrary makes values of any type of the domain, with times in UTC and texts of any characters that a text can hold.
func arbitrary[T any]() *rapid.Generator[T] {
	instant := rapid.Custom(func(t *rapid.T) time.Time {
		return time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "seconds"), rapid.Int64Range(0, 999_999_999).Draw(t, "nanoseconds")).UTC()
	})
	wall := rapid.Custom(func(t *rapid.T) media.WallTime {
		at := instant.Draw(t, "wall")
		return media.WallTime{Year: at.Year(), Month: at.Month(), Day: at.Day(), Hour: at.Hour(), Minute: at.Minute(), Second: at.Second()}
	})
	return rapid.MakeCustom[T](rapid.MakeConfig{
		Types: map[reflect.Type]*rapid.Generator[any]{
			reflect.TypeFor[time.Time]():      instant.AsAny(),
			reflect.TypeFor[media.WallTime](): wall.AsAny(),
			reflect.TypeFor[length.Length]():  rapid.Map(rapid.Int64(), func(n int64) length.Length { return length.Length(n) }).AsAny(),
		},
		Kinds: map[reflect.Kind]*rapid.Generator[any]{
			reflect.Float64: rapid.Float64Range(-180, 180).AsAny(),
		},
	})
}

func asJSON(t *rapid.T, v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%T: %v", v, err)
	}
	return string(b)
}

// roundTrip writes the row of an arbitrary object, reads it back and demands the same row, column by column, and the same object.
func roundTrip[T, R any](t *testing.T, db *gorm.DB, to func(jobs.Event, T, string) (R, error), from func(R) (T, error)) {
	t.Run(reflect.TypeFor[T]().Name(), func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			object := arbitrary[T]().Draw(t, "object")
			e := jobs.Event{JobID: rapid.String().Draw(t, "job"), Seq: rapid.Int().Draw(t, "seq")}
			row, err := to(e, object, asJSON(t, object))
			if err != nil {
				t.Fatal(err)
			}
			if err := db.Where("1 = 1").Delete(new(R)).Error; err != nil {
				t.Fatal(err)
			}
			if err := db.Create(&row).Error; err != nil {
				t.Fatal(err)
			}
			var got R
			if err := db.Take(&got).Error; err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got, row) {
				t.Errorf("row came back as\n%+v\nwant\n%+v", got, row)
			}
			back, err := from(got)
			if err != nil {
				t.Fatal(err)
			}
			if g, w := asJSON(t, back), asJSON(t, object); g != w {
				t.Errorf("object came back as\n%s\nwant\n%s", g, w)
			}
		})
	})
}

func table(row any) string { return row.(interface{ TableName() string }).TableName() }

// deep adapts the functions of a row with a body.
func deep[T, R any](to func(jobs.Event, T, string) R) func(jobs.Event, T, string) (R, error) {
	return func(e jobs.Event, v T, body string) (R, error) { return to(e, v, body), nil }
}

// columns adapts those of a row without one.
func columns[T, R any](to func(jobs.Event, T) (R, error)) func(jobs.Event, T, string) (R, error) {
	return func(e jobs.Event, v T, _ string) (R, error) { return to(e, v) }
}

// plain adapts those of a row that stands beside the jobs.
func plain[T, R any](to func(T) R) func(jobs.Event, T, string) (R, error) {
	return func(_ jobs.Event, v T, _ string) (R, error) { return to(v), nil }
}

func object[T, R any](from func(R) T) func(R) (T, error) {
	return func(r R) (T, error) { return from(r), nil }
}

func TestRowsRoundTrip(t *testing.T) {
	db := unruled(t)
	roundTrip(t, db, deep(jobRowOf), jobRow.job)
	roundTrip(t, db, deep(runRowOf), runRow.run)
	roundTrip(t, db, deep(layoutRowOf), layoutRow.layout)
	roundTrip(t, db, deep(readingRowOf), readingRow.reading)
	roundTrip(t, db, deep(photoRowOf), photoRow.photo)
	roundTrip(t, db, columns(deviationRowOf), deviationRow.deviation)
	roundTrip(t, db, columns(stageRowOf), stageRow.stage)
	roundTrip(t, db, columns(coveredRowOf), coveredRow.covered)
	roundTrip(t, db, columns(diaryRowOf), diaryRow.page)
	roundTrip(t, db, columns(packRowOf), packRow.pack)
	roundTrip(t, db, columns(linkRowOf), linkRow.link)
	roundTrip(t, db, columns(answerRowOf), answerRow.answer)
	roundTrip(t, db, columns(tickRowOf), tickRow.tick)
	roundTrip(t, db, columns(onHandRowOf), onHandRow.onHand)
	roundTrip(t, db, columns(paperRowOf), paperRow.paper)
	roundTrip(t, db, plain(accountRowOf), object(accountRow.account))
	roundTrip(t, db, plain(formRowOf), object(formRow.form))
	roundTrip(t, db, plain(func(e jobs.Event) eventRow { return eventRowOf(e) }), object(eventRow.event))
}

// Each column of a table is a field of its row: one that is not would be written by nobody.
func TestRowsHaveEveryColumn(t *testing.T) {
	db := unruled(t)
	for _, row := range []any{
		eventRow{}, jobRow{}, runRow{}, layoutRow{}, readingRow{}, photoRow{}, deviationRow{}, stageRow{}, coveredRow{}, diaryRow{},
		packRow{}, linkRow{}, answerRow{}, tickRow{}, onHandRow{}, paperRow{}, accountRow{}, formRow{}, settingRow{}, sessionRow{},
	} {
		var want []string
		if err := db.Raw("SELECT name FROM pragma_table_info(?) ORDER BY name", table(row)).Scan(&want).Error; err != nil {
			t.Fatal(err)
		}
		stmt := &gorm.Statement{DB: db}
		if err := stmt.Parse(row); err != nil {
			t.Fatal(err)
		}
		var got []string
		if err := db.Raw("SELECT value FROM json_each(?) ORDER BY value", text(t, stmt.Schema.DBNames)).Scan(&got).Error; err != nil {
			t.Fatal(err)
		}
		if len(want) == 0 || !reflect.DeepEqual(got, want) {
			t.Errorf("%T has the columns %v, the table %v", row, got, want)
		}
	}
}

func text(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
