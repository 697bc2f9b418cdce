package store

import (
	"database/sql"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"
	_ "modernc.org/sqlite" // registers the driver "sqlite"
)

// driverName is the database/sql driver without a C compiler. GORM's own dialector would take another.
const driverName = "sqlite"

// dialector is GORM's SQLite dialect with the error codes of this driver. The one of GORM reads fields that only another
// driver's errors have.
type dialector struct{ sqlite.Dialector }

// Translate marks a violated key or reference with GORM's sentinel and keeps the error itself.
func (d dialector) Translate(err error) error {
	switch code, _ := errorCode(err); code {
	case 1555, 2067: // SQLITE_CONSTRAINT_PRIMARYKEY, SQLITE_CONSTRAINT_UNIQUE
		return fmt.Errorf("%w: %w", gorm.ErrDuplicatedKey, err)
	case 787: // SQLITE_CONSTRAINT_FOREIGNKEY
		return fmt.Errorf("%w: %w", gorm.ErrForeignKeyViolated, err)
	}
	return err
}

// errorCode is the extended result code of an error of the driver.
func errorCode(err error) (int, bool) {
	var coded interface{ Code() int }
	if errors.As(err, &coded) {
		return coded.Code(), true
	}
	return 0, false
}

// slowQuery is how long a statement may take before the log says so.
const slowQuery = 500 * time.Millisecond

// openGORM opens GORM over a pool. Values stay out of the log: they are people's names and hashes. Statements that fail
// are not logged here: the error is returned, and logged once by whoever answers for it.
func openGORM(pool *sql.DB, now func() time.Time, log *slog.Logger) (*gorm.DB, error) {
	return gorm.Open(dialector{sqlite.Dialector{DriverName: driverName, Conn: pool}}, &gorm.Config{
		TranslateError:         true,
		SkipDefaultTransaction: true, // everything runs in View or Update
		NowFunc:                func() time.Time { return now().UTC() },
		Logger: quiet{logger.NewSlogLogger(log, logger.Config{
			LogLevel: logger.Warn, SlowThreshold: slowQuery, ParameterizedQueries: true, IgnoreRecordNotFoundError: true,
		})},
	})
}
