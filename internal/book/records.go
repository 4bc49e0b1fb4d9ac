package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// KeptRecord is one weather record of the book in a line.
type KeptRecord struct {
	ID          int64
	Kept        time.Time // zero for a record from before the book wrote it down
	InUse       bool
	Origin      weather.Origin
	Source      string
	Station     weather.Station
	First, Last civil.Date
}

// Records are all weather records the book was ever given, the newest first.
func (b *Book) Records(ctx context.Context) (all []KeptRecord, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		all, err = each(ctx, tx, scanKeptRecord, `
			SELECT r.id, r.kept_at, r.id = (SELECT record_id FROM weather_in_use), r.origin, r.source, r.station_json,
				(SELECT first_day FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = r.id ORDER BY year LIMIT 1),
				(SELECT first_day FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = r.id ORDER BY year DESC LIMIT 1),
				(SELECT length(days) FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = r.id ORDER BY year DESC LIMIT 1)
			FROM weather_record AS r ORDER BY r.id DESC`)
		return err
	})
	return all, err
}

func scanKeptRecord(scan func(...any) error) (k KeptRecord, err error) {
	var kept, first, last string
	var station []byte
	var bytes int
	if err = scan(&k.ID, &kept, &k.InUse, &k.Origin, &k.Source, &station, &first, &last, &bytes); err != nil {
		return k, err
	}
	if err = json.Unmarshal(station, &k.Station); err != nil {
		return k, err
	}
	if kept != "" {
		if k.Kept, err = time.Parse(time.RFC3339, kept); err != nil {
			return k, err
		}
	}
	if k.First, err = civil.Parse(first); err != nil {
		return k, err
	}
	k.Last, err = civil.Parse(last)
	k.Last = k.Last.Add(bytes/dayBytes - 1)
	return k, err
}

// RecordOf is the weather record with an ID, in use or not.
func (b *Book) RecordOf(ctx context.Context, id int64) (r *weather.Record, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		r, err = recordOf(ctx, tx, id)
		return err
	})
	return r, err
}

// UseRecord computes from a kept record from now on.
func (b *Book) UseRecord(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		known, err := count(ctx, tx, "SELECT count(*) FROM weather_record WHERE id = $1", id)
		if err != nil {
			return err
		}
		if known == 0 {
			return unknown("weather record %d", id)
		}
		return useRecord(ctx, tx, id)
	})
}

func useRecord(ctx context.Context, tx *sql.Tx, id int64) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO weather_in_use (id, record_id) VALUES (1, $1) ON CONFLICT (id) DO UPDATE SET record_id = $1", id)
	return err
}
