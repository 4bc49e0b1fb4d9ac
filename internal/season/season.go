// Package season is the street in one call: a garden, a record and the catalogue in; growth tables, plan, jobs and orders out.
package season

import (
	"fmt"
	"strings"
	"sync"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
	"kailyard/internal/work"
)

// YearsUsed is how many of the latest recorded years a season is computed from: the customary
// thirty of climate normals (WMO-No. 1203, 2017: normals cover 30 years).
const YearsUsed = 30

// Input is what one season is computed from.
type Input struct {
	Season   civil.Season
	Garden   garden.Garden
	Record   *weather.Record
	Crops    *crop.Catalogue
	Aside    []crop.Aside // own crops that are not in the catalogue, with why
	Settings plan.Settings
	Years    int            // weather years used, the latest; 0 means YearsUsed
	Before   *Before        // what a new plan takes over; nil for a garden's first
	Plan     *plan.Plan     // a kept plan; nil makes a new one
	Journal  []garden.Entry // what happened, for the jobs on the ground; may be nil
	Keeper   *TableKeeper   // of growth tables made before; nil: all are made
}

// Result is everything computed for one garden and one season.
type Result struct {
	Season  civil.Season
	Garden  garden.Garden
	Record  *weather.Record
	Years   []weather.Scenario
	Notes   []weather.Note // about the weather years, on top of the record's own
	Climate *growth.Climate
	Tables  []*growth.Table // of the wanted, planted and standing crops
	Plan    *plan.Plan
	Jobs    []work.Job
	Orders  []work.Order
	Soil    *work.SoilBook // what the ground asks for in the season, as the jobs have it; nil where it cannot be read
	Crops   *crop.Catalogue
	Aside   []string // what the catalogue could not serve and was left out, a sentence each

	mu    sync.Mutex
	extra map[tableKey]*growth.Table

	limit   int // weather years used, the latest
	journal []garden.Entry
	others  map[civil.Season]*Result
	water   watered
	reach   reached
	help    helped
}

type tableKey struct {
	crop   string
	method int
	cover  string // crop.Protection.ID; empty in the open
}

func keyOf(o growth.Option) tableKey {
	key := tableKey{crop: o.Crop.ID, method: o.Method}
	if o.Protection != nil {
		key.cover = o.Protection.ID
	}
	return key
}

// Prepare lays the weather over the season and makes the growth tables, without a plan.
func Prepare(in Input) (*Result, error) {
	in, aside := leaveOut(in)
	limit := in.Years
	if limit == 0 {
		limit = YearsUsed
	}
	years, notes, err := in.Record.Scenarios(in.Season, growth.Lead, growth.Tail, limit)
	if err != nil {
		return nil, err
	}
	climate, err := growth.NewClimate(in.Season, in.Garden.Site.Latitude, years)
	if err != nil {
		return nil, err
	}
	r := &Result{
		Season: in.Season, Garden: in.Garden, Record: in.Record, Years: years, Notes: notes,
		Climate: climate, Crops: in.Crops, extra: map[tableKey]*growth.Table{}, limit: limit, Aside: aside,
	}
	options, err := Options(in.Garden, in.Plan, in.Crops)
	if err != nil {
		return nil, err
	}
	r.Tables = in.Keeper.tables(climate, options)
	for _, t := range r.Tables {
		r.extra[keyOf(t.Option)] = t
	}
	return r, nil
}

// Compute prepares the season, plans it (or takes the kept plan) and derives jobs and orders.
func Compute(in Input) (*Result, error) {
	in, aside := leaveOut(in)
	var carried []garden.Reason
	if in.Plan == nil && in.Before != nil {
		in.Garden, carried = Carry(in.Garden, in.Season, in.Crops, *in.Before)
	}
	r, err := Prepare(in)
	if err != nil {
		return nil, err
	}
	r.Plan, r.Aside = in.Plan, append(aside, r.Aside...)
	if r.Plan == nil {
		if r.Plan, err = in.planFrom(in.forPlan(r.Tables), carried); err != nil {
			return nil, err
		}
		r.Plan.Notes = append(r.Plan.Notes, r.supplyNotes()...)
	}
	r.journal = in.Journal
	r.derive()
	return r, nil
}

