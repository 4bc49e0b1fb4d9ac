package season

import (
	"math"

	"kailyard/internal/garden"
	"kailyard/internal/light"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// sunOf is the sun on every bed of a garden, as a plan goes by it, to the hundredth of an hour.
func sunOf(g garden.Garden, record *weather.Record) []plan.BedSun {
	var y light.Year
	var even [12]float64
	if LightKnown(g) {
		y = LightYearOf(g, record)
		even = y.Even()
	}
	sun := make([]plan.BedSun, 0, len(g.Beds))
	for _, b := range g.Beds {
		of := plan.BedSun{Bed: b.ID}
		for m := range of.Hours {
			of.Hours[m] = b.Sun
		}
		if byMonth(g, b) {
			of.Hours = bedLight(y, b, even).Hours
		}
		for m, h := range of.Hours {
			of.Hours[m] = quantity.Hour(math.Round(float64(h)*100) / 100)
		}
		sun = append(sun, of)
	}
	return sun
}

// otherLight is from what change of a month's hours a bed is told to have another light, a month in which little grows counting
// for less: it is 2 % of the yield of leaf crops in the shade (estimate).
const otherLight = 0.1

// LightSince are the beds whose light has been changed since a plan was made: more or less shade, sun seen, another slope or
// place, other hours told. Of a plan that does not keep the light it was made from, and of beds it knew nothing of, none.
func LightSince(g garden.Garden, record *weather.Record, p *plan.Plan) (changed []garden.Bed) {
	if p == nil || len(p.Sun) == 0 {
		return nil
	}
	was := map[int64]plan.BedSun{}
	for _, s := range p.Sun {
		was[s.Bed] = s
	}
	now, grows := sunOf(g, record), growsBy(g.Site.Latitude)
	for i, b := range g.Beds {
		before, ok := was[b.ID]
		if !ok {
			continue
		}
		for m, h := range now[i].Hours {
			if grows[m]*math.Abs(float64(h-before.Hours[m])) > otherLight-1e-6 {
				changed = append(changed, b)
				break
			}
		}
	}
	return changed
}

// LightSince are the beds whose light has been changed since the plan was made.
func (r *Result) LightSince() []garden.Bed { return LightSince(r.Garden, r.Record, r.Plan) }
