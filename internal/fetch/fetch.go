// Package fetch is weather over the network: asking the open services politely, in pieces that survive a stop.
package fetch

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// Shelf keeps the years as they arrive, each whole or not at all. The garden book is one.
type Shelf interface {
	Pieces(ctx context.Context, service, place string) ([]weather.Piece, error)
	KeepPiece(ctx context.Context, p weather.Piece) error
}

// Request is what is wanted of a service.
type Request struct {
	Service   Service
	Latitude  float64 // degrees, north positive; for services by coordinates
	Longitude float64 // degrees, east positive
	Station   string  // for services by station
	Years     int     // whole years before the last one
	Until     int     // the last year wanted; 0: the running one
	Again     bool    // ask anew for years that are kept
	Offline   bool    // take what is kept and ask nobody
}

// Progress is one step of a fetch, for the person who waits.
type Progress struct {
	Year    int
	Done    int           // years done of those to be asked for, this one included
	Of      int           // years to be asked for
	Kept    int           // years that were on the shelf before, told with the first step (Year 0)
	Days    int           // days with temperatures in this year; 0 where the service has none
	Waiting time.Duration // a pause longer than the usual one, and why
	Why     string
}

// Fetcher asks services, one request at a time. The zero value with a Shelf and a Today works.
type Fetcher struct {
	Shelf Shelf
	Today civil.Date
	Tell  func(Progress)                                   // nil: says nothing
	Base  map[string]string                                // by service ID, in the place of its own address
	HTTP  *http.Client                                     // nil: one with time limits
	Sleep func(ctx context.Context, d time.Duration) error // nil: really waits
}

// Years without a reading in a row after which a station is not asked further back: at the newest
// end it is an error, further back the record has begun.
const (
	emptyYears = 5
	emptyPast  = 10
)

// Fetch brings the years that are missing onto the shelf, the newest first, and gives the record
// made of all of them. Whatever ends it, the years that arrived stay, and the next call goes on
// from there. A year is asked for again while it runs and until three months after its end, at most
// once a day.
func (f *Fetcher) Fetch(ctx context.Context, r Request) (*weather.Record, error) {
	if err := r.check(f.Today); err != nil {
		return nil, err
	}
	shelf, err := f.onShelf(ctx, r)
	if err != nil {
		return nil, err
	}
	if !r.Offline {
		if err := f.bring(ctx, r, shelf); err != nil {
			return nil, r.stopped(err, shelf, f.Today)
		}
	}
	return r.assemble(shelf, f.Today)
}

// onShelf is what is kept, by year.
func (f *Fetcher) onShelf(ctx context.Context, r Request) (map[int]weather.Piece, error) {
	pieces, err := f.Shelf.Pieces(ctx, r.Service.ID, r.place())
	if err != nil {
		return nil, err
	}
	shelf := map[int]weather.Piece{}
	for _, p := range pieces {
		shelf[p.Year] = p
	}
	return shelf, nil
}

// bring asks for each missing year and keeps it before it asks for the next.
func (f *Fetcher) bring(ctx context.Context, r Request, shelf map[int]weather.Piece) error {
	years := r.years(f.Today)
	missing := slices.DeleteFunc(slices.Clone(years), func(y int) bool {
		p, kept := shelf[y]
		return kept && !r.Again && settled(p, f.Today)
	})
	f.tell(Progress{Of: len(missing), Kept: len(years) - len(missing)})
	a := asker{Fetcher: f, request: r}
	done, empty := 0, 0
	for i, year := range years {
		if slices.Contains(missing, year) {
			p, err := a.year(ctx, year)
			if err != nil {
				return err
			}
			if err := f.Shelf.KeepPiece(ctx, p); err != nil {
				return err
			}
			shelf[year] = p
			done++
			f.tell(Progress{Year: year, Done: done, Of: len(missing), Days: daysIn(p)})
		}
		empty++
		if shelf[year].Record != nil {
			empty = 0
		}
		switch {
		case empty == emptyYears && i+1 == emptyYears:
			return r.nothing(year, years[0])
		case empty == emptyPast:
			return nil
		}
	}
	return nil
}

