package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

type gainCmd struct {
	seasonFlag
}

func (gainCmd) example() string { return "kailyard gain --book garden.kailyard" }

type gainJSON struct {
	Reach *float64      `json:"reach_share"`
	Bound *float64      `json:"bound"`
	Rest  []portionJSON `json:"rest"`
	Says  []string      `json:"says"`
	Helps []helpJSON    `json:"helps"`
}

type helpJSON struct {
	Kind      plan.ChangeKind  `json:"kind"`
	Title     string           `json:"title"`
	Says      string           `json:"says"`
	GainShare float64          `json:"gain_share"`
	WorkHours float64          `json:"work_more_hours"`
	Bed       string           `json:"bed,omitempty"`
	LengthM   float64          `json:"length_m,omitempty"`
	WidthM    float64          `json:"width_m,omitempty"`
	Under     string           `json:"under,omitempty"`
	Without   string           `json:"without,omitempty"`
	Wants     []wantChangeJSON `json:"wants"`
}

type wantChangeJSON struct {
	Crop     string  `json:"crop"`
	MoreKg   float64 `json:"more_kg"`
	DaysSoon int     `json:"sooner_days"`
}

// Run says how near the plan comes to what any plan could, where the rest goes, and what would help.
func (c *gainCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, reading, func(b *book.Book) error {
		r, err := kept(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		reach, known := r.Reach()
		helps, err := r.Helps()
		if err != nil {
			return err
		}
		if e.json {
			return e.printJSON(gainOf(r, reach, known, helps))
		}
		if known {
			e.printf("%s\n%s\n\n", wrapped(reach.Says, "", 92), wrapped(reach.Rest+reach.Untold, "", 92))
		}
		if len(helps) == 0 {
			e.printf("%s\n", wrapped(season.NothingHelps, "", 92))
			return nil
		}
		e.printf("WHAT WOULD HELP, each by itself, planned from the plan as it is\n")
		for _, h := range helps {
			e.printf("\n  %s\n%s\n", h.Title, wrapped(h.Says, "    ", 92))
		}
		return nil
	})
}

func gainOf(r *season.Result, reach season.Reach, known bool, helps []season.Helped) gainJSON {
	v := gainJSON{Rest: portionsOf(reach), Says: []string{}, Helps: []helpJSON{}}
	if known {
		bound, share := r.Plan.Bound, thousandth(reach.Share)
		v.Bound, v.Reach = &bound, &share
		for _, says := range []string{reach.Says, reach.Rest, reach.Untold} {
			if says != "" {
				v.Says = append(v.Says, says)
			}
		}
	}
	for _, h := range helps {
		one := helpJSON{Kind: h.Kind, Title: h.Title, Says: h.Says, GainShare: thousandth(h.Share), WorkHours: thousandth(float64(h.Hours)), Wants: []wantChangeJSON{}}
		switch h.Kind {
		case plan.MoreGround:
			one.LengthM, one.WidthM = float64(h.Bed.Length), float64(h.Bed.Width)
		case plan.MoreSun:
			one.Bed = h.Bed.Name
		case plan.MoreCover:
			one.Under = h.Cover.ID
		case plan.FewerWants:
			one.Without = h.Want.Crop
		}
		for _, w := range h.Wants {
			one.Wants = append(one.Wants, wantChangeJSON{w.Want.Crop, thousandth(float64(w.More)), w.Sooner})
		}
		v.Helps = append(v.Helps, one)
	}
	return v
}
