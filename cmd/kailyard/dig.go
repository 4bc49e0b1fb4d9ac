package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

type digCmd struct {
	Bed []string `arg:"" optional:"" help:"The beds; default: all."`
	seasonFlag
	All bool `help:"Every week of the season; default: the next sixteen."`
}

func (digCmd) example() string { return "kailyard dig 'Corner block'" }

type digJSON struct {
	Day  civil.Date    `json:"day"`
	Why  string        `json:"why_no_chances"`
	Fit  []fitWorkJSON `json:"fit_to_work"`
	Beds []digBedJSON  `json:"beds"`
}

type fitWorkJSON struct {
	Beds    []string        `json:"beds"`
	Texture string          `json:"texture"`
	Years   int             `json:"weather_years"`
	Weeks   []fitWeekJSON   `json:"weeks"`
	Reasons []garden.Reason `json:"reasons"`
}

type fitWeekJSON struct {
	From civil.Date `json:"from"`
	Days float64    `json:"fit_days"`
	None int        `json:"years_without_a_fit_day"`
}

type digBedJSON struct {
	Bed     string       `json:"bed"`
	Digging *diggingJSON `json:"digging"`
}

type diggingJSON struct {
	Way      string          `json:"way"`
	Broken   bool            `json:"garden_ground_already"`
	AreaM2   float64         `json:"area_m2"`
	Tools    []toolJSON      `json:"tools"`
	Plant    *civil.Date     `json:"for_the_planting_of"`
	WaitDays int             `json:"days_to_wait"`
	Stints   []stintJSON     `json:"stints"`
	LeftM2   float64         `json:"not_in_time_m2"`
	SodL     float64         `json:"sod_for_the_heap_l"`
	Reasons  []garden.Reason `json:"reasons"`
	Cautions []string        `json:"cautions"`
}

type toolJSON struct {
	Tool   string   `json:"tool"`
	Hours  float64  `json:"hours"`
	Low    float64  `json:"hours_low"`
	High   float64  `json:"hours_high"`
	Passes []string `json:"passes"`
}

type stintJSON struct {
	Day     civil.Date `json:"day"`
	Minutes int        `json:"minutes"`
	AreaM2  float64    `json:"area_m2"`
}

func diggingOf(n *season.NewGround) *diggingJSON {
	if n == nil {
		return nil
	}
	v := &diggingJSON{Way: string(n.Way), Broken: n.Broken, AreaM2: float64(n.Area), Tools: []toolJSON{}, WaitDays: n.Wait, Stints: []stintJSON{}, LeftM2: float64(n.Left), SodL: float64(n.Sod), Reasons: orEmpty(n.Reasons), Cautions: orEmpty(n.Cautions)}
	if n.Planned {
		plant := n.Plant
		v.Plant = &plant
	}
	for _, t := range n.Toils {
		v.Tools = append(v.Tools, toolJSON{string(t.Tool), float64(t.Hours), float64(t.Low), float64(t.High), orEmpty(t.Passes)})
	}
	for _, s := range n.Stints {
		v.Stints = append(v.Stints, stintJSON{s.Day, s.Minutes, float64(s.Area)})
	}
	return v
}

// Run prints when the ground can be dug, and the short spells it is dug in.
func (c *digCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, told garden.Garden) error {
		asked, err := bedsNamed(told, c.Bed)
		if err != nil {
			return err
		}
		g, err := e.ground(ctx, b, c.seasonFlag, season.GroundChoice{})
		if err != nil {
			return err
		}
		beds := groundNamed(g, asked)
		v := c.digOf(g, beds)
		if e.json {
			return e.printJSON(v)
		}
		c.print(e, g, beds, v)
		return nil
	})
}

