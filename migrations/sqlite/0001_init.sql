-- The record of guard jobs.
--
-- events is the record itself: one hash chain a job. The job tables after it are projections, written in the same
-- transaction as the event and made again from the events by a check. Accounts, sessions, forms and settings stand apart
-- from the chain.
--
-- What is a column: whatever is looked up, ordered by, counted or held to a rule by this schema. Small flat objects
-- (deviations, stages, covers, diary pages, packs, links, answers) are columns through and through; their short lists are
-- JSON text. Deep objects (job with its specification, run, layout, reading with its check, photograph with its Exif) have
-- columns for what is asked of them and, in body, the object's whole JSON as its event carries it: some fifty more columns
-- each would be asked for by nobody, and would need a migration for each new field. A body and the columns beside it are
-- written together, and the check compares both with the events.
--
-- Every job table has seq, the event that last wrote the row; tables whose rows change have first_seq too, the event that
-- made it, which is the order of a list. Keys are a job's own: an id made on a phone must not be able to collide with
-- another job's.
--
-- Lengths are INTEGER nanometres (_nm). Times are UTC instants; the connection string fixes their text. A day is text
-- 2006-01-02 in the job's zone. Empty words mean unknown or none; what refers to another row is NULL when it refers to none.
-- The tables are not STRICT: strict ones refuse DATETIME, which the driver needs to hand back a time.

-- +goose Up

CREATE TABLE migration_files (
    version    INTEGER PRIMARY KEY,
    name       TEXT NOT NULL UNIQUE,
    sha256     TEXT NOT NULL CHECK (length(sha256) = 64),
    applied_at DATETIME NOT NULL
);

-- The first event of a chain comes before the row of its job, so that reference waits for the commit.
CREATE TABLE events (
    job_id     TEXT NOT NULL REFERENCES jobs (id) DEFERRABLE INITIALLY DEFERRED,
    seq        INTEGER NOT NULL CHECK (seq >= 1),
    version    INTEGER NOT NULL CHECK (version >= 1),
    at         DATETIME NOT NULL,
    utc_offset TEXT NOT NULL CHECK (utc_offset GLOB '[+-][0-9][0-9]:[0-9][0-9]'),
    actor_id   TEXT NOT NULL,
    actor_name TEXT NOT NULL,
    actor_role TEXT NOT NULL CHECK (actor_role IN ('builder', 'crew', 'owner', 'inspector')),
    type       TEXT NOT NULL CHECK (type <> ''),
    salt       TEXT NOT NULL,
    payload    TEXT NOT NULL CHECK (json_valid(payload)),
    digest     TEXT NOT NULL CHECK (length(digest) = 64),
    prev       TEXT NOT NULL CHECK (length(prev) = CASE seq WHEN 1 THEN 0 ELSE 64 END),
    hash       TEXT NOT NULL CHECK (length(hash) = 64),
    PRIMARY KEY (job_id, seq)
);

CREATE TABLE jobs (
    id           TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    ref          TEXT NOT NULL,
    name         TEXT NOT NULL,
    site         TEXT NOT NULL,
    rule_set     TEXT NOT NULL,
    units        TEXT NOT NULL CHECK (units <> ''),
    zone         TEXT NOT NULL CHECK (zone <> ''),
    begun        TEXT CHECK (begun GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    lat          REAL CHECK (lat BETWEEN -90 AND 90),
    lon          REAL CHECK (lon BETWEEN -180 AND 180),
    photo_policy TEXT NOT NULL CHECK (photo_policy IN ('', 'permit in every picture', 'photographs not accepted as proof')),
    made_at      DATETIME NOT NULL,
    version      INTEGER NOT NULL CHECK (version >= 1),
    seq          INTEGER NOT NULL,
    body         TEXT NOT NULL CHECK (json_valid(body)),
    CHECK ((lat IS NULL) = (lon IS NULL)),
    FOREIGN KEY (id, seq) REFERENCES events (job_id, seq)
);

CREATE TABLE runs (
    job_id         TEXT NOT NULL REFERENCES jobs (id),
    id             TEXT NOT NULL CHECK (id <> ''),
    label          TEXT NOT NULL,
    kind           TEXT NOT NULL CHECK (kind IN ('level', 'rake', 'removable')),
    position       INTEGER NOT NULL,
    retired        INTEGER NOT NULL CHECK (retired IN (0, 1)),
    length_nm      INTEGER NOT NULL,
    deck_height_nm INTEGER NOT NULL,
    version        INTEGER NOT NULL CHECK (version >= 1),
    first_seq      INTEGER NOT NULL,
    seq            INTEGER NOT NULL,
    body           TEXT NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, position),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq)
);

