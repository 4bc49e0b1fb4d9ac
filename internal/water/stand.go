package water

import (
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Stand is one planting as water sees it.
type Stand struct {
	Key      string
	Name     string // of the crop's kind
	BedID    int64
	Area     quantity.SquareMetre // of its ground
	Place    garden.Place         // of that ground in its bed; none: ground of its own that nothing else holds
	Crop     Crop
	From, To civil.Date // goes in on From; the ground is free on To
	Up       civil.Date // seedlings are up; 0 or before From: set out as plants
	Plants   int
	Settled  bool      // it stands from a season before: its roots are down, and nothing is watered in
	Canopy   []float32 // share of its ground that it shades, by day from From; empty: as a full stand of its stage
	Mulch    garden.Mulch
	Wets     float64 // share of the ground that its watering wets
	Waters   bool    // it is watered at all
}

// Wetted is the share of a bed's ground that a way of watering wets, and Reaches what of the water given comes to the roots.
//
// Source: FAO56 table 20 (sprinkler 1.0, trickle 0.3–0.4); FAO-TM4 (sprinkler 75 %, drip 90 %); a can at the plants' feet is
// common practice
func Wetted(way garden.WateringWay) (share, reaches float64) {
	switch way {
	case garden.ByDrip:
		return 0.35, 0.90
	case garden.BySprinkler:
		return 1, 0.75
	case garden.ByHose:
		return 0.8, 0.80
	}
	return 0.5, 0.90
}

// ClimateOf is how a record's warm days move printed coefficients: their wind, and the least humidity, told from the night's
// minimum where it was not measured. Days whose mean is under 10 °C do not count.
//
// Source: FAO56 eq. 62 and 64
func ClimateOf(p Place, r *weather.Record) Climate {
	var wind, damp float64
	winds, damps := 0, 0
	if r == nil {
		return Middling
	}
	for _, d := range r.Days {
		if !d.HasTemp || d.Min+d.Max < 20 {
			continue
		}
		if d.Air.Has&weather.HasWind != 0 {
			wind += d.Air.Wind
			winds++
		}
		least := d.Air.HumidityMin
		if d.Air.Has&weather.HasHumidityMin == 0 {
			vapour, _ := p.vapour(d)
			least = 100 * vapour / SaturationVapourPressure(d.Max)
		}
		damp += least
		damps++
	}
	c := Middling
	if winds > 0 {
		c.Wind = wind / float64(winds)
	}
	if damps > 0 {
		c.HumidityMin = damp / float64(damps)
	}
	return c
}

// course is what a stand asks on each of its days, weather apart.
type course []Asks

// course reckons it once for all weather years.
func (s Stand) course(c Climate) course {
	n := max(0, int(s.To-s.From))
	stages := s.Crop.StagesFor(n)
	height := float64(s.Crop.Height)
	basal := s.Crop.Basal
	basal[1], basal[2] = c.Adjust(basal[1], height), c.Adjust(basal[2], height)
	out := make(course, n)
	for i := range out {
		day := float64(i) + 0.5
		a := &out[i]
		a.Basal = stages.At(basal, day)
		tall := max(0.05, height*stages.Grown(day))
		a.Most = c.Most(a.Basal, tall)
		a.Cover = Covered(a.Basal, a.Most, tall)
		if i < len(s.Canopy) {
			cover := max(0, min(0.99, float64(s.Canopy[i])))
			late := a.Basal / basal[1]
			if day <= stages[0]+stages[1] {
				late = 1
			}
			a.Cover, a.Basal = cover, Thinly(basal[1], cover, tall)*min(1, late)
			a.Most = c.Most(a.Basal, tall)
		}
		if s.Up > s.From && s.From.Add(i) < s.Up {
			a.Basal, a.Cover = 0, 0
		}
		if s.Settled {
			a.Root, a.Share, a.Mulch, a.Wets = float64(s.Crop.Root), s.Crop.Share, s.Mulch, s.Wets
			continue
		}
		a.Root = float64(s.Crop.Sown) + float64(s.Crop.Root-s.Crop.Sown)*stages.Grown(day)
		a.Share, a.Mulch, a.Wets = s.Crop.Share, s.Mulch, s.Wets
	}
	return out
}

// bare is what ground asks without a crop.
func bare(c Climate, root float64) Asks {
	return Asks{Most: c.Most(0, 0.05), Root: root, Share: 0.5, Wets: 1}
}
