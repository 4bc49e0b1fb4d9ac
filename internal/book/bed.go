package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"kailyard/internal/garden"
)

// AddBed adds a bed after the others and gives its ID.
func (b *Book) AddBed(ctx context.Context, bed garden.Bed) (id int64, err error) {
	if err := bed.Validate().Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		bed.ID = 0
		if err := nameIsFree(ctx, tx, bed); err != nil {
			return err
		}
		if err := bedIsFree(ctx, tx, bed); err != nil {
			return err
		}
		last, err := count(ctx, tx, "SELECT coalesce(max(position), 0) FROM bed WHERE NOT retired")
		if err != nil {
			return err
		}
		id, err = addBed(ctx, tx, bed, last+1)
		return err
	})
	return id, err
}

// SaveBed changes the bed with the given bed's ID.
func (b *Book) SaveBed(ctx context.Context, bed garden.Bed) error {
	if err := bed.Validate().Err(); err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		if err := nameIsFree(ctx, tx, bed); err != nil {
			return err
		}
		if err := bedIsFree(ctx, tx, bed); err != nil {
			return err
		}
		position, err := count(ctx, tx, "SELECT position FROM bed WHERE id = $1 AND NOT retired", bed.ID)
		if err != nil {
			return err
		}
		if position == 0 {
			return unknown("bed %d", bed.ID)
		}
		return saveBed(ctx, tx, bed, position)
	})
}

// RemoveBed takes a bed out of the garden. A bed in which something grew or was planned is retired:
// its past stays in the book. A bed that something stands in is refused.
func (b *Book) RemoveBed(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error { return removeBed(ctx, tx, id) })
}

// nameIsFree refuses a name that another bed has.
func nameIsFree(ctx context.Context, tx *sql.Tx, bed garden.Bed) error {
	all, err := beds(ctx, tx, false)
	if err != nil {
		return err
	}
	if other, ok := (garden.Garden{Beds: all}).BedNamed(bed.Name); ok && other.ID != bed.ID {
		return garden.Problems{{Field: "name", Says: fmt.Sprintf("another bed is called %q too", other.Name), Remedy: "give each bed a name of its own"}}
	}
	return nil
}

func addBed(ctx context.Context, tx *sql.Tx, b garden.Bed, position int64) (int64, error) {
	id, err := insert(ctx, tx, `
		INSERT INTO bed (position, name, x_m, y_m, length_m, width_m, bearing_deg, rows_across, sun_h, perennial, note)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
		position, b.Name, float64(b.X), float64(b.Y), float64(b.Length), float64(b.Width), b.Bearing, b.RowsAcross, float64(b.Sun), b.Perennial, b.Note)
	if err != nil {
		return 0, err
	}
	if err := saveSeen(ctx, tx, id, b.Observed); err != nil {
		return 0, err
	}
	if err := saveWatering(ctx, tx, id, b.Watering); err != nil {
		return 0, err
	}
	return id, saveGround(ctx, tx, id, b.Soil)
}

// saveBed also brings a retired bed back.
func saveBed(ctx context.Context, tx *sql.Tx, b garden.Bed, position int64) error {
	_, err := update(ctx, tx, `
		UPDATE bed SET position = $2, name = $3, x_m = $4, y_m = $5, length_m = $6, width_m = $7, bearing_deg = $8,
			rows_across = $9, sun_h = $10, perennial = $11, note = $12, retired = 0
		WHERE id = $1`,
		b.ID, position, b.Name, float64(b.X), float64(b.Y), float64(b.Length), float64(b.Width), b.Bearing, b.RowsAcross, float64(b.Sun), b.Perennial, b.Note)
	if err != nil {
		return err
	}
	if err := saveSeen(ctx, tx, b.ID, b.Observed); err != nil {
		return err
	}
	if err := saveWatering(ctx, tx, b.ID, b.Watering); err != nil {
		return err
	}
	return saveGround(ctx, tx, b.ID, b.Soil)
}

func removeBed(ctx context.Context, tx *sql.Tx, id int64) error {
	var name string
	err := tx.QueryRowContext(ctx, "SELECT name FROM bed WHERE id = $1 AND NOT retired", id).Scan(&name)
	if errors.Is(err, sql.ErrNoRows) {
		return unknown("bed %d", id)
	}
	if err != nil {
		return err
	}
	standing, err := standing(ctx, tx)
	if err != nil {
		return err
	}
	for _, p := range standing {
		if p.BedID == id && p.Status == garden.InGround {
			return &Error{
				Kind: Refused, Says: fmt.Sprintf("the bed %q cannot be taken out of the garden: %s (%s) stands in it", name, p.CropID, p.Key),
				Remedy: "mark it as over or lost first",
			}
		}
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM standing WHERE bed_id = $1 AND status = 'planned'", id); err != nil {
		return err
	}
	return retireOrDelete(ctx, tx, id)
}

// retireOrDelete keeps a bed that anything in the book speaks of.
func retireOrDelete(ctx context.Context, tx *sql.Tx, id int64) error {
	spoken, err := count(ctx, tx, `
		SELECT (SELECT count(*) FROM past WHERE bed_id = $1) + (SELECT count(*) FROM standing WHERE bed_id = $1) +
			(SELECT count(*) FROM planting WHERE bed_id = $1) + (SELECT count(*) FROM journal WHERE bed_id = $1)`, id)
	if err != nil {
		return err
	}
	tested, err := testsOfBed(ctx, tx, id)
	if err != nil {
		return err
	}
	query := "DELETE FROM bed WHERE id = $1"
	if spoken+tested == 0 {
		if err := forgetGround(ctx, tx, id); err != nil {
			return err
		}
		if err := forgetSeen(ctx, tx, id); err != nil {
			return err
		}
		if err := forgetWatering(ctx, tx, id); err != nil {
			return err
		}
	} else {
		query = "UPDATE bed SET retired = 1 WHERE id = $1"
	}
	_, err = tx.ExecContext(ctx, query, id)
	return err
}

// RetiredBeds are the beds that are no more but have a past, so that old plans and the journal can name them.
func (b *Book) RetiredBeds(ctx context.Context) (retired []garden.Bed, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		retired, err = beds(ctx, tx, true)
		return err
	})
	return retired, err
}

// beds are the beds of the garden, or the retired ones, in the person's order.
func beds(ctx context.Context, tx *sql.Tx, retired bool) ([]garden.Bed, error) {
	known, err := grounds(ctx, tx)
	if err != nil {
		return nil, err
	}
	seen, err := allSeen(ctx, tx)
	if err != nil {
		return nil, err
	}
	watered, err := waterings(ctx, tx)
	if err != nil {
		return nil, err
	}
	return each(ctx, tx, func(scan func(...any) error) (b garden.Bed, err error) {
		err = scan(&b.ID, &b.Name, &b.X, &b.Y, &b.Length, &b.Width, &b.Bearing, &b.RowsAcross, &b.Sun, &b.Perennial, &b.Note)
		b.Soil, b.Observed, b.Watering = known[b.ID], seen[b.ID], watered[b.ID]
		return b, err
	}, `SELECT id, name, x_m, y_m, length_m, width_m, bearing_deg, rows_across, sun_h, perennial, note
		FROM bed WHERE retired = $1 ORDER BY position, id`, retired)
}

func sameName(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }
