package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

type underCmd struct {
	seasonFlag
	Key   string    `arg:"" help:"The planting's key, from the plan."`
	Cover string    `arg:"" optional:"" help:"Grow it under this cover, or 'open'; without one, what each would bring."`
	On    civilFlag `help:"And let it go into the ground on this day." placeholder:"DATE"`
}

func (underCmd) example() string {
	return "kailyard under 2027-04\nkailyard under 2027-04 'cold frame'\nkailyard under 2027-04 'high tunnel' --on 2027-04-20\nkailyard under 2027-04 open"
}

type shelterJSON struct {
	Under     string         `json:"under"` // empty in the open
	Now       bool           `json:"now"`
	Has       bool           `json:"garden_has_it"`
	Cannot    string         `json:"cannot"`
	Success   int            `json:"success_years"`
	Years     int            `json:"weather_years"`
	Cold      int            `json:"lost_to_cold_years"`
	Heat      int            `json:"lost_to_heat_years"`
	First     *garden.Spread `json:"first_harvest"`
	Last      *garden.Spread `json:"last_harvest"`
	Earlier   *int           `json:"harvest_earlier_days"`
	From      *civil.Date    `json:"window_from"`
	To        *civil.Date    `json:"window_to"`
	Opens     *int           `json:"opens_earlier_days"`
	Clear     *civil.Date    `json:"ground_free_on"`
	Expect    float64        `json:"expected_kg"`
	MustYield []string       `json:"planned_anew"`
}

func shelterOf(s season.Shelter) shelterJSON {
	v := shelterJSON{
		Now: s.Here, Has: s.Has, Cannot: s.Cannot, Success: s.Success, Years: s.Years, Cold: s.Cold, Heat: s.Heat,
		First: known(s.First), Last: known(s.Last), Earlier: s.Earlier, Opens: s.Opens, Expect: float64(s.Expect), MustYield: orEmpty(s.Clash),
	}
	if s.Cover != nil {
		v.Under = s.Cover.ID
	}
	if s.Window.To > 0 {
		v.From, v.To = &s.Window.From, &s.Window.To
	}
	if s.Cannot == "" {
		v.Clear = &s.Clear
	}
	return v
}

// Run says what a planting would come to under each cover, or grows it under one.
func (c *underCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, c.Cover == "", func(b *book.Book) error {
		if c.Cover == "" && c.On.set {
			return usageError{"--on: name the cover too, or open"}
		}
		if c.Cover == "" {
			return c.tell(ctx, e, b)
		}
		how := season.Growing{}
		if c.On.set {
			how.Start = &c.On.date
		}
		if !garden.IsOpen(c.Cover) {
			found, err := coverNamed(c.Cover)
			if err != nil {
				return err
			}
			how.Cover = found.ID
		}
		s, err := shown(ctx, b, c.seasonFlag, e.clock())
		if err != nil {
			return err
		}
		r, err := regrow(ctx, b, s, e.clock(), c.Key, how)
		if err != nil {
			return err
		}
		p, _ := r.Planting(c.Key)
		if e.json {
			return e.printJSON(plantingOf(r, p))
		}
		plantingWords(e.Stdout, r, p)
		for _, why := range p.Reasons {
			if why.Rule == "your choice" || why.Rule == "cover" {
				e.printf("%s\n", wrapped("• "+why.Says, "           ", 92))
			}
		}
		e.printf("Kept. The plan as it was stays in the book; `kailyard jobs --all` has its new jobs.\n")
		return nil
	})
}

// tell prints what each cover would bring.
func (c *underCmd) tell(ctx context.Context, e *env, b *book.Book) error {
	r, err := kept(ctx, e, b, c.seasonFlag)
	if err != nil {
		return err
	}
	p, ok := r.Planting(c.Key)
	if !ok {
		return fmt.Errorf("the plan has no planting %q; `kailyard plan --kept` lists their keys", c.Key)
	}
	list, why := r.Shelters(p, e.clock())
	if why != "" {
		return fmt.Errorf("%s (%s): %s", cropName(r, p.CropID), p.Key, why)
	}
	if e.json {
		all := []shelterJSON{}
		for _, s := range list {
			all = append(all, shelterOf(s))
		}
		return e.printJSON(all)
	}
	e.printf("%s, %s %s, may grow\n", cropName(r, p.CropID), verb(p.Way), p.Start.Short())
	for _, s := range list {
		e.printf("\n%s%s\n", shelterName(s), shelterMarks(s))
		for _, line := range shelterLines(r, s) {
			e.printf("%s\n", wrapped(line, "  ", 92))
		}
	}
	return nil
}

func shelterName(s season.Shelter) string {
	if s.Cover == nil {
		return "in the open"
	}
	return "under " + s.Cover.Under()
}

func shelterMarks(s season.Shelter) string {
	var marks []string
	if s.Here {
		marks = append(marks, "as it is planned")
	}
	if !s.Has {
		marks = append(marks, "not among the garden's covers")
	}
	if len(marks) == 0 {
		return ""
	}
	return " (" + strings.Join(marks, "; ") + ")"
}

// shelterLines are the sentences about one way of growing a planting.
func shelterLines(r *season.Result, s season.Shelter) []string {
	if s.Cannot != "" {
		return []string{s.Cannot}
	}
	u := r.Garden.Site.Units
	lines := []string{fmt.Sprintf("%d years of %d; %s ended by cold, %s spoilt by heat or long days; about %s", s.Success, s.Years, counted(s.Cold, "year"), counted(s.Heat, "year"), u.Mass(s.Expect))}
	first := fmt.Sprintf("first harvest about %s (%s to %s)", s.First.P50.Short(), s.First.P10.Short(), s.First.P90.Short())
	if s.Earlier != nil && s.Cover != nil {
		first += ", " + shifted(-*s.Earlier) + map[bool]string{true: " as in the open", false: " than in the open"}[*s.Earlier == 0]
	}
	lines = append(lines, first+"; ground free "+s.Clear.Short())
	if s.Window.To > 0 {
		says := fmt.Sprintf("could go in from %s to %s", s.Window.From.Short(), s.Window.To.Short())
		if s.Opens != nil {
			says += ": opens " + shifted(-*s.Opens)
		}
		lines = append(lines, says)
	}
	if len(s.Clash) > 0 {
		lines = append(lines, "it would hold its ground too long for "+strings.Join(s.Clash, ", ")+": planned anew around it")
	}
	return lines
}

// regrow grows one planting of a season's plan as a person wants it, and keeps the plan that comes of it.
func regrow(ctx context.Context, b *book.Book, s civil.Season, day civil.Date, key string, how season.Growing) (*season.Result, error) {
	in, err := inputFor(ctx, b, s)
	if err != nil {
		return nil, err
	}
	if in.Before, err = before(ctx, b, s, day); err != nil {
		return nil, err
	}
	if in.Before.Kept == nil {
		return nil, noPlanError{s}
	}
	r, err := season.Regrow(in, key, how)
	if err != nil {
		return nil, err
	}
	_, err = b.SavePlan(ctx, r.Plan)
	return r, err
}
