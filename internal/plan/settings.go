package plan

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// Settings are the person's choices for the planner. Each is described by a Setting record, from
// which flags, form fields, validation and docs come.
type Settings struct {
	Share    float64 `json:"success_share"`      // least share of weather years a planting must succeed in, 0.5–1
	Rotation int     `json:"rotation_years"`     // least years before a family returns to a bed, 3–8
	TurnDays int     `json:"turnaround_days"`    // days between clearing one crop and planting the next
	Seed     int64   `json:"seed"`               // of the search
	Rounds   int     `json:"improvement_rounds"` // how long to improve
	Work     float64 `json:"work_weight"`        // how dear work is, 1 as stated in this package, 0.25–4
	Risk     int     `json:"risk"`               // how the weather years count: byMeanHarvest, byEveryYear, byPoorestTenth
	Ground   float64 `json:"ground_weight"`      // how dear ground held is, 1 as stated in this package, 0.25–200
}

// Setting describes one field of Settings.
type Setting struct {
	Name, Meaning, Unit string
	Low, Default, High  float64
	Whole               bool // takes whole numbers only
}

// SettingsList describes every field of Settings, in order. Names are the fields' JSON names.
func SettingsList() []Setting {
	return []Setting{
		{Name: "success_share", Meaning: "the least share of the weather years in which a planting must succeed, and in which the ground must be free when the next crop needs it", Unit: "of 1", Low: 0.5, Default: 0.8, High: 1},
		{Name: "rotation_years", Meaning: "the least years before a family returns to a bed: grown in 2024 with three years, it may return in 2027", Unit: "years", Low: 3, Default: 3, High: 8, Whole: true},
		{Name: "turnaround_days", Meaning: "days kept free before a planting, for clearing the last crop and preparing the ground", Unit: "days", Low: 0, Default: 5, High: 60, Whole: true},
		{Name: "seed", Meaning: "where the search starts from: another seed may find another plan as good", Unit: "", Low: 0, Default: 1, High: 1 << 52, Whole: true},
		{Name: "improvement_rounds", Meaning: "how many changes the search tries to make the plan better", Unit: "rounds", Low: 0, Default: 120000, High: 5_000_000, Whole: true},
		{Name: "work_weight", Meaning: "how much the work of plantings counts against what they bring: at two a planting must bring twice as much to be worth its work", Unit: "times", Low: 0.25, Default: 1, High: 4},
		{Name: "ground_weight", Meaning: "how much the ground that plantings hold, and for how long, counts against what they bring: the higher, the more ground stays free", Unit: "times", Low: 0.25, Default: 1, High: 200},
		{Name: "risk", Meaning: "how the weather years count: 0 by the mean harvest, where a good year makes up for a poor one; 1 by what the harvest of each is worth, in the mean of all; 2 the same in the mean of the poorest tenth, so that there is enough in nine years of ten", Unit: "", Low: byMeanHarvest, Default: byEveryYear, High: byPoorestTenth, Whole: true},
	}
}

// DefaultSettings are the defaults of SettingsList.
func DefaultSettings() Settings {
	var s Settings
	for _, r := range SettingsList() {
		s.put(r.Name, r.Default)
	}
	return s
}

// Put sets the field with a Setting's name, and refuses an unknown name or a value out of range.
func (s *Settings) Put(name string, value float64) error {
	for _, r := range SettingsList() {
		if r.Name == name {
			if err := r.Check(value); err != nil {
				return err
			}
			s.put(name, value)
			return nil
		}
	}
	return fmt.Errorf("there is no planner setting %q", name)
}

// Get is the value of the field with a Setting's name; ok is false for an unknown name.
func (s Settings) Get(name string) (value float64, ok bool) {
	switch name {
	case "success_share":
		return s.Share, true
	case "rotation_years":
		return float64(s.Rotation), true
	case "turnaround_days":
		return float64(s.TurnDays), true
	case "seed":
		return float64(s.Seed), true
	case "improvement_rounds":
		return float64(s.Rounds), true
	case "work_weight":
		return s.Work, true
	case "ground_weight":
		return s.Ground, true
	case "risk":
		return float64(s.Risk), true
	}
	return 0, false
}

func (s *Settings) put(name string, value float64) {
	switch name {
	case "success_share":
		s.Share = value
	case "rotation_years":
		s.Rotation = int(value)
	case "turnaround_days":
		s.TurnDays = int(value)
	case "seed":
		s.Seed = int64(value)
	case "improvement_rounds":
		s.Rounds = int(value)
	case "work_weight":
		s.Work = value
	case "ground_weight":
		s.Ground = value
	case "risk":
		s.Risk = int(value)
	}
}

// UnmarshalJSON reads settings as they were kept; one newer than what was kept has its default.
func (s *Settings) UnmarshalJSON(body []byte) error {
	type kept Settings
	known := kept(DefaultSettings())
	if err := json.Unmarshal(body, &known); err != nil {
		return err
	}
	*s = Settings(known)
	return nil
}

// Validate says in a sentence which setting is out of range.
func (s Settings) Validate() error {
	for _, r := range SettingsList() {
		v, _ := s.Get(r.Name)
		if err := r.Check(v); err != nil {
			return err
		}
	}
	return nil
}

// Check says in a sentence what is wrong with a value for the setting.
func (r Setting) Check(value float64) error {
	plain := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	if math.IsNaN(value) || value < r.Low || value > r.High {
		return fmt.Errorf("the planner setting %s is %v; it must lie between %s and %s", r.Name, value, plain(r.Low), plain(r.High))
	}
	if r.Whole && value != math.Trunc(value) {
		return fmt.Errorf("the planner setting %s is %v; it must be a whole number", r.Name, value)
	}
	return nil
}
