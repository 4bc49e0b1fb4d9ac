package main

import (
	"context"
	"fmt"

	"kailyard/internal/book"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
	"kailyard/internal/weather"
)

// farKM is a distance from which a station's weather is hardly the garden's.
const farKM = 100

// fit sets a record, or the years of a built-in climate, against the garden: it is moved to the garden's height, and a
// place far away is told, and a height that nobody told. A garden whose site was not told yet, or not its height, leaves
// it as it is. When is "auto", "always" or "never".
func fit(r *weather.Record, site garden.Site, when string) *weather.Record {
	told := site.Latitude != 0 || site.Longitude != 0
	r = doubted(r, site, told)
	note := func(kind, format string, args ...any) {
		r.Notes = append(r.Notes, weather.Note{Kind: kind, From: r.Days[0].Date, To: r.Days[len(r.Days)-1].Date, Says: fmt.Sprintf(format, args...)})
	}
	if km, ok := r.Station.Distance(site.Latitude, site.Longitude); ok && told && km > farKM {
		miles := km * 1000 / 5280 / quantity.MetresPerFoot
		if r.Origin == weather.Generated {
			note("far", "The built-in climate is that of a place %.0f km (%.0f miles) from the garden: `kailyard places` lists the others, and a record from near by is better than any.", km, miles)
		} else {
			note("far", "The record was taken %.0f km (%.0f miles) from the garden: is it the right one?", km, miles)
		}
	}
	least := weather.SmallStep
	switch {
	case when == "never":
		return r
	case !r.Station.Levelled:
		if told {
			note("elevation", "The record does not say how high it was taken, so temperatures stand as they are. It grows colder with height by about %s: where its station lies lower than the garden they are too warm, where it lies higher too cold.", weather.LapseWords(site.Units))
		}
		return r
	case when == "always":
		least = 0
	case site.Elevation == 0 && told && r.Station.Levelled && r.Station.Elevation >= weather.SmallStep:
		note("elevation", "The record was taken %s above the sea and the garden's elevation is not told, so temperatures stand as they are. Where the garden lies higher or lower, tell its elevation and give the record again.", site.Units.Height(r.Station.Elevation))
		return r
	}
	return r.AtElevation(site.Elevation, least, site.Units)
}

// doubted tells of radiation that cannot be where the record was taken, or where the garden lies if the record does not
// say. It stands first, before what else is told.
func doubted(r *weather.Record, site garden.Site, told bool) *weather.Record {
	if r.Origin == weather.Generated || !r.Station.Located && !told {
		return r
	}
	at := water.Place{Latitude: site.Latitude, Elevation: site.Elevation}
	if r.Station.Located {
		at.Latitude = r.Station.Latitude
	}
	if r.Station.Levelled {
		at.Elevation = r.Station.Elevation
	}
	if n, found := water.RadiationDoubt(at, r); found {
		out := *r
		out.Notes = append([]weather.Note{n}, r.Notes...)
		return &out
	}
	return r
}

// laid merges records, later ones winning; over the one in use where that is asked for and there is one.
func laid(ctx context.Context, b *book.Book, parts []*weather.Record, over bool) (*weather.Record, error) {
	if over {
		old, err := b.Record(ctx)
		switch {
		case err == nil:
			parts = append([]*weather.Record{old}, parts...)
		case !book.IsKind(err, book.Unknown):
			return nil, err
		}
	}
	if len(parts) == 1 {
		return parts[0], nil
	}
	return weather.Merge(parts...)
}

// shortly opens the book for one short change and closes it again. It works while another kailyard has
// the book, and others wait for it.
func (e *env) shortly(ctx context.Context, do func(b *book.Book) error) error {
	b, err := book.Open(ctx, e.book, book.Options{Beside: true})
	if err != nil {
		return err
	}
	defer b.Close()
	return do(b)
}

// shortShelf keeps each year of weather in a short change of its own, so that the book is free for others
// while a service is asked.
type shortShelf struct{ *env }

// Pieces are the years the book has.
func (s shortShelf) Pieces(ctx context.Context, service, place string) (all []weather.Piece, err error) {
	err = s.shortly(ctx, func(b *book.Book) error {
		all, err = b.Pieces(ctx, service, place)
		return err
	})
	return all, err
}

// KeepPiece keeps a year.
func (s shortShelf) KeepPiece(ctx context.Context, p weather.Piece) error {
	return s.shortly(ctx, func(b *book.Book) error { return b.KeepPiece(ctx, p) })
}
