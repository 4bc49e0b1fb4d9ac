package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

type plansCmd struct {
	seasonFlag
	Use string `help:"Keep one of them as the season's plan, with its settings: ${ways}." placeholder:"PLAN"`
}

func (plansCmd) example() string { return "kailyard plans --use light-hands" }

// Run plans the season in several ways and compares them, or keeps one.
func (c *plansCmd) Run(ctx context.Context, e *env) error {
	if c.Use != "" && !slices.Contains(wayIDs(), c.Use) {
		return usageError{fmt.Sprintf("--use %s: there is no such plan; the plans are %s", c.Use, strings.Join(wayIDs(), ", "))}
	}
	return e.with(ctx, c.Use == "", func(b *book.Book) error {
		in, err := input(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		all, err := comparePlans(ctx, b, in, e.Today)
		if err != nil {
			return err
		}
		if c.Use != "" {
			return e.usePlan(ctx, b, all, c.Use)
		}
		e.tellAside(all.Plans[0].Result.Aside)
		if e.json {
			return e.printJSON(plansOf(all))
		}
		e.plansWords(all)
		return nil
	})
}

func wayIDs() (ids []string) {
	for _, w := range season.Ways() {
		ids = append(ids, w.ID)
	}
	return ids
}

// comparePlans makes a season's other plans on a day and sets them beside the kept one, or beside one by the settings.
func comparePlans(ctx context.Context, b *book.Book, in season.Input, day civil.Date) (*season.Alternatives, error) {
	was, err := before(ctx, b, in.Season, day)
	if err != nil {
		return nil, err
	}
	in.Plan, in.Before = was.Kept, was
	return season.Compare(in)
}

// keepPlan keeps one of several plans as its season's, and its settings as those that count from now on.
func keepPlan(ctx context.Context, b *book.Book, one *season.Alternative) error {
	p := one.Result.Plan
	if _, err := b.SavePlan(ctx, p); err != nil {
		return err
	}
	return b.SaveSettings(ctx, p.Settings)
}

func (e *env) usePlan(ctx context.Context, b *book.Book, all *season.Alternatives, way string) error {
	one, ok := all.Plan(way)
	if !ok {
		return usageError{fmt.Sprintf("--use %s: there is no such plan", way)}
	}
	if err := keepPlan(ctx, b, one); err != nil {
		return err
	}
	if e.json {
		return e.printPlan(one.Result)
	}
	e.printf("%s is the plan of season %s now, and its settings count from here on; the plan before stays in the book.\n\n", one.Way.Name, all.Season)
	return e.printPlan(one.Result)
}

// plansWords prints a table of the plans' figures, and in what each differs.
func (e *env) plansWords(all *season.Alternatives) {
	u := all.Plans[0].Result.Garden.Site.Units
	e.printf("Season %s, planned in %d ways\n\n", all.Season, len(all.Plans))
	e.printf("%-13s %9s %8s %9s %9s %19s %6s  %s\n", "", "wants met", "to eat", "poor year", "plantings", "ground held", "work", "chance")
	for _, p := range all.Plans {
		if p.Alike != "" {
			continue
		}
		f := p.Figures
		e.printf("%-13s %9s %8s %9s %9d %19s %6s  %s\n", p.Way.ID, fmt.Sprintf("%d of %d", f.Met, f.Wants), u.Mass(f.Expect), f.PoorText(u), f.Plantings,
			fmt.Sprintf("%s weeks, %.0f %%", u.Area(quantity.SquareMetre(f.GroundWeeks)), 100*f.GroundShare), fmt.Sprintf("%.0f h", f.Hours), fmt.Sprintf("%.0f %% at least, mean %.0f %%", 100*f.Least, 100*f.Mean))
	}
	for _, p := range all.Plans[1:] {
		e.printf("\n%s (%s)\n", p.Way.Name, p.Way.ID)
		e.printf("%s\n", wrapped(p.Way.Says, "  ", 92))
		if other, ok := all.Plan(p.Alike); ok {
			e.printf("%s\n", wrapped(fmt.Sprintf("It comes out nearly the same as %q (%.0f %% of ground and time in the same crops as in the plan as set), and is left out above.", other.Way.Name, 100*p.Same), "  ", 92))
			continue
		}
		e.printf("%s\n", wrapped(fmt.Sprintf("Against the plan as set: %s. The same crops have %.0f %% of ground and time in both.", p.Differs, 100*p.Same), "  ", 92))
	}
	e.printf("\n%s\n", wrapped("Ground held is the ground times the weeks it is held, and the share of all beds over the season; a poor year is, for each want, the poorest of ten; chance is the least and the mean share of the weather years in which plantings succeed.", "", 92))
	e.printf("Keep one with `kailyard plans --use PLAN`.\n")
}

type planBesideJSON struct {
	Plan        string      `json:"plan"`
	Name        string      `json:"name"`
	Says        string      `json:"says"`
	Alike       string      `json:"nearly_the_same_as,omitempty"`
	Same        float64     `json:"same_share"`
	Differs     string      `json:"differs"`
	Met         int         `json:"wants_met"`
	Wants       int         `json:"wants"`
	Expected    float64     `json:"expected_kg"`
	Poor        float64     `json:"poor_year_kg"`
	Plantings   int         `json:"plantings"`
	GroundWeeks float64     `json:"ground_held_m2_weeks"`
	GroundShare float64     `json:"ground_held_share"`
	Hours       float64     `json:"work_hours"`
	Months      []monthWork `json:"work_by_month"`
	Least       float64     `json:"least_success_share"`
	Mean        float64     `json:"mean_success_share"`
	Whole       planJSON    `json:"whole"`
}

type monthWork struct {
	Month civil.Date `json:"from"`
	Hours float64    `json:"hours"`
}

func plansOf(all *season.Alternatives) []planBesideJSON {
	list := []planBesideJSON{}
	for _, p := range all.Plans {
		f := p.Figures
		v := planBesideJSON{
			Plan: p.Way.ID, Name: p.Way.Name, Says: p.Way.Says, Alike: p.Alike, Same: p.Same, Differs: p.Differs, Met: f.Met, Wants: f.Wants, Expected: float64(f.Expect), Poor: float64(f.Poor),
			Plantings: f.Plantings, GroundWeeks: f.GroundWeeks, GroundShare: f.GroundShare, Hours: float64(f.Hours), Least: f.Least, Mean: f.Mean, Whole: planOf(p.Result),
		}
		for m, h := range f.Months {
			v.Months = append(v.Months, monthWork{m, float64(h)})
		}
		slices.SortFunc(v.Months, func(a, b monthWork) int { return int(a.Month - b.Month) })
		v.Months = orEmpty(v.Months)
		list = append(list, v)
	}
	return list
}

// others are the season's plans as they were compared last, while nothing of the book or the day has changed; nil before.
func (k *keeper) others(ctx context.Context) (*season.Alternatives, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	fresh, err := k.freshOthers(ctx)
	if err != nil || !fresh {
		return nil, err
	}
	return k.beside.all, nil
}

// compared is what was compared, and when.
type compared struct {
	all      *season.Alternatives
	revision int64
	day      civil.Date
	season   civil.Season
}

func (k *keeper) freshOthers(ctx context.Context) (bool, error) {
	revision, err := k.book.Revision(ctx)
	if err != nil || k.beside.all == nil {
		return false, err
	}
	s, err := shown(ctx, k.book, seasonFlag{Season: k.chosen}, k.env.clock())
	return err == nil && k.beside.revision == revision && k.beside.day == k.env.clock() && k.beside.season == s, err
}

// compare plans the season shown in several ways.
func (k *keeper) compare(ctx context.Context) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if fresh, err := k.freshOthers(ctx); err != nil || fresh {
		return err
	}
	day := k.env.clock()
	revision, err := k.book.Revision(ctx)
	if err != nil {
		return err
	}
	s, err := shown(ctx, k.book, seasonFlag{Season: k.chosen}, day)
	if err != nil {
		return err
	}
	in, err := inputFor(ctx, k.book, s)
	if err != nil {
		return err
	}
	all, err := comparePlans(ctx, k.book, in, day)
	if err != nil {
		return err
	}
	k.beside = compared{all: all, revision: revision, day: day, season: s}
	return nil
}

// use keeps one of the plans compared as the season's; kept is false where garden or day have changed since.
func (k *keeper) use(ctx context.Context, way string) (kept bool, err error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	fresh, err := k.freshOthers(ctx)
	if err != nil || !fresh {
		return false, err
	}
	one, ok := k.beside.all.Plan(way)
	if !ok {
		return false, nil
	}
	if err := keepPlan(ctx, k.book, one); err != nil {
		return false, err
	}
	k.result, k.beside = nil, compared{}
	return true, nil
}
