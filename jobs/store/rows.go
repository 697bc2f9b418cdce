package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
)

// Rows are the tables as Go structs, in rows*.go: the only place with gorm tags. Each has two functions, from the domain
// and to it. Columns with first_seq are written when a row is made and kept when it is written again.
//
// Rows with a Body give back what the body says; the columns beside it are for looking up and for the schema's rules.

// stamp says which event a row comes from.
type stamp struct {
	JobID string `gorm:"primaryKey"`
	Seq   int
}

func stampOf(e jobs.Event) stamp { return stamp{JobID: e.JobID, Seq: e.Seq} }

// actorColumns is an actor, embedded under a prefix.
type actorColumns struct{ ID, Name, Role string }

func actorColumnsOf(a jobs.Actor) actorColumns {
	return actorColumns{ID: a.ID, Name: a.Name, Role: string(a.Role)}
}

func (c actorColumns) actor() jobs.Actor {
	return jobs.Actor{ID: c.ID, Name: c.Name, Role: jobs.Role(c.Role)}
}

// placeColumns is a place, embedded under a prefix.
type placeColumns struct {
	ID     string
	Kind   string
	RunID  *string
	Number int
	Label  string
}

func placeColumnsOf(p checklist.Place) placeColumns {
	return placeColumns{ID: p.ID, Kind: string(p.Kind), RunID: reference(p.RunID), Number: p.Number, Label: p.Label}
}

func (c placeColumns) place() checklist.Place {
	return checklist.Place{ID: c.ID, Kind: checklist.PlaceKind(c.Kind), RunID: referred(c.RunID), Number: c.Number, Label: c.Label}
}

// reference is the id of another row as a column: NULL when it names none, so that the schema can hold it to be there.
func reference(id string) *string {
	if id == "" {
		return nil
	}
	return &id
}

func referred(id *string) string {
	if id == nil {
		return ""
	}
	return *id
}

// moment is a time that may not have come yet as a column: NULL for the zero time.
func moment(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return new(t.UTC())
}

func momentOf(t *time.Time) time.Time {
	if t == nil {
		return time.Time{}
	}
	return *t
}

// list is a short list as a column: its JSON. A list of nothing and no list stay apart, as they do in the event.
func list[T any](items []T) (string, error) {
	text, err := json.Marshal(items)
	return string(text), err
}

func listOf[T any](text string) (items []T, err error) {
	err = json.Unmarshal([]byte(text), &items)
	return items, err
}

// bodyOf reads the object that a body holds.
func bodyOf[T any](body string) (v T, err error) {
	err = json.Unmarshal([]byte(body), &v)
	return v, err
}

// faithful refuses a row of columns that would not give back the object it was made from: a time that is not in UTC, say.
// Load and Replay would part over it, and the check would call a sound database damaged.
func faithful[T any](given T, back T, err error) error {
	if err != nil {
		return err
	}
	want, err := json.Marshal(given)
	if err != nil {
		return err
	}
	got, err := json.Marshal(back)
	if err != nil {
		return err
	}
	if !bytes.Equal(want, got) {
		return fmt.Errorf("the columns cannot hold it: given %s, kept %s", want, got)
	}
	return nil
}
