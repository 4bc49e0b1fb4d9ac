// Package plan is what is grown where and when: options, layout, search, bound, reasons.
package plan

import (
	"errors"
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// Input is all that a plan is made from.
type Input struct {
	Season   civil.Season
	Garden   garden.Garden
	Crops    *crop.Catalogue
	Tables   []*growth.Table // for every wanted crop × method
	Settings Settings
	Kept     *Plan       // the plan this one goes on from, changing only what brings something; may be nil
	Taken    []string    // keys that no new planting may get, because the journal tells of them
	From     *civil.Date // nothing is begun before this day, under cover or in the ground; nil: the season's start
	Soil     map[BedCrop]SoilShare
	Light    *Light // nil: the hours told for each bed's season count
}

// Plan is a season's plantings and how well they answer the wants.
type Plan struct {
	Season    civil.Season
	Settings  Settings
	Plantings []garden.Planting // by start day, then bed; those standing already stand here unchanged
	Supply    []Supply          // one per want, in the garden's order
	Value     float64           // what the planner maximises: weighted, concave in each want, less the work
	Bound     float64           // no plan for the same garden, weather and settings has a higher Value; 0 in plans made before it was reckoned
	Notes     []garden.Reason   // about the plan as a whole
	From      *civil.Date       // nothing new is begun before this day; nil: the season's start
	Sun       []BedSun          `json:",omitempty"` // the light it was made from; nil in plans older than that is kept
}

// Supply is how far a want is met.
type Supply struct {
	Want     garden.Want
	Asked    quantity.Kilogram   // over the season
	Expected quantity.Kilogram   // mean over the weather years, useful part only (a weekly want's glut does not count)
	Weeks    []quantity.Kilogram // mean harvest by week of the season and the year after
	Keys     []string            // plantings that serve it
	Years    []quantity.Kilogram `json:",omitempty"` // useful harvest in each weather year, rising, played through (see Play); none in plans made before that was reckoned
	Short    []garden.Reason     // why it is not wholly met, when it is not
}

// Weekless says whether a want asks for something each week and no week is left, or was ever, that could have it.
func (s Supply) Weekless() bool { return s.Asked <= 0 && s.Want.Amount > 0 }

// Share is how much of what is asked is expected, 0–1; all of it where nothing is asked, none of a weekless want.
func (s Supply) Share() float64 {
	switch {
	case s.Weekless():
		return 0
	case s.Asked <= 0:
		return 1
	}
	return float64(s.Expected / s.Asked)
}

// Met says whether a want is met but for a twentieth.
func (s Supply) Met() bool { return s.Share() >= .95 }

// Reach is the share of what any plan could have at most that this one has, 0–1, and whether it is known.
func (p *Plan) Reach() (share float64, known bool) {
	if p.Bound <= 0 || p.Value < 0 {
		return 0, false
	}
	return min(1, p.Value/p.Bound), true
}

// Make plans the season. The same input gives the same plan, byte for byte. The plan is checked
// against every rule before it is returned.
func Make(in Input) (*Plan, error) {
	p, err := newProblem(in)
	if err != nil {
		return nil, err
	}
	out, err := p.make()
	if err != nil {
		return nil, err
	}
	out.From = in.From
	return out, nil
}

// better is a plan that goes on from an earlier one, or the earlier one taken up with nothing changed that could stay, where playing
// takes more from the first than its changes bring.
func (p *problem) better(out *Plan) (*Plan, error) {
	f, err := newField(p)
	if err != nil {
		return nil, err
	}
	f.guide = &guide{urns: make([]urn, len(f.wants))}
	s := newState(f)
	s.onEveryYear()
	if s.resume() {
		if still := s.playedPlan(); still.Value+float64(churn)/float64(point) > out.Value {
			return still, nil
		}
	}
	return out, nil
}

func (p *problem) make() (*Plan, error) {
	f, err := newField(p)
	if err != nil {
		return nil, err
	}
	out := search(f).playedPlan()
	if len(p.old) > 0 {
		if out, err = p.better(out); err != nil {
			return nil, err
		}
	}
	out.Bound = f.guide.bound()
	if faults := p.check(out); len(faults) > 0 {
		return nil, fmt.Errorf("the planner made a plan that breaks its own rules, which is a fault of the program: %w", errors.Join(faults...))
	}
	return out, nil
}
