-- Every weather record the book was given is kept, and which one is in use is a choice. What was
-- fetched from a service is kept a year at a time, as it arrives.

-- +goose Up

-- weather_record is one record as it was given. kept_at is empty for the one of the first schema.
CREATE TABLE weather_record (
    id           INTEGER PRIMARY KEY AUTOINCREMENT,
    kept_at      TEXT NOT NULL,
    origin       TEXT NOT NULL,
    source       TEXT NOT NULL,
    station_json TEXT NOT NULL,
    notes_json   TEXT NOT NULL
);

-- weather_run is the packed days of one calendar year (see record.go). Records that agree in a year
-- share its run, so that a record brought up to date costs one year of room.
CREATE TABLE weather_run (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    first_day TEXT NOT NULL,
    days      BLOB NOT NULL
);
CREATE INDEX weather_run_day ON weather_run (first_day);

-- weather_record_run says which runs make up a record.
CREATE TABLE weather_record_run (
    record_id INTEGER NOT NULL REFERENCES weather_record (id),
    year      INTEGER NOT NULL,
    run_id    INTEGER NOT NULL REFERENCES weather_run (id),
    PRIMARY KEY (record_id, year)
) WITHOUT ROWID;

-- weather_in_use is one row: the record the season is computed from.
CREATE TABLE weather_in_use (
    id        INTEGER PRIMARY KEY CHECK (id = 1),
    record_id INTEGER NOT NULL REFERENCES weather_record (id)
);

-- weather_piece is one year as a service gave it; days is null where the service has nothing for it.
CREATE TABLE weather_piece (
    service      TEXT    NOT NULL,
    place        TEXT    NOT NULL,
    year         INTEGER NOT NULL,
    asked_on     TEXT    NOT NULL,
    until_day    TEXT    NOT NULL,
    source       TEXT    NOT NULL,
    station_json TEXT    NOT NULL,
    notes_json   TEXT    NOT NULL,
    first_day    TEXT,
    days         BLOB,
    PRIMARY KEY (service, place, year)
);

INSERT INTO weather_record (id, kept_at, origin, source, station_json, notes_json)
    SELECT 1, '', origin, source, station_json, notes_json FROM weather;
INSERT INTO weather_run (first_day, days) SELECT first_day, days FROM weather_year ORDER BY year;
INSERT INTO weather_record_run (record_id, year, run_id)
    SELECT weather_record.id, weather_year.year, weather_run.id
    FROM weather_record, weather_year JOIN weather_run ON weather_run.first_day = weather_year.first_day;
INSERT INTO weather_in_use (id, record_id) SELECT 1, id FROM weather_record;
DROP TABLE weather_year;
DROP TABLE weather;

-- +goose StatementBegin
CREATE TRIGGER weather_record_stays BEFORE UPDATE ON weather_record
BEGIN SELECT RAISE(ABORT, 'a weather record is kept as it was given'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_record_is_kept BEFORE DELETE ON weather_record
BEGIN SELECT RAISE(ABORT, 'a weather record is kept, never lost'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_run_stays BEFORE UPDATE ON weather_run
BEGIN SELECT RAISE(ABORT, 'a weather record is kept as it was given'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_run_is_kept BEFORE DELETE ON weather_run
BEGIN SELECT RAISE(ABORT, 'a weather record is kept, never lost'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_record_run_stays BEFORE UPDATE ON weather_record_run
BEGIN SELECT RAISE(ABORT, 'a weather record is kept as it was given'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_record_run_is_kept BEFORE DELETE ON weather_record_run
BEGIN SELECT RAISE(ABORT, 'a weather record is kept, never lost'); END;
-- +goose StatementEnd
