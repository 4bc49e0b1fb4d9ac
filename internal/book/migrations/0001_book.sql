-- The garden book as it begins: the ground and what the person has told of it, the weather record,
-- the plans, the journal, the settings. Dates are text, year-month-day; lengths metres; masses
-- kilograms; truths 0 or 1; a column named *_json holds a Go value with its field names.

-- +goose Up

-- book is one row: revision grows by one with every change, so that a page can know that it is stale.
CREATE TABLE book (
    id       INTEGER PRIMARY KEY CHECK (id = 1),
    revision INTEGER NOT NULL DEFAULT 0
);
INSERT INTO book (id) VALUES (1);

-- site is one row, absent until the person has told of the place.
CREATE TABLE site (
    id          INTEGER PRIMARY KEY CHECK (id = 1),
    name        TEXT    NOT NULL,
    latitude    REAL    NOT NULL CHECK (latitude BETWEEN -90 AND 90),
    longitude   REAL    NOT NULL CHECK (longitude BETWEEN -180 AND 180),
    elevation_m REAL    NOT NULL,
    units       TEXT    NOT NULL CHECK (units IN ('metric', 'US')),
    household   INTEGER NOT NULL CHECK (household >= 0),
    invented    INTEGER NOT NULL CHECK (invented IN (0, 1)),
    width_m     REAL    NOT NULL CHECK (width_m >= 0),
    depth_m     REAL    NOT NULL CHECK (depth_m >= 0),
    note        TEXT    NOT NULL
);

-- bed is never deleted once something grew or was planned in it: it is retired.
CREATE TABLE bed (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    position    INTEGER NOT NULL,
    name        TEXT    NOT NULL CHECK (trim(name) <> ''),
    x_m         REAL    NOT NULL,
    y_m         REAL    NOT NULL,
    length_m    REAL    NOT NULL CHECK (length_m > 0),
    width_m     REAL    NOT NULL CHECK (width_m > 0),
    bearing_deg REAL    NOT NULL CHECK (bearing_deg BETWEEN 0 AND 180),
    rows_across INTEGER NOT NULL CHECK (rows_across IN (0, 1)),
    sun_h       REAL    NOT NULL CHECK (sun_h BETWEEN 0 AND 16),
    perennial   INTEGER NOT NULL CHECK (perennial IN (0, 1)),
    note        TEXT    NOT NULL,
    retired     INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
);
CREATE UNIQUE INDEX bed_name ON bed (name COLLATE NOCASE) WHERE NOT retired;

-- past is what grew in a bed in an earlier year; a line taken back is retired.
CREATE TABLE past (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    position INTEGER NOT NULL,
    bed_id   INTEGER NOT NULL REFERENCES bed (id),
    year     INTEGER NOT NULL,
    crop_id  TEXT    NOT NULL,
    family   TEXT    NOT NULL,
    note     TEXT    NOT NULL,
    retired  INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)),
    CHECK (crop_id <> '' OR family <> '')
);
CREATE INDEX past_bed ON past (bed_id, year);

-- want is what the household would like to eat; dates are null where the person gave none.
CREATE TABLE want (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    position INTEGER NOT NULL,
    crop     TEXT    NOT NULL CHECK (crop <> ''),
    basis    TEXT    NOT NULL CHECK (basis IN ('total', 'weekly')),
    amount   REAL    NOT NULL CHECK (amount > 0),
    unit     TEXT    NOT NULL,
    weight   INTEGER NOT NULL CHECK (weight BETWEEN 1 AND 5),
    from_day TEXT,
    to_day   TEXT,
    note     TEXT    NOT NULL
);

-- standing is what the person said stands in the ground: perennials, plantings kept from before.
CREATE TABLE standing (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    position      INTEGER NOT NULL,
    key           TEXT    NOT NULL UNIQUE,
    bed_id        INTEGER NOT NULL REFERENCES bed (id),
    crop_id       TEXT    NOT NULL,
    status        TEXT    NOT NULL CHECK (status IN ('planned', 'in the ground', 'over', 'lost')),
    pinned        INTEGER NOT NULL CHECK (pinned IN (0, 1)),
    planting_json TEXT    NOT NULL
);

-- plan is one plan as it was made. A later plan of a season takes its place; none is ever lost.
CREATE TABLE plan (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    season    INTEGER NOT NULL,
    made_at   TEXT    NOT NULL,
    value     REAL    NOT NULL,
    plan_json TEXT    NOT NULL
);
CREATE INDEX plan_season ON plan (season, id);

-- planting is one planting of a plan; only its status and pin change after the plan is kept.
CREATE TABLE planting (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    plan_id       INTEGER NOT NULL REFERENCES plan (id),
    position      INTEGER NOT NULL,
    key           TEXT    NOT NULL,
    bed_id        INTEGER NOT NULL REFERENCES bed (id),
    crop_id       TEXT    NOT NULL,
    start_day     TEXT    NOT NULL,
    status        TEXT    NOT NULL CHECK (status IN ('planned', 'in the ground', 'over', 'lost')),
    pinned        INTEGER NOT NULL CHECK (pinned IN (0, 1)),
    planting_json TEXT    NOT NULL,
    UNIQUE (plan_id, key)
);
CREATE INDEX planting_key ON planting (key, plan_id);
CREATE INDEX planting_bed ON planting (bed_id);

-- journal is what happened. It is only ever added to.
CREATE TABLE journal (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    day        TEXT NOT NULL,
    kind       TEXT NOT NULL,
    bed_id     INTEGER REFERENCES bed (id),
    planting   TEXT NOT NULL,
    amount_kg  REAL NOT NULL CHECK (amount_kg >= 0),
    text       TEXT NOT NULL,
    written_at TEXT NOT NULL
);
CREATE INDEX journal_day ON journal (day, id);

-- weather is one row: the record the season is computed from.
CREATE TABLE weather (
    id           INTEGER PRIMARY KEY CHECK (id = 1),
    origin       TEXT NOT NULL,
    source       TEXT NOT NULL,
    station_json TEXT NOT NULL,
    notes_json   TEXT NOT NULL
);

-- weather_year holds the record's days, a packed run for each calendar year (see record.go).
CREATE TABLE weather_year (
    year      INTEGER PRIMARY KEY,
    first_day TEXT NOT NULL,
    days      BLOB NOT NULL
);

-- setting is one row for each set of choices, by name.
CREATE TABLE setting (
    name       TEXT PRIMARY KEY,
    value_json TEXT NOT NULL
);

-- +goose StatementBegin
CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only ever added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER journal_is_kept BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only ever added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER plan_stays BEFORE UPDATE ON plan
BEGIN SELECT RAISE(ABORT, 'a plan is kept as it was made'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER plan_is_kept BEFORE DELETE ON plan
BEGIN SELECT RAISE(ABORT, 'a plan is kept, never lost'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER planting_stays BEFORE UPDATE OF plan_id, position, key, bed_id, crop_id, start_day, planting_json ON planting
BEGIN SELECT RAISE(ABORT, 'a plan is kept as it was made'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER planting_is_kept BEFORE DELETE ON planting
BEGIN SELECT RAISE(ABORT, 'a plan is kept, never lost'); END;
-- +goose StatementEnd
