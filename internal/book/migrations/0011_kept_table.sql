-- Growth tables made before, by what they were made from, so that they need not be made again. Nothing rests on them: any may go.

-- +goose Up

-- kept_table is one table as growth writes it; used_on is the day it was last asked for.
CREATE TABLE kept_table (
    digest  TEXT PRIMARY KEY,
    body    BLOB NOT NULL,
    used_on TEXT NOT NULL
);