-- A label is on the wood: two standing runs never share one.
CREATE UNIQUE INDEX runs_live_label ON runs (job_id, label) WHERE retired = 0;

CREATE TABLE layouts (
    job_id  TEXT NOT NULL,
    run_id  TEXT NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    at      DATETIME NOT NULL,
    basis   TEXT NOT NULL,
    seq     INTEGER NOT NULL,
    body    TEXT NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (job_id, run_id, version),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, run_id) REFERENCES runs (job_id, id),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq)
);

CREATE TABLE readings (
    job_id         TEXT NOT NULL REFERENCES jobs (id),
    id             TEXT NOT NULL CHECK (id <> ''),
    seq            INTEGER NOT NULL,
    check_id       TEXT NOT NULL CHECK (check_id <> ''),
    check_key      TEXT NOT NULL CHECK (check_key <> ''),
    stage          TEXT NOT NULL CHECK (stage IN ('framing', 'posts', 'rails', 'infill', 'caps', 'post tops', 'handover')),
    place_id       TEXT NOT NULL,
    place_kind     TEXT NOT NULL CHECK (place_kind IN ('job', 'run', 'post', 'bay')),
    place_run_id   TEXT,
    place_number   INTEGER NOT NULL,
    place_label    TEXT NOT NULL,
    length_nm      INTEGER,
    count          INTEGER,
    seen           TEXT NOT NULL CHECK (seen IN ('', 'yes', 'no', 'not applicable')),
    gauge          TEXT NOT NULL CHECK (gauge IN ('', 'stopped', 'passed')),
    tool           TEXT NOT NULL,
    nominal_nm     INTEGER,
    limit_outcome  TEXT NOT NULL CHECK (limit_outcome IN ('', 'inside', 'uncertain', 'outside')),
    layout_outcome TEXT NOT NULL CHECK (layout_outcome IN ('', 'inside', 'uncertain', 'outside')),
    verdict        TEXT NOT NULL CHECK (verdict IN ('', 'good', 'too close to call', 'off the layout', 'fails the limit')),
    margin_nm      INTEGER NOT NULL,
    doubt_nm       INTEGER NOT NULL,
    by_id          TEXT NOT NULL,
    by_name        TEXT NOT NULL,
    by_role        TEXT NOT NULL,
    claimed_at     DATETIME NOT NULL,
    received_at    DATETIME NOT NULL,
    device         TEXT NOT NULL,
    device_seq     INTEGER NOT NULL,
    rule_set       TEXT NOT NULL,
    layout_version INTEGER NOT NULL,
    supersedes     TEXT,
    same_as        TEXT,
    body           TEXT NOT NULL CHECK (json_valid(body)),
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, seq),
    -- One answer, of one kind: no answer is no reading.
    CHECK ((length_nm IS NOT NULL) + (count IS NOT NULL) + (seen <> '') + (gauge <> '') = 1),
    CHECK ((place_kind = 'job') = (place_run_id IS NULL)),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, place_run_id) REFERENCES runs (job_id, id),
    -- What it was judged against stays to be looked at. Readings of the job as a whole have no run and no layout.
    FOREIGN KEY (job_id, place_run_id, layout_version) REFERENCES layouts (job_id, run_id, version),
    FOREIGN KEY (job_id, supersedes) REFERENCES readings (job_id, id),
    FOREIGN KEY (job_id, same_as) REFERENCES readings (job_id, id)
);

CREATE INDEX readings_check ON readings (job_id, check_id);

