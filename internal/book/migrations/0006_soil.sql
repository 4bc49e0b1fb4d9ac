-- The ground: what is told of it without a test, soil tests, what was put on it, what is on sale for
-- it, and compost heaps. Tests and the logs of heaps are only ever added to; a test that was wrong is
-- withdrawn, and stays.

-- +goose Up

-- ground is the soil as the person knows it: bed_id 0 is the whole garden, others are beds that differ.
CREATE TABLE ground (
    bed_id    INTEGER PRIMARY KEY,
    texture   TEXT    NOT NULL,
    topsoil_m REAL    NOT NULL CHECK (topsoil_m >= 0),
    state     TEXT    NOT NULL,
    drift     TEXT    NOT NULL,
    tilled_m  REAL    NOT NULL CHECK (tilled_m >= 0),
    tool      TEXT    NOT NULL,
    bucket_l  REAL    NOT NULL CHECK (bucket_l >= 0),
    weighs    TEXT    NOT NULL CHECK (weighs IN ('metric', 'US'))
);
INSERT INTO ground (bed_id, texture, topsoil_m, state, drift, tilled_m, tool, bucket_l, weighs)
    SELECT 0, '', 0, '', '', 0, '', 0, units FROM site;

-- soil_test is one result; a figure that was not measured is null.
CREATE TABLE soil_test (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    day        TEXT    NOT NULL,
    kit        INTEGER NOT NULL CHECK (kit IN (0, 1)),
    depth_m    REAL    NOT NULL CHECK (depth_m >= 0),
    ph         REAL    CHECK (ph BETWEEN 0 AND 14),
    in_salt    INTEGER NOT NULL CHECK (in_salt IN (0, 1)),
    buffer_ph  REAL    CHECK (buffer_ph BETWEEN 0 AND 14),
    method     TEXT    NOT NULL,
    acidity    REAL    CHECK (acidity >= 0),
    organic    REAL    CHECK (organic BETWEEN 0 AND 100),
    cec        REAL    CHECK (cec >= 0),
    texture    TEXT    NOT NULL,
    salts      REAL    CHECK (salts >= 0),
    salts_in   TEXT    NOT NULL,
    lead       REAL    CHECK (lead >= 0),
    free_lime  INTEGER CHECK (free_lime IN (0, 1)),
    lab        TEXT    NOT NULL,
    note       TEXT    NOT NULL,
    written_at TEXT    NOT NULL
);

-- soil_test_bed are the beds a test stands for; a test without any stands for the whole garden.
CREATE TABLE soil_test_bed (
    test_id  INTEGER NOT NULL REFERENCES soil_test (id),
    position INTEGER NOT NULL,
    bed_id   INTEGER NOT NULL REFERENCES bed (id),
    PRIMARY KEY (test_id, position)
) WITHOUT ROWID;
CREATE INDEX soil_test_bed_bed ON soil_test_bed (bed_id);

-- soil_test_reading is one element of a test.
CREATE TABLE soil_test_reading (
    test_id   INTEGER NOT NULL REFERENCES soil_test (id),
    position  INTEGER NOT NULL,
    element   TEXT    NOT NULL,
    value     REAL    NOT NULL CHECK (value >= 0),
    unit      TEXT    NOT NULL,
    class     TEXT    NOT NULL,
    extractor TEXT    NOT NULL,
    PRIMARY KEY (test_id, position)
) WITHOUT ROWID;

-- soil_test_withdrawn marks tests that no longer count.
CREATE TABLE soil_test_withdrawn (
    test_id      INTEGER PRIMARY KEY REFERENCES soil_test (id),
    withdrawn_at TEXT NOT NULL
);

-- treatment is what a journal entry of kind fed tells was put on its bed.
CREATE TABLE treatment (
    entry_id INTEGER PRIMARY KEY REFERENCES journal (id),
    material TEXT NOT NULL CHECK (material <> ''),
    volume_l REAL NOT NULL CHECK (volume_l >= 0),
    depth_m  REAL NOT NULL CHECK (depth_m >= 0)
);

