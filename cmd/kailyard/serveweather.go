package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/fetch"
	"kailyard/internal/growth"
	"kailyard/internal/weather"
	"kailyard/internal/web"
)

// fit is a record as it would be taken: at the garden's height, over the one in use where that is wanted,
// with the years that can carry a plan.
func (k *keeper) fit(ctx context.Context, r *weather.Record, over bool) (v web.Fitted, err error) {
	g, err := k.book.Garden(ctx)
	if err != nil {
		return v, err
	}
	v.InUse, err = k.book.Record(ctx)
	if err != nil && !book.IsKind(err, book.Unknown) {
		return v, err
	}
	if v.Record, err = laid(ctx, k.book, []*weather.Record{fit(r, g.Site, "auto")}, over); err != nil {
		return v, err
	}
	coming := comingSeason(k.env.clock(), g.Site.Latitude)
	v.Wrong = usable(v.Record, coming)
	years, _, _ := v.Record.Scenarios(coming, growth.Lead, growth.Tail, 0) // none where it is wrong
	for _, y := range years {
		v.Years = append(v.Years, y.Year)
	}
	return v, nil
}

// keptWeather is the weather of the book as the pages see it.
type keptWeather struct{ *book.Book }

// DropFetched drops a service's years, unless they are being fetched, here or in another program.
func (k keptWeather) DropFetched(ctx context.Context, service, place string) error {
	name := service
	if s, ok := fetch.ServiceOf(service); ok {
		name = s.Name
	}
	release, err := k.Reserve(service, name)
	if err != nil {
		return err
	}
	defer release()
	return k.Book.DropFetched(ctx, service, place)
}
