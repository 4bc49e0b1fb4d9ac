package soil

import (
	"errors"
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/weather"
)

// Fitness is the chance that ground is dry enough to dig, over the weather years. It is an estimate: of bare,
// level ground that drains, without what stands on it or seeps into it.
type Fitness struct {
	Layer   TopLayer
	Start   civil.Date
	Years   int
	Days    []float64 // share of the years in which each day of the season is fit, a week about it
	Weeks   []FitWeek
	Reasons []garden.Reason
}

// FitWeek is one week of a season.
type FitWeek struct {
	From civil.Date
	Days float64 // of seven, on average, on which it can be dug
	None int     // years in which no day of it can be
}

// fitnessWindow is how many days before and after count for a day's chance, so that thirty years make a smooth line.
const fitnessWindow = 3

// FitnessOf is how often ground can be dug on the days of a season, through every weather year. The years begin lead days before
// the season, so that the ground has the water and the snow that it has then.
func FitnessOf(layer TopLayer, latitude float64, season civil.Season, lead int, years []weather.Scenario) (Fitness, error) {
	return DryingOf(latitude, season, lead, years).Fitness(layer)
}

// Drying is weather years laid over a season with what the air can take each day, reckoned once for every kind of ground.
type Drying struct {
	season civil.Season
	lead   int
	years  []weather.Scenario
	et     [][]float64 // mm, by year and day
}

// DryingOf reckons it.
func DryingOf(latitude float64, season civil.Season, lead int, years []weather.Scenario) Drying {
	d := Drying{season: season, lead: lead, years: years}
	for _, y := range years {
		d.et = append(d.et, dryingOf(latitude, y.Start, y.Min, y.Max))
	}
	return d
}

// Fitness is how often a layer can be dug on the days of the season.
func (d Drying) Fitness(layer TopLayer) (Fitness, error) {
	f := Fitness{Layer: layer, Years: len(d.years), Start: d.season.Start}
	years, days, lead := d.years, d.season.Days, d.lead
	if len(years) == 0 || days <= 0 || lead < 0 {
		return f, errors.New("there are no weather years to tell from; give the garden a weather record first")
	}
	fit := make([]float64, days)
	weeks := make([][]int, (days+6)/7)
	for i, y := range years {
		run := layer.through(y.Min, y.Max, y.Rain, d.et[i])
		if len(run) < lead+days {
			return f, fmt.Errorf("the weather year %d has only %d of %d days", y.Year, len(run), lead+days)
		}
		for w := range weeks {
			weeks[w] = append(weeks[w], 0)
		}
		for i := range days {
			if run[lead+i].Fit() {
				fit[i]++
				weeks[i/7][len(weeks[i/7])-1]++
			}
		}
	}
	f.Days = make([]float64, days)
	for i := range days {
		from, to := max(0, i-fitnessWindow), min(days-1, i+fitnessWindow)
		sum := 0.0
		for j := from; j <= to; j++ {
			sum += fit[j]
		}
		f.Days[i] = sum / float64(to-from+1) / float64(len(years))
	}
	for w, counts := range weeks {
		week := FitWeek{From: f.Start.Add(7 * w)}
		length := min(7, days-7*w)
		for _, n := range counts {
			week.Days += float64(n) * 7 / float64(length) / float64(len(counts))
			if n == 0 {
				week.None++
			}
		}
		f.Weeks = append(f.Weeks, week)
	}
	f.Reasons = append(append(f.Reasons, layer.Reasons...), garden.Reason{
		Says: fmt.Sprintf("From rain, temperature and evaporation of %d weather years, day by day: an estimate for bare, level ground that drains. A handful that crumbles when it is pressed has the last word.", len(years)),
		Rule: "dry enough to dig", Source: "FAO56; AQUACROP",
	})
	return f, nil
}

// On is the chance of a day; false outside the season.
func (f Fitness) On(d civil.Date) (float64, bool) {
	i := int(d - f.Start)
	if i < 0 || i >= len(f.Days) {
		return 0, false
	}
	return f.Days[i], true
}
