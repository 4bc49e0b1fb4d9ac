-- Light: how the plot lies, its skyline, what throws shade, and the sun as a person saw it on a bed.

-- +goose Up

-- lie is how the whole plot lies; no row: level, its north true.
CREATE TABLE lie (
    id         INTEGER PRIMARY KEY CHECK (id = 1),
    slope_deg  REAL NOT NULL CHECK (slope_deg BETWEEN 0 AND 45),
    aspect_deg REAL NOT NULL CHECK (aspect_deg BETWEEN 0 AND 360),
    north_deg  REAL NOT NULL CHECK (north_deg BETWEEN -180 AND 180)
);

-- skyline is one height of the skyline.
CREATE TABLE skyline (
    position     INTEGER PRIMARY KEY,
    bearing_deg  REAL NOT NULL CHECK (bearing_deg BETWEEN 0 AND 360),
    altitude_deg REAL NOT NULL CHECK (altitude_deg BETWEEN 0 AND 80)
);

-- shade is what keeps the sun off; what is gone is retired. A day of the year is month-day, empty: none.
CREATE TABLE shade (
    id           INTEGER PRIMARY KEY AUTOINCREMENT,
    position     INTEGER NOT NULL,
    name         TEXT    NOT NULL CHECK (trim(name) <> ''),
    kind         TEXT    NOT NULL CHECK (kind IN ('house', 'shed', 'roof', 'wall', 'fence', 'hedge', 'tree')),
    x_m          REAL    NOT NULL,
    y_m          REAL    NOT NULL,
    length_m     REAL    NOT NULL CHECK (length_m >= 0),
    width_m      REAL    NOT NULL CHECK (width_m >= 0),
    bearing_deg  REAL    NOT NULL CHECK (bearing_deg BETWEEN 0 AND 180),
    height_m     REAL    NOT NULL CHECK (height_m > 0),
    ridge_m      REAL    NOT NULL CHECK (ridge_m >= 0),
    crown        TEXT    NOT NULL,
    spread_m     REAL    NOT NULL CHECK (spread_m >= 0),
    crown_base_m REAL    NOT NULL CHECK (crown_base_m >= 0),
    trunk_m      REAL    NOT NULL CHECK (trunk_m >= 0),
    leaf_on      TEXT    NOT NULL,
    leaf_off     TEXT    NOT NULL,
    bare         REAL    CHECK (bare BETWEEN 0 AND 100),
    gaps         REAL    CHECK (gaps BETWEEN 0 AND 100),
    note         TEXT    NOT NULL,
    retired      INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
);

-- sun_seen is between which hours of the day the sun was seen on a bed in a month.
CREATE TABLE sun_seen (
    bed_id   INTEGER NOT NULL REFERENCES bed (id),
    position INTEGER NOT NULL,
    month    INTEGER NOT NULL CHECK (month BETWEEN 1 AND 12),
    from_h   REAL    NOT NULL CHECK (from_h BETWEEN 0 AND 24),
    to_h     REAL    NOT NULL CHECK (to_h BETWEEN 0 AND 24),
    PRIMARY KEY (bed_id, position)
) WITHOUT ROWID;
