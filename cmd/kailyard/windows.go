package main

import (
	"context"
	"fmt"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/season"
)

type windowsCmd struct {
	seasonFlag
	Crop  string  `arg:"" help:"A crop's name, kind or ID."`
	Share float64 `help:"The share of weather years that must succeed." default:"0.8"`
	Under string  `help:"Under this cover too, compared with the open: cloche, row cover, heavy row cover, low tunnel, row-covered tunnel, cold frame or high tunnel; all: each that has room." placeholder:"COVER"`
}

func (windowsCmd) example() string {
	return "kailyard windows 'snap bean' --share 0.9\nkailyard windows lettuce --under 'cold frame'\nkailyard windows carrot --under all"
}

type windowJSON struct {
	CropID       string     `json:"crop_id"`
	Crop         string     `json:"crop"`
	Way          string     `json:"way"`
	Under        string     `json:"under,omitempty"`
	Earlier      *int       `json:"opens_earlier_days,omitempty"`
	Later        *int       `json:"closes_later_days,omitempty"`
	Sooner       *int       `json:"ready_earlier_days,omitempty"`
	Share        float64    `json:"success_share"`
	From         civil.Date `json:"from"`
	To           civil.Date `json:"to"`
	Best         civil.Date `json:"best"`
	SuccessYears int        `json:"success_years_at_best"`
	Years        int        `json:"weather_years"`
	Days         [3]int     `json:"days_to_harvest_p10_p50_p90"`
	Opens        string     `json:"opens"`
	Closes       string     `json:"closes"`
}

// Run prints planting windows.
func (c *windowsCmd) Run(ctx context.Context, e *env) error {
	if err := checkShare(c.Share); err != nil {
		return err
	}
	covers, err := coversNamed(c.Under)
	if err != nil {
		return err
	}
	return e.with(ctx, reading, func(b *book.Book) error {
		in, err := input(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		found, near := in.Crops.Match(c.Crop)
		if len(found) == 0 {
			return season.UnknownCrop(c.Crop, near)
		}
		in.Garden.Standing, in.Garden.Wants, in.Garden.Site.Covers = nil, nil, covers
		for _, one := range found {
			in.Garden.Wants = append(in.Garden.Wants, garden.Want{Crop: one.ID})
		}
		r, err := season.Prepare(in)
		if err != nil {
			return err
		}
		list := windowsOf(r, c.Share)
		if e.json {
			return e.printJSON(withLacks(r, list, c.Share))
		}
		e.printf("%s, season %s\n%s\n", in.Garden.Site.Name, r.Season, wrapped(basisWords(r), "", 92))
		if len(list) == 0 {
			e.printf("\nNo day does for %s in %.0f %% of the weather years. Try a lower --share, or another kind.\n", c.Crop, 100*c.Share)
		}
		for _, t := range r.Tables {
			e.printTable(r, t, list, c.Share)
		}
		return nil
	})
}

// checkShare refuses what is no share of the weather years, such as NaN, of which every comparison is false.
func checkShare(share float64) error {
	if !(share > 0 && share <= 1) {
		return usageError{fmt.Sprintf("--share %g: give a share above 0 and up to 1, such as 0.8", share)}
	}
	return nil
}

// windowsOf are the windows of every table of a season.
func windowsOf(r *season.Result, share float64) []windowJSON {
	u, list := r.Garden.Site.Units, []windowJSON{}
	for _, t := range r.Tables {
		for _, w := range t.Windows(share) {
			s := t.Summary(w.Best)
			one := windowJSON{
				CropID: t.Option.Crop.ID, Crop: t.Option.Crop.Name(), Way: string(wayOf(t)), Share: share, From: w.From, To: w.To,
				Best: w.Best, SuccessYears: s.Success, Years: s.Years, Days: w.Days, Opens: w.Opens.Reason(u).Says, Closes: w.Closes.Reason(u).Says,
			}
			one.compare(r, t, w, share)
			list = append(list, one)
		}
	}
	return list
}

// noWindowJSON stands for a way of growing that has no window, and says why.
type noWindowJSON struct {
	CropID       string      `json:"crop_id"`
	Crop         string      `json:"crop"`
	Way          string      `json:"way"`
	Under        string      `json:"under,omitempty"`
	Share        float64     `json:"success_share"`
	None         string      `json:"why_none"`
	Best         *civil.Date `json:"best"` // null where no day succeeds in any year
	SuccessYears int         `json:"success_years_at_best"`
	Years        int         `json:"weather_years"`
}

// withLacks is the windows and, for every way of growing that has none, why.
func withLacks(r *season.Result, list []windowJSON, share float64) []any {
	all := []any{}
	for _, t := range r.Tables {
		none := true
		for _, w := range list {
			if w.of(t) {
				all, none = append(all, w), false
			}
		}
		if !none {
			continue
		}
		lack := t.Lack()
		one := noWindowJSON{
			CropID: t.Option.Crop.ID, Crop: t.Option.Crop.Name(), Way: string(wayOf(t)), Under: coverID(t), Share: share,
			None: lack.Says(r.Garden.Site.Units), SuccessYears: lack.Best.Success, Years: lack.Best.Years,
		}
		if lack.Best.Success > 0 {
			one.Best = &lack.Best.Start
		}
		all = append(all, one)
	}
	return all
}

// of says whether a window is one of a table's.
func (v windowJSON) of(t *growth.Table) bool {
	return v.CropID == t.Option.Crop.ID && v.Way == string(wayOf(t)) && v.Under == coverID(t)
}

// coverID is the cover of a table; empty in the open.
func coverID(t *growth.Table) string {
	if t.Option.Protection == nil {
		return ""
	}
	return t.Option.Protection.ID
}

func wayOf(t *growth.Table) crop.Way { return t.Option.Crop.Methods[t.Option.Method].Way }

// printTable prints the windows of one way of growing a crop or, where it has none, what is in the way.
func (e *env) printTable(r *season.Result, t *growth.Table, list []windowJSON, share float64) {
	head := fmt.Sprintf("%s, to %s%s", t.Option.Crop.Name(), verb(wayOf(t)), underWords(coverID(t)))
	date := civil.Date.Short
	if r.Season.Start.Year() != r.Season.End().Year() {
		date = season.Dated
	}
	none := true
	for _, w := range list {
		if !w.of(t) {
			continue
		}
		none = false
		span := fmt.Sprintf("%s to %s (best %s, %d years of %d)", date(w.From), date(w.To), date(w.Best), w.SuccessYears, w.Years)
		if w.From == w.To {
			span = fmt.Sprintf("only on %s (%d years of %d)", date(w.From), w.SuccessYears, w.Years)
		}
		e.printf("\n%s: %s\n", head, span)
		e.printf("  first harvest after %d days (%d to %d in eight years of ten)\n", w.Days[1], w.Days[0], w.Days[2])
		e.printf("%s", w.compared())
		e.printf("%s\n%s\n", wrapped(w.Opens, "  ", 92), wrapped(w.Closes, "  ", 92))
	}
	if none {
		e.printf("\n%s: no day reaches %.0f %%\n%s\n", head, 100*share, wrapped(t.Lack().Says(r.Garden.Site.Units), "  ", 92))
	}
}
