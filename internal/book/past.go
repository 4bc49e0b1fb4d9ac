package book

import (
	"context"
	"database/sql"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// AddPast adds a line of history and gives its ID.
func (b *Book) AddPast(ctx context.Context, past garden.Past) (id int64, err error) {
	if err := past.Validate(nil).Err(); err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		n, err := count(ctx, tx, "SELECT count(*) FROM bed WHERE id = $1 AND NOT retired", past.BedID)
		if err != nil {
			return err
		}
		if n == 0 {
			return unknown("bed %d", past.BedID)
		}
		last, err := count(ctx, tx, "SELECT coalesce(max(position), 0) FROM past")
		if err != nil {
			return err
		}
		id, err = addPast(ctx, tx, past, last+1)
		return err
	})
	return id, err
}

// RemovePast takes a line of history back. The book keeps it, marked as taken back.
func (b *Book) RemovePast(ctx context.Context, id int64) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		found, err := update(ctx, tx, "UPDATE past SET retired = 1 WHERE id = $1 AND NOT retired", id)
		if err == nil && !found {
			return unknown("line of history %d", id)
		}
		return err
	})
}

func addPast(ctx context.Context, tx *sql.Tx, p garden.Past, position int64) (int64, error) {
	return insert(ctx, tx, "INSERT INTO past (position, bed_id, year, crop_id, family, note) VALUES ($1, $2, $3, $4, $5, $6)",
		position, p.BedID, p.Year, p.CropID, p.Family, p.Note)
}

// beneath are the lines of history of retired beds, laid on the ground that the garden's beds share
// with them. They have no ID: whoever told them told them of another bed.
func beneath(ctx context.Context, tx *sql.Tx, g garden.Garden, planned int) ([]garden.Past, error) {
	gone, err := beds(ctx, tx, true)
	if err != nil || len(gone) == 0 {
		return nil, err
	}
	old, err := toldOf(ctx, tx, true)
	if err != nil {
		return nil, err
	}
	more, err := rememberedOf(ctx, tx, garden.Garden{Site: g.Site, History: old}, planned, true)
	if err != nil {
		return nil, err
	}
	var all []garden.Past
	for _, p := range append(old, more...) {
		i := slices.IndexFunc(gone, func(b garden.Bed) bool { return b.ID == p.BedID })
		for _, b := range g.Beds {
			at, ok := b.Under(gone[i], p.Place)
			if !ok {
				continue
			}
			q := p
			q.ID, q.BedID, q.Place, q.Note = 0, b.ID, at, "of "+gone[i].Name+", which lay here"
			all = append(all, q)
		}
	}
	return all, nil
}

// told are the lines of history the person told, of the garden's beds.
func told(ctx context.Context, tx *sql.Tx) ([]garden.Past, error) {
	return toldOf(ctx, tx, false)
}

func toldOf(ctx context.Context, tx *sql.Tx, retired bool) ([]garden.Past, error) {
	return each(ctx, tx, func(scan func(...any) error) (p garden.Past, err error) {
		err = scan(&p.ID, &p.BedID, &p.Year, &p.CropID, &p.Family, &p.Note)
		return p, err
	}, `SELECT past.id, bed_id, year, crop_id, family, past.note FROM past JOIN bed ON bed.id = bed_id
		WHERE NOT past.retired AND bed.retired = $1 ORDER BY past.position, past.id`, retired)
}

// remembered are the lines of history the book knows of itself: what the plans it keeps say grew in
// the garden's beds. Every planting of a season's last plan counts once a later season is planned,
// because few people mark them all; one that is over or lost counts at once. They have no ID: they
// follow from the plans and cannot be taken back.
//
// The year of a line is the season it bore in, as everywhere in the history: what was picked in a
// southern February belongs to the season that began the July before, garlic set in a northern
// October to the next one.
func remembered(ctx context.Context, tx *sql.Tx, g garden.Garden, planned int) ([]garden.Past, error) {
	return rememberedOf(ctx, tx, g, planned, false)
}

func rememberedOf(ctx context.Context, tx *sql.Tx, g garden.Garden, planned int, retired bool) ([]garden.Past, error) {
	plantings, err := each(ctx, tx, scanPlanting, plantingColumns+`
		FROM planting JOIN plan ON plan.id = plan_id JOIN bed ON bed.id = planting.bed_id
		WHERE bed.retired = $2 AND plan.id IN (SELECT max(id) FROM plan GROUP BY season)
			AND (planting.status IN ('over', 'lost') OR plan.season < $1)
		ORDER BY plan.season, planting.position`, planned, retired)
	if err != nil {
		return nil, err
	}
	type line struct {
		bed   int64
		year  int
		crop  string
		place garden.Place
	}
	known := map[line]bool{}
	for _, p := range g.History {
		known[line{p.BedID, p.Year, p.CropID, garden.Place{}}] = true
	}
	var all []garden.Past
	for _, p := range plantings {
		bore := p.Start
		if p.First.P50 > p.Start {
			bore = min(p.First.P50, max(p.Clear-1, p.Start))
		}
		year := civil.SeasonHolding(bore, g.Site.Latitude).Year()
		l := line{p.BedID, year, p.CropID, p.Place}
		if whole := (line{p.BedID, year, p.CropID, garden.Place{}}); !known[l] && !known[whole] {
			known[l] = true
			all = append(all, garden.Past{BedID: p.BedID, Year: year, CropID: p.CropID, Place: p.Place, Note: fmt.Sprintf("from the plan of %d", p.Season)})
		}
	}
	return all, nil
}
