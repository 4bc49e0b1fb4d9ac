package plan

import (
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// This file holds a plan to what playing it gives: the chances told are those, and none is below the person's share.

// mostMended is how often plantings that late forerunners spoil too often are planted otherwise; then they are left out.
const mostMended = 6

// lateKey is a sowing in a bed.
type lateKey struct{ bed, sow int }

// playedPlan writes the plan out with the chances that playing it gives. What then comes to harvest in too few years is taken out,
// and the ground used otherwise.
func (s *state) playedPlan() *Plan {
	for mended := 0; ; mended++ {
		out := s.plan()
		played := s.play(out)
		_, key := s.keys()
		rare := map[string]bool{}
		for i, x := range out.Plantings {
			y := played.Plantings[i]
			if y.Known && x.Success > y.Success && !enoughYears(y.Success, played.Years, s.settings.Share) {
				rare[x.Key] = true
			}
		}
		any := false
		for slot := range s.slots {
			if x := &s.slots[slot]; x.live && !x.fixed && rare[key[slot]] {
				if s.late == nil {
					s.late = map[lateKey]bool{}
				}
				s.late[lateKey{x.bed, x.sow}] = true
				s.take(slot)
				any = true
			}
		}
		if !any {
			s.tell(out, played)
			return out
		}
		if mended < mostMended {
			s.fill()
		}
		s.log = s.log[:0]
	}
}

func enoughYears(good, years int, share float64) bool {
	return float64(good) >= share*float64(years)-1e-9
}

// tell writes what was played into a plan.
func (p *problem) tell(out *Plan, played *Played) {
	stands := map[string]bool{}
	for _, x := range p.garden.Standing {
		stands[x.Key] = true
	}
	for i := range out.Plantings {
		x, y := &out.Plantings[i], played.Plantings[i]
		if stands[x.Key] || !y.Known || y.Late == 0 {
			continue
		}
		if y.Success > 0 {
			x.First, x.Last = y.First, y.Last
		}
		x.Success = min(x.Success, y.Success) // begun late it may do better, but no more is promised than for its day
		x.Reasons = append(x.Reasons, whyLate(y, played.Years))
	}
	for i := range played.Wants {
		s := &out.Supply[i]
		s.Years = played.Wants[i].Years
		if typical, _ := s.Typical(); p.settings.Risk != byMeanHarvest && len(s.Short) > 0 && typical > 0 && float64(typical) >= 0.95*float64(s.Asked) {
			s.Short = []garden.Reason{{Rule: "risk", Says: fmt.Sprintf("In the typical year it is met, with %s; the mean is less for the poor years.", p.units().Mass(typical))}}
		}
	}
}

// whyLate says what a late forerunner does to a planting.
func whyLate(y PlayedPlanting, years int) garden.Reason {
	says := fmt.Sprintf("In %d of %s its ground is cleared late", y.Late, quantity.Plural(float64(years), "weather year"))
	switch {
	case y.GivenUp == y.Late:
		says += ", too late to begin it"
	case y.GivenUp > 0:
		says += fmt.Sprintf(": it is begun up to %s later, and in %d of them not at all", quantity.Plural(float64(y.MostLate), "day"), y.GivenUp)
	default:
		says += fmt.Sprintf(" and it is begun up to %s later", quantity.Plural(float64(y.MostLate), "day"))
	}
	return garden.Reason{Rule: "sequence", Source: practice, Says: says + fmt.Sprintf(". With that it comes to harvest in %d.", y.Success)}
}

// Typical is the useful harvest of the middle weather year, and whether it is known.
func (s Supply) Typical() (of quantity.Kilogram, known bool) {
	n := len(s.Years)
	if n == 0 {
		return 0, false
	}
	return (s.Years[(n-1)/2] + s.Years[n/2]) / 2, true
}

// Poorest is the useful harvest in the mean of the poorest tenth of the weather years, one at least, and how many those are.
func (s Supply) Poorest() (of quantity.Kilogram, years int) {
	if len(s.Years) == 0 {
		return 0, 0
	}
	years = max(1, len(s.Years)/10)
	for _, k := range s.Years[:years] {
		of += k / quantity.Kilogram(years)
	}
	return of, years
}

// YearsSay is the useful harvest of the typical and of the poorest years in words; empty where it is not known or there is none.
func (s Supply) YearsSay(u quantity.System) string {
	typical, known := s.Typical()
	if !known || s.Years[len(s.Years)-1] <= 0 {
		return ""
	}
	poor, years := s.Poorest()
	return fmt.Sprintf("%s in the typical year, %s in the poorest %d of %d", u.Mass(typical), u.Mass(poor), years, len(s.Years))
}
