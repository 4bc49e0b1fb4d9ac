package book

import (
	"context"
	"database/sql"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// AddWant adds a want after the others and gives its ID.
func (b *Book) AddWant(ctx context.Context, want garden.Want) (id int64, err error) {
	if err := want.Validate(nil).Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		last, err := count(ctx, tx, "SELECT coalesce(max(position), 0) FROM want")
		if err != nil {
			return err
		}
		id, err = addWant(ctx, tx, want, last+1)
		return err
	})
	return id, err
}

// SaveWant changes the want with the given want's ID.
func (b *Book) SaveWant(ctx context.Context, want garden.Want) error {
	if err := want.Validate(nil).Err(); err != nil {
		return err
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, `
			UPDATE want SET crop = $2, basis = $3, amount = $4, unit = $5, weight = $6, from_day = $7, to_day = $8, note = $9, under = $10 WHERE id = $1`,
			want.ID, want.Crop, string(want.Basis), want.Amount, want.Unit, want.Weight, dayOrNull(want.From), dayOrNull(want.To), want.Note, want.Under)
		if err == nil && !found {
			return unknown("want %d", want.ID)
		}
		return err
	})
}

// RemoveWant takes a want out. Plans made for it keep it.
func (b *Book) RemoveWant(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "DELETE FROM want WHERE id = $1", id)
		if err == nil && !found {
			return unknown("want %d", id)
		}
		return err
	})
}

func addWant(ctx context.Context, tx *sql.Tx, w garden.Want, position int64) (int64, error) {
	id, err := insert(ctx, tx, `
		INSERT INTO want (position, crop, basis, amount, unit, weight, from_day, to_day, note)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
		position, w.Crop, string(w.Basis), w.Amount, w.Unit, w.Weight, dayOrNull(w.From), dayOrNull(w.To), w.Note)
	if err != nil || w.Under == "" {
		return id, err
	}
	_, err = tx.ExecContext(ctx, "UPDATE want SET under = $2 WHERE id = $1", id, w.Under)
	return id, err
}

// wants are the wants in the person's order. A book of a schema before covers for wants has none of those.
func wants(ctx context.Context, tx *sql.Tx) ([]garden.Want, error) {
	under := "under"
	if has, err := count(ctx, tx, "SELECT count(*) FROM pragma_table_info('want') WHERE name = 'under'"); err != nil {
		return nil, err
	} else if has == 0 {
		under = "''"
	}
	return each(ctx, tx, func(scan func(...any) error) (w garden.Want, err error) {
		var from, to sql.NullString
		if err = scan(&w.ID, &w.Crop, &w.Basis, &w.Amount, &w.Unit, &w.Weight, &from, &to, &w.Note, &w.Under); err != nil {
			return w, err
		}
		if w.From, err = dayOrNil(from); err != nil {
			return w, err
		}
		w.To, err = dayOrNil(to)
		return w, err
	}, "SELECT id, crop, basis, amount, unit, weight, from_day, to_day, note, "+under+" FROM want ORDER BY position, id")
}

// sameWant says whether two wants ask the same, whatever their IDs.
func sameWant(a, b garden.Want) bool {
	return a.Crop == b.Crop && a.Basis == b.Basis && a.Amount == b.Amount && a.Unit == b.Unit && a.Weight == b.Weight &&
		sameDay(a.From, b.From) && sameDay(a.To, b.To) && a.Note == b.Note && a.Under == b.Under
}

func sameDay(a, b *civil.Date) bool { return a == b || a != nil && b != nil && *a == *b }

// dayOrNull is a date as the book writes it.
func dayOrNull(d *civil.Date) any {
	if d == nil {
		return nil
	}
	return d.String()
}

func dayOrNil(text sql.NullString) (*civil.Date, error) {
	if !text.Valid {
		return nil, nil
	}
	d, err := civil.Parse(text.String)
	if err != nil {
		return nil, err
	}
	return &d, nil
}
