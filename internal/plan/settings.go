package plan

// Settings are the person's choices for the planner. Each is described by a Setting record, from
// which flags, form fields, validation and docs come.
type Settings struct {
	Share    float64 `json:"success_share"`      // least share of weather years a planting must succeed in, 0.5–1
	Rotation int     `json:"rotation_years"`     // least years before a family returns to a bed, 3–8
	TurnDays int     `json:"turnaround_days"`    // days between clearing one crop and planting the next
	Seed     int64   `json:"seed"`               // of the search
	Rounds   int     `json:"improvement_rounds"` // how long to improve
}

// Setting describes one field of Settings.
type Setting struct {
	Name, Meaning, Unit string
	Low, Default, High  float64
}
