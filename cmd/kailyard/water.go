package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/season"
	"kailyard/internal/water"
)

type waterCmd struct {
	Show  waterShowCmd  `cmd:"" default:"withargs" help:"What the season and this week want of water, typically and in a dry year of ten, and whether tap and tank supply it."`
	Today waterTodayCmd `cmd:"" help:"Which bed wants water today, by measured days and what the journal has of rain and waterings."`
}

func (waterCmd) example() string { return "kailyard water 'Long drills'" }

type waterShowCmd struct {
	Bed []string `arg:"" optional:"" help:"The beds, week by week; default: all, this week."`
	seasonFlag
}

func (waterShowCmd) example() string { return "kailyard water 'Long drills' --season 2027" }

type waterTodayCmd struct{}

func (waterTodayCmd) example() string {
	return "kailyard note rained 12 mm\nkailyard water today"
}

// waterOf is the water of the season shown on a day.
func waterOf(ctx context.Context, e *env, b *book.Book, f seasonFlag, day civil.Date) (*season.Result, *season.Water, error) {
	r, err := kept(ctx, e, b, f)
	if err != nil {
		return nil, nil, err
	}
	journal, err := b.Journal(ctx, civil.Span{From: day - 366, To: day})
	if err != nil {
		return nil, nil, err
	}
	w, err := r.Water(day, journal)
	return r, w, err
}

// Run tells what the beds want.
func (c *waterShowCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	r, w, err := waterOf(ctx, e, b, c.seasonFlag, e.clock())
	if err != nil {
		return err
	}
	whole := len(c.Bed) > 0
	beds := w.Beds
	if whole {
		named, err := bedsNamed(r.Garden, c.Bed)
		if err != nil {
			return err
		}
		beds = nil
		for _, bed := range named {
			if one, ok := w.Bed(bed.ID); ok {
				beds = append(beds, one)
			}
		}
	}
	if e.json {
		return e.printJSON(waterJSONOf(w, beds))
	}
	e.printf("%s — water in season %s\n", r.Garden.Site.Name, r.Season)
	for _, says := range w.Says {
		e.printf("%s\n", wrapped(says, "", 92))
	}
	if w.Exceeds != "" {
		e.printf("%s\n", wrapped("! "+w.Exceeds, "", 92))
	}
	for _, one := range beds {
		e.printBedWater(w, one, whole)
	}
	e.printf("\n")
	for _, list := range [][]string{w.Basis, w.Care} {
		for _, says := range list {
			e.printf("%s\n", wrapped(says, "", 92))
		}
	}
	return nil
}

func (e *env) printBedWater(w *season.Water, b season.BedWater, whole bool) {
	u := w.Site.Units
	if len(b.Need.Weeks) == 0 {
		e.printf("\n%s\n  nothing grows here\n", b.Bed.Name)
		return
	}
	e.printf("\n%s: %s over the season, %s in a dry year; %s of it to water in\n", b.Bed.Name, water.Rough(b.Need.Typical, u), water.Rough(b.Need.Dry, u), water.Rough(b.Need.WateringIn, u))
	print := func(week water.WeekNeed, indent string) {
		parts := water.TellParts(week, b.Way, w.Site.Supply, u)
		for _, p := range parts {
			in := indent
			if p.Ground != "" {
				e.printf("%s\n", wrapped(p.Ground, indent, 92))
				in += "  "
			}
			e.printf("%s\n", wrapped("typical: "+p.Typical, in, 92))
			e.printf("%s\n", wrapped("dry: "+p.Dry, in, 92))
		}
		says := water.TellIn(week, u)
		if says != "" {
			e.printf("%s\n", wrapped("besides: "+says, indent, 92))
		}
		if len(parts) == 0 && says == "" {
			e.printf("%sno watering\n", indent)
		}
	}
	if !whole {
		week, ok := b.Week(w.Day)
		if !ok {
			e.printf("  the season's weeks run from %s to %s\n", w.Season.Start.Short(), w.Season.End().Short())
			return
		}
		e.printf("  this week, from %s\n", week.From.Short())
		print(week, "    ")
		return
	}
	for _, week := range b.Need.Weeks {
		if week.Dry.Water < 0.5 && week.In < 0.5 {
			continue
		}
		e.printf("  from %s\n", week.From.Short())
		print(week, "    ")
	}
}

// Run tells which bed wants water today.
func (c *waterTodayCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	r, w, err := waterOf(ctx, e, b, seasonFlag{}, e.clock())
	if err != nil {
		return err
	}
	if e.json {
		return e.printJSON(waterTodayOf(w))
	}
	e.printf("%s — water on %s\n", r.Garden.Site.Name, w.Day.Long())
	if w.Untold != "" {
		e.printf("%s\n", wrapped(w.Untold, "", 92))
		e.printf("%s\n", wrapped("Write down what falls and what you give, and it is told from that: kailyard note rained 12 mm; kailyard note watered --bed BED --amount '30 L'.", "", 92))
		return nil
	}
	for _, one := range w.Beds {
		if one.Says != "" {
			e.printf("%s\n", wrapped(one.Bed.Name+": "+one.Says, "  ", 92))
		}
	}
	if len(w.Today.Ground) == 0 {
		e.printf("  Nothing stands in the beds.\n")
	}
	for _, list := range [][]string{w.Today.Notes, w.Rests} {
		for _, says := range list {
			e.printf("%s\n", wrapped(says, "", 92))
		}
	}
	return nil
}

// thirstOf is how far a plan's peak week exceeds the supply; empty where it does not, or that cannot be told.
func thirstOf(r *season.Result, day civil.Date) string {
	w, err := r.Water(day, nil)
	if err != nil {
		return ""
	}
	return w.Exceeds
}
