package book

import (
	"context"
	"database/sql"

	"kailyard/internal/garden"
)

// hasVetoes says whether the book's schema knows of vetoes and of what the garden can be given.
func hasVetoes(ctx context.Context, tx *sql.Tx) (bool, error) {
	n, err := count(ctx, tx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name IN ('veto', 'means')")
	return n == 2, err
}

// AddVeto adds a veto after the others and gives its ID.
func (b *Book) AddVeto(ctx context.Context, v garden.Veto) (id int64, err error) {
	if err := v.Validate(nil).Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		if v.BedID != 0 {
			n, err := count(ctx, tx, "SELECT count(*) FROM bed WHERE id = $1 AND NOT retired", v.BedID)
			if err == nil && n == 0 {
				return unknown("bed %d", v.BedID)
			}
			if err != nil {
				return err
			}
		}
		id, err = addVeto(ctx, tx, v)
		return err
	})
	return id, err
}

// RemoveVeto takes a veto back. Plans made with it stay as they are.
func (b *Book) RemoveVeto(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "DELETE FROM veto WHERE id = $1", id)
		if err == nil && !found {
			return unknown("veto %d", id)
		}
		return err
	})
}

func addVeto(ctx context.Context, tx *sql.Tx, v garden.Veto) (int64, error) {
	return insert(ctx, tx, "INSERT INTO veto (bed_id, crop, family, way, before_day, note) VALUES ($1, $2, $3, $4, $5, $6)",
		v.BedID, v.Crop, v.Family, string(v.Way), dayOrNull(v.Before), v.Note)
}

// vetoes are the vetoes in the order in which they were told, but those of beds that are no more. A book of a schema before
// them has none.
func vetoes(ctx context.Context, tx *sql.Tx) ([]garden.Veto, error) {
	has, err := hasVetoes(ctx, tx)
	if err != nil || !has {
		return nil, err
	}
	return each(ctx, tx, func(scan func(...any) error) (v garden.Veto, err error) {
		var before sql.NullString
		if err = scan(&v.ID, &v.BedID, &v.Crop, &v.Family, &v.Way, &before, &v.Note); err != nil {
			return v, err
		}
		v.Before, err = dayOrNil(before)
		return v, err
	}, "SELECT id, bed_id, crop, family, way, before_day, note FROM veto WHERE bed_id = 0 OR bed_id IN (SELECT id FROM bed WHERE NOT retired) ORDER BY id")
}

// sameVeto says whether two vetoes are against the same, whatever their IDs.
func sameVeto(a, b garden.Veto) bool {
	return a.BedID == b.BedID && a.Crop == b.Crop && a.Family == b.Family && a.Way == b.Way && sameDay(a.Before, b.Before) && a.Note == b.Note
}

// takeVetoes lets vetoes that stay the same keep their IDs.
func takeVetoes(ctx context.Context, tx *sql.Tx, described []garden.Veto, ids map[int64]int64) error {
	has, err := hasVetoes(ctx, tx)
	if err != nil || !has {
		return err
	}
	old, err := vetoes(ctx, tx)
	if err != nil {
		return err
	}
	for _, v := range described {
		if v.BedID != 0 {
			v.BedID = ids[v.BedID]
		}
		kept := false
		for i, o := range old {
			if sameVeto(v, o) {
				old = append(old[:i:i], old[i+1:]...)
				kept = true
				break
			}
		}
		if kept {
			continue
		}
		if _, err := addVeto(ctx, tx, v); err != nil {
			return err
		}
	}
	for _, o := range old {
		if _, err := tx.ExecContext(ctx, "DELETE FROM veto WHERE id = $1", o.ID); err != nil {
			return err
		}
	}
	return nil
}

// saveMeans keeps what the garden can be given.
func saveMeans(ctx context.Context, tx *sql.Tx, s garden.Site) error {
	has, err := hasVetoes(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = tx.ExecContext(ctx, `
		INSERT INTO means (id, hours_week, trays) VALUES (1, $1, $2) ON CONFLICT (id) DO UPDATE SET hours_week = $1, trays = $2`,
		float64(s.HoursAWeek), s.Trays)
	return err
}

// readMeans puts what the garden can be given into its site. A book of a schema before it knows nothing of it.
func readMeans(ctx context.Context, tx *sql.Tx, s *garden.Site) error {
	has, err := hasVetoes(ctx, tx)
	if err != nil || !has {
		return err
	}
	_, err = each(ctx, tx, func(scan func(...any) error) (n int, err error) {
		return 0, scan(&s.HoursAWeek, &s.Trays)
	}, "SELECT hours_week, trays FROM means")
	return err
}
