package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/fetch"
	"kailyard/internal/garden"
	"kailyard/internal/weather"
)

type weatherCmd struct {
	Files     []string `arg:"" optional:"" name:"file" help:"A daily record: GHCN-Daily .dly, NCEI daily-summaries CSV, NASA POWER CSV or JSON, Open-Meteo archive JSON, or a plain CSV with units in its header (doc/weather-files.md). Of several, later ones win and earlier ones fill their holes."`
	From      string   `help:"Fetch the record: power or open-meteo by the site's coordinates, ncei by --station." enum:",power,ncei,open-meteo" default:"" placeholder:"SERVICE"`
	Station   string   `help:"The station's ID of GHCN-Daily, eleven characters, for --from ncei." placeholder:"ID"`
	Years     int      `help:"How many whole years to fetch, besides the running one." default:"31" placeholder:"N"`
	Until     int      `help:"The last year to fetch; default: the running one." placeholder:"YEAR"`
	Again     bool     `help:"Fetch years anew that the book has already."`
	Offline   bool     `help:"Ask nobody: take the years that were fetched before."`
	Place     string   `help:"Use generated years of a built-in climate instead (kailyard places)." placeholder:"ID"`
	Over      bool     `help:"Lay the new record over the one in use, which fills its holes."`
	Elevation string   `help:"Correct temperatures for the height between record and garden: auto (from 50 m), always, never." enum:"auto,always,never" default:"auto" placeholder:"WHEN"`
	Kept      bool     `help:"List every record the book was ever given."`
	Use       int64    `help:"Go back to a kept record, by its number in that list." placeholder:"N"`
}

func (weatherCmd) example() string {
	return "kailyard weather USC00304174.dly\nkailyard weather --from power --years 31\nkailyard weather --from ncei --station USC00304174 --over\nkailyard weather --kept\nkailyard weather --place burlington"
}

// generatedYears and generatorSeed fix what a built-in climate gives, so that two people with the
// same place have the same plan.
const (
	generatedYears     = 30
	generatedFirstYear = 1991
	generatorSeed      = 7
)

// check refuses flags that do not go together.
func (c *weatherCmd) check() error {
	ways := 0
	for _, given := range []bool{len(c.Files) > 0, c.From != "", c.Place != "", c.Kept, c.Use != 0} {
		if given {
			ways++
		}
	}
	switch {
	case ways > 1:
		return usageError{"give files, --from, --place, --kept or --use, only one of them"}
	case c.From == "ncei" && c.Station == "":
		return usageError{"--from ncei asks for a station: name it with --station, for example USC00304174"}
	case c.From != "ncei" && c.Station != "":
		return usageError{"--station goes with --from ncei"}
	case c.From == "" && (c.Offline || c.Again || c.Until != 0):
		return usageError{"--until, --again and --offline go with --from"}
	case c.Over && len(c.Files) == 0 && c.From == "":
		return usageError{"--over goes with files or --from"}
	}
	return nil
}

// Run reads or fetches a record into the book, or describes what it has.
func (c *weatherCmd) Run(ctx context.Context, e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	given := len(c.Files) > 0 || c.From != "" || c.Place != ""
	b, err := e.open(ctx, !given && c.Use == 0)
	if err != nil {
		return err
	}
	defer b.Close()
	switch {
	case c.Kept:
		return e.printKeptRecords(ctx, b)
	case c.Use != 0:
		if err := b.UseRecord(ctx, c.Use); err != nil {
			return err
		}
	case given:
		if err := c.take(ctx, e, b); err != nil {
			return err
		}
	}
	record, err := b.Record(ctx)
	if err != nil {
		return err
	}
	return e.printRecord(record)
}

// take brings a new record into the book. The one before it is kept.
func (c *weatherCmd) take(ctx context.Context, e *env, b *book.Book) error {
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	var parts []*weather.Record
	switch {
	case c.Place != "":
		climate, ok := climateOf(c.Place)
		if !ok {
			return fmt.Errorf("there is no built-in climate %q; `kailyard places` lists them", c.Place)
		}
		parts = append(parts, generated(climate))
	case c.From != "":
		record, err := c.fetched(ctx, e, b, g.Site)
		if err != nil {
			return err
		}
		parts = append(parts, c.fitted(record, g.Site))
	default:
		if parts, err = c.read(g.Site); err != nil {
			return err
		}
	}
	if c.Over {
		old, err := b.Record(ctx)
		switch {
		case err == nil:
			parts = slices.Insert(parts, 0, old)
		case !book.IsKind(err, book.Unknown):
			return err
		}
	}
	record := parts[0]
	if len(parts) > 1 {
		if record, err = weather.Merge(parts...); err != nil {
			return err
		}
	}
	if err := usable(record, comingSeason(e.Today, g.Site.Latitude)); err != nil {
		return err
	}
	return b.SaveRecord(ctx, record)
}

