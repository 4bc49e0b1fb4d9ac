-- Water: where it comes from, how beds are watered, and what journal entries tell of water.

-- +goose Up

-- water_supply is where the garden's water comes from; 0 is not there or not known.
CREATE TABLE water_supply (
    id      INTEGER PRIMARY KEY CHECK (id = 1),
    tap_l_h REAL NOT NULL CHECK (tap_l_h >= 0),
    can_l   REAL NOT NULL CHECK (can_l >= 0),
    roof_m2 REAL NOT NULL CHECK (roof_m2 >= 0),
    tank_l  REAL NOT NULL CHECK (tank_l >= 0)
);

-- bed_watering is how beds are watered: bed_id 0 is the whole garden, others are beds that differ.
CREATE TABLE bed_watering (
    bed_id     INTEGER PRIMARY KEY,
    way        TEXT NOT NULL CHECK (way IN ('', 'can', 'hose', 'drip', 'sprinkler', 'none')),
    drip_l_h   REAL NOT NULL CHECK (drip_l_h >= 0),
    rain_mm_h  REAL NOT NULL CHECK (rain_mm_h >= 0),
    mulch      TEXT NOT NULL CHECK (mulch IN ('', 'organic', 'film'))
);

-- watering is the water that a journal entry of kind watered or rained tells of.
CREATE TABLE watering (
    entry_id INTEGER PRIMARY KEY REFERENCES journal (id),
    volume_l REAL NOT NULL CHECK (volume_l >= 0),
    depth_m  REAL NOT NULL CHECK (depth_m >= 0)
);

-- +goose StatementBegin
CREATE TRIGGER watering_stays BEFORE UPDATE ON watering
BEGIN SELECT RAISE(ABORT, 'the journal is only ever added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER watering_is_kept BEFORE DELETE ON watering
BEGIN SELECT RAISE(ABORT, 'the journal is only ever added to'); END;
-- +goose StatementEnd
