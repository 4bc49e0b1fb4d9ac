package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

type jobsCmd struct {
	seasonFlag
	Week civilFlag `help:"Any day of the week to read; default: this week." placeholder:"DATE"`
	All  bool      `help:"The whole season's jobs."`
}

func (jobsCmd) example() string { return "kailyard jobs --week 2027-04-12" }

// Run prints a week's jobs.
func (c *jobsCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	day, flag, err := weekAsked(ctx, e, b, c.seasonFlag, c.Week)
	if err != nil {
		return err
	}
	r, err := kept(ctx, e, b, flag)
	if err != nil {
		return err
	}
	week := civil.Span{From: day.Monday(), To: day.Monday() + 6}
	jobs := r.Jobs
	if !c.All {
		jobs = work.Between(r.Jobs, week)
	}
	if e.json {
		return e.printJSON(jobsOf(r, jobs))
	}
	if c.All {
		e.printf("%s — all jobs of %s\n\n%s", r.Garden.Site.Name, r.Season, work.Words(jobs, bedsByID(r)))
		return nil
	}
	e.printf("%s\n\n", r.Garden.Site.Name)
	e.printWeek(r, day)
	return nil
}

// weekAsked is a day of the week asked for, today when none is, and the season it falls in unless
// another is asked for.
func weekAsked(ctx context.Context, e *env, b *book.Book, f seasonFlag, week civilFlag) (civil.Date, seasonFlag, error) {
	if !week.set {
		return e.Today, f, nil
	}
	if f.Season == 0 {
		g, err := b.Garden(ctx)
		if err != nil {
			return 0, f, err
		}
		f.Season = civil.SeasonHolding(week.date, g.Site.Latitude).Year()
	}
	return week.date, f, nil
}

// printWeek prints the jobs of the week that holds a day, or says when the next one falls.
func (e *env) printWeek(r *season.Result, day civil.Date) {
	week := civil.Span{From: day.Monday(), To: day.Monday() + 6}
	if len(work.Between(r.Jobs, week)) > 0 {
		e.printf("%s", work.WeekWords(work.WeekOf(r.Jobs, day), bedsByID(r)))
		return
	}
	e.printf("Nothing to do in the week of %s.", week)
	for _, j := range r.Jobs {
		if j.Window.From > week.To {
			e.printf(" Next: %s, %s.", j.Window.From.Long(), j.Title)
			break
		}
	}
	e.printf("\n")
}

func bedsByID(r *season.Result) map[int64]garden.Bed {
	beds := map[int64]garden.Bed{}
	for _, b := range r.Garden.Beds {
		beds[b.ID] = b
	}
	return beds
}

type ordersCmd struct{ seasonFlag }

func (ordersCmd) example() string { return "kailyard orders --season 2027 --json" }

// Run prints the order list.
func (c *ordersCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	r, err := kept(ctx, e, b, c.seasonFlag)
	if err != nil {
		return err
	}
	if e.json {
		return e.printJSON(ordersOf(r.Orders))
	}
	e.printf("%s — what to buy for %s\n\n%s", r.Garden.Site.Name, r.Season, work.OrderWords(r.Orders, r.Garden.Site.Units))
	return nil
}