// read reads the files, in the person's order.
func (c *weatherCmd) read(site garden.Site) (all []*weather.Record, err error) {
	for _, name := range c.Files {
		f, err := os.Open(name)
		if err != nil {
			return nil, fmt.Errorf("cannot read the weather record: %w", err)
		}
		r, err := weather.Read(name, f)
		f.Close()
		if err != nil {
			return nil, err
		}
		all = append(all, c.fitted(r, site))
	}
	return all, nil
}

// farKM is a distance from which a station's weather is hardly the garden's.
const farKM = 100

// fitted sets a record against the garden: it is moved to the garden's height, and a station far
// away is told. A garden whose site was not told yet, or not its height, leaves it as it is.
func (c *weatherCmd) fitted(r *weather.Record, site garden.Site) *weather.Record {
	told := site.Latitude != 0 || site.Longitude != 0
	note := func(kind, format string, args ...any) {
		r.Notes = append(r.Notes, weather.Note{Kind: kind, From: r.Days[0].Date, To: r.Days[len(r.Days)-1].Date, Says: fmt.Sprintf(format, args...)})
	}
	if km, ok := r.Station.Distance(site.Latitude, site.Longitude); ok && told && km > farKM {
		note("far", "The record was taken %.0f km from the garden: is it the right one?", km)
	}
	least := weather.SmallStep
	switch {
	case c.Elevation == "never":
		return r
	case c.Elevation == "always":
		least = 0
	case site.Elevation == 0 && told && r.Station.Levelled && r.Station.Elevation >= weather.SmallStep:
		note("elevation", "The record was taken %.0f m above the sea and the garden's elevation is not told, so temperatures stand as they are. Where the garden lies higher or lower, tell its elevation and give the record again.", float64(r.Station.Elevation))
		return r
	}
	return r.AtElevation(site.Elevation, least)
}

// fetched asks a service, telling on the error output how it goes.
func (c *weatherCmd) fetched(ctx context.Context, e *env, b *book.Book, site garden.Site) (*weather.Record, error) {
	service, _ := fetch.ServiceOf(c.From)
	if !service.ByStation && site.Latitude == 0 && site.Longitude == 0 {
		return nil, errors.New("the book does not know where the garden is; tell it with `kailyard import FILE` or in the browser")
	}
	say := func(format string, args ...any) { fmt.Fprintf(e.Stderr, format+"\n", args...) }
	say("%s: %s.\nTerms: %s. %s", service.Name, service.Covers, service.Terms, service.TermsAt)
	f := e.Services
	f.Shelf, f.Today = b, e.Today
	f.Tell = func(p fetch.Progress) {
		switch {
		case p.Waiting > 0:
			say("  %d: %s; waiting %s", p.Year, p.Why, p.Waiting.Round(time.Second))
		case p.Year == 0 && p.Of == 0:
			say("All %d years are in the book already.", p.Kept)
		case p.Year == 0:
			say("Asking for %s, one after the other; %d in the book already. Ctrl-C stops; what arrived stays.", years(p.Of), p.Kept)
		case p.Days == 0:
			say("  %d: nothing there (%d of %d)", p.Year, p.Done, p.Of)
		default:
			say("  %d: %d days (%d of %d)", p.Year, p.Days, p.Done, p.Of)
		}
	}
	return f.Fetch(ctx, fetch.Request{
		Service: service, Latitude: site.Latitude, Longitude: site.Longitude, Station: c.Station,
		Years: c.Years, Until: c.Until, Again: c.Again, Offline: c.Offline,
	})
}

func years(n int) string {
	if n == 1 {
		return "1 year"
	}
	return fmt.Sprintf("%d years", n)
}

type keptRecordJSON struct {
	ID      int64           `json:"id"`
	Kept    *time.Time      `json:"kept_at"`
	InUse   bool            `json:"in_use"`
	Source  string          `json:"source"`
	Origin  weather.Origin  `json:"origin"`
	Station weather.Station `json:"station"`
	First   civil.Date      `json:"first"`
	Last    civil.Date      `json:"last"`
}

// printKeptRecords lists the records, the newest first.
func (e *env) printKeptRecords(ctx context.Context, b *book.Book) error {
	all, err := b.Records(ctx)
	if err != nil {
		return err
	}
	list := []keptRecordJSON{}
	for _, k := range all {
		v := keptRecordJSON{k.ID, &k.Kept, k.InUse, k.Source, k.Origin, k.Station, k.First, k.Last}
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
	for _, k := range list {
		mark, kept, name := "      ", "before", k.Station.Name
		if k.InUse {
			mark = "in use"
		}
		if k.Kept != nil {
			kept = civil.OfTime(*k.Kept).String()
		}
		if name == "" {
			name = k.Station.ID
		}
		if name != "" {
			name = ", " + name
		}
		e.printf("%4d  %s  %-10s  %s to %s  %s%s (%s)\n", k.ID, mark, kept, k.First, k.Last, k.Source, name, k.Origin)
	}
	return nil
}
