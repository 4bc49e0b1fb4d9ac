package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// SaveSite keeps what is told of the place.
func (b *Book) SaveSite(ctx context.Context, site garden.Site) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		onSale, err := packages(ctx, tx)
		if err != nil {
			return err
		}
		if err := append(site.Validate(), soil.CheckChoice(site.Soil, onSale)...).Err(); err != nil {
			return err
		}
		return saveSite(ctx, tx, site)
	})
}

func saveSite(ctx context.Context, tx *sql.Tx, s garden.Site) error {
	_, err := tx.ExecContext(ctx, `
		INSERT INTO site (id, name, latitude, longitude, elevation_m, units, household, invented, width_m, depth_m, note)
		VALUES (1, $1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
		ON CONFLICT (id) DO UPDATE SET name = $1, latitude = $2, longitude = $3, elevation_m = $4, units = $5,
			household = $6, invented = $7, width_m = $8, depth_m = $9, note = $10`,
		s.Name, s.Latitude, s.Longitude, float64(s.Elevation), s.Units.String(), s.Household, s.Invented, float64(s.Width), float64(s.Depth), s.Note)
	if err != nil {
		return err
	}
	if err := saveLie(ctx, tx, s.Lie); err != nil {
		return err
	}
	if err := saveSupply(ctx, tx, s.Supply, s.Watering); err != nil {
		return err
	}
	if err := saveMeans(ctx, tx, s); err != nil {
		return err
	}
	if err := saveGround(ctx, tx, wholeGarden, s.Soil); err != nil {
		return err
	}
	if err := saveChoice(ctx, tx, s.Soil); err != nil {
		return err
	}
	return saveCovers(ctx, tx, s.Covers)
}

// siteCovers is the name under which the site's covers are kept among the settings: books made before there were
// covers have none.
const siteCovers = "covers"

func saveCovers(ctx context.Context, tx *sql.Tx, covers []string) error {
	body, err := json.Marshal(covers)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO setting (name, value_json) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value_json = $2", siteCovers, body)
	return err
}

func coversOf(ctx context.Context, tx *sql.Tx) (covers []string, err error) {
	var body []byte
	err = tx.QueryRowContext(ctx, "SELECT value_json FROM setting WHERE name = $1", siteCovers).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return covers, json.Unmarshal(body, &covers)
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
	if s.Units, err = quantity.ParseSystem(units); err != nil {
		return s, err
	}
	if s.Covers, err = coversOf(ctx, tx); err != nil {
		return s, err
	}
	if s.Lie, err = lie(ctx, tx); err != nil {
		return s, err
	}
	if s.Supply, err = supply(ctx, tx); err != nil {
		return s, err
	}
	if err = readMeans(ctx, tx, &s); err != nil {
		return s, err
	}
	watered, err := waterings(ctx, tx)
	if err != nil {
		return s, err
	}
	s.Watering = watered[wholeGarden]
	known, err := grounds(ctx, tx)
	if err != nil {
		return s, err
	}
	ground, told := known[wholeGarden]
	if !told {
		ground.Weighs = s.Units
	}
	s.Soil = ground
	return s, readChoice(ctx, tx, &s.Soil)
}
