-- A photograph may be in the record before anybody has said what it shows: taken in from a card, hundreds at once. It then
-- has no stage, stands at the whole job and answers no check. SQLite cannot change the rules of a table in place, so it is
-- made again; nothing refers to it.

-- +goose Up

CREATE TABLE photos_filed (
    job_id       TEXT NOT NULL REFERENCES jobs (id),
    id           TEXT NOT NULL CHECK (id <> ''),
    number       INTEGER NOT NULL CHECK (number >= 1),
    media        TEXT NOT NULL CHECK (length(media) = 64),
    kind         TEXT NOT NULL,
    bytes        INTEGER NOT NULL,
    width        INTEGER NOT NULL,
    height       INTEGER NOT NULL,
    place_id     TEXT NOT NULL,
    place_kind   TEXT NOT NULL CHECK (place_kind IN ('job', 'run', 'post', 'bay')),
    place_run_id TEXT,
    place_number INTEGER NOT NULL,
    place_label  TEXT NOT NULL,
    stage        TEXT NOT NULL CHECK (stage IN ('', 'framing', 'posts', 'rails', 'infill', 'caps', 'post tops', 'handover')),
    check_id     TEXT NOT NULL,
    by_id        TEXT NOT NULL,
    by_name      TEXT NOT NULL,
    by_role      TEXT NOT NULL,
    received_at  DATETIME NOT NULL,
    version      INTEGER NOT NULL CHECK (version >= 1),
    first_seq    INTEGER NOT NULL,
    seq          INTEGER NOT NULL,
    body         TEXT NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, number),
    UNIQUE (job_id, seq),
    CHECK (stage <> '' OR place_kind = 'job' AND check_id = ''),
    CHECK ((place_kind = 'job') = (place_run_id IS NULL)),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, place_run_id) REFERENCES runs (job_id, id)
);

INSERT INTO photos_filed SELECT * FROM photos;
DROP TABLE photos;
ALTER TABLE photos_filed RENAME TO photos;
CREATE INDEX photos_media ON photos (media);

-- +goose StatementBegin
CREATE TRIGGER photos_no_delete BEFORE DELETE ON photos
BEGIN
    SELECT RAISE(ABORT, 'photos are never deleted');
END;
-- +goose StatementEnd
