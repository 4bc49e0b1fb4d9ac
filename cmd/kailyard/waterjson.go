package main

import (
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/season"
	"kailyard/internal/water"
)

type waterJSON struct {
	Season   string         `json:"season"`
	Years    int            `json:"weather_years"`
	Basis    []string       `json:"basis"`
	Typical  float64        `json:"typical_l"`
	Dry      float64        `json:"dry_l"`
	PeakWeek civil.Date     `json:"peak_week"`
	Peak     float64        `json:"peak_l"`
	TapHours float64        `json:"peak_tap_hours"`
	Exceeds  string         `json:"exceeds_supply"`
	Tank     *tankJSON      `json:"tank"`
	Beds     []bedWaterJSON `json:"beds"`
	Says     []string       `json:"says"`
	Cautions []string       `json:"cautions"`
}

type tankJSON struct {
	Met    float64        `json:"met_share"`
	Short  float64        `json:"short_l"`
	Whole  float64        `json:"whole_years_share"`
	Caught float64        `json:"caught_l"`
	Spilt  float64        `json:"spilt_l"`
	Enough float64        `json:"enough_l"`
	Weeks  []tankWeekJSON `json:"weeks"`
}

type tankWeekJSON struct {
	From     civil.Date `json:"from"`
	Chance   float64    `json:"meets_share"`
	Holds    float64    `json:"holds_l"`
	Short    float64    `json:"short_l"`
	DryShort float64    `json:"dry_short_l"`
}

type bedWaterJSON struct {
	Bed        string          `json:"bed"`
	WateredBy  string          `json:"watered_by"`
	Typical    float64         `json:"typical_l"`
	Dry        float64         `json:"dry_l"`
	WateringIn float64         `json:"watering_in_l"`
	Demand     float64         `json:"demand_l"`
	Weeks      []waterWeekJSON `json:"weeks"`
}

type waterWeekJSON struct {
	From    civil.Date      `json:"from"`
	Area    float64         `json:"area_m2"`
	In      float64         `json:"watering_in_l"`
	Typical waterAmountJSON `json:"typical"`
	Dry     waterAmountJSON `json:"dry"`
	Parts   []waterPartJSON `json:"parts"`
}

type waterPartJSON struct {
	Crops   []string        `json:"crops"`
	Area    float64         `json:"area_m2"`
	Typical waterAmountJSON `json:"typical"`
	Dry     waterAmountJSON `json:"dry"`
}

type waterAmountJSON struct {
	Water float64 `json:"water_l"`
	Depth float64 `json:"depth_mm"`
	Times float64 `json:"times"`
	Every float64 `json:"every_days"`
	Days  float64 `json:"days_held"`
	Says  string  `json:"says,omitempty"`
}

// joined is a week in a line for each kind of year, part after part.
func joined(parts []water.PartTold) (typical, dry string) {
	var lines [2][]string
	for _, p := range parts {
		head := ""
		if p.Ground != "" {
			head = p.Ground + ": "
		}
		lines[0], lines[1] = append(lines[0], head+p.Typical), append(lines[1], head+p.Dry)
	}
	if len(parts) == 0 {
		return "no watering", "no watering"
	}
	return strings.Join(lines[0], "; "), strings.Join(lines[1], "; ")
}

func amountJSON(a water.Amount) waterAmountJSON {
	return waterAmountJSON{float64(a.Water), float64(a.Depth), a.Times, a.Every(), a.Held(), ""}
}

type waterTodayJSON struct {
	Day      civil.Date       `json:"day"`
	Measured *civil.Date      `json:"measured_to"`
	Untold   string           `json:"why_not_told"`
	Beds     []bedThirstJSON  `json:"beds"`
	Stands   []bedStandWaters `json:"plantings"`
	Basis    []string         `json:"basis"`
	Notes    []string         `json:"notes"`
}

type bedThirstJSON struct {
	Bed     string  `json:"bed"`
	Now     bool    `json:"wants_water"`
	Give    float64 `json:"give_l"`
	Depth   float64 `json:"give_mm"`
	Cans    float64 `json:"cans"`
	Minutes float64 `json:"minutes"`
	Says    string  `json:"says"`
}

type bedStandWaters struct {
	Planting string  `json:"planting"`
	Missing  float64 `json:"missing_mm"`
	Ready    float64 `json:"may_miss_mm"`
	Now      bool    `json:"wants_water"`
	Days     int     `json:"days_without_rain"`
	Stress   float64 `json:"draws_share"`
}

func waterJSONOf(w *season.Water, beds []season.BedWater) waterJSON {
	v := waterJSON{
		Season: w.Season.String(), Years: w.Needs.Years, Basis: orEmpty(w.Basis), Typical: float64(w.Needs.Typical), Dry: float64(w.Needs.Dry),
		PeakWeek: w.Needs.PeakWeek, Peak: float64(w.Needs.Peak), TapHours: float64(water.TapHours(w.Needs.Peak, w.Site.Supply.Tap)),
		Exceeds: w.Exceeds, Beds: []bedWaterJSON{}, Says: orEmpty(w.Says), Cautions: orEmpty(w.Care),
	}
	if s := w.Store; len(s.Weeks) > 0 {
		v.Tank = &tankJSON{Met: s.Met, Short: float64(s.Short), Whole: s.Whole, Caught: float64(s.Caught), Spilt: float64(s.Spilt), Enough: float64(s.Enough)}
		for _, one := range s.Weeks {
			v.Tank.Weeks = append(v.Tank.Weeks, tankWeekJSON{one.From, one.Chance, float64(one.Holds), float64(one.Short), float64(one.DryShort)})
		}
	}
	for _, b := range beds {
		one := bedWaterJSON{b.Bed.Name, string(b.Way.By), float64(b.Need.Typical), float64(b.Need.Dry), float64(b.Need.WateringIn), float64(b.Need.Demand), []waterWeekJSON{}}
		for _, week := range b.Need.Weeks {
			told := waterWeekJSON{week.From, float64(week.Area), float64(week.In), amountJSON(week.Typical), amountJSON(week.Dry), []waterPartJSON{}}
			for _, p := range week.Parts {
				told.Parts = append(told.Parts, waterPartJSON{orEmpty(p.Names), float64(p.Area), amountJSON(p.Typical), amountJSON(p.Dry)})
			}
			told.Typical.Says, told.Dry.Says = joined(water.TellParts(week, b.Way, w.Site.Supply, w.Site.Units))
			one.Weeks = append(one.Weeks, told)
		}
		v.Beds = append(v.Beds, one)
	}
	return v
}

func waterTodayOf(w *season.Water) waterTodayJSON {
	v := waterTodayJSON{Day: w.Day, Measured: dateOrNil(w.Today.Measured), Untold: w.Untold, Beds: []bedThirstJSON{}, Stands: []bedStandWaters{}, Basis: orEmpty(w.Rests), Notes: orEmpty(w.Today.Notes)}
	for _, b := range w.Beds {
		if b.Says != "" {
			v.Beds = append(v.Beds, bedThirstJSON{b.Bed.Name, b.Now, float64(b.Give.Water), float64(b.Give.Depth), b.Give.Cans, b.Give.Minutes, b.Says})
		}
	}
	seen := map[string]bool{}
	for _, t := range w.Today.Ground { // the thirstiest piece of a planting's ground stands first
		for _, s := range t.Stands {
			if !seen[s.Key] {
				seen[s.Key] = true
				v.Stands = append(v.Stands, bedStandWaters{s.Key, float64(t.Missing), float64(t.Ready), t.Now, t.Days, t.Stress})
			}
		}
	}
	return v
}
