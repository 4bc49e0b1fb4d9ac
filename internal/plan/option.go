package plan

import (
	"fmt"
	"sort"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// timetable is what the planner asks of a growth table.
type timetable interface {
	Outcome(start civil.Date, i int) growth.Outcome
	Summary(start civil.Date) growth.Summary
	Windows(share float64) []growth.Window
	Harvest(start civil.Date) []float64
	Canopy(start, on civil.Date) (p10, p50, p90 quantity.Metre)
}

// catalogue is what the planner asks of the crop catalogue.
type catalogue interface {
	Find(id string) (*crop.Crop, bool)
	Match(word string) (found []*crop.Crop, near []string)
}

// option is one crop grown by one of its methods, with its growth table.
type option struct {
	crop   *crop.Crop
	method int
	times  timetable
	cover  *crop.Protection // nil in the open
}

func (o option) how() crop.Method { return o.crop.Methods[o.method] }

// under is the ID of the option's cover, empty in the open.
func (o option) under() string {
	if o.cover == nil {
		return ""
	}
	return o.cover.ID
}

// problem is an Input with its growth tables behind an interface.
type problem struct {
	season   civil.Season
	garden   garden.Garden
	crops    catalogue
	options  []option
	settings Settings
	old      []garden.Planting      // of the plan this one takes the place of
	served   map[string]garden.Want // the want that each of them serves, by key
	taken    map[string]bool        // keys that are spent
	from     civil.Date             // nothing is begun before this day
	soil     map[BedCrop]SoilShare
	light    *Light
	dark     map[BedCrop]bool // beds too dark for a crop, where light is known by month
	ofYears  int              // weather years of the tables, once read
}

// newProblem reads an Input and refuses what cannot be planned from.
func newProblem(in Input) (*problem, error) {
	if in.Crops == nil {
		return nil, fmt.Errorf("the planner was given no crop catalogue")
	}
	p := &problem{season: in.Season, garden: in.Garden, crops: in.Crops, settings: in.Settings, from: in.Season.Start - 366, soil: in.Soil, light: in.Light}
	if in.From != nil {
		p.from = *in.From
	}
	if in.Kept != nil {
		p.goOn(in.Kept)
	}
	p.taken = map[string]bool{}
	for _, key := range in.Taken {
		p.taken[key] = true
	}
	for i, t := range in.Tables {
		if t == nil || t.Option.Crop == nil {
			return nil, fmt.Errorf("growth table %d is empty", i+1)
		}
		p.options = append(p.options, option{t.Option.Crop, t.Option.Method, t, t.Option.Protection})
	}
	return p, p.validate()
}

// validate sorts the options, so that the order of the tables does not matter, and checks settings and beds.
func (p *problem) validate() error {
	if err := p.settings.Validate(); err != nil {
		return err
	}
	if p.season.Days < 1 {
		return fmt.Errorf("the season to plan has no days")
	}
	sort.SliceStable(p.options, func(i, j int) bool {
		a, b := p.options[i], p.options[j]
		if a.crop.ID != b.crop.ID {
			return a.crop.ID < b.crop.ID
		}
		if a.method != b.method {
			return a.method < b.method
		}
		return a.under() < b.under()
	})
	for _, o := range p.options {
		if o.method < 0 || o.method >= len(o.crop.Methods) {
			return fmt.Errorf("the growth table for %s is for its method %d, which it does not have", o.crop.Name(), o.method+1)
		}
	}
	seen := map[int64]bool{}
	for _, b := range p.garden.Beds {
		if !(b.Length > 0) || !(b.Width > 0) || b.Length > 1000 || b.Width > 1000 {
			return fmt.Errorf("bed %q is %.2f m by %.2f m; give it a length and a width between 0 and 1000 m", b.Name, float64(b.Length), float64(b.Width))
		}
		if seen[b.ID] {
			return fmt.Errorf("two beds have the number %d; bed %q needs another", b.ID, b.Name)
		}
		seen[b.ID] = true
	}
	if err := p.validateSoil(); err != nil {
		return err
	}
	return p.validateStanding(seen)
}

// validateStanding checks the plantings that the plan must work around.
func (p *problem) validateStanding(beds map[int64]bool) error {
	keys := map[string]bool{}
	for _, s := range p.standing() {
		if !beds[s.BedID] {
			return fmt.Errorf("the planting %s (%s) stands in bed %d, which the garden does not have", s.Key, s.CropID, s.BedID)
		}
		if _, ok := p.crops.Find(s.CropID); !ok {
			return fmt.Errorf("the planting %s is of %q, which is not in the crop catalogue%s", s.Key, s.CropID, p.nearTo(s.CropID))
		}
		if s.Key != "" && keys[s.Key] {
			return fmt.Errorf("two standing plantings have the key %s", s.Key)
		}
		keys[s.Key] = true
	}
	return nil
}

// standing are the plantings that hold ground in the season: not cleared before it. One that is over
// or lost held it to the day it ended.
func (p *problem) standing() []garden.Planting {
	var out []garden.Planting
	for _, s := range p.garden.Standing {
		if s.Clear > s.Start && s.Clear <= p.season.Start {
			continue
		}
		out = append(out, s)
	}
	return out
}

// nearTo is "; did you mean …?" with near names of the catalogue, or nothing.
func (p *problem) nearTo(word string) string {
	_, near := p.crops.Match(word)
	if len(near) == 0 {
		return ""
	}
	return "; did you mean " + strings.Join(near, " or ") + "?"
}
