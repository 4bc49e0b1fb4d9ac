package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// Catalogue is the catalogue with the book's own crops, and those of them that this kailyard must set
// aside.
func (b *Book) Catalogue(ctx context.Context) (crops *crop.Catalogue, aside []crop.Aside, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		crops, aside, err = catalogue(ctx, tx)
		return err
	})
	return crops, aside, err
}

func catalogue(ctx context.Context, tx *sql.Tx) (*crop.Catalogue, []crop.Aside, error) {
	own, err := ownCrops(ctx, tx)
	if err != nil {
		return nil, nil, err
	}
	crops, aside := crop.Default().With(own)
	return crops, aside, nil
}

// AddVariety keeps a variety of the person's own and gives the ID of the crop it becomes: the one it
// has, or one made of its name.
func (b *Book) AddVariety(ctx context.Context, v crop.Variety) (id string, err error) {
	err = b.write(ctx, func(tx *sql.Tx) error {
		crops, _, err := catalogue(ctx, tx)
		if err != nil {
			return err
		}
		if v.ID == "" {
			v.ID = crops.FreeID(v.Name, v.Base)
		}
		if there, err := ownNamed(ctx, tx, v.ID); err != nil || there {
			return orTaken(err, v.ID)
		}
		if other, ok := crops.Find(v.ID); ok {
			return garden.Problems{{Field: "id", Says: fmt.Sprintf("the catalogue has a crop %q, %s", v.ID, other.Name()), Remedy: "give yours another ID"}}
		}
		id = v.ID
		return takeVariety(ctx, tx, crops, v)
	})
	return id, err
}

// SaveVariety changes the variety with the given variety's ID, and grows a retired one again.
func (b *Book) SaveVariety(ctx context.Context, v crop.Variety) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		crops, _, err := catalogue(ctx, tx)
		if err != nil {
			return err
		}
		known, err := count(ctx, tx, "SELECT count(*) FROM variety WHERE id = $1", v.ID)
		if err != nil {
			return err
		}
		if known == 0 {
			return unknown("variety %s of your own", v.ID)
		}
		return takeVariety(ctx, tx, crops, v)
	})
}

// takeVariety keeps a variety that the catalogue can make a crop of and whose name is free.
func takeVariety(ctx context.Context, tx *sql.Tx, crops *crop.Catalogue, v crop.Variety) error {
	if err := crops.Admit(v); err != nil {
		return garden.OwnProblems(err)
	}
	if other := crops.Taken(v.Name, v.ID); other != nil {
		return garden.Problems{garden.NameTaken(v.Name, other)}
	}
	return saveVariety(ctx, tx, v)
}

func saveVariety(ctx context.Context, tx *sql.Tx, v crop.Variety) error {
	_, err := tx.ExecContext(ctx, `
		INSERT INTO variety (id, position, name, base, days, days_from, in_row, between_rows, yield, note, retired)
		VALUES ($1, (SELECT coalesce(max(position), 0) + 1 FROM variety), $2, $3, $4, $5, $6, $7, $8, $9, $10)
		ON CONFLICT (id) DO UPDATE SET name = $2, base = $3, days = $4, days_from = $5, in_row = $6,
			between_rows = $7, yield = $8, note = $9, retired = $10`,
		v.ID, v.Name, v.Base, v.Days, string(v.From), v.InRow, v.BetweenRows, v.Yield, v.Note, v.Retired)
	return err
}

// SaveCropFile keeps a whole crop of the person's own, in the place of the one it had of that ID.
func (b *Book) SaveCropFile(ctx context.Context, f crop.File) error {
	if _, err := f.Load(); err != nil {
		return garden.OwnProblems(err)
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		if there, err := count(ctx, tx, "SELECT count(*) FROM variety WHERE id = $1", f.ID); err != nil || there > 0 {
			return orTaken(err, f.ID)
		}
		own, err := ownCrops(ctx, tx)
		if err != nil {
			return err
		}
		if err := saveCropFile(ctx, tx, f); err != nil {
			return err
		}
		return varietiesStand(ctx, tx, f.ID, own)
	})
}

// varietiesStand refuses a change of a crop that a variety of it would not survive.
func varietiesStand(ctx context.Context, tx *sql.Tx, base string, before crop.OwnCrops) error {
	own, err := ownCrops(ctx, tx)
	if err != nil {
		return err
	}
	_, were := crop.Default().With(before)
	_, aside := crop.Default().With(own)
	for _, a := range aside {
		already := slices.ContainsFunc(were, func(o crop.Aside) bool { return o.ID == a.ID })
		if a.Variety && !already && own.Varieties[a.Index].Base == base {
			return garden.Problems{{Field: "text", Says: fmt.Sprintf("your variety %q could no longer be one of it: %v", a.Name, a.Err), Remedy: "change or take out that variety first"}}
		}
	}
	return nil
}

func saveCropFile(ctx context.Context, tx *sql.Tx, f crop.File) error {
	_, err := tx.ExecContext(ctx, `
		INSERT INTO crop_file (id, position, text, retired)
		VALUES ($1, (SELECT coalesce(max(position), 0) + 1 FROM crop_file), $2, $3)
		ON CONFLICT (id) DO UPDATE SET text = $2, retired = $3`, f.ID, f.Text, f.Retired)
	return err
}

