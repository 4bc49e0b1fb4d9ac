package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/season"
)

type readyCmd struct {
	Crop  string  `arg:"" help:"A crop's name, kind or ID."`
	By    string  `help:"The day it must be ready by: a date, or a feast such as easter, thanksgiving or 'christmas 2028' (${feasts})." required:"" placeholder:"DATE|FEAST"`
	Share float64 `help:"The share of weather years in which it must be ready." default:"0.8"`
}

func (readyCmd) example() string { return "kailyard ready carrot --by christmas --share 0.9" }

type readyJSON struct {
	CropID   string           `json:"crop_id"`
	Crop     string           `json:"crop"`
	Way      string           `json:"way"`
	Day      civil.Date       `json:"day"`
	Feast    string           `json:"feast,omitempty"`
	Share    float64          `json:"share"`
	Fresh    *readyAnswerJSON `json:"fresh"`
	Stored   *readyAnswerJSON `json:"stored"`
	Keeps    int              `json:"keeps_days"`
	Starts   []readyStartJSON `json:"starts"`
	Says     []string         `json:"says"`
	Earliest civil.Date       `json:"looked_at_from"`
}

type readyAnswerJSON struct {
	Can   bool            `json:"reaches_share"`
	Spans []readySpanJSON `json:"start_spans"`
	Best  civil.Date      `json:"best_start"`
	Years int             `json:"ready_years_at_best"`
	Of    int             `json:"weather_years"`
}

type readySpanJSON struct {
	From      civil.Date  `json:"from"`
	To        civil.Date  `json:"to"`
	RaiseFrom *civil.Date `json:"sow_under_cover_from"`
	RaiseTo   *civil.Date `json:"sow_under_cover_to"`
}

type readyStartJSON struct {
	Start civil.Date `json:"start"`
	Ready int        `json:"ready_years"`
	Kept  int        `json:"kept_years"`
	Late  int        `json:"late_years"`
	Over  int        `json:"over_years"`
	Lost  int        `json:"lost_years"`
}

// Run works back from a day.
func (c *readyCmd) Run(ctx context.Context, e *env) error {
	if err := checkShare(c.Share); err != nil {
		return err
	}
	day, feast, err := civil.ParseDay(c.By, e.Today)
	if err != nil {
		return usageError{"--by: " + err.Error()}
	}
	return e.with(ctx, reading, func(b *book.Book) error {
		in, err := input(ctx, e, b, seasonFlag{})
		if err != nil {
			return err
		}
		found, near := in.Crops.Match(c.Crop)
		if len(found) == 0 {
			return season.UnknownCrop(c.Crop, near)
		}
		in.Garden.Standing, in.Garden.Wants = nil, nil
		in.Season = civil.SeasonHolding(day, in.Garden.Site.Latitude)
		r, err := season.Prepare(in)
		if err != nil {
			return err
		}
		list, verbs := []readyJSON{}, []string{}
		for _, one := range found {
			ways, err := r.Ready(one, day, c.Share, e.Today)
			if err != nil {
				return err
			}
			for _, a := range ways {
				list, verbs = append(list, readyOf(a, feast)), append(verbs, a.Verb())
			}
		}
		if e.json {
			return e.printJSON(list)
		}
		title := day.Long()
		if feast != "" {
			title = feast + ", " + title
		}
		e.printf("%s: ready by %s\n%s\n", in.Garden.Site.Name, title, wrapped(basisWords(r), "", 92))
		for i, v := range list {
			e.printf("\n%s, to %s\n", v.Crop, verbs[i])
			for _, s := range v.Says {
				e.printf("%s\n", wrapped(s, "  ", 92))
			}
		}
		return nil
	})
}

func readyOf(a season.Ready, feast string) readyJSON {
	v := readyJSON{
		CropID: a.Crop.ID, Crop: a.Crop.Name(), Way: string(a.Method.Way), Day: a.Day, Feast: feast, Share: a.Share,
		Keeps: a.Crop.Harvest.StoreDays, Starts: []readyStartJSON{}, Says: a.Says(), Earliest: a.Day,
	}
	if a.Never != "" {
		return v
	}
	v.Fresh = answerOf(a, a.Fresh, a.Fresh.Best.Ready)
	if a.Stored != nil {
		v.Stored = answerOf(a, *a.Stored, a.Stored.Best.Ready+a.Stored.Best.Kept)
	}
	for i, s := range a.Starts {
		if i == 0 {
			v.Earliest = s.Start
		}
		if s.Ready+s.Kept > 0 {
			lost := s.Years - s.Ready - s.Kept - s.Late - s.Over
			v.Starts = append(v.Starts, readyStartJSON{s.Start, s.Ready, s.Kept, s.Late, s.Over, lost})
		}
	}
	return v
}

func answerOf(r season.Ready, a season.Answer, years int) *readyAnswerJSON {
	v := &readyAnswerJSON{Can: a.Can(), Spans: []readySpanJSON{}, Best: a.Best.Start, Years: years, Of: a.Best.Years}
	for _, s := range a.Spans {
		span := readySpanJSON{From: s.From, To: s.To}
		if from, to := r.Raised(s.From), r.Raised(s.To); from != s.From {
			span.RaiseFrom, span.RaiseTo = &from, &to
		}
		v.Spans = append(v.Spans, span)
	}
	return v
}

// feastNames is the list for --help.
func feastNames() string {
	names := ""
	for i, f := range civil.Feasts() {
		if i > 0 {
			names += ", "
		}
		names += f.ID
	}
	return names
}
