package book

import (
	"context"
	"database/sql"
	"errors"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// SaveSite keeps what is told of the place.
func (b *Book) SaveSite(ctx context.Context, site garden.Site) error {
	if err := site.Validate().Err(); err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error { return saveSite(ctx, tx, site) })
}

func saveSite(ctx context.Context, tx *sql.Tx, s garden.Site) error {
	_, err := tx.ExecContext(ctx, `
		INSERT INTO site (id, name, latitude, longitude, elevation_m, units, household, invented, width_m, depth_m, note)
		VALUES (1, $1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
		ON CONFLICT (id) DO UPDATE SET name = $1, latitude = $2, longitude = $3, elevation_m = $4, units = $5,
			household = $6, invented = $7, width_m = $8, depth_m = $9, note = $10`,
		s.Name, s.Latitude, s.Longitude, float64(s.Elevation), s.Units.String(), s.Household, s.Invented, float64(s.Width), float64(s.Depth), s.Note)
	return err
}

// site is the place, the zero Site where nothing was told yet.
func site(ctx context.Context, tx *sql.Tx) (s garden.Site, err error) {
	var units string
	err = tx.QueryRowContext(ctx, `
		SELECT name, latitude, longitude, elevation_m, units, household, invented, width_m, depth_m, note FROM site`).
		Scan(&s.Name, &s.Latitude, &s.Longitude, &s.Elevation, &units, &s.Household, &s.Invented, &s.Width, &s.Depth, &s.Note)
	if errors.Is(err, sql.ErrNoRows) {
		return garden.Site{}, nil
	}
	if err != nil {
		return garden.Site{}, err
	}
	s.Units, err = quantity.ParseSystem(units)
	return s, err
}
