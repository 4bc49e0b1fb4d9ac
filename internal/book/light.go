package book

import (
	"context"
	"database/sql"
	"time"

	"kailyard/internal/garden"
)

// hasLight says whether the book's schema knows of shade.
func hasLight(ctx context.Context, tx *sql.Tx) (bool, error) {
	n, err := count(ctx, tx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name IN ('shade', 'sun_seen')")
	return n == 2, err
}

// saveLie keeps how the plot lies.
func saveLie(ctx context.Context, tx *sql.Tx, l garden.Lie) error {
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO lie (id, slope_deg, aspect_deg, north_deg) VALUES (1, $1, $2, $3)
		ON CONFLICT (id) DO UPDATE SET slope_deg = $1, aspect_deg = $2, north_deg = $3`, l.Slope, l.Aspect, l.North)
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM skyline"); err != nil {
		return err
	}
	for i, s := range l.Horizon {
		if _, err := tx.ExecContext(ctx, "INSERT INTO skyline (position, bearing_deg, altitude_deg) VALUES ($1, $2, $3)", i+1, s.Bearing, s.Altitude); err != nil {
			return err
		}
	}
	return nil
}

// lie is how the plot lies. A book of a schema before it lies level.
func lie(ctx context.Context, tx *sql.Tx) (l garden.Lie, err error) {
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return l, err
	}
	rows, err := each(ctx, tx, func(scan func(...any) error) (l garden.Lie, err error) {
		err = scan(&l.Slope, &l.Aspect, &l.North)
		return l, err
	}, "SELECT slope_deg, aspect_deg, north_deg FROM lie")
	if err != nil {
		return l, err
	}
	if len(rows) > 0 {
		l = rows[0]
	}
	l.Horizon, err = each(ctx, tx, func(scan func(...any) error) (s garden.Sight, err error) {
		err = scan(&s.Bearing, &s.Altitude)
		return s, err
	}, "SELECT bearing_deg, altitude_deg FROM skyline ORDER BY position")
	return l, err
}

// saveSeen keeps the sun seen on a bed.
func saveSeen(ctx context.Context, tx *sql.Tx, bed int64, seen []garden.SunSeen) error {
	if err := forgetSeen(ctx, tx, bed); err != nil {
		return err
	}
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return err
	}
	for i, s := range seen {
		_, err := tx.ExecContext(ctx, "INSERT INTO sun_seen (bed_id, position, month, from_h, to_h) VALUES ($1, $2, $3, $4, $5)",
			bed, i+1, int(s.Month), float64(s.From), float64(s.To))
		if err != nil {
			return err
		}
	}
	return nil
}

func forgetSeen(ctx context.Context, tx *sql.Tx, bed int64) error {
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, "DELETE FROM sun_seen WHERE bed_id = $1", bed)
	return err
}

// allSeen is the sun seen, by bed.
func allSeen(ctx context.Context, tx *sql.Tx) (map[int64][]garden.SunSeen, error) {
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return nil, err
	}
	known := map[int64][]garden.SunSeen{}
	_, err = each(ctx, tx, func(scan func(...any) error) (s garden.SunSeen, err error) {
		var bed int64
		var month int
		err = scan(&bed, &month, &s.From, &s.To)
		s.Month = time.Month(month)
		known[bed] = append(known[bed], s)
		return s, err
	}, "SELECT bed_id, month, from_h, to_h FROM sun_seen ORDER BY bed_id, position")
	return known, err
}
