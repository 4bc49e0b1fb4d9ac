package book

import (
	"context"
	"database/sql"

	"kailyard/internal/garden"
)

// AddShade keeps something that throws shade, after the others, and gives its ID.
func (b *Book) AddShade(ctx context.Context, s garden.Shade) (id int64, err error) {
	err = b.write(ctx, func(tx *sql.Tx) error {
		s.ID = 0
		if err := shadeFits(ctx, tx, s); err != nil {
			return err
		}
		last, err := count(ctx, tx, "SELECT coalesce(max(position), 0) FROM shade WHERE NOT retired")
		if err != nil {
			return err
		}
		id, err = addShade(ctx, tx, s, last+1)
		return err
	})
	return id, err
}

// SaveShade changes what throws shade with the given shade's ID.
func (b *Book) SaveShade(ctx context.Context, s garden.Shade) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		if err := shadeFits(ctx, tx, s); err != nil {
			return err
		}
		position, err := count(ctx, tx, "SELECT coalesce(max(position), 0) FROM shade WHERE id = $1 AND NOT retired", s.ID)
		if err != nil {
			return err
		}
		if position == 0 {
			return unknown("shade %d", s.ID)
		}
		return saveShade(ctx, tx, s, position)
	})
}

// RemoveShade takes away what throws shade. The book keeps it, marked.
func (b *Book) RemoveShade(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "UPDATE shade SET retired = 1 WHERE id = $1 AND NOT retired", id)
		if err == nil && !found {
			return unknown("shade %d", id)
		}
		return err
	})
}

// shadeFits refuses a shade that is wrong by itself, has another's name, or whose walls stand on a bed.
func shadeFits(ctx context.Context, tx *sql.Tx, s garden.Shade) error {
	ps := s.Validate()
	others, err := shades(ctx, tx)
	if err != nil {
		return err
	}
	for _, o := range others {
		if o.ID != s.ID && sameName(o.Name, s.Name) {
			ps = append(ps, garden.Problem{Field: "name", Says: "something else that throws shade is called that too", Remedy: "give each a name of its own"})
		}
	}
	all, err := beds(ctx, tx, false)
	if err != nil {
		return err
	}
	return append(ps, s.On(all...)...).Err()
}

// bedIsFree refuses a bed on which walls stand.
func bedIsFree(ctx context.Context, tx *sql.Tx, bed garden.Bed) error {
	all, err := shades(ctx, tx)
	if err != nil {
		return err
	}
	for _, s := range all {
		if s.On(bed).Err() != nil {
			return garden.Problems{{Field: "x", Says: "the " + string(s.Kind) + " \"" + s.Name + "\" stands on it", Remedy: "check x, y, bearing and size of both"}}
		}
	}
	return nil
}

func addShade(ctx context.Context, tx *sql.Tx, s garden.Shade, position int64) (int64, error) {
	return insert(ctx, tx, `
		INSERT INTO shade (position, name, kind, x_m, y_m, length_m, width_m, bearing_deg, height_m, ridge_m, crown, spread_m, crown_base_m, trunk_m, leaf_on, leaf_off, bare, gaps, note)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19)`, shadeRow(position, s)...)
}

// saveShade also brings a retired one back.
func saveShade(ctx context.Context, tx *sql.Tx, s garden.Shade, position int64) error {
	_, err := update(ctx, tx, `
		UPDATE shade SET position = $1, name = $2, kind = $3, x_m = $4, y_m = $5, length_m = $6, width_m = $7, bearing_deg = $8, height_m = $9, ridge_m = $10,
			crown = $11, spread_m = $12, crown_base_m = $13, trunk_m = $14, leaf_on = $15, leaf_off = $16, bare = $17, gaps = $18, note = $19, retired = 0
		WHERE id = $20`, append(shadeRow(position, s), s.ID)...)
	return err
}

func shadeRow(position int64, s garden.Shade) []any {
	return []any{
		position, s.Name, string(s.Kind), float64(s.X), float64(s.Y), float64(s.Length), float64(s.Width), s.Bearing, float64(s.Height), float64(s.Ridge),
		string(s.Crown), float64(s.Spread), float64(s.CrownBase), float64(s.Trunk), s.LeafOn.String(), s.LeafOff.String(), s.Bare, s.Gaps, s.Note,
	}
}

// shades are what throws shade, in the person's order. A book of a schema before them has none.
func shades(ctx context.Context, tx *sql.Tx) ([]garden.Shade, error) {
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return nil, err
	}
	return shadesWhere(ctx, tx, "NOT retired ORDER BY position, id")
}

func shadesWhere(ctx context.Context, tx *sql.Tx, which string) ([]garden.Shade, error) {
	return each(ctx, tx, func(scan func(...any) error) (s garden.Shade, err error) {
		var on, off string
		err = scan(&s.ID, &s.Name, &s.Kind, &s.X, &s.Y, &s.Length, &s.Width, &s.Bearing, &s.Height, &s.Ridge, &s.Crown, &s.Spread, &s.CrownBase, &s.Trunk, &on, &off, &s.Bare, &s.Gaps, &s.Note)
		if err != nil {
			return s, err
		}
		if s.LeafOn, err = dayOfYear(on); err == nil {
			s.LeafOff, err = dayOfYear(off)
		}
		return s, err
	}, `SELECT id, name, kind, x_m, y_m, length_m, width_m, bearing_deg, height_m, ridge_m, crown, spread_m, crown_base_m, trunk_m, leaf_on, leaf_off, bare, gaps, note
		FROM shade WHERE `+which)
}

func dayOfYear(text string) (garden.DayOfYear, error) {
	if text == "" {
		return garden.DayOfYear{}, nil
	}
	return garden.ParseDayOfYear(text)
}

// takeShades puts a description's shades in the place of the book's: known by their names; one that the description leaves out is
// retired.
func takeShades(ctx context.Context, tx *sql.Tx, described []garden.Shade) error {
	has, err := hasLight(ctx, tx)
	if err != nil || !has {
		return err
	}
	old, err := shadesWhere(ctx, tx, "1 ORDER BY retired, position, id")
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "UPDATE shade SET retired = 1"); err != nil {
		return err
	}
	for i, s := range described {
		s.ID = 0
		for _, o := range old {
			if sameName(o.Name, s.Name) {
				s.ID = o.ID
				break
			}
		}
		if s.ID != 0 {
			err = saveShade(ctx, tx, s, int64(i+1))
		} else {
			_, err = addShade(ctx, tx, s, int64(i+1))
		}
		if err != nil {
			return err
		}
	}
	return nil
}