CREATE TABLE photos (
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
    stage        TEXT NOT NULL CHECK (stage IN ('framing', 'posts', 'rails', 'infill', 'caps', 'post tops', 'handover')),
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
    CHECK ((place_kind = 'job') = (place_run_id IS NULL)),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, place_run_id) REFERENCES runs (job_id, id)
);

CREATE INDEX photos_media ON photos (media);

CREATE TABLE deviations (
    job_id         TEXT NOT NULL REFERENCES jobs (id),
    id             TEXT NOT NULL CHECK (id <> ''),
    number         INTEGER NOT NULL CHECK (number >= 1),
    kind           TEXT NOT NULL CHECK (kind IN ('reading', 'missing', 'by hand', 'removable')),
    check_id       TEXT NOT NULL,
    stage          TEXT NOT NULL CHECK (stage IN ('framing', 'posts', 'rails', 'infill', 'caps', 'post tops', 'handover')),
    place_id       TEXT NOT NULL,
    place_kind     TEXT NOT NULL CHECK (place_kind IN ('job', 'run', 'post', 'bay')),
    place_run_id   TEXT,
    place_number   INTEGER NOT NULL,
    place_label    TEXT NOT NULL,
    what           TEXT NOT NULL CHECK (what <> ''),
    missing        TEXT NOT NULL CHECK (json_valid(missing)),
    reading_id     TEXT,
    opened_at      DATETIME NOT NULL,
    opened_by_id   TEXT NOT NULL,
    opened_by_name TEXT NOT NULL,
    opened_by_role TEXT NOT NULL,
    state          TEXT NOT NULL CHECK (state IN ('open', 'put right', 'accepted', 'referred')),
    ended_at       DATETIME,
    ended_by_id    TEXT NOT NULL,
    ended_by_name  TEXT NOT NULL,
    ended_by_role  TEXT NOT NULL,
    reason         TEXT NOT NULL,
    name           TEXT NOT NULL,
    ended_with     TEXT,
    version        INTEGER NOT NULL CHECK (version >= 1),
    first_seq      INTEGER NOT NULL,
    seq            INTEGER NOT NULL,
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, number),
    UNIQUE (job_id, seq),
    CHECK ((place_kind = 'job') = (place_run_id IS NULL)),
    CHECK ((state = 'open') = (ended_at IS NULL)),
    -- Nothing is accepted without a reason and a name.
    CHECK (state <> 'accepted' OR reason <> '' AND name <> ''),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, place_run_id) REFERENCES runs (job_id, id),
    FOREIGN KEY (job_id, reading_id) REFERENCES readings (job_id, id),
    FOREIGN KEY (job_id, ended_with) REFERENCES readings (job_id, id)
);

CREATE TABLE stages (
    job_id     TEXT NOT NULL REFERENCES jobs (id),
    stage      TEXT NOT NULL CHECK (stage IN ('framing', 'posts', 'rails', 'infill', 'caps', 'post tops', 'handover')),
    closed     INTEGER NOT NULL CHECK (closed IN (0, 1)),
    at         DATETIME NOT NULL,
    by_id      TEXT NOT NULL,
    by_name    TEXT NOT NULL,
    by_role    TEXT NOT NULL,
    deviations TEXT NOT NULL CHECK (json_valid(deviations)),
    reason     TEXT NOT NULL,
    version    INTEGER NOT NULL CHECK (version >= 1),
    first_seq  INTEGER NOT NULL,
    seq        INTEGER NOT NULL,
    PRIMARY KEY (job_id, stage),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq)
);

CREATE TABLE covered (
    job_id     TEXT NOT NULL,
    run_id     TEXT NOT NULL,
    covered_on TEXT NOT NULL CHECK (covered_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    at         DATETIME NOT NULL,
    by_id      TEXT NOT NULL,
    by_name    TEXT NOT NULL,
    by_role    TEXT NOT NULL,
    note       TEXT NOT NULL,
    deviations TEXT NOT NULL CHECK (json_valid(deviations)),
    first_seq  INTEGER NOT NULL,
    seq        INTEGER NOT NULL,
    PRIMARY KEY (job_id, run_id),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, run_id) REFERENCES runs (job_id, id),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq)
);