// planFrom makes a plan of the planner's input, with what is to be said of it.
func (in Input) planFrom(p plan.Input, carried []garden.Reason) (*plan.Plan, error) {
	made, err := plan.Make(p)
	if err != nil {
		return nil, err
	}
	made.Notes = append(append(made.Notes, carried...), tallNotes(in.Garden, made, in.Crops)...)
	made.Sun = sunOf(in.Garden, in.Record)
	return made, nil
}

// derive makes the jobs and orders that follow from the plan.
func (r *Result) derive() {
	r.Soil = r.soilBook(r.journal)
	w := work.Input{Plan: r.Plan, Garden: r.Garden, Crops: r.Crops, Tables: r.Tables, Frost: r.Frost, From: r.Plan.From, Soil: r.Soil, Water: r.goingIn()}
	r.Jobs = work.Jobs(w)
	r.Orders = work.Orders(w)
}

// forPlan is the planner's input. A new plan begins nothing before the day it is made on, unless that
// day lies after the season, which is then planned as a whole.
func (in Input) forPlan(tables []*growth.Table) plan.Input {
	p := plan.Input{Season: in.Season, Garden: in.Garden, Crops: in.Crops, Tables: tables, Settings: in.Settings, Soil: in.soilShares(tables), Light: lightOf(in.Garden, in.Record, tables)}
	if b := in.Before; b != nil {
		if !b.Afresh {
			p.Kept = b.Kept
		}
		p.Taken = append(p.Taken, b.Spent...)
		for _, e := range b.Journal {
			if e.Planting != "" {
				p.Taken = append(p.Taken, e.Planting)
			}
		}
		if b.Day <= in.Season.End() {
			p.From = &b.Day
		}
	}
	return p
}

// Options are every method of every crop that is wanted, stands in the ground or is in a kept plan,
// in the order of the garden's wants; then those of the wanted crops under each cover the site has or the want asks
// for, and those under which something stands or is planned.
func Options(g garden.Garden, kept *plan.Plan, crops *crop.Catalogue) ([]growth.Option, error) {
	var options []growth.Option
	seen := map[string]bool{}
	covered := map[tableKey]bool{}
	var under []growth.Option
	cover := func(o growth.Option) {
		if key := keyOf(o); !covered[key] {
			covered[key] = true
			under = append(under, o)
		}
	}
	add := func(c *crop.Crop) {
		if seen[c.ID] {
			return
		}
		seen[c.ID] = true
		for m := range c.Methods {
			options = append(options, growth.Option{Crop: c, Method: m})
		}
	}
	for _, want := range g.Wants {
		found, near := crops.Match(want.Crop)
		if len(found) == 0 {
			return nil, UnknownCrop(want.Crop, near)
		}
		for _, c := range found {
			add(c)
			for _, o := range Covered(c, g.Site.Covers) {
				cover(o)
			}
			for _, o := range Covered(c, []string{want.Under}) {
				cover(o)
			}
		}
	}
	planted := g.Standing
	if kept != nil {
		planted = append(planted[:len(planted):len(planted)], kept.Plantings...)
	}
	for _, p := range planted {
		c, ok := crops.Find(p.CropID)
		if !ok {
			_, near := crops.Match(p.CropID)
			return nil, UnknownCrop(p.CropID, near)
		}
		add(c)
		if protection, _ := crop.FindProtection(p.Protection); protection != nil && p.Method >= 0 && p.Method < len(c.Methods) {
			cover(growth.Option{Crop: c, Method: p.Method, Protection: protection})
		}
	}
	return append(options, under...), nil
}

