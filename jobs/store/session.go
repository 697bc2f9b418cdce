package store

import (
	"context"
	"time"

	"gorm.io/gorm"
	"gorm.io/gorm/clause"

	"newelbook/jobs"
)

// SessionStore keeps the sessions of a server, in the manner that alexedwards/scs asks for. Only a token's hash is kept.
// A session that has ended, by Delete or by jobs.Tx.DeleteSessions, cannot be brought back by a request that was still
// under way: its row stays, marked so, until a day after it would have expired.
//
// All is not offered: with the tokens gone there is nothing to list them by.
type SessionStore struct{ store *Store }

// Sessions is the store's session rows.
func (s *Store) Sessions() *SessionStore { return &SessionStore{s} }

// Find is FindCtx without a context.
func (s *SessionStore) Find(token string) ([]byte, bool, error) {
	return s.FindCtx(context.Background(), token)
}

// FindCtx is the data of a session. A token that is unknown, ended or expired is not found, without an error.
func (s *SessionStore) FindCtx(ctx context.Context, token string) ([]byte, bool, error) {
	var rows []sessionRow
	err := s.store.r.WithContext(ctx).Where("token_hash = ? AND ended = 0 AND expires_at > ?", jobs.TokenHash(token), s.now()).Find(&rows).Error
	if err != nil || len(rows) == 0 {
		return nil, false, storeError(err)
	}
	return rows[0].Data, true, nil
}

// Commit is CommitCtx without a context.
func (s *SessionStore) Commit(token string, data []byte, expiry time.Time) error {
	return s.CommitCtx(context.Background(), token, data, expiry)
}

// CommitCtx keeps a session's data until expiry, over what it had. The account that BindSession gave it stays.
func (s *SessionStore) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	row := sessionRow{TokenHash: jobs.TokenHash(token), Data: data, ExpiresAt: expiry}
	return s.save(ctx, &row, "data", "expires_at")
}

// BindSession says whose session it is, so that it can be ended with the others of that account. It may come before
// the session's first Commit.
func (s *SessionStore) BindSession(ctx context.Context, token, accountID string) error {
	// Expired from the start: without a Commit nothing is found here.
	row := sessionRow{TokenHash: jobs.TokenHash(token), Data: []byte{}, ExpiresAt: s.now(), AccountID: &accountID}
	return s.save(ctx, &row, "account_id")
}

// save writes the named columns of a session, or makes it. One that has ended stays ended.
func (s *SessionStore) save(ctx context.Context, row *sessionRow, columns ...string) error {
	return storeError(s.store.w.WithContext(ctx).Clauses(clause.OnConflict{
		Columns: []clause.Column{{Name: "token_hash"}}, DoUpdates: clause.AssignmentColumns(columns),
	}).Create(row).Error)
}

// Delete is DeleteCtx without a context.
func (s *SessionStore) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }

// DeleteCtx ends a session. A token that is not there is no error.
func (s *SessionStore) DeleteCtx(ctx context.Context, token string) error {
	return storeError(endSessions(s.store.w.WithContext(ctx).Where("token_hash = ?", jobs.TokenHash(token))))
}

// sweepAfter is how long a session's row outlives its expiry: longer than any request.
const sweepAfter = 24 * time.Hour

// Sweep removes the rows of sessions that expired over a day ago, and returns how many there were.
func (s *SessionStore) Sweep(ctx context.Context) (int64, error) {
	gone := s.store.w.WithContext(ctx).Where("expires_at < ?", s.now().Add(-sweepAfter)).Delete(&sessionRow{})
	return gone.RowsAffected, storeError(gone.Error)
}

func (s *SessionStore) now() time.Time { return s.store.opt.Now().UTC() }

// endSessions empties the sessions that db selects and marks them ended.
func endSessions(db *gorm.DB) error {
	return db.Model(&sessionRow{}).Updates(map[string]any{"ended": true, "data": []byte{}, "account_id": nil}).Error
}
