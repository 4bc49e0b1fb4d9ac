package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/fetch"
	"kailyard/internal/garden"
	"kailyard/internal/weather"
)

type weatherCmd struct {
	Files     []string `arg:"" optional:"" name:"file" help:"A daily record: GHCN-Daily .dly, NCEI daily-summaries CSV, NASA POWER CSV or JSON, Open-Meteo archive JSON, or a plain CSV with units in its header (doc/weather-files.md). Of several, later ones win and earlier ones fill their holes."`
	From      string   `help:"Fetch the record: power or open-meteo by the site's coordinates, ncei by --station." placeholder:"SERVICE"`
	Station   string   `help:"The station's ID of GHCN-Daily, eleven characters, for --from ncei." placeholder:"ID"`
	Years     int      `help:"How many whole years to fetch, besides the running one." default:"31" placeholder:"N"`
	Until     int      `help:"The last year to fetch; default: the running one." placeholder:"YEAR"`
	Again     bool     `help:"Fetch years anew that the book has already."`
	Offline   bool     `help:"Ask nobody: take the years that were fetched before."`
	Place     string   `help:"Use generated years of a built-in climate instead (kailyard places)." placeholder:"ID"`
	Over      bool     `help:"Lay the new record over the one in use, which fills its holes."`
	Elevation string   `help:"Correct temperatures for the height between record and garden: auto (from 50 m), always, never." enum:"auto,always,never" default:"auto" placeholder:"WHEN"`
	Kept      bool     `help:"List the records the book was given, with their holes."`
	Use       int64    `help:"Go back to a kept record, by its number in that list." placeholder:"N"`
	Fetched   bool     `help:"List what services gave, which records are made of: years and holes."`
	Drop      string   `help:"Take a kept record out of the book, by its number, or what a service gave, by its name in the list of --fetched. The record in use stays." placeholder:"N|NAME"`
	Sure      bool     `help:"Drop a record for good, without asking back."`
}

func (weatherCmd) example() string {
	return "kailyard weather USC00304174.dly\nkailyard weather --from power --years 31\nkailyard weather --from ncei --station USC00304174 --over\nkailyard weather --kept\nkailyard weather --drop 2 --sure\nkailyard weather --place burlington"
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
	for _, given := range []bool{len(c.Files) > 0, c.From != "", c.Place != "", c.Kept, c.Use != 0, c.Fetched, c.Drop != ""} {
		if given {
			ways++
		}
	}
	switch {
	case ways > 1:
		return usageError{"give files, --from, --place, --kept, --use, --fetched or --drop, only one of them"}
	case c.From != "" && !slices.ContainsFunc(fetch.Services(), func(s fetch.Service) bool { return s.ID == c.From }):
		return usageError{fmt.Sprintf("--from %s: the services are %s", c.From, serviceIDs())}
	case c.From == "ncei" && c.Station == "":
		return usageError{"--from ncei asks for a station: name it with --station, for example USC00304174"}
	case c.From != "ncei" && c.Station != "":
		return usageError{"--station goes with --from ncei"}
	case c.From == "" && (c.Offline || c.Again || c.Until != 0):
		return usageError{"--until, --again and --offline go with --from"}
	case c.Sure && c.Drop == "":
		return usageError{"--sure goes with --drop"}
	case c.Over && len(c.Files) == 0 && c.From == "":
		return usageError{"--over goes with files or --from"}
	}
	return nil
}

// serviceIDs lists the services as they are named on the command line.
func serviceIDs() string {
	var ids []string
	for _, s := range fetch.Services() {
		ids = append(ids, s.ID)
	}
	last := len(ids) - 1
	return strings.Join(ids[:last], ", ") + " and " + ids[last]
}

// Run reads or fetches a record into the book, or describes what it has.
func (c *weatherCmd) Run(ctx context.Context, e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	switch {
	case c.From != "":
		return c.fetch(ctx, e)
	case c.Drop != "":
		return c.drop(ctx, e)
	}
	given := len(c.Files) > 0 || c.Place != ""
	b, err := e.open(ctx, !given && c.Use == 0)
	if err != nil {
		return err
	}
	defer b.Close()
	switch {
	case c.Kept:
		return e.printKeptRecords(ctx, b)
	case c.Fetched:
		return e.printFetched(ctx, b)
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
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	if err := e.printRecord(record, g.Site.Units); err != nil || given || c.Use != 0 {
		return err
	}
	return e.tellKept(ctx, b)
}

// take brings a record from files, or the years of a place, into the book. The one before it is kept.
func (c *weatherCmd) take(ctx context.Context, e *env, b *book.Book) error {
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	var parts []*weather.Record
	if c.Place != "" {
		climate, ok := climateOf(c.Place)
		if !ok {
			return fmt.Errorf("there is no built-in climate %q; `kailyard places` lists them", c.Place)
		}
		parts = append(parts, fit(generated(climate), g.Site, c.Elevation))
	} else if parts, err = c.read(g.Site); err != nil {
		return err
	}
	return c.keep(ctx, e, b, g.Site, parts)
}

// keep makes one record of its parts and uses it, when it can carry a plan.
func (c *weatherCmd) keep(ctx context.Context, e *env, b *book.Book, site garden.Site, parts []*weather.Record) error {
	record, err := laid(ctx, b, parts, c.Over)
	if err != nil {
		return err
	}
	if err := usable(record, comingSeason(e.Today, site.Latitude)); err != nil {
		return err
	}
	return b.SaveRecord(ctx, record)
}

// fetch brings a record from a service. The book is open only while something is put into it, so that
// others may use it meanwhile.
func (c *weatherCmd) fetch(ctx context.Context, e *env) error {
	var site garden.Site
	err := e.shortly(ctx, func(b *book.Book) error {
		g, err := b.Garden(ctx)
		site = g.Site
		return err
	})
	if err != nil {
		return err
	}
	record, err := c.fetched(ctx, e, site)
	if err != nil {
		return err
	}
	return e.shortly(ctx, func(b *book.Book) error {
		if err := c.keep(ctx, e, b, site, []*weather.Record{fit(record, site, c.Elevation)}); err != nil {
			return err
		}
		record, err := b.Record(ctx)
		if err != nil {
			return err
		}
		return e.printRecord(record, site.Units)
	})
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
		all = append(all, fit(r, site, c.Elevation))
	}
	return all, nil
}

// fetched asks a service, telling on the error output how it goes.
func (c *weatherCmd) fetched(ctx context.Context, e *env, site garden.Site) (*weather.Record, error) {
	service, _ := fetch.ServiceOf(c.From)
	if !service.ByStation && site.Latitude == 0 && site.Longitude == 0 {
		return nil, errors.New("the book does not know where the garden is; tell it with `kailyard import FILE` or in the browser")
	}
	if !c.Offline {
		release, err := book.Reserve(e.book, service.ID, service.Name)
		if err != nil {
			return nil, err
		}
		defer release()
	}
	say := func(format string, args ...any) { fmt.Fprintf(e.Stderr, format+"\n", args...) }
	say("%s: %s.\nTerms: %s. %s", service.Name, service.Covers, service.Terms, service.TermsAt)
	f := e.Services
	f.Shelf, f.Today = shortShelf{e}, e.Today
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