// Covered are the methods of a crop under each of the covers, by ID, under which it can be grown.
func Covered(c *crop.Crop, covers []string) []growth.Option {
	var options []growth.Option
	for _, id := range covers {
		p, _ := crop.FindProtection(id)
		if p == nil || !growth.Fits(c, p) {
			continue
		}
		for m := range c.Methods {
			options = append(options, growth.Option{Crop: c, Method: m, Protection: p})
		}
	}
	return options
}

// UnknownCrop is the error for a crop the catalogue lacks, with near names.
func UnknownCrop(word string, near []string) error {
	if len(near) == 0 {
		return fmt.Errorf("the catalogue has no crop %q; `kailyard crops` lists those it has", word)
	}
	return fmt.Errorf("the catalogue has no crop %q; did you mean %s? `kailyard crops` lists all", word, strings.Join(near, ", "))
}

// Bed is the bed with an ID.
func (r *Result) Bed(id int64) (garden.Bed, bool) {
	for _, b := range r.Garden.Beds {
		if b.ID == id {
			return b, true
		}
	}
	return garden.Bed{}, false
}

// Planting is the planting with a key.
func (r *Result) Planting(key string) (garden.Planting, bool) {
	for _, list := range [][]garden.Planting{r.Plan.Plantings, r.Garden.Standing} {
		for _, p := range list {
			if p.Key == key {
				return p, true
			}
		}
	}
	return garden.Planting{}, false
}

// Table is the growth table of a crop's method in the open, made on demand for crops that are not
// wanted; nil when there is no such crop or method.
func (r *Result) Table(cropID string, method int) *growth.Table {
	return r.TableUnder(cropID, method, "")
}

// TableOf is the growth table of a planting, under its cover if it has one.
func (r *Result) TableOf(p garden.Planting) *growth.Table {
	return r.TableUnder(p.CropID, p.Method, p.Protection)
}

// TableUnder is Table under a cover, by its ID; in the open when there is no such cover.
func (r *Result) TableUnder(cropID string, method int, cover string) *growth.Table {
	var protection *crop.Protection
	if cover != "" {
		protection, _ = crop.FindProtection(cover)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	key := tableKey{crop: cropID, method: method}
	if protection != nil {
		key.cover = protection.ID
	}
	if t, ok := r.extra[key]; ok {
		return t
	}
	c, ok := r.Crops.Find(cropID)
	if !ok || method < 0 || method >= len(c.Methods) {
		return nil
	}
	t := growth.Tabulate(r.Climate, []growth.Option{{Crop: c, Method: method, Protection: protection}})[0]
	r.extra[key] = t
	return t
}

// CropUnder are the growth tables of a crop under every cover it can be grown under, cover by cover in the order of
// crop.Protections, each with the crop's methods in their order; made together on demand.
func (r *Result) CropUnder(cropID string) []*growth.Table {
	c, ok := r.Crops.Find(cropID)
	if !ok {
		return nil
	}
	var ids []string
	for _, p := range crop.Protections() {
		ids = append(ids, p.ID)
	}
	options := Covered(c, ids)
	r.mu.Lock()
	defer r.mu.Unlock()
	var missing []growth.Option
	for _, o := range options {
		if r.extra[keyOf(o)] == nil {
			missing = append(missing, o)
		}
	}
	for _, t := range growth.Tabulate(r.Climate, missing) {
		r.extra[keyOf(t.Option)] = t
	}
	tables := make([]*growth.Table, len(options))
	for i, o := range options {
		tables[i] = r.extra[keyOf(o)]
	}
	return tables
}

// Frost is the spread of frost dates over the weather years used.
func (r *Result) Frost(threshold quantity.Celsius) weather.Frost {
	return weather.FrostOf(r.Season, growth.Lead, r.Years, threshold)
}

// Generated says whether the weather was made from monthly figures, and every page must say so.
func (r *Result) Generated() bool { return r.Record.Origin == weather.Generated }
