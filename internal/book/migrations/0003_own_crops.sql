-- A person's own crops: whole ones as the text of a crop's file, and varieties of others as their seed
-- packets tell. Amounts are text as they were typed, with their unit. One that the past names is retired,
-- never deleted.

-- +goose Up

CREATE TABLE crop_file (
    id       TEXT    PRIMARY KEY CHECK (id <> ''),
    position INTEGER NOT NULL,
    text     TEXT    NOT NULL,
    retired  INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
);

CREATE TABLE variety (
    id           TEXT    PRIMARY KEY CHECK (id <> ''),
    position     INTEGER NOT NULL,
    name         TEXT    NOT NULL CHECK (trim(name) <> ''),
    base         TEXT    NOT NULL CHECK (base <> ''),
    days         TEXT    NOT NULL,
    days_from    TEXT    NOT NULL CHECK (days_from IN ('', 'sow', 'set out', 'set')),
    in_row       TEXT    NOT NULL,
    between_rows TEXT    NOT NULL,
    yield        TEXT    NOT NULL,
    note         TEXT    NOT NULL,
    retired      INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
);
