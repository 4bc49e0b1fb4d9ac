package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/fetch"
	"kailyard/internal/weather"
)

type keptRecordJSON struct {
	ID            int64           `json:"id"`
	Kept          *time.Time      `json:"kept_at"`
	InUse         bool            `json:"in_use"`
	Source        string          `json:"source"`
	Origin        weather.Origin  `json:"origin"`
	Station       weather.Station `json:"station"`
	First         civil.Date      `json:"first"`
	Last          civil.Date      `json:"last"`
	NoTemperature int             `json:"days_without_temperature"`
	Missing       []int           `json:"years_with_holes"`
}

// printKeptRecords lists the records, the newest first.
func (e *env) printKeptRecords(ctx context.Context, b *book.Book) error {
	all, err := b.Records(ctx)
	if err != nil {
		return err
	}
	list := []keptRecordJSON{}
	for _, k := range all {
		v := keptRecordJSON{k.ID, &k.Kept, k.InUse, k.Source, k.Origin, k.Station, k.First, k.Last, k.NoTemperature, orEmpty(k.Missing)}
		if k.Kept.IsZero() {
			v.Kept = nil
		}
		list = append(list, v)
	}
	if e.json {
		return e.printJSON(list)
	}
	if len(list) == 0 {
		e.printf("The book was given no weather record yet.\n")
	}
	for i, k := range all {
		mark, kept := "      ", "before"
		if k.InUse {
			mark = "in use"
		}
		if list[i].Kept != nil {
			kept = civil.OfTime(k.Kept).String()
		}
		e.printf("%4d  %s  %-10s  %s\n", k.ID, mark, kept, keptWords(k))
	}
	return nil
}

// tellKept says how much more the book keeps than the record in use.
func (e *env) tellKept(ctx context.Context, b *book.Book) error {
	if e.json {
		return nil
	}
	records, err := b.Records(ctx)
	if err != nil {
		return err
	}
	fetched, err := b.Fetched(ctx)
	if err != nil {
		return err
	}
	if n := len(records) - 1; n > 0 {
		e.printf("\nThe book keeps %d more; `kailyard weather --kept` lists them.\n", n)
	}
	if len(fetched) > 0 {
		e.printf("\n`kailyard weather --fetched` lists what services gave.\n")
	}
	return nil
}

// keptWords is a kept record in words: its days, where it is from, its holes.
func keptWords(k weather.Kept) string {
	name := k.Station.Name
	if name == "" {
		name = k.Station.ID
	}
	if name != "" {
		name = ", " + name
	}
	holes := ""
	if k.NoTemperature > 0 {
		holes = fmt.Sprintf("; %s without a temperature in %s", days(k.NoTemperature), weather.YearRuns(k.Missing))
	}
	return fmt.Sprintf("%s to %s  %s%s (%s)%s", k.First, k.Last, k.Source, name, k.Origin, holes)
}

func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

type fetchedJSON struct {
	Name    string            `json:"name"`
	Service string            `json:"service"`
	Place   string            `json:"place"`
	Station weather.Station   `json:"station"`
	First   int               `json:"first_year"`
	Last    int               `json:"last_year"`
	Asked   civil.Date        `json:"last_asked"`
	Unasked []int             `json:"years_not_asked_for"`
	Empty   []int             `json:"years_without_data"`
	Holes   int               `json:"days_without_temperature"`
	Years   []fetchedYearJSON `json:"years"`
}

type fetchedYearJSON struct {
	Year          int        `json:"year"`
	Days          int        `json:"days"`
	NoTemperature int        `json:"days_without_temperature"`
	Asked         civil.Date `json:"asked"`
	Until         civil.Date `json:"until"`
}

// fetchedName is how a person names what a service gave for a place.
func fetchedName(f weather.Fetched) string { return f.Service + ":" + f.Place }

// printFetched lists what services gave, which records are made of.
func (e *env) printFetched(ctx context.Context, b *book.Book) error {
	all, err := b.Fetched(ctx)
	if err != nil {
		return err
	}
	list := []fetchedJSON{}
	for _, f := range all {
		unasked, empty, holes := f.Holes()
		v := fetchedJSON{fetchedName(f), f.Service, f.Place, f.Station, f.Years[0].Year, f.Years[len(f.Years)-1].Year, f.LastAsked(), orEmpty(unasked), orEmpty(empty), holes, nil}
		for _, y := range f.Years {
			v.Years = append(v.Years, fetchedYearJSON(y))
		}
		list = append(list, v)
	}
	if e.json {
		return e.printJSON(list)
	}
	if len(list) == 0 {
		e.printf("No service was asked for weather yet.\n")
	}
	for _, v := range list {
		e.printf("%s  %s, %d to %d, last asked %s\n", v.Name, years(len(v.Years)), v.First, v.Last, v.Asked)
		if len(v.Unasked) > 0 {
			e.printf("  not asked for: %s\n", weather.YearRuns(v.Unasked))
		}
		if len(v.Empty) > 0 {
			e.printf("  the service has nothing for: %s\n", weather.YearRuns(v.Empty))
		}
		if v.Holes > 0 {
			e.printf("  %s without a temperature\n", days(v.Holes))
		}
	}
	return nil
}

// drop takes a kept record or what a service gave out of the book.
func (c *weatherCmd) drop(ctx context.Context, e *env) error {
	service, place, named := strings.Cut(c.Drop, ":")
	if named {
		return e.dropFetched(ctx, service, place)
	}
	id, err := strconv.ParseInt(c.Drop, 10, 64)
	if err != nil {
		return usageError{fmt.Sprintf("--drop %s: give a record's number of --kept, or a name of --fetched such as power:44.50,-73.20", c.Drop)}
	}
	return e.shortly(ctx, func(b *book.Book) error {
		all, err := b.Records(ctx)
		if err != nil {
			return err
		}
		for _, k := range all {
			if k.ID == id && !k.InUse && !c.Sure {
				return fmt.Errorf("weather record %d would be gone for good: %s; give the command again with --sure to drop it", id, keptWords(k))
			}
		}
		if err := b.DropRecord(ctx, id); err != nil {
			return err
		}
		e.printf("Dropped weather record %d.\n", id)
		return nil
	})
}

func (e *env) dropFetched(ctx context.Context, id, place string) error {
	name := id
	if s, ok := fetch.ServiceOf(id); ok {
		name = s.Name
	}
	release, err := book.Reserve(e.book, id, name) // not from under a fetch
	if err != nil {
		return err
	}
	defer release()
	return e.shortly(ctx, func(b *book.Book) error {
		if err := b.DropFetched(ctx, id, place); err != nil {
			return err
		}
		e.printf("Dropped what %s gave for %s. Records made of it stay.\n", name, fetch.Where(id, place))
		return nil
	})
}
