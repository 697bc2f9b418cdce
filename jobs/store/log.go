package store

import (
	"context"
	"time"

	"gorm.io/gorm/logger"
)

// quiet is a GORM logger that says nothing of statements that fail: their errors are returned, and a use case may expect
// them (a name that is taken). It still tells of slow ones.
type quiet struct{ logger.Interface }

// LogMode is quiet at another level.
func (q quiet) LogMode(level logger.LogLevel) logger.Interface { return quiet{q.Interface.LogMode(level)} }

// Trace passes a statement on without its error.
func (q quiet) Trace(ctx context.Context, begin time.Time, statement func() (string, int64), _ error) {
	q.Interface.Trace(ctx, begin, statement, nil)
}
