package web

import (
	"context"
	"slices"
	"sync"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/fetch"
	"kailyard/internal/fetch/standin"
	"kailyard/internal/weather"
)

// The storybook's weather over the network: an errand that brought its years and waits to be used. Nobody is asked.

var storyPieces = sync.OnceValue(func() (all []weather.Piece) {
	for _, d := range storyRecord().Days {
		y := d.Date.Year()
		if len(all) == 0 || all[len(all)-1].Year != y {
			all = append(all, weather.Piece{
				Service: "power", Place: "43.50,-72.30", Year: y, Asked: civil.Of(2027, 6, 14), Until: civil.Of(y, 12, 31),
				Record: &weather.Record{Source: "NASA POWER", Origin: weather.Measured, Station: weather.Station{Latitude: 43.5, Longitude: -72.3, Elevation: 420, Located: true, Levelled: true}},
			})
		}
		if d.Date.Month() == 3 && d.Date.Day() < 9 && y == 2004 {
			d = weather.Day{Date: d.Date}
		}
		last := all[len(all)-1].Record
		last.Days = append(last.Days, d)
	}
	return all
})

// storyFetching is a runner with an errand of the storybook's garden. Its services are nowhere.
func storyFetching(tb interface{ Cleanup(func()) }) *fetch.Runner {
	shelf := &standin.Shelf{}
	ctx := context.Background()
	for _, p := range storyPieces() {
		_ = shelf.KeepPiece(ctx, p)
	}
	_ = shelf.KeepErrand(ctx, &weather.Errand{Service: "power", Latitude: 43.5, Longitude: -72.3, Years: 29, Until: 2026, Asked: civil.Of(2027, 6, 14), Brought: true})
	nowhere := map[string]string{}
	for _, s := range fetch.Services() {
		nowhere[s.ID] = "http://127.0.0.1:1/" // refused at once
	}
	r := fetch.NewRunner(ctx, fetch.Fetcher{Base: nowhere}, shelf, func() civil.Date { return civil.Of(2027, 6, 15) })
	tb.Cleanup(r.Stop)
	return r
}

// storyKept is a list of kept weather.
type storyKept struct {
	records []weather.Kept
	fetched []weather.Fetched
}

func newStoryKept() *storyKept {
	at := time.Date(2027, 3, 2, 9, 0, 0, 0, time.UTC)
	hill := weather.Station{ID: "USC00304174", Name: "SOME COLLEGE, NY US"}
	first, last := civil.Of(1997, 1, 1), civil.Of(2027, 3, 1)
	k := &storyKept{records: []weather.Kept{
		{ID: 3, Kept: at, InUse: true, Origin: weather.Generated, Source: "built-in climate (invented garden)", First: first, Last: civil.Of(2027, 12, 31)},
		{ID: 2, Kept: at.AddDate(0, 0, -9), Origin: weather.Measured, Source: "NASA POWER + NCEI daily summaries", Station: hill, First: first, Last: last, NoTemperature: 3, Missing: []int{2004}},
		{ID: 1, Origin: weather.Measured, Source: "NCEI daily summaries", Station: hill, First: first, Last: last, NoTemperature: 214, Missing: []int{1998, 1999, 2000, 2004, 2019}},
	}}
	power := weather.Fetched{Service: "power", Place: "43.50,-72.30"}
	for _, p := range storyPieces() {
		power.Years = append(power.Years, weather.FetchedYear{Year: p.Year, Days: len(p.Record.Days), Asked: p.Asked, Until: p.Until})
	}
	ncei := weather.Fetched{Service: "ncei", Place: "USC00304174", Station: hill, Years: slices.Clone(power.Years[:9])}
	ncei.Years = slices.Delete(ncei.Years, 3, 5)
	ncei.Years[0].Days, ncei.Years[4].NoTemperature = 0, 31
	k.fetched = []weather.Fetched{ncei, power}
	return k
}

func (k *storyKept) Records(context.Context) ([]weather.Kept, error) { return k.records, nil }

func (k *storyKept) UseRecord(_ context.Context, id int64) error {
	for i := range k.records {
		k.records[i].InUse = k.records[i].ID == id
	}
	return nil
}

func (k *storyKept) DropRecord(_ context.Context, id int64) error {
	k.records = slices.DeleteFunc(k.records, func(v weather.Kept) bool { return v.ID == id })
	return nil
}

func (k *storyKept) Fetched(context.Context) ([]weather.Fetched, error) { return k.fetched, nil }

func (k *storyKept) DropFetched(_ context.Context, service, place string) error {
	k.fetched = slices.DeleteFunc(k.fetched, func(v weather.Fetched) bool { return v.Service == service && v.Place == place })
	return nil
}
