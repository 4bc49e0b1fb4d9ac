package book

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// A record is dropped by its number, never the one in use, and takes no year from another.
func TestARecordIsDropped(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	first, second := record3(), record3()
	last := second.Days[len(second.Days)-1]
	last.Date++
	second.Days = append(second.Days, last)
	holes := 0
	for _, d := range first.Days {
		if !d.HasTemp {
			holes++
		}
	}
	check(t, b.SaveRecord(ctx, first))
	check(t, b.SaveRecord(ctx, second))
	if kept, err := b.Records(ctx); err != nil || kept[1].NoTemperature != holes || holes > 0 == (len(kept[1].Missing) == 0) {
		t.Errorf("%d days have no temperature and %+v is told, %v", holes, kept[1], err)
	}
	wantTrouble(t, b.DropRecord(ctx, 2), Refused, "is the one in use", "go back to one")
	wantTrouble(t, b.DropRecord(ctx, 7), Unknown, "weather record 7")
	check(t, b.DropRecord(ctx, 1))
	if kept, err := b.Records(ctx); err != nil || len(kept) != 1 || kept[0].ID != 2 {
		t.Errorf("kept are %+v, %v", kept, err)
	}
	if got, err := b.Record(ctx); err != nil || !cmp.Equal(second, got) {
		t.Errorf("the other record: %v", err)
	}
	if n := rows(t, b, "weather_run"); n != 4 { // the one year in which they differed is gone
		t.Errorf("%d runs are kept for one record of four years", n)
	}
	wantTrouble(t, b.DropRecord(ctx, 1), Unknown)
	check(t, b.SaveRecord(ctx, first)) // given again it has a number of its own
	if kept, err := b.Records(ctx); err != nil || kept[0].ID != 3 {
		t.Errorf("kept are %+v, %v", kept, err)
	}
	for _, query := range []string{"DELETE FROM weather_record", "DELETE FROM weather_record_run", "DELETE FROM weather_run"} {
		if _, err := b.db.ExecContext(ctx, query); err == nil {
			t.Errorf("%s went through", query)
		}
	}
}

// piece is a year of 365 or 366 days.
func piece(service, place string, year int) weather.Piece {
	r := &weather.Record{Origin: weather.Measured, Source: service, Station: weather.Station{Name: "hill"}}
	for d := civil.Of(year, 1, 1); d.Year() == year; d++ {
		r.Days = append(r.Days, weather.Day{Date: d, HasTemp: d.Day() != 13, Max: 10})
	}
	return weather.Piece{Service: service, Place: place, Year: year, Asked: civil.Of(2027, 2, 1), Until: civil.Of(year, 12, 31), Record: r}
}

