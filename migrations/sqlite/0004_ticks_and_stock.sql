-- Pieces ticked as cut and fitted, and stock on hand. A tick is written once: taking one back is another tick. Stock on hand changes
-- with later events, down to a count of nothing.

-- +goose Up

CREATE TABLE ticks (
    job_id         TEXT NOT NULL REFERENCES jobs (id),
    id             TEXT NOT NULL CHECK (id <> ''),
    piece_id       TEXT NOT NULL CHECK (piece_id <> ''),
    run_id         TEXT NOT NULL,
    label          TEXT NOT NULL,
    what           TEXT NOT NULL,
    section        TEXT NOT NULL,
    length_nm      INTEGER NOT NULL CHECK (length_nm >= 0),
    count          INTEGER NOT NULL CHECK (count >= 1),
    step           TEXT NOT NULL CHECK (step IN ('cut', 'fitted')),
    done           INTEGER NOT NULL CHECK (done BETWEEN 0 AND count),
    layout_version INTEGER NOT NULL,
    at             DATETIME NOT NULL,
    by_id          TEXT NOT NULL,
    by_name        TEXT NOT NULL,
    by_role        TEXT NOT NULL,
    seq            INTEGER NOT NULL,
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, run_id, layout_version) REFERENCES layouts (job_id, run_id, version)
);

CREATE TABLE on_hand (
    job_id    TEXT NOT NULL REFERENCES jobs (id),
    id        TEXT NOT NULL CHECK (id <> ''),
    section   TEXT NOT NULL CHECK (section <> ''),
    species   TEXT NOT NULL,
    length_nm INTEGER NOT NULL CHECK (length_nm > 0),
    count     INTEGER NOT NULL CHECK (count >= 0),
    offcut    INTEGER NOT NULL CHECK (offcut IN (0, 1)),
    come_from TEXT NOT NULL,
    why       TEXT NOT NULL,
    at        DATETIME NOT NULL,
    by_id     TEXT NOT NULL,
    by_name   TEXT NOT NULL,
    by_role   TEXT NOT NULL,
    version   INTEGER NOT NULL CHECK (version >= 1),
    first_seq INTEGER NOT NULL,
    seq       INTEGER NOT NULL,
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq)
);

-- +goose StatementBegin
CREATE TRIGGER ticks_no_update BEFORE UPDATE ON ticks
BEGIN
    SELECT RAISE(ABORT, 'ticks are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER ticks_no_delete BEFORE DELETE ON ticks
BEGIN
    SELECT RAISE(ABORT, 'ticks are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER on_hand_no_delete BEFORE DELETE ON on_hand
BEGIN
    SELECT RAISE(ABORT, 'stock on hand is never deleted');
END;
-- +goose StatementEnd
