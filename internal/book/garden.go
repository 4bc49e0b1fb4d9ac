package book

import (
	"context"
	"database/sql"

	"kailyard/internal/garden"
)

// Garden is the garden as it stands: what the person told, with the history and the standing
// plantings that follow from the plans the book keeps.
func (b *Book) Garden(ctx context.Context) (g garden.Garden, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		latest, err := latestSeason(ctx, tx)
		if err != nil {
			return err
		}
		g, err = whole(ctx, tx, latest)
		return err
	})
	return g, err
}

// GardenFor is the garden as the plan of a season must see it: every season before it has passed
// into the history, whether or not anything later was ever planned, and the ground of beds that are
// no more keeps its past under the beds that lie there now.
func (b *Book) GardenFor(ctx context.Context, season int) (g garden.Garden, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		if g, err = whole(ctx, tx, season); err != nil {
			return err
		}
		before, err := beneath(ctx, tx, g, season)
		g.History = append(g.History, before...)
		return err
	})
	return g, err
}

// latestSeason is the latest season that has a plan, 0 where there is none.
func latestSeason(ctx context.Context, tx *sql.Tx) (int, error) {
	n, err := count(ctx, tx, "SELECT coalesce(max(season), 0) FROM plan")
	return int(n), err
}

func whole(ctx context.Context, tx *sql.Tx, planned int) (g garden.Garden, err error) {
	if g.Site, err = site(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	if g.Beds, err = beds(ctx, tx, false); err != nil {
		return garden.Garden{}, err
	}
	if g.Shades, err = shades(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	if err = theGround(ctx, tx, &g); err != nil {
		return garden.Garden{}, err
	}
	if g.Own, err = ownCrops(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	if g.Wants, err = wants(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	if g.Vetoes, err = vetoes(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	if g.Standing, err = standing(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	if g.History, err = told(ctx, tx); err != nil {
		return garden.Garden{}, err
	}
	more, err := remembered(ctx, tx, g, planned)
	g.History = append(g.History, more...)
	return g, err
}