func TestFetched(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	before, err := b.Revision(ctx)
	check(t, err)
	for _, p := range []weather.Piece{
		piece("power", "1.00,2.00", 2025), piece("power", "1.00,2.00", 2023), piece("ncei", "XX", 2024), piece("power", "3.00,4.00", 2025),
		{Service: "ncei", Place: "XX", Year: 2023, Asked: civil.Of(2027, 2, 1), Until: civil.Of(2023, 12, 31)},
	} {
		check(t, b.KeepPiece(ctx, p))
	}
	got, err := b.Fetched(ctx)
	check(t, err)
	asked := civil.Of(2027, 2, 1)
	whole := func(y int) weather.FetchedYear {
		return weather.FetchedYear{Year: y, Days: int(civil.Of(y+1, 1, 1) - civil.Of(y, 1, 1)), NoTemperature: 12, Asked: asked, Until: civil.Of(y, 12, 31)}
	}
	hill := weather.Station{Name: "hill"}
	want := []weather.Fetched{
		{Service: "ncei", Place: "XX", Station: hill, Years: []weather.FetchedYear{{Year: 2023, Asked: asked, Until: civil.Of(2023, 12, 31)}, whole(2024)}},
		{Service: "power", Place: "1.00,2.00", Station: hill, Years: []weather.FetchedYear{whole(2023), whole(2025)}},
		{Service: "power", Place: "3.00,4.00", Station: hill, Years: []weather.FetchedYear{whole(2025)}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	check(t, b.DropFetched(ctx, "power", "1.00,2.00"))
	wantTrouble(t, b.DropFetched(ctx, "power", "1.00,2.00"), Unknown)
	if got, err = b.Fetched(ctx); err != nil || len(got) != 2 {
		t.Errorf("%+v, %v", got, err)
	}
	if now, err := b.Revision(ctx); err != nil || now != before {
		t.Errorf("years that no season rests on make pages stale: %d after %d, %v", now, before, err)
	}
}

func TestTheErrandComesBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	if e, err := b.Errand(ctx); err != nil || e != nil {
		t.Errorf("%+v, %v", e, err)
	}
	want := &weather.Errand{Service: "power", Latitude: -37.8, Longitude: 144.9, Years: 31, Until: 2020, Asked: civil.Of(2027, 2, 1)}
	check(t, b.KeepErrand(ctx, want))
	want.Brought = true
	check(t, b.KeepErrand(ctx, want))
	if e, err := b.Errand(ctx); err != nil || !cmp.Equal(want, e) {
		t.Errorf("%+v, %v", e, err)
	}
	check(t, b.KeepErrand(ctx, nil))
	if e, err := b.Errand(ctx); err != nil || e != nil {
		t.Errorf("%+v, %v", e, err)
	}
}

// A short change goes on beside a kailyard that has the book; one that wants the book waits for a short change.
func TestBeside(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	path := b.Path()
	beside, err := Open(ctx, path, Options{Beside: true})
	check(t, err)
	check(t, beside.KeepPiece(ctx, piece("power", "1.00,2.00", 2025)))
	if got, err := b.Pieces(ctx, "power", "1.00,2.00"); err != nil || len(got) != 1 {
		t.Errorf("whoever has the book sees %d years, %v", len(got), err)
	}
	check(t, beside.Close())
	check(t, b.SaveRecord(ctx, record3())) // the first goes on
	check(t, b.Close())

	short, err := Open(ctx, path, Options{Beside: true})
	check(t, err)
	go func() {
		time.Sleep(50 * time.Millisecond)
		_ = short.Close()
	}()
	again, err := Open(ctx, path, Options{}) // waits
	check(t, err)
	if got, err := again.Pieces(ctx, "power", "1.00,2.00"); err != nil || len(got) != 1 {
		t.Errorf("%d years, %v", len(got), err)
	}
	check(t, again.Close())
	if left, _ := filepath.Glob(path + "?*"); len(left) != 0 {
		t.Errorf("left beside the book: %v", left)
	}
}

// Many short changes and openings for long at once: each gets its turn, and nothing is lost.
func TestShortChangesBesideMany(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	path := b.Path()
	check(t, b.Close())
	var wg sync.WaitGroup
	for n := range 3 {
		wg.Go(func() {
			for y := range 8 {
				err := short(ctx, path, func(b *Book) error { return b.KeepPiece(ctx, piece("power", string(rune('a'+n)), 2000+y)) })
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	for range 8 {
		one, err := Open(ctx, path, Options{})
		if err != nil {
			t.Error(err)
			continue
		}
		check(t, one.SaveSite(ctx, ground().Site))
		check(t, one.Close())
	}
	wg.Wait()
	check(t, short(ctx, path, func(b *Book) error {
		sources, err := b.Fetched(ctx)
		if len(sources) != 3 || slices.ContainsFunc(sources, func(s weather.Fetched) bool { return len(s.Years) != 8 }) {
			t.Errorf("%d sources: %+v", len(sources), sources)
		}
		return err
	}))
}

func short(ctx context.Context, path string, do func(*Book) error) error {
	b, err := Open(ctx, path, Options{Beside: true})
	if err != nil {
		return err
	}
	defer b.Close()
	return do(b)
}

func TestOneFetchOfAService(t *testing.T) {
	b := newBook(t, Options{})
	let, err := b.Reserve("power", "NASA POWER")
	check(t, err)
	_, err = Reserve(b.Path(), "power", "NASA POWER")
	wantTrouble(t, err, Refused, "another kailyard is fetching from NASA POWER into this book (since ", "wait until it is done")
	other, err := Reserve(b.Path(), "ncei", "NOAA NCEI")
	check(t, err)
	other()
	let()
	let, err = Reserve(b.Path(), "power", "NASA POWER")
	check(t, err)
	let()
	files, err := os.ReadDir(filepath.Dir(b.Path()))
	check(t, err)
	for _, f := range files {
		if strings.Contains(f.Name(), ".power.") {
			t.Errorf("%s was left", f.Name())
		}
	}
}
