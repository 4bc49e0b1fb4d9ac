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

func (f seasonFlag) of(e *env, site garden.Site) (civil.Season, error) {
	if f.Season == 0 {
		return comingSeason(e.Today, site.Latitude), nil
	}
	if f.Season < 1900 || f.Season > 2200 {
		return civil.Season{}, usageError{fmt.Sprintf("--season %d: give a year between 1900 and 2200", f.Season)}
	}
	return civil.SeasonOf(f.Season, site.Latitude), nil
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
	record, err := b.Record(ctx)
	if err != nil {
		return season.Input{}, err
	}
	settings, err := b.Settings(ctx)
	if err != nil {
		return season.Input{}, err
	}
	return season.Input{Season: s, Garden: g, Record: record, Crops: crop.Default(), Settings: settings}, nil
}

// kept is the season computed around the plan the book keeps for it.
func kept(ctx context.Context, e *env, b *book.Book, f seasonFlag) (*season.Result, error) {
	in, err := input(ctx, e, b, f)
	if err != nil {
		return nil, err
	}
	in.Plan, err = b.Plan(ctx, in.Season.Year())
	if err != nil {
		return nil, err
	}
	if in.Plan == nil {
		return nil, fmt.Errorf("the book has no plan for %s yet; make one with `kailyard plan`", in.Season)
	}
	return season.Compute(in)
}

// makePlan plans a season and keeps the plan in the book. In mid-season what the kept plan has
// begun stays, and nothing new begins before today.
func makePlan(ctx context.Context, b *book.Book, in season.Input, today civil.Date) (*season.Result, error) {
	in.Plan = nil
	if today > in.Season.Start {
		old, err := b.Plan(ctx, in.Season.Year())
		if err != nil {
			return nil, err
		}
		in.Garden = season.Carry(in.Garden, old, today)
		in.From = &today
	}
	r, err := season.Compute(in)
	if err != nil {
		return nil, err
	}
	if _, err := b.SavePlan(ctx, r.Plan); err != nil {
		return nil, err
	}
	return r, nil
}
