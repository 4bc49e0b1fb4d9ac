package main

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// demoGarden is our own invented household and ground.
//
//go:embed demo.toml
var demoGarden string

// demoYear is the season that the years in demo.toml belong to.
const demoYear = 2027

// moveYears moves a description by whole years, so that the demo is always about the coming season.
func moveYears(g *garden.Garden, by int) {
	move := func(d *civil.Date) {
		if d != nil {
			*d = d.InYear(d.Year() + by)
		}
	}
	for i := range g.History {
		g.History[i].Year += by
	}
	for i := range g.Wants {
		move(g.Wants[i].From)
		move(g.Wants[i].To)
	}
	for i := range g.Tests {
		move(&g.Tests[i].Date)
	}
	for i := range g.Treatments {
		move(&g.Treatments[i].Date)
	}
	for i := range g.Heaps {
		move(&g.Heaps[i].Started)
		move(g.Heaps[i].Emptied)
		for k := range g.Heaps[i].Log {
			move(&g.Heaps[i].Log[k].Date)
		}
	}
	for i := range g.Standing {
		p := &g.Standing[i]
		p.Season += by
		for _, d := range []*civil.Date{p.RaiseOn, &p.Start, &p.Clear} {
			move(d)
		}
		for _, s := range []*garden.Spread{&p.Emerge, &p.First, &p.Last} {
			if s.P50 > 0 {
				move(&s.P10)
				move(&s.P50)
				move(&s.P90)
			}
		}
	}
}

// demoPlace is the built-in climate whose generated years the demo rests on.
const demoPlace = "burlington"

type demoCmd struct {
	Print   bool   `help:"Print the plan and exit; serve nothing."`
	Address string `help:"Where to listen." default:"127.0.0.1:8463" placeholder:"HOST:PORT"`
}

func (demoCmd) example() string {
	return "kailyard demo\nkailyard demo --print --book show.kailyard --today 2027-04-10"
}

// Run plans the demo garden, prints it and serves it.
func (c *demoCmd) Run(ctx context.Context, e *env) error {
	if e.book == "garden.kailyard" { // the default: never mix the demo into a person's own book
		e.book = "demo.kailyard"
	}
	b, err := e.openDemo(ctx)
	if err != nil {
		return err
	}
	defer b.Close()
	in, err := input(ctx, e, b, seasonFlag{})
	if err != nil {
		return err
	}
	if in.Plan, err = b.Plan(ctx, in.Season.Year()); err != nil {
		return err
	}
	var r *season.Result
	if in.Plan != nil {
		r, err = season.Compute(in)
	} else {
		r, err = makePlan(ctx, b, in, in.Season.Start, false) // the whole season, whatever the day
	}
	if err != nil {
		return err
	}
	ground, err := e.ground(ctx, b, seasonFlag{Season: in.Season.Year()}, season.GroundChoice{})
	if err != nil {
		return err
	}
	if err := e.printDemo(r, ground); err != nil {
		return err
	}
	if c.Print {
		return nil
	}
	return e.serve(ctx, b, c.Address)
}

// openDemo reopens the demo book or makes it.
func (e *env) openDemo(ctx context.Context) (*book.Book, error) {
	if _, err := os.Stat(e.book); err == nil {
		b, err := e.open(ctx, false)
		if err != nil {
			return nil, err
		}
		g, err := b.Garden(ctx)
		if err == nil && !g.Site.Invented {
			err = fmt.Errorf("%s is not a demo book; choose another file with --book", e.book)
		}
		if err != nil {
			b.Close()
			return nil, err
		}
		return b, nil
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	g, err := garden.ReadDescription("demo.toml", strings.NewReader(demoGarden), crop.Default())
	if err != nil {
		return nil, err
	}
	moveYears(&g, comingSeason(e.Today, g.Site.Latitude).Year()-demoYear)
	climate, ok := climateOf(demoPlace)
	if !ok {
		return nil, fmt.Errorf("the built-in climate %q is missing", demoPlace)
	}
	b, err := e.create(ctx)
	if err != nil {
		return nil, err
	}
	record := generated(climate)
	if err := errors.Join(b.Import(ctx, g), b.SaveRecord(ctx, record)); err != nil {
		b.Close()
		return nil, err
	}
	return b, nil
}

// printDemo prints the plan, the ground, the orders and the week.
func (e *env) printDemo(r *season.Result, ground *season.Ground) error {
	week := civil.Span{From: e.Today.Monday(), To: e.Today.Monday() + 6}
	jobs := work.Between(r.Jobs, week)
	if e.json {
		return e.printJSON(struct {
			Plan   planJSON    `json:"plan"`
			Orders []orderJSON `json:"orders"`
			Jobs   []jobJSON   `json:"jobs"`
		}{planOf(r), ordersOf(r.Orders), jobsOf(r, jobs)})
	}
	planWords(e.Stdout, r, demoSays(r.Season, e.clock()))
	e.printf("\nTHE GROUND\n\n")
	for _, bed := range ground.Beds {
		e.printf("  %-18s %s\n", bed.Bed.Name, groundLine(ground, bed))
	}
	e.printf("  Read why, and what a bed is fed: kailyard soil --book %s BED\n", e.book)
	e.printf("\nWHAT TO BUY\n\n%s", work.OrderWords(r.Orders, r.Garden.Site.Units))
	e.printf("\nTHIS WEEK\n\n")
	e.printWeek(r, e.Today)
	e.printf("\nThe book is %s. Read another week with: kailyard jobs --book %s --week DATE\n", e.book, e.book)
	return nil
}

// printPlan prints a plan in words or as JSON.
func (e *env) printPlan(r *season.Result) error {
	dry := thirstOf(r, e.clock())
	if e.json {
		v := planOf(r)
		if dry != "" {
			v.Notes = append(v.Notes, garden.Reason{Says: dry, Rule: "water supply"})
		}
		if since := lightSinceWords(r, e.clock()); since != "" {
			v.Notes = append(v.Notes, garden.Reason{Says: since, Rule: "light"})
		}
		return e.printJSON(v)
	}
	if since := lightSinceWords(r, e.clock()); since != "" {
		e.printf("%s\n\n", wrapped("! "+since, "", 92))
	}
	planWords(e.Stdout, r, whichSeason(r, e.clock()))
	if dry != "" {
		e.printf("\n%s\n", wrapped(dry, "", 92))
	}
	return nil
}
