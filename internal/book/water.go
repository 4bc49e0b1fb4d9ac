package book

import (
	"context"
	"database/sql"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// hasWater says whether the book's schema knows of water.
func hasWater(ctx context.Context, tx *sql.Tx) (bool, error) {
	n, err := count(ctx, tx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name IN ('water_supply', 'bed_watering', 'watering')")
	return n == 3, err
}

// saveSupply keeps where the garden's water comes from and how its beds are watered.
func saveSupply(ctx context.Context, tx *sql.Tx, s garden.Supply, w garden.Watering) error {
	has, err := hasWater(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO water_supply (id, tap_l_h, can_l, roof_m2, tank_l) VALUES (1, $1, $2, $3, $4)
		ON CONFLICT (id) DO UPDATE SET tap_l_h = $1, can_l = $2, roof_m2 = $3, tank_l = $4`,
		float64(s.Tap), float64(s.Can), float64(s.Roof), float64(s.Tank))
	if err != nil {
		return err
	}
	return saveWatering(ctx, tx, wholeGarden, w)
}

// saveWatering keeps how a bed, or the whole garden, is watered.
func saveWatering(ctx context.Context, tx *sql.Tx, bed int64, w garden.Watering) error {
	if w == (garden.Watering{}) {
		return forgetWatering(ctx, tx, bed)
	}
	has, err := hasWater(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO bed_watering (bed_id, way, drip_l_h, rain_mm_h, mulch) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (bed_id) DO UPDATE SET way = $2, drip_l_h = $3, rain_mm_h = $4, mulch = $5`,
		bed, string(w.By), float64(w.Drip), float64(w.Rain), string(w.Mulch))
	return err
}

// forgetWatering takes back what was told of a bed's watering: it is as the whole garden's.
func forgetWatering(ctx context.Context, tx *sql.Tx, bed int64) error {
	has, err := hasWater(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, "DELETE FROM bed_watering WHERE bed_id = $1", bed)
	return err
}

// supply is where the garden's water comes from. A book of a schema before it knows nothing of it.
func supply(ctx context.Context, tx *sql.Tx) (s garden.Supply, err error) {
	has, err := hasWater(ctx, tx)
	if err != nil || !has {
		return s, err
	}
	rows, err := each(ctx, tx, func(scan func(...any) error) (s garden.Supply, err error) {
		err = scan(&s.Tap, &s.Can, &s.Roof, &s.Tank)
		return s, err
	}, "SELECT tap_l_h, can_l, roof_m2, tank_l FROM water_supply")
	if err != nil || len(rows) == 0 {
		return s, err
	}
	return rows[0], nil
}

// waterings are how beds are watered, by bed.
func waterings(ctx context.Context, tx *sql.Tx) (map[int64]garden.Watering, error) {
	has, err := hasWater(ctx, tx)
	if err != nil || !has {
		return nil, err
	}
	known := map[int64]garden.Watering{}
	_, err = each(ctx, tx, func(scan func(...any) error) (w garden.Watering, err error) {
		var bed int64
		err = scan(&bed, &w.By, &w.Drip, &w.Rain, &w.Mulch)
		known[bed] = w
		return w, err
	}, "SELECT bed_id, way, drip_l_h, rain_mm_h, mulch FROM bed_watering")
	return known, err
}

// saveWater keeps the water that a journal entry tells of.
func saveWater(ctx context.Context, tx *sql.Tx, id int64, e garden.Entry) error {
	if e.Kind != garden.Watered && e.Kind != garden.Rained || e.Volume == 0 && e.Depth == 0 {
		return nil
	}
	has, err := hasWater(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO watering (entry_id, volume_l, depth_m) VALUES ($1, $2, $3)", id, float64(e.Volume), float64(e.Depth))
	return err
}

// fillWater puts the water that entries tell of into them.
func fillWater(ctx context.Context, tx *sql.Tx, entries []garden.Entry) error {
	has, err := hasWater(ctx, tx)
	if err != nil || !has || len(entries) == 0 {
		return err
	}
	at := make(map[int64]int, len(entries))
	first, last := entries[0].ID, entries[0].ID
	for i, e := range entries {
		at[e.ID] = i
		first, last = min(first, e.ID), max(last, e.ID)
	}
	_, err = each(ctx, tx, func(scan func(...any) error) (id int64, err error) {
		var volume quantity.Litre
		var depth quantity.Metre
		if err = scan(&id, &volume, &depth); err != nil {
			return id, err
		}
		if i, ok := at[id]; ok {
			entries[i].Volume, entries[i].Depth = volume, depth
		}
		return id, nil
	}, "SELECT entry_id, volume_l, depth_m FROM watering WHERE entry_id BETWEEN $1 AND $2", first, last)
	return err
}