func (f *Fetcher) tell(p Progress) {
	if f.Tell != nil {
		f.Tell(p)
	}
}

// settleDays is how long after its end a year's readings may still be revised. Source: common practice;
// the services replace quick readings by checked ones within about three months.
const settleDays = 92

// settled says whether a kept year need not be asked for again.
func settled(p weather.Piece, today civil.Date) bool {
	end := civil.Of(p.Year, 12, 31)
	return p.Asked >= today || p.Until >= end && p.Asked >= end.Add(settleDays)
}

func daysIn(p weather.Piece) (n int) {
	if p.Record == nil {
		return 0
	}
	for _, d := range p.Record.Days {
		if d.HasTemp {
			n++
		}
	}
	return n
}

// years are the years wanted, the newest first.
func (r Request) years(today civil.Date) (years []int) {
	last := today.Add(-r.Service.Late).Year()
	if r.Until > 0 {
		last = min(last, r.Until)
	}
	for y := last; y >= max(last-r.Years, r.Service.FirstYear); y-- {
		years = append(years, y)
	}
	return years
}

// assemble makes one record of the years on the shelf.
func (r Request) assemble(shelf map[int]weather.Piece, today civil.Date) (*weather.Record, error) {
	var parts []*weather.Record
	years := r.years(today)
	for _, y := range slices.Backward(years) {
		if p := shelf[y]; p.Record != nil {
			parts = append(parts, p.Record)
		}
	}
	if len(parts) == 0 {
		if r.Offline {
			return nil, &Error{Kind: Offline, Says: fmt.Sprintf("the book keeps no weather of %s for %s yet", r.Service.Name, r.where()), Remedy: "run the command once without --offline, with a network"}
		}
		return nil, r.nothing(years[len(years)-1], years[0])
	}
	record, err := weather.Merge(parts...)
	if err != nil {
		return nil, err
	}
	if record.Station.Name == "" {
		record.Station.Name = r.where()
	}
	first, last := record.Days[0].Date, record.Days[len(record.Days)-1].Date
	record.Notes = slices.Insert(record.Notes, 0, weather.Note{Kind: "terms", From: first, To: last, Says: r.Service.Credit})
	if missing := len(years) - len(parts); missing > 0 {
		record.Notes = append(record.Notes, weather.Note{Kind: "missing", From: first, To: last, Says: fmt.Sprintf("%d of the %d years from %d to %d are not there: %s.", missing, len(years), years[len(years)-1], years[0], whyMissing(r, years, shelf, missing))})
	}
	return record, nil
}

// whyMissing parts years the service has nothing for from years nobody asked for.
func whyMissing(r Request, years []int, shelf map[int]weather.Piece, missing int) string {
	unasked := 0
	for _, y := range years {
		if _, asked := shelf[y]; !asked {
			unasked++
		}
	}
	switch unasked {
	case 0:
		return r.Service.Name + " has nothing for them"
	case missing:
		return "they were not asked for"
	}
	return fmt.Sprintf("%d were not asked for, and the others the service does not have", unasked)
}

// stopped adds to an error what is kept and how to go on.
func (r Request) stopped(err error, shelf map[int]weather.Piece, today civil.Date) error {
	var own *Error
	switch {
	case errors.As(err, &own):
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		own = &Error{Kind: Stopped, Says: "stopped"}
	default:
		return err
	}
	kept := 0
	years := r.years(today)
	for _, y := range years {
		if _, ok := shelf[y]; ok {
			kept++
		}
	}
	if kept == 0 || own.Kind == NoStation {
		return own
	}
	told := *own
	if told.Remedy != "" {
		told.Remedy += ". "
	}
	told.Remedy += fmt.Sprintf("%d of %d years are kept in the book: the same command goes on from there, and with --offline it takes what is kept", kept, len(years))
	return &told
}
