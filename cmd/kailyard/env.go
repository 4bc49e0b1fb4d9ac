package main

import (
	"context"
	"encoding/json"
	"fmt"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// env is what a command works with.
type env struct {
	*Main
	book string
	json bool
}

// clock is the day it is now.
func (e *env) clock() civil.Date {
	if e.Clock == nil {
		return e.Today
	}
	return e.Clock()
}

// printf writes words for the person.
func (e *env) printf(format string, args ...any) { fmt.Fprintf(e.Stdout, format, args...) }

// printJSON writes a value of this package's documented shapes.
func (e *env) printJSON(v any) error {
	enc := json.NewEncoder(e.Stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// open opens the book, for reading only where nothing is changed.
func (e *env) open(ctx context.Context, readOnly bool) (*book.Book, error) {
	return book.Open(ctx, e.book, book.Options{ReadOnly: readOnly})
}

// What a command opens the book for.
const (
	reading  = true
	changing = false
)

// with opens the book for reading or changing, does what is to be done, and closes it.
func (e *env) with(ctx context.Context, readOnly bool, do func(b *book.Book) error) error {
	b, err := e.open(ctx, readOnly)
	if err != nil {
		return err
	}
	defer b.Close()
	return do(b)
}

// withGarden is with, for what goes by the garden in the book.
func (e *env) withGarden(ctx context.Context, readOnly bool, do func(b *book.Book, g garden.Garden) error) error {
	return e.with(ctx, readOnly, func(b *book.Book) error {
		g, err := b.Garden(ctx)
		if err != nil {
			return err
		}
		return do(b, g)
	})
}

// create makes the book.
func (e *env) create(ctx context.Context) (*book.Book, error) { return book.Create(ctx, e.book) }

// comingSeason is the season to plan on a day: the one it falls in, or the next once three
// quarters of it are past.
func comingSeason(today civil.Date, latitude float64) civil.Season {
	s := civil.SeasonHolding(today, latitude)
	if int(today-s.Start) > s.Days*3/4 {
		s = civil.SeasonOf(s.Year()+1, latitude)
	}
	return s
}

// seasonFlag is the --season flag of the commands that ask about one.
type seasonFlag struct {
	Season int `help:"The year the season starts in; default: the coming one." placeholder:"YEAR"`
}

// given is the season the flag names; ok is false when it was not given.
func (f seasonFlag) given(latitude float64) (s civil.Season, ok bool, err error) {
	if f.Season == 0 {
		return s, false, nil
	}
	if f.Season < 1900 || f.Season > 2200 {
		return s, false, usageError{fmt.Sprintf("--season %d: give a year between 1900 and 2200", f.Season)}
	}
	return civil.SeasonOf(f.Season, latitude), true, nil
}

// of is the season the flag names, else the coming one.
func (f seasonFlag) of(e *env, site garden.Site) (civil.Season, error) {
	s, ok, err := f.given(site.Latitude)
	if !ok && err == nil {
		s = comingSeason(e.clock(), site.Latitude)
	}
	return s, err
}

// input gathers what a season is computed from.
func input(ctx context.Context, e *env, b *book.Book, f seasonFlag) (season.Input, error) {
	g, err := b.Garden(ctx)
	if err != nil {
		return season.Input{}, err
	}
	s, err := f.of(e, g.Site)
	if err != nil {
		return season.Input{}, err
	}
	return inputFor(ctx, b, s)
}

// inputFor gathers what a season is computed from.
func inputFor(ctx context.Context, b *book.Book, s civil.Season) (season.Input, error) {
	g, err := b.GardenFor(ctx, s.Year())
	if err != nil {
		return season.Input{}, err
	}
	record, err := b.Record(ctx)
	if err != nil {
		return season.Input{}, err
	}
	crops, aside := g.Catalogue(crop.Default())
	settings, err := b.Settings(ctx)
	if err != nil {
		return season.Input{}, err
	}
	journal, err := b.Journal(ctx, civil.Span{From: s.Start - 3*366, To: s.End()})
	if err != nil {
		return season.Input{}, err
	}
	return season.Input{Season: s, Garden: g, Record: record, Crops: crops, Aside: aside, Settings: settings, Journal: journal, Keeper: tableKeeper(ctx, b)}, nil
}

// tableKeeper keeps growth tables in the book.
func tableKeeper(ctx context.Context, b *book.Book) *season.TableKeeper {
	return &season.TableKeeper{
		Read: func(digests []string) map[string][]byte { return b.KeptTables(ctx, digests) },
		Keep: func(tables map[string][]byte) { b.KeepTables(ctx, tables) },
	}
}

// noPlanError says that a season has no plan yet.
type noPlanError struct{ season civil.Season }

func (e noPlanError) Error() string {
	return fmt.Sprintf("the book has no plan for %s yet; make one with `kailyard plan`", e.season)
}

// NoPlan tells the pages that a plan has still to be made.
func (e noPlanError) NoPlan() bool { return true }

// shown is the season that jobs, orders and pages are about on a day: the one named, else the one
// the day falls in, or the coming one where only that has a plan.
func shown(ctx context.Context, b *book.Book, f seasonFlag, day civil.Date) (civil.Season, error) {
	g, err := b.Garden(ctx)
	if err != nil {
		return civil.Season{}, err
	}
	if s, ok, err := f.given(g.Site.Latitude); ok || err != nil {
		return s, err
	}
	now, coming := civil.SeasonHolding(day, g.Site.Latitude), comingSeason(day, g.Site.Latitude)
	p, err := b.Plan(ctx, now.Year())
	if err != nil {
		return civil.Season{}, err
	}
	if p == nil {
		return coming, nil
	}
	return now, nil
}

// kept is the season computed around the plan the book keeps for it.
func kept(ctx context.Context, e *env, b *book.Book, f seasonFlag) (*season.Result, error) {
	s, err := shown(ctx, b, f, e.clock())
	if err != nil {
		return nil, err
	}
	r, err := keptFor(ctx, b, s)
	if err == nil {
		e.tellAside(r.Aside)
	}
	return r, err
}

func keptFor(ctx context.Context, b *book.Book, s civil.Season) (*season.Result, error) {
	in, err := inputFor(ctx, b, s)
	if err != nil {
		return nil, err
	}
	if in.Plan, err = b.Plan(ctx, s.Year()); err != nil {
		return nil, err
	}
	if in.Plan == nil {
		return nil, noPlanError{s}
	}
	return season.Compute(in)
}

// before is what a plan of a season made on a day takes over.
func before(ctx context.Context, b *book.Book, s civil.Season, day civil.Date) (*season.Before, error) {
	was := season.Before{Day: day}
	var err error
	if was.Kept, err = b.Plan(ctx, s.Year()); err != nil {
		return nil, err
	}
	if was.Last, err = b.PlanBefore(ctx, s.Year()); err != nil {
		return nil, err
	}
	if was.Spent, err = b.Keys(ctx); err != nil {
		return nil, err
	}
	was.Journal, err = b.Journal(ctx, civil.Span{From: civil.Of(1, 1, 1), To: civil.Of(9999, 12, 31)})
	return &was, err
}

// makePlan plans a season on a day and keeps the plan in the book. What the plans so far have begun
// stays, and nothing new begins before the day.
// afresh plans anew what is not begun, where else the plan so far is changed only for good reason.
func makePlan(ctx context.Context, b *book.Book, in season.Input, day civil.Date, afresh bool) (*season.Result, error) {
	was, err := before(ctx, b, in.Season, day)
	if err != nil {
		return nil, err
	}
	was.Afresh = afresh
	in.Plan, in.Before = nil, was
	r, err := season.Compute(in)
	if err != nil {
		return nil, err
	}
	if _, err := b.SavePlan(ctx, r.Plan); err != nil {
		return nil, err
	}
	return r, nil
}