CREATE TABLE diary_pages (
    job_id          TEXT NOT NULL REFERENCES jobs (id),
    day             TEXT NOT NULL CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    weather         TEXT NOT NULL,
    people          TEXT NOT NULL CHECK (json_valid(people)),
    work            TEXT NOT NULL,
    deliveries      TEXT NOT NULL,
    delays          TEXT NOT NULL,
    visitors        TEXT NOT NULL,
    fall_protection TEXT NOT NULL,
    by_id           TEXT NOT NULL,
    by_name         TEXT NOT NULL,
    by_role         TEXT NOT NULL,
    at              DATETIME NOT NULL,
    version         INTEGER NOT NULL CHECK (version >= 1),
    first_seq       INTEGER NOT NULL,
    seq             INTEGER NOT NULL,
    PRIMARY KEY (job_id, day),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq)
);

CREATE TABLE packs (
    job_id      TEXT NOT NULL REFERENCES jobs (id),
    number      INTEGER NOT NULL CHECK (number >= 1),
    issued_at   DATETIME NOT NULL,
    by_id       TEXT NOT NULL,
    by_name     TEXT NOT NULL,
    by_role     TEXT NOT NULL,
    purpose     TEXT NOT NULL,
    hash        TEXT NOT NULL CHECK (length(hash) = 64),
    record_hash TEXT NOT NULL CHECK (length(record_hash) = 64),
    head_seq    INTEGER NOT NULL,
    head_hash   TEXT NOT NULL CHECK (length(head_hash) = 64),
    originals   INTEGER NOT NULL CHECK (originals IN (0, 1)),
    open        TEXT NOT NULL CHECK (json_valid(open)),
    seq         INTEGER NOT NULL,
    PRIMARY KEY (job_id, number),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, head_seq) REFERENCES events (job_id, seq),
    CHECK (head_seq < seq)
);

CREATE TABLE links (
    job_id       TEXT NOT NULL REFERENCES jobs (id),
    id           TEXT NOT NULL CHECK (id <> ''),
    token_hash   TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
    for_role     TEXT NOT NULL CHECK (for_role IN ('owner', 'inspector')),
    name         TEXT NOT NULL,
    pack         INTEGER NOT NULL,
    made_at      DATETIME NOT NULL,
    made_by_id   TEXT NOT NULL,
    made_by_name TEXT NOT NULL,
    made_by_role TEXT NOT NULL,
    expires_at   DATETIME NOT NULL,
    revoked_at   DATETIME,
    first_seq    INTEGER NOT NULL,
    seq          INTEGER NOT NULL,
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, pack) REFERENCES packs (job_id, number)
);

CREATE TABLE answers (
    job_id      TEXT NOT NULL REFERENCES jobs (id),
    id          TEXT NOT NULL CHECK (id <> ''),
    link_id     TEXT NOT NULL,
    from_role   TEXT NOT NULL CHECK (from_role IN ('owner', 'inspector')),
    pack        INTEGER NOT NULL,
    pack_hash   TEXT NOT NULL CHECK (length(pack_hash) = 64),
    kind        TEXT NOT NULL CHECK (kind IN ('accepted', 'declined', 'remark', 'outcome')),
    outcome     TEXT NOT NULL,
    stage       TEXT NOT NULL CHECK (stage IN ('', 'framing', 'posts', 'rails', 'infill', 'caps', 'post tops', 'handover')),
    place       TEXT NOT NULL,
    text        TEXT NOT NULL,
    name        TEXT NOT NULL CHECK (name <> ''),
    office      TEXT NOT NULL,
    answered_on TEXT NOT NULL,
    at          DATETIME NOT NULL,
    seq         INTEGER NOT NULL,
    PRIMARY KEY (job_id, id),
    UNIQUE (job_id, seq),
    FOREIGN KEY (job_id, seq) REFERENCES events (job_id, seq),
    FOREIGN KEY (job_id, link_id) REFERENCES links (job_id, id),
    FOREIGN KEY (job_id, pack) REFERENCES packs (job_id, number)
);

