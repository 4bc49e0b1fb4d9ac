-- A person may drop a weather record by its number. The book remembers that it was dropped, the record in use
-- cannot be, and nothing else takes a record away.

-- +goose Up

-- weather_dropped is what was dropped, when, and what it was in a line.
CREATE TABLE weather_dropped (
    record_id  INTEGER PRIMARY KEY,
    dropped_at TEXT NOT NULL,
    source     TEXT NOT NULL
);

DROP TRIGGER weather_record_is_kept;
DROP TRIGGER weather_run_is_kept;
DROP TRIGGER weather_record_run_is_kept;

-- +goose StatementBegin
CREATE TRIGGER weather_record_is_kept BEFORE DELETE ON weather_record
WHEN OLD.id NOT IN (SELECT record_id FROM weather_dropped) OR OLD.id IN (SELECT record_id FROM weather_in_use)
BEGIN SELECT RAISE(ABORT, 'a weather record is kept until it is dropped by its number, and the one in use is kept'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_record_run_is_kept BEFORE DELETE ON weather_record_run
WHEN OLD.record_id NOT IN (SELECT record_id FROM weather_dropped) OR OLD.record_id IN (SELECT record_id FROM weather_in_use)
BEGIN SELECT RAISE(ABORT, 'a weather record is kept until it is dropped by its number, and the one in use is kept'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER weather_run_is_kept BEFORE DELETE ON weather_run
WHEN OLD.id IN (SELECT run_id FROM weather_record_run)
BEGIN SELECT RAISE(ABORT, 'a year of weather is kept as long as a record has it'); END;
-- +goose StatementEnd