func ownNamed(ctx context.Context, tx *sql.Tx, id string) (bool, error) {
	n, err := count(ctx, tx, "SELECT (SELECT count(*) FROM variety WHERE id = $1) + (SELECT count(*) FROM crop_file WHERE id = $1)", id)
	return n > 0, err
}

func orTaken(err error, id string) error {
	if err != nil {
		return err
	}
	return garden.Problems{{Field: "id", Says: fmt.Sprintf("you have a crop of your own with the ID %q already", id), Remedy: "change that one, or give this one another ID"}}
}

// RemoveCrop takes an own crop out. One that history or plans name is retired: kept, and offered no more.
func (b *Book) RemoveCrop(ctx context.Context, id string) (retired bool, err error) {
	err = b.write(ctx, func(tx *sql.Tx) error {
		retired, err = removeCrop(ctx, tx, id)
		return err
	})
	return retired, err
}

func removeCrop(ctx context.Context, tx *sql.Tx, id string) (retired bool, err error) {
	own, err := ownCrops(ctx, tx)
	if err != nil {
		return false, err
	}
	table := ""
	if slices.ContainsFunc(own.Files, func(f crop.File) bool { return f.ID == id }) {
		table = "crop_file"
	}
	if slices.ContainsFunc(own.Varieties, func(v crop.Variety) bool { return v.ID == id }) {
		table = "variety"
	}
	if table == "" {
		return false, unknown("crop %s of your own", id)
	}
	if err := inUse(ctx, tx, own, id); err != nil {
		return false, err
	}
	spoken, err := count(ctx, tx, `
		SELECT (SELECT count(*) FROM past WHERE crop_id = $1) + (SELECT count(*) FROM standing WHERE crop_id = $1) +
			(SELECT count(*) FROM planting WHERE crop_id = $1)`, id)
	if err != nil {
		return false, err
	}
	for _, v := range own.Varieties { // a retired variety still needs its base
		if v.Base == id {
			spoken++
		}
	}
	query := "DELETE FROM " + table + " WHERE id = $1"
	if spoken > 0 {
		query = "UPDATE " + table + " SET retired = 1 WHERE id = $1"
	}
	_, err = tx.ExecContext(ctx, query, id)
	return spoken > 0, err
}

// inUse refuses to take out a crop that is wanted, or that varieties are of, unless the catalogue has one
// of the same ID to fall back on.
func inUse(ctx context.Context, tx *sql.Tx, own crop.OwnCrops, id string) error {
	if _, there := crop.Default().Find(id); there {
		return nil
	}
	refuse := func(by, remedy string) error {
		return &Error{Kind: Refused, Says: fmt.Sprintf("the crop %s cannot be taken out: %s", id, by), Remedy: remedy}
	}
	for _, v := range own.Varieties {
		if v.Base == id && !v.Retired {
			return refuse(fmt.Sprintf("your variety %q is one of it", v.Name), "take that out first")
		}
	}
	crops, _ := crop.Default().With(own)
	all, err := wants(ctx, tx)
	if err != nil {
		return err
	}
	for _, w := range all {
		found, _ := crops.Match(w.Crop)
		if strings.EqualFold(w.Crop, id) || len(found) == 1 && found[0].ID == id {
			return refuse(fmt.Sprintf("the want for %q names it", w.Crop), "take that want out first, or let it name another crop")
		}
	}
	return nil
}

// takeOwn keeps a description's own crops, in the place of those of the same IDs. Others stay.
func takeOwn(ctx context.Context, tx *sql.Tx, described crop.OwnCrops) error {
	if len(described.Files) == 0 && len(described.Varieties) == 0 {
		return nil
	}
	for _, f := range described.Files {
		if err := saveCropFile(ctx, tx, f); err != nil {
			return err
		}
	}
	for _, v := range described.Varieties {
		if err := saveVariety(ctx, tx, v); err != nil {
			return err
		}
	}
	own, err := ownCrops(ctx, tx)
	if err != nil {
		return err
	}
	_, aside := crop.Default().With(own)
	for _, a := range aside {
		named := slices.ContainsFunc(described.Files, func(f crop.File) bool { return f.ID == a.ID }) ||
			slices.ContainsFunc(described.Varieties, func(v crop.Variety) bool { return v.ID == a.ID })
		if named {
			return &Error{Kind: Refused, Says: "the garden cannot be taken in: " + a.Error(), Cause: a.Err}
		}
	}
	return nil
}

// ownCrops are the person's own crops, in the order in which they came. A book of a schema before theirs
// has none.
func ownCrops(ctx context.Context, tx *sql.Tx) (own crop.OwnCrops, err error) {
	tables, err := count(ctx, tx, "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name IN ('crop_file', 'variety')")
	if err != nil || tables < 2 {
		return own, err
	}
	own.Files, err = each(ctx, tx, func(scan func(...any) error) (f crop.File, err error) {
		err = scan(&f.ID, &f.Text, &f.Retired)
		return f, err
	}, "SELECT id, text, retired FROM crop_file ORDER BY position, id")
	if err != nil {
		return own, err
	}
	own.Varieties, err = each(ctx, tx, func(scan func(...any) error) (v crop.Variety, err error) {
		err = scan(&v.ID, &v.Name, &v.Base, &v.Days, &v.From, &v.InRow, &v.BetweenRows, &v.Yield, &v.Note, &v.Retired)
		return v, err
	}, "SELECT id, name, base, days, days_from, in_row, between_rows, yield, note, retired FROM variety ORDER BY position, id")
	return own, err
}
