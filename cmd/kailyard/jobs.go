package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

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
	return e.with(ctx, reading, func(b *book.Book) error {
		day := e.Today
		if c.Week.set {
			day = c.Week.date
		}
		if c.All {
			s, err := shown(ctx, b, c.seasonFlag, day)
			if err != nil {
				return err
			}
			r, err := keptFor(ctx, b, s)
			if err != nil {
				return err
			}
			e.tellAside(r.Aside)
			if e.json {
				return e.printJSON(jobsOf(r, r.Jobs))
			}
			e.printf("%s — all jobs of %s\n\n", r.Garden.Site.Name, r.Season)
			e.printAlarms(season.AlarmsOf(r.Garden, e.clock()), r.Garden)
			e.printf("%s", work.Words(r.Jobs, bedsByID(r)))
			return nil
		}
		r, err := weekOf(ctx, b, c.seasonFlag, day)
		if err != nil {
			return err
		}
		e.tellAside(r.Aside)
		alarms := season.AlarmsOf(r.Garden, e.clock())
		if e.json {
			for _, a := range alarms {
				fmt.Fprintf(e.Stderr, "kailyard: %s\n", alarmWords(a, r.Garden))
			}
			return e.printJSON(jobsOf(r, work.Between(r.Jobs, weekSpan(day))))
		}
		e.printf("%s\n\n", r.Garden.Site.Name)
		e.printAlarms(alarms, r.Garden)
		e.printWeek(r, day)
		return nil
	})
}

// alarmWords is an alarm in a line, with its beds.
func alarmWords(a season.GroundAlarm, g garden.Garden) string {
	return strings.Join(bedNames(a.Beds, g), ", ") + ": " + a.Says
}

// printAlarms prints lead and salts before anything else.
func (e *env) printAlarms(alarms []season.GroundAlarm, g garden.Garden) {
	for _, a := range alarms {
		e.printf("%s\n", wrapped("! "+alarmWords(a, g), "", 92))
	}
	if len(alarms) > 0 {
		e.printf("\n")
	}
}

func weekSpan(day civil.Date) civil.Span { return civil.Span{From: day.Monday(), To: day.Monday() + 6} }

// weekOf is the season shown on a day, with the jobs that the plans of the seasons beside it have in
// the day's week: parsnips of last year's plan to lift, seed to order for the next.
func weekOf(ctx context.Context, b *book.Book, f seasonFlag, day civil.Date) (*season.Result, error) {
	s, err := shown(ctx, b, f, day)
	if err != nil {
		return nil, err
	}
	r, err := keptFor(ctx, b, s)
	if err != nil || f.Season != 0 {
		return r, err
	}
	has := map[string]bool{}
	for _, j := range r.Jobs {
		has[j.Key] = true
	}
	latitude := r.Garden.Site.Latitude
	for _, year := range []int{s.Year() - 1, s.Year() + 1} {
		beside, err := keptFor(ctx, b, civil.SeasonOf(year, latitude))
		if _, none := errors.AsType[noPlanError](err); none {
			continue
		}
		if err != nil {
			return nil, err
		}
		for _, j := range work.Between(beside.Jobs, weekSpan(day)) {
			if !has[j.Key] {
				r.Jobs = append(r.Jobs, j)
			}
		}
	}
	slices.SortStableFunc(r.Jobs, func(a, b work.Job) int { return int(a.Window.From - b.Window.From) })
	return r, nil
}

// printWeek prints the jobs of the week that holds a day, or says when the next one falls.
func (e *env) printWeek(r *season.Result, day civil.Date) {
	week := weekSpan(day)
	if len(work.Between(r.Jobs, week)) > 0 {
		e.printf("%s%s", work.WeekWords(work.WeekOf(r.Jobs, day), bedsByID(r)), work.WaterWords(weekWater(r, day)))
		return
	}
	e.printf("Nothing to do in the week of %s.", week)
	for _, j := range r.Jobs {
		if j.Window.From > week.To {
			e.printf(" Next: %s, %s.", j.Window.From.Long(), j.Title)
			break
		}
	}
	e.printf("\n%s", work.WaterWords(weekWater(r, day)))
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
	return e.with(ctx, reading, func(b *book.Book) error {
		flag := c.seasonFlag
		if in, err := input(ctx, e, b, flag); err == nil { // the coming season's list, once it is planned
			if p, err := b.Plan(ctx, in.Season.Year()); err == nil && p != nil {
				flag.Season = in.Season.Year()
			}
		}
		r, err := kept(ctx, e, b, flag)
		if err != nil {
			return err
		}
		if e.json {
			return e.printJSON(ordersOf(r.Orders))
		}
		e.printf("%s — what to buy for %s\n\n%s", r.Garden.Site.Name, r.Season, work.OrderWords(r.Orders, r.Garden.Site.Units))
		return nil
	})
}
