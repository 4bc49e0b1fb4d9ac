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
		g, err = whole(ctx, tx)
		return err
	})
	if err != nil {
		return garden.Garden{}, err
	}
	return g, nil
}

func whole(ctx context.Context, tx *sql.Tx) (g garden.Garden, err error) {
	if g.Site, err = site(ctx, tx); err != nil {
		return g, err
	}
	if g.Beds, err = beds(ctx, tx, false); err != nil {
		return g, err
	}
	if g.Wants, err = wants(ctx, tx); err != nil {
		return g, err
	}
	if g.Standing, err = standing(ctx, tx); err != nil {
		return g, err
	}
	if g.History, err = told(ctx, tx); err != nil {
		return g, err
	}
	more, err := remembered(ctx, tx, g.History)
	g.History = append(g.History, more...)
	return g, err
}
