package store

import (
	"context"
	"time"

	"gorm.io/gorm/logger"
)

// quiet is a GORM logger that says nothing of statements that fail, whose errors are returned and may be expected (a name
// that is taken), and never prints values.
type quiet struct{ logger.Interface }

// LogMode is quiet at another level.
func (q quiet) LogMode(level logger.LogLevel) logger.Interface {
	return quiet{q.Interface.LogMode(level)}
}

// Trace passes a statement on without its error.
func (q quiet) Trace(ctx context.Context, begin time.Time, statement func() (string, int64), _ error) {
	q.Interface.Trace(ctx, begin, statement, nil)
}

// ParamsFilter leaves the values out of a statement.
func (quiet) ParamsFilter(_ context.Context, sql string, _ ...any) (string, []any) { return sql, nil }