-- package is a size on sale; one no longer sold is retired.
CREATE TABLE package (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    position INTEGER NOT NULL,
    material TEXT    NOT NULL CHECK (material <> ''),
    name     TEXT    NOT NULL,
    mass_kg  REAL    NOT NULL CHECK (mass_kg >= 0),
    volume_l REAL    NOT NULL CHECK (volume_l >= 0),
    price    REAL    NOT NULL CHECK (price >= 0),
    n        REAL,
    p2o5     REAL,
    k2o      REAL,
    cce      REAL,
    fineness REAL,
    retired  INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1)),
    CHECK (mass_kg > 0 OR volume_l > 0)
);

CREATE TABLE heap (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    position INTEGER NOT NULL,
    name     TEXT    NOT NULL CHECK (trim(name) <> ''),
    started  TEXT    NOT NULL,
    emptied  TEXT,
    note     TEXT    NOT NULL,
    retired  INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
);

CREATE TABLE heap_part (
    heap_id   INTEGER NOT NULL REFERENCES heap (id),
    position  INTEGER NOT NULL,
    feedstock TEXT    NOT NULL CHECK (feedstock <> ''),
    volume_l  REAL    NOT NULL CHECK (volume_l > 0),
    moisture  REAL    CHECK (moisture BETWEEN 0 AND 100),
    PRIMARY KEY (heap_id, position)
) WITHOUT ROWID;

CREATE TABLE heap_log (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    heap_id    INTEGER NOT NULL REFERENCES heap (id),
    day        TEXT    NOT NULL,
    kind       TEXT    NOT NULL,
    celsius    REAL,
    text       TEXT    NOT NULL,
    written_at TEXT    NOT NULL
);
CREATE INDEX heap_log_heap ON heap_log (heap_id, day, id);

-- +goose StatementBegin
CREATE TRIGGER soil_test_stays BEFORE UPDATE ON soil_test
BEGIN SELECT RAISE(ABORT, 'a soil test is kept as it was told; withdraw it and tell another'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_is_kept BEFORE DELETE ON soil_test
BEGIN SELECT RAISE(ABORT, 'a soil test is kept as it was told; withdraw it and tell another'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_bed_stays BEFORE UPDATE ON soil_test_bed
BEGIN SELECT RAISE(ABORT, 'a soil test is kept as it was told; withdraw it and tell another'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_bed_is_kept BEFORE DELETE ON soil_test_bed
BEGIN SELECT RAISE(ABORT, 'a soil test is kept as it was told; withdraw it and tell another'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_reading_stays BEFORE UPDATE ON soil_test_reading
BEGIN SELECT RAISE(ABORT, 'a soil test is kept as it was told; withdraw it and tell another'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_reading_is_kept BEFORE DELETE ON soil_test_reading
BEGIN SELECT RAISE(ABORT, 'a soil test is kept as it was told; withdraw it and tell another'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_withdrawn_stays BEFORE UPDATE ON soil_test_withdrawn
BEGIN SELECT RAISE(ABORT, 'a withdrawn soil test stays withdrawn'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER soil_test_withdrawn_is_kept BEFORE DELETE ON soil_test_withdrawn
BEGIN SELECT RAISE(ABORT, 'a withdrawn soil test stays withdrawn'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER treatment_stays BEFORE UPDATE ON treatment
BEGIN SELECT RAISE(ABORT, 'the journal is only ever added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER treatment_is_kept BEFORE DELETE ON treatment
BEGIN SELECT RAISE(ABORT, 'the journal is only ever added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER heap_log_stays BEFORE UPDATE ON heap_log
BEGIN SELECT RAISE(ABORT, 'the log of a heap is only ever added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER heap_log_is_kept BEFORE DELETE ON heap_log
BEGIN SELECT RAISE(ABORT, 'the log of a heap is only ever added to'); END;
-- +goose StatementEnd
