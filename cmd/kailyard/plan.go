package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

type planCmd struct {
	seasonFlag
	Afresh bool              `help:"Plan anew what is not begun; else the plan so far is changed only where that brings something."`
	Kept   bool              `help:"Print the plan the book keeps; make none."`
	Hours  *float64          `help:"Hours a week you can give to the garden, kept with it; 0: as many as it takes." placeholder:"H"`
	Trays  *float64          `help:"Trays of seedlings there is light for under cover, kept with the garden; 0: as many as it takes." placeholder:"N"`
	Set    map[string]string `help:"Change a setting of the planner for this plan and keep it: ${settings}." placeholder:"NAME=VALUE" mapsep:"none"`
}

func (planCmd) example() string {
	return "kailyard plan --book garden.kailyard --set success_share=0.9"
}

// Run makes or reads the plan.
func (c *planCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, c.Kept, func(b *book.Book) error {
		if c.Kept {
			if c.Hours != nil || c.Trays != nil {
				return usageError{"--hours and --trays are for a new plan: leave --kept out"}
			}
			r, err := kept(ctx, e, b, c.seasonFlag)
			if err != nil {
				return err
			}
			return e.printPlan(r)
		}
		if err := c.keepMeans(ctx, b); err != nil {
			return err
		}
		in, err := input(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		if len(c.Set) > 0 {
			if in.Settings, err = changed(in.Settings, c.Set); err != nil {
				return err
			}
			if err := b.SaveSettings(ctx, in.Settings); err != nil {
				return err
			}
		}
		r, err := makePlan(ctx, b, in, e.Today, c.Afresh)
		if err != nil {
			return err
		}
		e.tellAside(r.Aside)
		return e.printPlan(r)
	})
}

// keepMeans keeps what the garden can be given, where the command line tells it.
func (c *planCmd) keepMeans(ctx context.Context, b *book.Book) error {
	if c.Hours == nil && c.Trays == nil {
		return nil
	}
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	if c.Hours != nil {
		g.Site.HoursAWeek = quantity.Hour(*c.Hours)
	}
	if c.Trays != nil {
		g.Site.Trays = *c.Trays
	}
	return b.SaveSite(ctx, g.Site)
}

// changed applies name=value pairs to the planner's settings by its setting records.
func changed(s plan.Settings, pairs map[string]string) (plan.Settings, error) {
	for name, text := range pairs {
		value, err := plainNumber(text)
		if err != nil {
			return s, usageError{fmt.Sprintf("--set %s=%s: %q is not a number", name, text, text)}
		}
		if err := s.Put(name, value); err != nil {
			return s, usageError{"--set: " + err.Error()}
		}
	}
	return s, nil
}

// settingNames is the list for --help.
func settingNames() string {
	var names []string
	for _, s := range plan.SettingsList() {
		names = append(names, fmt.Sprintf("%s (%s, %s–%s)", s.Name, s.Meaning, strconv.FormatFloat(s.Low, 'f', -1, 64), strconv.FormatFloat(s.High, 'f', -1, 64)))
	}
	return strings.Join(names, "; ")
}
