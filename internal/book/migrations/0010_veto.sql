-- What the person will not have, and what they can give: hours of work a week, room under light.

-- +goose Up

-- veto is what is not to be planned; what is empty does not narrow it. bed_id 0 is every bed.
CREATE TABLE veto (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    bed_id     INTEGER NOT NULL,
    crop       TEXT NOT NULL,
    family     TEXT NOT NULL,
    way        TEXT NOT NULL,
    before_day TEXT,
    note       TEXT NOT NULL
);

-- means is what the garden has besides its ground; 0 is not told.
CREATE TABLE means (
    id         INTEGER PRIMARY KEY CHECK (id = 1),
    hours_week REAL NOT NULL CHECK (hours_week >= 0),
    trays      REAL NOT NULL CHECK (trays >= 0)
);
