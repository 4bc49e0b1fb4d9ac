package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"net/http"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// soilKnown is the soil book of the garden as it stands, and the season it was read with.
type soilKnown struct {
	garden garden.Garden
	ground *season.Ground
	now    *season.Result // nil: no plan, so beds count as mixed vegetables
	site   *site
	r      *http.Request
}

// frame is the frame of a page about the ground.
func (k soilKnown) frame(title string) frame {
	if k.now != nil {
		return k.site.seasonFrame(title, k.r, k.now)
	}
	return k.site.gardenFrame(title, k.r, k.garden)
}

// groundOf reads the soil book. It asks for no plan: what a plan and the weather tell is left out where there are none.
func (s *site) groundOf(r *http.Request) (soilKnown, error) {
	k := soilKnown{site: s, r: r}
	var err error
	if k.garden, err = s.Store.Garden(r.Context()); err != nil {
		return k, err
	}
	k.now, err = s.Season(r.Context())
	var store told
	if errors.As(err, &store) {
		return k, err
	}
	if err != nil {
		k.now = nil
	}
	today := s.Today()
	in := season.GroundInput{Season: s.shownSeason(r, k.garden), Garden: k.garden, Crops: s.cropsOf(k.garden), Day: today}
	if k.now != nil {
		in.Season, in.Crops, in.Record, in.Years, in.Plan = k.now.Season, k.now.Crops, k.now.Record, k.now.Years, k.now.Plan
	} else if s.Record != nil {
		if in.Record, err = s.Record(r.Context()); err != nil {
			return k, err
		}
	}
	if in.Journal, err = s.Store.Journal(r.Context(), civil.Span{From: civil.Of(1900, 1, 1), To: today}); err != nil {
		return k, err
	}
	key, err := groundKey(in)
	if err != nil {
		return k, err
	}
	type made struct {
		ground *season.Ground
		err    error
	}
	m := remember(s, k.now, key, func() (m made) {
		m.ground, m.err = season.GroundOf(in)
		return m
	})
	if m.err != nil {
		return k, problem{notReady, "The soil book cannot be read: " + m.err.Error() + ".", "Mend what is named, on the garden's page or among the soil's facts; then this page fills."}
	}
	k.ground = m.ground
	return k, nil
}

// shownSeason is the season the pages are about where there is no plan: the one that is shown, else the one that holds the day.
func (s *site) shownSeason(r *http.Request, g garden.Garden) civil.Season {
	if s.Seasons != nil {
		if _, shown, err := s.Seasons(r.Context()); err == nil && shown.Days > 0 {
			return shown
		}
	}
	return civil.SeasonHolding(s.Today(), g.Site.Latitude)
}

// recordKey stands for the weather record of a book without a plan; with one, the season stands for it.
func recordKey(in season.GroundInput) any {
	if in.Record == nil || in.Plan != nil {
		return nil
	}
	sum := 0.0
	for _, d := range in.Record.Days {
		sum += float64(d.Min) + float64(d.Max) + float64(d.Rain)
	}
	return []any{in.Record.Station, in.Record.Source, len(in.Record.Days), sum}
}

// groundKey stands for all that the soil book is read from, besides the season.
func groundKey(in season.GroundInput) (string, error) {
	g := in.Garden
	text, err := json.Marshal([]any{g.Site, g.Beds, g.History, g.Wants, g.Standing, g.Tests, g.Treatments, g.Packages, g.Heaps, recordKey(in), in.Season, len(in.Journal)})
	if err != nil {
		return "", err
	}
	sum := fnv.New64a()
	sum.Write(text)
	return fmt.Sprintf("ground %s %x", in.Day, sum.Sum64()), nil
}
