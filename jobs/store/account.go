package store

import (
	"fmt"

	"gorm.io/gorm/clause"

	"newelbook/jobs"
)

// Form is a form submitted before.
func (t *tx) Form(id string) (jobs.Form, error) {
	var row formRow
	if err := t.db.Where("id = ?", id).Take(&row).Error; err != nil {
		return jobs.Form{}, fmt.Errorf("form %s: %w", id, storeError(err))
	}
	return row.form(), nil
}

// SaveForm keeps a submitted form; the same id twice is ErrDuplicate.
func (t *tx) SaveForm(f jobs.Form) error {
	row := formRowOf(f)
	if err := t.db.Create(&row).Error; err != nil {
		return fmt.Errorf("save form %s: %w", f.ID, storeError(err))
	}
	return nil
}

// Accounts lists every account by name.
func (t *tx) Accounts() ([]jobs.Account, error) {
	var rows []accountRow
	if err := t.db.Order("name, id").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("list accounts: %w", storeError(err))
	}
	var out []jobs.Account
	for _, r := range rows {
		out = append(out, r.account())
	}
	return out, nil
}

// Account is the account of that id.
func (t *tx) Account(id string) (jobs.Account, error) { return t.account("id", id) }

// AccountByLogin is the account with that sign-in name, in small letters.
func (t *tx) AccountByLogin(login string) (jobs.Account, error) { return t.account("login", login) }

func (t *tx) account(column, value string) (jobs.Account, error) {
	var row accountRow
	if err := t.db.Where(clause.Eq{Column: column, Value: value}).Take(&row).Error; err != nil {
		return jobs.Account{}, fmt.Errorf("account with %s %q: %w", column, value, storeError(err))
	}
	return row.account(), nil
}

// SaveAccount adds an account at version 1, or replaces the one with its id and counts its version up. An account whose
// Version is not the stored one is a ConflictError; a sign-in name that another account has is ErrDuplicate.
func (t *tx) SaveAccount(a jobs.Account) error {
	stored := a.Version
	row := accountRowOf(a)
	row.Version++
	if stored == 0 {
		if err := t.db.Create(&row).Error; err != nil {
			return fmt.Errorf("add account %s: %w", a.Login, storeError(err))
		}
		return nil
	}
	saved := t.db.Model(&accountRow{}).Where("id = ? AND version = ?", a.ID, stored).Select("*").Updates(&row)
	if saved.Error != nil {
		return fmt.Errorf("save account %s: %w", a.Login, storeError(saved.Error))
	}
	if saved.RowsAffected == 1 {
		return nil
	}
	if _, err := t.Account(a.ID); err != nil {
		return err
	}
	return &jobs.ConflictError{What: "the account " + a.Login}
}

// DeleteAccount takes an account away, with whatever sessions it has left.
func (t *tx) DeleteAccount(id string) error {
	gone := t.db.Where("id = ?", id).Delete(&accountRow{})
	if gone.Error != nil {
		return fmt.Errorf("delete account %s: %w", id, storeError(gone.Error))
	}
	if gone.RowsAffected == 0 {
		return fmt.Errorf("delete account %s: %w", id, jobs.ErrNotFound)
	}
	return nil
}

// DeleteSessions ends every session of an account.
func (t *tx) DeleteSessions(accountID string) error {
	if err := endSessions(t.db.Where("account_id = ?", accountID)); err != nil {
		return fmt.Errorf("end sessions of account %s: %w", accountID, storeError(err))
	}
	return nil
}

// Setting is one of the installation's own facts.
func (t *tx) Setting(key string) (string, error) {
	var row settingRow
	if err := t.db.Where("key = ?", key).Take(&row).Error; err != nil {
		return "", fmt.Errorf("setting %s: %w", key, storeError(err))
	}
	return row.Value, nil
}

// SetSetting keeps one of the installation's own facts, over an earlier one.
func (t *tx) SetSetting(key, value string) error {
	if err := t.put(&settingRow{Key: key, Value: value}); err != nil {
		return fmt.Errorf("set %s: %w", key, storeError(err))
	}
	return nil
}
