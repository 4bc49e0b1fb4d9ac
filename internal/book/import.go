package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"

	"kailyard/internal/garden"
)

// Import puts a described garden in the place of the book's: site, beds, shades, history, wants,
// vetoes and what stands, all or nothing. Beds are known by their names and keep their past; a bed the description
// leaves out is taken out as RemoveBed does. Own crops are known by their IDs, and one that the
// description leaves out stays, as soil tests, treatments, packages, heaps, plans, journal and weather
// record do.
func (b *Book) Import(ctx context.Context, g garden.Garden) error {
	for _, p := range g.Examine(nil) {
		if !p.Doubt {
			return &Error{Kind: Refused, Says: "the garden cannot be taken in: " + p.Error()}
		}
	}
	return b.write(ctx, func(tx *sql.Tx) error { return b.take(ctx, tx, g) })
}

func (b *Book) take(ctx context.Context, tx *sql.Tx, g garden.Garden) error {
	if err := saveSite(ctx, tx, g.Site); err != nil {
		return err
	}
	if err := takeOwn(ctx, tx, g.Own); err != nil {
		return err
	}
	ids, dropped, err := takeBeds(ctx, tx, g.Beds)
	if err != nil {
		return err
	}
	if err := takePasts(ctx, tx, g.History, ids); err != nil {
		return err
	}
	if err := takeWants(ctx, tx, g.Wants); err != nil {
		return err
	}
	if err := takeVetoes(ctx, tx, g.Vetoes, ids); err != nil {
		return err
	}
	if err := takeStanding(ctx, tx, g.Standing, ids); err != nil {
		return err
	}
	if err := takeShades(ctx, tx, g.Shades); err != nil {
		return err
	}
	if err := b.takeGround(ctx, tx, g, ids); err != nil {
		return err
	}
	for _, bed := range dropped {
		if err := removeBed(ctx, tx, bed.ID); err != nil {
			return err
		}
	}
	return nil
}

// takeBeds gives each described bed a bed of the book, by name, and tells which beds are left over.
func takeBeds(ctx context.Context, tx *sql.Tx, described []garden.Bed) (ids map[int64]int64, dropped []garden.Bed, err error) {
	dropped, err = beds(ctx, tx, false)
	if err != nil {
		return nil, nil, err
	}
	retired, err := beds(ctx, tx, true)
	if err != nil {
		return nil, nil, err
	}
	ids = map[int64]int64{}
	for i, bed := range described {
		position, own := int64(i+1), bed.ID
		if bed.ID = pull(&dropped, bed.Name); bed.ID == 0 {
			bed.ID = pull(&retired, bed.Name)
		}
		if bed.ID != 0 {
			err = saveBed(ctx, tx, bed, position)
		} else {
			bed.ID, err = addBed(ctx, tx, bed, position)
		}
		if err != nil {
			return nil, nil, err
		}
		ids[own] = bed.ID
	}
	return ids, dropped, nil
}

// pull takes the last bed of a name off a list; 0 when there is none.
func pull(list *[]garden.Bed, name string) int64 {
	for i, b := range slices.Backward(*list) {
		if sameName(b.Name, name) {
			*list = slices.Delete(*list, i, i+1)
			return b.ID
		}
	}
	return 0
}

// takePasts keeps the lines that stay the same, adds new ones and takes the others back. Lines that
// the plans remember anyway are not told a second time.
func takePasts(ctx context.Context, tx *sql.Tx, described []garden.Past, ids map[int64]int64) error {
	old, err := told(ctx, tx)
	if err != nil {
		return err
	}
	place, err := site(ctx, tx)
	if err != nil {
		return err
	}
	latest, err := latestSeason(ctx, tx)
	if err != nil {
		return err
	}
	known, err := remembered(ctx, tx, garden.Garden{Site: place}, latest)
	if err != nil {
		return err
	}
	for i, p := range described {
		p.ID, p.BedID, p.Place = 0, ids[p.BedID], garden.Place{}
		if slices.ContainsFunc(known, func(k garden.Past) bool { k.Place = garden.Place{}; return k == p }) {
			continue
		}
		at := slices.IndexFunc(old, func(o garden.Past) bool { o.ID = 0; return o == p })
		if at < 0 {
			if _, err := addPast(ctx, tx, p, int64(i+1)); err != nil {
				return err
			}
			continue
		}
		if _, err := tx.ExecContext(ctx, "UPDATE past SET position = $2 WHERE id = $1", old[at].ID, i+1); err != nil {
			return err
		}
		old = slices.Delete(old, at, at+1)
	}
	for _, p := range old {
		if _, err := tx.ExecContext(ctx, "UPDATE past SET retired = 1 WHERE id = $1", p.ID); err != nil {
			return err
		}
	}
	return nil
}

// takeWants lets wants that stay the same keep their IDs.
func takeWants(ctx context.Context, tx *sql.Tx, described []garden.Want) error {
	old, err := wants(ctx, tx)
	if err != nil {
		return err
	}
	for i, w := range described {
		at := slices.IndexFunc(old, func(o garden.Want) bool { return sameWant(o, w) })
		if at < 0 {
			if _, err := addWant(ctx, tx, w, int64(i+1)); err != nil {
				return err
			}
			continue
		}
		if _, err := tx.ExecContext(ctx, "UPDATE want SET position = $2 WHERE id = $1", old[at].ID, i+1); err != nil {
			return err
		}
		old = slices.Delete(old, at, at+1)
	}
	for _, w := range old {
		if _, err := tx.ExecContext(ctx, "DELETE FROM want WHERE id = $1", w.ID); err != nil {
			return err
		}
	}
	return nil
}

// takeStanding replaces what the person told stands. A planting that a plan of the book has in the
// ground under the same key stays the plan's.
func takeStanding(ctx context.Context, tx *sql.Tx, described []garden.Planting, ids map[int64]int64) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM standing"); err != nil {
		return err
	}
	planted, err := planted(ctx, tx)
	if err != nil {
		return err
	}
	for i, p := range described {
		p.BedID = ids[p.BedID]
		if p.BedID == 0 {
			return fmt.Errorf("the planting %s stands in no bed of the description", p.Key)
		}
		if slices.ContainsFunc(planted, func(o garden.Planting) bool { return o.Key == p.Key && o.BedID == p.BedID && o.CropID == p.CropID }) {
			continue
		}
		if err := addStanding(ctx, tx, p, int64(i+1)); err != nil {
			return err
		}
	}
	return nil
}