// digOf gathers beds of one kind of ground, so that each chance is told once.
func (c *digCmd) digOf(g *season.Ground, beds []season.BedGround) digJSON {
	v := digJSON{Day: g.Day, Why: g.Weeks, Fit: []fitWorkJSON{}, Beds: []digBedJSON{}}
	at := map[*soil.Fitness]int{}
	for _, b := range beds {
		v.Beds = append(v.Beds, digBedJSON{b.Bed.Name, diggingOf(b.New)})
		if b.Fitness == nil {
			continue
		}
		if i, ok := at[b.Fitness]; ok {
			v.Fit[i].Beds = append(v.Fit[i].Beds, b.Bed.Name)
			continue
		}
		at[b.Fitness] = len(v.Fit)
		one := fitWorkJSON{Beds: []string{b.Bed.Name}, Texture: string(b.Fitness.Layer.Texture), Years: b.Fitness.Years, Weeks: []fitWeekJSON{}, Reasons: orEmpty(b.Fitness.Reasons)}
		const most = 16
		for _, w := range b.Fitness.Weeks {
			if c.All || w.From+6 >= g.Day && len(one.Weeks) < most {
				one.Weeks = append(one.Weeks, fitWeekJSON{w.From, w.Days, w.None})
			}
		}
		v.Fit = append(v.Fit, one)
	}
	return v
}

func (c *digCmd) print(e *env, g *season.Ground, beds []season.BedGround, v digJSON) {
	if v.Why != "" {
		e.printf("%s\n", wrapped(v.Why, "", 92))
	}
	for _, f := range v.Fit {
		e.printf("%s\n", wrapped(fmt.Sprintf("Days of the week on which %s can be dug (%s):", f.Texture, strings.Join(f.Beds, ", ")), "", 92))
		for _, w := range f.Weeks {
			none := ""
			if w.None > 0 {
				none = fmt.Sprintf("  no such day in %d of %d years", w.None, f.Years)
			}
			e.printf("  week of %-7s %3.1f  %-7s%s\n", w.From.Short(), w.Days, strings.Repeat("▪", int(w.Days+0.5)), none)
		}
		for _, r := range f.Reasons {
			e.printf("%s\n", wrapped("• "+r.Says, "  ", 92))
		}
	}
	for _, b := range beds {
		c.printBed(e, g, b)
	}
}

func (c *digCmd) printBed(e *env, g *season.Ground, b season.BedGround) {
	n := b.New
	if n == nil || n.Broken && len(c.Bed) == 0 && len(n.Stints) == 0 {
		if len(c.Bed) > 0 {
			e.printf("\n%s: nothing to dig for now.\n", b.Bed.Name)
		}
		return
	}
	e.printf("\n%s · %s · %s\n", b.Bed.Name, g.Site.Units.Area(n.Area), n.Way)
	for _, p := range n.Toil.Passes {
		e.printf("  – %s\n", p)
	}
	e.printf("  about %s with %s (%s to %s)\n", g.Site.Units.Hours(n.Toil.Hours), toolWords(n.Toil.Tool), g.Site.Units.Hours(n.Toil.Low), g.Site.Units.Hours(n.Toil.High))
	if n.Planned {
		e.printf("  for the planting of %s", n.Plant.Long())
		if n.Wait > 0 {
			e.printf(", done %d days before it", n.Wait)
		}
		e.printf(":\n")
	}
	for i := 0; i < len(n.Stints); {
		if i >= 8 && len(c.Bed) == 0 {
			e.printf("    … and %s more\n", counted(len(n.Stints)-i, "spell"))
			break
		}
		s, spells, area := n.Stints[i], 0, quantity.SquareMetre(0)
		for ; i < len(n.Stints) && n.Stints[i].Day == s.Day; i++ {
			spells, area = spells+1, area+n.Stints[i].Area
		}
		long := fmt.Sprintf("%d minutes", s.Minutes)
		if spells > 1 {
			long = fmt.Sprintf("%d spells of %d minutes, a rest between", spells, s.Minutes)
		}
		e.printf("    %-16s %s, %s\n", s.Day.Long(), long, g.Site.Units.Area(area))
	}
	if n.Planned && n.Left > 0 {
		e.printf("%s\n", wrapped(fmt.Sprintf("! %s cannot be dug in time in short spells on fit days: plant later, begin sooner, or get help.", g.Site.Units.Area(n.Left)), "  ", 92))
	}
	if len(c.Bed) > 0 || !n.Broken {
		for _, r := range n.Reasons {
			e.printf("%s\n", wrapped("• "+r.Says, "  ", 92))
		}
	}
	if len(c.Bed) > 0 {
		for _, says := range n.Cautions {
			e.printf("%s\n", wrapped("! "+says, "  ", 92))
		}
	}
}

func toolWords(t garden.DiggingTool) string {
	if t == garden.Tiller {
		return "a tiller"
	}
	return "fork and spade"
}