CREATE TABLE forms (
    id        TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    body_hash TEXT NOT NULL,
    result    TEXT NOT NULL,
    at        DATETIME NOT NULL
);

CREATE TABLE accounts (
    id       TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),
    name     TEXT NOT NULL CHECK (name <> ''),
    login    TEXT NOT NULL UNIQUE CHECK (login <> '' AND login = lower(login)),
    hash     TEXT NOT NULL,
    role     TEXT NOT NULL CHECK (role IN ('builder', 'crew')),
    disabled INTEGER NOT NULL CHECK (disabled IN (0, 1)),
    made_at  DATETIME NOT NULL,
    version  INTEGER NOT NULL CHECK (version >= 1)
);

CREATE TABLE settings (
    key   TEXT NOT NULL PRIMARY KEY CHECK (key <> ''),
    value TEXT NOT NULL
);

-- An ended session stays until it would have expired: a request that was under way when it ended must not bring it back.
CREATE TABLE sessions (
    token_hash TEXT NOT NULL PRIMARY KEY CHECK (length(token_hash) = 64),
    data       BLOB NOT NULL,
    expires_at DATETIME NOT NULL,
    account_id TEXT REFERENCES accounts (id) ON DELETE CASCADE,
    ended      INTEGER NOT NULL CHECK (ended IN (0, 1))
);

CREATE INDEX sessions_account ON sessions (account_id);
CREATE INDEX sessions_expiry ON sessions (expires_at);

-- Written once: not changed, not deleted.

-- +goose StatementBegin
CREATE TRIGGER events_no_update BEFORE UPDATE ON events
BEGIN
    SELECT RAISE(ABORT, 'events are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER events_no_delete BEFORE DELETE ON events
BEGIN
    SELECT RAISE(ABORT, 'events are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER readings_no_update BEFORE UPDATE ON readings
BEGIN
    SELECT RAISE(ABORT, 'readings are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER readings_no_delete BEFORE DELETE ON readings
BEGIN
    SELECT RAISE(ABORT, 'readings are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layouts_no_update BEFORE UPDATE ON layouts
BEGIN
    SELECT RAISE(ABORT, 'layouts are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER layouts_no_delete BEFORE DELETE ON layouts
BEGIN
    SELECT RAISE(ABORT, 'layouts are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER packs_no_update BEFORE UPDATE ON packs
BEGIN
    SELECT RAISE(ABORT, 'packs are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER packs_no_delete BEFORE DELETE ON packs
BEGIN
    SELECT RAISE(ABORT, 'packs are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER answers_no_update BEFORE UPDATE ON answers
BEGIN
    SELECT RAISE(ABORT, 'answers are written once');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER answers_no_delete BEFORE DELETE ON answers
BEGIN
    SELECT RAISE(ABORT, 'answers are written once');
END;
-- +goose StatementEnd

-- Changed by later events, never deleted: what the job no longer has is retired, ended or revoked.

-- +goose StatementBegin
CREATE TRIGGER jobs_no_delete BEFORE DELETE ON jobs
BEGIN
    SELECT RAISE(ABORT, 'jobs are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER runs_no_delete BEFORE DELETE ON runs
BEGIN
    SELECT RAISE(ABORT, 'runs are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER photos_no_delete BEFORE DELETE ON photos
BEGIN
    SELECT RAISE(ABORT, 'photos are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER deviations_no_delete BEFORE DELETE ON deviations
BEGIN
    SELECT RAISE(ABORT, 'deviations are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER stages_no_delete BEFORE DELETE ON stages
BEGIN
    SELECT RAISE(ABORT, 'stages are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER covered_no_delete BEFORE DELETE ON covered
BEGIN
    SELECT RAISE(ABORT, 'covers are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER diary_pages_no_delete BEFORE DELETE ON diary_pages
BEGIN
    SELECT RAISE(ABORT, 'diary pages are never deleted');
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER links_no_delete BEFORE DELETE ON links
BEGIN
    SELECT RAISE(ABORT, 'links are never deleted');
END;
-- +goose StatementEnd
