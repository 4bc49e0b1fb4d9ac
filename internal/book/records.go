package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// Records are all weather records the book was ever given, the newest first.
func (b *Book) Records(ctx context.Context) (all []weather.Kept, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		all, err = each(ctx, tx, scanKept, `
			SELECT r.id, r.kept_at, r.id = (SELECT record_id FROM weather_in_use), r.origin, r.source, r.station_json,
				(SELECT first_day FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = r.id ORDER BY year LIMIT 1),
				(SELECT first_day FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = r.id ORDER BY year DESC LIMIT 1),
				(SELECT length(days) FROM weather_record_run JOIN weather_run ON weather_run.id = run_id WHERE record_id = r.id ORDER BY year DESC LIMIT 1)
			FROM weather_record AS r ORDER BY r.id DESC`)
		if err != nil {
			return err
		}
		return tellHoles(ctx, tx, all)
	})
	return all, err
}

// tellHoles counts the days without a temperature of every record, each year that records share once.
func tellHoles(ctx context.Context, tx *sql.Tx, all []weather.Kept) error {
	holes := map[int64]int{}
	_, err := each(ctx, tx, func(scan func(...any) error) (none struct{}, err error) {
		var id int64
		var days []byte
		err = scan(&id, &days)
		if len(days)%dayBytes == 0 {
			holes[id] = withoutTemperature(days)
		}
		return none, err
	}, "SELECT id, days FROM weather_run")
	if err != nil {
		return err
	}
	for i := range all {
		runs, err := runsOf(ctx, tx, all[i].ID)
		if err != nil {
			return err
		}
		for _, r := range runs {
			if n := holes[r.id]; n > 0 {
				all[i].NoTemperature += n
				all[i].Missing = append(all[i].Missing, r.year)
			}
		}
	}
	return nil
}

// DropRecord takes a record out of the book for good: never the one in use. The book remembers that it was
// dropped; years that other records have too stay with them.
func (b *Book) DropRecord(ctx context.Context, id int64) error {
	return b.shelve(ctx, func(tx *sql.Tx) error {
		var source string
		var used bool
		err := tx.QueryRowContext(ctx, "SELECT source, id IN (SELECT record_id FROM weather_in_use) FROM weather_record WHERE id = $1", id).Scan(&source, &used)
		switch {
		case errors.Is(err, sql.ErrNoRows):
			return unknown("weather record %d", id)
		case err != nil:
			return err
		case used:
			return &Error{Kind: Refused, Says: fmt.Sprintf("weather record %d is the one in use, and is not dropped", id), Remedy: "give the garden another record, or go back to one, and drop this one then"}
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO weather_dropped (record_id, dropped_at, source) VALUES ($1, $2, $3)", id, b.now().UTC().Format(time.RFC3339), source); err != nil {
			return err
		}
		for _, query := range []string{
			"DELETE FROM weather_record_run WHERE record_id = $1",
			"DELETE FROM weather_record WHERE id = $1",
			"DELETE FROM weather_run WHERE id NOT IN (SELECT run_id FROM weather_record_run) AND $1 = $1",
		} {
			if _, err := tx.ExecContext(ctx, query, id); err != nil {
				return err
			}
		}
		return nil
	})
}

func scanKept(scan func(...any) error) (k weather.Kept, err error) {
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
