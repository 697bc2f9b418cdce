package jobstest

import (
	"errors"
	"testing"

	"newelbook/jobs"
)

func account(id, login string) jobs.Account {
	return jobs.Account{ID: id, Name: "Name of " + login, Login: login, Hash: "not a real hash", Role: jobs.RoleCrew, Made: at()}
}

func testAccounts(t *testing.T, s jobs.Store) {
	update(t, s, func(tx jobs.Tx) error { return tx.SaveAccount(account("a2", "pat")) })
	update(t, s, func(tx jobs.Tx) error { return tx.SaveAccount(account("a1", "sam")) })
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.SaveAccount(account("a3", "sam")) }); err == nil {
		t.Error("SaveAccount took a sign-in name twice")
	}
	var sam jobs.Account
	view(t, s, func(tx jobs.Tx) (err error) {
		if sam, err = tx.Account("a1"); err != nil {
			return err
		}
		byLogin, err := tx.AccountByLogin("sam")
		if err != nil {
			return err
		}
		if byLogin != sam || sam.Version != 1 || sam.Name != "Name of sam" || !sam.Made.Equal(at()) {
			t.Errorf("by id %+v, by login %+v", sam, byLogin)
		}
		all, err := tx.Accounts()
		if len(all) != 2 || all[0].Login != "pat" || all[1].Login != "sam" {
			t.Errorf("Accounts = %+v, want pat and sam by name", all)
		}
		return err
	})
	changed := sam
	changed.Disabled, changed.Hash = true, "another"
	update(t, s, func(tx jobs.Tx) error { return tx.SaveAccount(changed) })
	var conflict *jobs.ConflictError
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.SaveAccount(sam) }); !errors.As(err, &conflict) {
		t.Errorf("saving over a newer version = %v, want a ConflictError", err)
	}
	view(t, s, func(tx jobs.Tx) error {
		got, err := tx.Account("a1")
		if !got.Disabled || got.Hash != "another" || got.Version != 2 {
			t.Errorf("after the change = %+v", got)
		}
		return err
	})
	changed.Version, changed.Disabled = 2, false
	update(t, s, func(tx jobs.Tx) error { return tx.SaveAccount(changed) })
	update(t, s, func(tx jobs.Tx) error { return tx.DeleteSessions("a1") })
	update(t, s, func(tx jobs.Tx) error { return tx.DeleteAccount("a2") })
	if err := s.Update(t.Context(), func(tx jobs.Tx) error { return tx.DeleteAccount("a2") }); !errors.Is(err, jobs.ErrNotFound) {
		t.Errorf("deleting it again = %v, want ErrNotFound", err)
	}
	view(t, s, func(tx jobs.Tx) error {
		all, err := tx.Accounts()
		if len(all) != 1 || all[0].ID != "a1" || all[0].Disabled || all[0].Version != 3 {
			t.Errorf("Accounts = %+v, want a1 alone, enabled, version 3", all)
		}
		return err
	})
}

func testSettings(t *testing.T, s jobs.Store) {
	for _, value := range []string{"first", "", "second"} {
		update(t, s, func(tx jobs.Tx) error { return tx.SetSetting("k", value) })
		view(t, s, func(tx jobs.Tx) error {
			got, err := tx.Setting("k")
			if got != value {
				t.Errorf("Setting = %q, want %q", got, value)
			}
			return err
		})
	}
}
