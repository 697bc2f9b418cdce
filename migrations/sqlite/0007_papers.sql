-- Papers attached to a job: drawings, letters, test reports, labels. The file stands among the originals under its SHA-256. A paper is
-- described anew or withdrawn by later events, and never deleted.

-- +goose Up

CREATE TABLE papers (
    job_id            TEXT NOT NULL REFERENCES jobs (id),
    id                TEXT NOT NULL CHECK (id <> ''),
    number            INTEGER NOT NULL CHECK (number >= 1),
    media             TEXT NOT NULL CHECK (length(media) = 64),
    name              TEXT NOT NULL,
    file              TEXT NOT NULL CHECK (file IN ('pdf', 'jpeg', 'png', 'webp')),
    bytes             INTEGER NOT NULL CHECK (bytes >= 0),
    kind              TEXT NOT NULL CHECK (kind IN ('approved drawing', 'engineer''s letter', 'test report', 'product label or instructions', 'permit', 'other paper')),
    title             TEXT NOT NULL CHECK (title <> ''),
    dated             TEXT NOT NULL,
    issuer            TEXT NOT NULL CHECK (issuer <> ''),
    place_id          TEXT NOT NULL,
    place_kind        TEXT NOT NULL CHECK (place_kind IN ('job', 'run', 'post', 'bay')),
    place_run_id      TEXT,
    place_number      INTEGER NOT NULL,
    place_label       TEXT NOT NULL,
    deviation_id      TEXT,
    amendment         TEXT NOT NULL,
    by_id             TEXT NOT NULL,
    by_name           TEXT NOT NULL,
    by_role           TEXT NOT NULL,
    received_at       DATETIME NOT NULL,
    withdrawn_at      DATETIME,
    withdrawn_by_id   TEXT NOT NULL,
    withdrawn_by_name TEXT NOT NULL,
    withdrawn_by_role TEXT NOT NULL,
    why               TEXT NOT NULL,
    version           INTEGER NOT NULL CHECK (version >= 1),
    first_seq         INTEGER NOT NULL,
    seq               INTEGER NOT NULL,
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, number),
    UNIQUE (job_id, seq),
    CHECK ((place_kind = 'job') = (place_run_id IS NULL)),
    -- Nothing is withdrawn without a reason.
    CHECK ((withdrawn_at IS NULL) = (why = '')),
    CHECK (deviation_id IS NULL OR amendment = ''),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, place_run_id) REFERENCES runs (job_id, id),
    FOREIGN KEY (job_id, deviation_id) REFERENCES deviations (job_id, id)
);

CREATE INDEX papers_media ON papers (media);

-- +goose StatementBegin
CREATE TRIGGER papers_no_delete BEFORE DELETE ON papers
BEGIN
    SELECT RAISE(ABORT, 'papers are never deleted');
END;
-- +goose StatementEnd
