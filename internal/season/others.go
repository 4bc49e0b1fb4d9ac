package season

import (
	"fmt"
	"sync"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

// Way is one way of planning a season: by the settings as they are, or leaning towards one thing.
type Way struct {
	ID, Name string
	Says     string // what it leans towards, a sentence
	lean     func(s *plan.Settings)
}

// How far each way leans. Source: estimate; on the demo garden these make plans that differ.
const (
	leanWork   = 4   // times the work's weight
	leanGround = 60  // times the ground's
	leanShare  = 0.1 // more of the years
)

// Ways are the plan as set and those it is compared with.
func Ways() []Way {
	return []Way{
		{"as-set", "As set", "The plan by your settings.", func(*plan.Settings) {}},
		{"spare-ground", "Spare ground", "The least ground for the shortest time: what brings little for the ground it holds is left out.", func(s *plan.Settings) {
			lean(s, "ground_weight", leanGround)
		}},
		{"light-hands", "Light hands", "The least work: fewer and larger plantings, and none that bring little for their work.", func(s *plan.Settings) {
			lean(s, "work_weight", leanWork)
		}},
		{"sure-table", "Sure table", "The surest: every planting succeeds in more of the weather years, and poor years count.", func(s *plan.Settings) {
			if s.Share < surest {
				s.Share = min(surest, s.Share+leanShare)
			}
			utmost(s, "risk") // what there is in a poor year counts
		}},
	}
}

// surest is the share of the years beyond which hardly any planting is let in.
const surest = 0.95

// lean multiplies a setting, as far as it goes.
func lean(s *plan.Settings, name string, times float64) {
	for _, r := range plan.SettingsList() {
		if r.Name == name {
			v, _ := s.Get(name)
			_ = s.Put(name, min(r.High, v*times)) // between Low and High whatever v is
		}
	}
}

// utmost sets a setting as high as it goes, where there is one of that name.
func utmost(s *plan.Settings, name string) {
	for _, r := range plan.SettingsList() {
		if r.Name == name {
			_ = s.Put(name, r.High)
		}
	}
}

// Alternatives are a season's plan as set and others for the same garden, weather and day, compared.
type Alternatives struct {
	Season civil.Season
	Plans  []Alternative // the plan as set first
}

// Alternative is one of them.
type Alternative struct {
	Way     Way
	Result  *Result
	Figures Figures
	Same    float64 // share of ground × time that the same crops have in the plan as set
	Alike   string  // ID of the way before it that it comes out nearly the same as; empty: it is really another
	Differs string  // from the plan as set, what differs most first; empty of the plan as set
}

// Figures are what plans are compared by.
type Figures struct {
	Wants, Met  int
	Expect      quantity.Kilogram            // useful harvest, mean of the weather years
	Poor        quantity.Kilogram            // useful harvest of each want in its poorest year of ten, together; 0 where plans do not know it
	Plantings   int                          // of the season, what failed left out
	GroundWeeks float64                      // m² × weeks held in the season
	GroundShare float64                      // of all beds' ground × the season
	Hours       quantity.Hour                // of all jobs, a guess
	Months      map[civil.Date]quantity.Hour // of jobs, by the first of their month
	Least, Mean float64                      // share of the weather years in which plantings succeed
}

// alikeFrom is the share of ground × time with the same crops (see same) from which two plans are told to be nearly the same. Source:
// estimate; on the demo garden in two climates another seed of the search leaves 0.58 to 0.72, the ways above 0.36 to 0.66.
const alikeFrom = 0.75

// Compare plans a season in every way from the same tables, each anew but for what is begun. Where the input has a kept plan, that is
// the plan as set.
func Compare(in Input) (*Alternatives, error) {
	in, aside := leaveOut(in)
	kept, told := in.Plan, in.Garden
	var carried []garden.Reason
	if in.Before != nil {
		was := *in.Before
		was.Afresh = true
		in.Before = &was
		in.Garden, carried = Carry(in.Garden, in.Season, in.Crops, was)
	}
	base, err := Prepare(in)
	if err != nil {
		return nil, err
	}
	base.Aside, base.journal = append(aside, base.Aside...), in.Journal
	usual, ways := in.forPlan(base.Tables), Ways()
	all := &Alternatives{Season: in.Season, Plans: make([]Alternative, len(ways))}
	errs := make([]error, len(ways))
	var wait sync.WaitGroup
	for i, w := range ways {
		wait.Go(func() {
			p, g := kept, told
			if i > 0 || kept == nil {
				leaning := usual
				w.lean(&leaning.Settings)
				g = in.Garden
				if p, errs[i] = in.planFrom(leaning, carried); errs[i] != nil {
					return
				}
			}
			r := base.around(p, g)
			all.Plans[i] = Alternative{Way: w, Result: r, Figures: r.figures()}
		})
	}
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("%s: %w", ways[i].Name, err)
		}
	}
	all.compare(in.Garden.Standing)
	return all, nil
}

// around is the same season around another plan.
func (r *Result) around(p *plan.Plan, g garden.Garden) *Result {
	o := &Result{
		Season: r.Season, Garden: g, Record: r.Record, Years: r.Years, Notes: r.Notes, Climate: r.Climate, Tables: r.Tables, Plan: p, Crops: r.Crops,
		Aside: r.Aside, extra: map[tableKey]*growth.Table{}, limit: r.limit, journal: r.journal,
	}
	for _, t := range r.Tables {
		o.extra[keyOf(t.Option)] = t
	}
	o.derive()
	return o
}

// Plan is the alternative with a way's ID.
func (a *Alternatives) Plan(way string) (*Alternative, bool) {
	for i := range a.Plans {
		if a.Plans[i].Way.ID == way {
			return &a.Plans[i], true
		}
	}
	return nil, false
}
