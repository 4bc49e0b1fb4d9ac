package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// shelterView is the form that lets a person say what one planting grows under.
type shelterView struct {
	Key     string
	None    string // why there is nothing to choose
	Start   string
	Day     string // the day it goes in, to change; empty where it has begun
	Begun   bool   // it is in the ground already
	Choices []shelterChoice
}

// shelterChoice is one way of growing it, with what it brings.
type shelterChoice struct {
	Value, Label string
	Chosen       bool
	Has          bool
	Cannot       string
	Success      string
	Harvest      string
	Earlier      string // against the open
	Window       string
	Lost         string
	Gives        string
	Clash        []navLink // plantings that would be planned anew
}

// shelter is the form of a planting; nil where nothing can be kept.
func (s *site) shelter(now *season.Result, q garden.Planting) *shelterView {
	if s.Under == nil || q.Years == 0 && undated(&q) || q.Status == garden.Over || q.Status == garden.Lost {
		return nil
	}
	return remember(s, now, fmt.Sprintf("shelter %s %s", q.Key, s.Today()), func() *shelterView {
		v := &shelterView{Key: q.Key, Start: q.Start.Short(), Begun: q.Status == garden.InGround || q.Start < s.Today()}
		if !v.Begun {
			v.Day = q.Start.String()
		}
		list, why := now.Shelters(q, s.Today())
		v.None = why
		for _, one := range list {
			v.Choices = append(v.Choices, shelterChoiceOf(now, one))
		}
		return v
	})
}

func shelterChoiceOf(now *season.Result, one season.Shelter) shelterChoice {
	c := shelterChoice{Value: garden.InTheOpen, Label: "in the open", Chosen: one.Here, Has: one.Has, Cannot: one.Cannot}
	if one.Cover != nil {
		c.Value, c.Label = one.Cover.ID, "under "+one.Cover.Under()
	}
	if one.Window.To > 0 {
		c.Window = "may go in " + spanText(one.Window)
	}
	if one.Success == 0 {
		return c
	}
	c.Success = fmt.Sprintf("harvest in %d years of %d", one.Success, one.Years)
	c.Harvest = "first picking about " + one.First.P50.Short()
	if one.Cover != nil && one.Earlier != nil {
		c.Earlier = sooner(*one.Earlier)
	}
	c.Lost = lostText(one)
	if one.Cannot == "" {
		c.Gives = "about " + now.Garden.Site.Units.Mass(one.Expect)
	}
	for _, key := range one.Clash {
		if o, ok := now.Planting(key); ok {
			c.Clash = append(c.Clash, navLink{Href: "/planting/" + key, Label: upper(cropName(now, o.CropID)) + " " + key})
		}
	}
	return c
}

// sooner is a number of days against the open.
func sooner(days int) string {
	switch {
	case days == 0:
		return "the same day"
	case days < 0:
		return plural(-days, "day", "days") + " later"
	}
	return plural(days, "day", "days") + " sooner"
}

func lostText(one season.Shelter) string {
	switch {
	case one.Cold == 0 && one.Heat == 0:
		return "none lost to cold or heat"
	case one.Heat == 0:
		return fmt.Sprintf("cold ends %s, heat none", plural(one.Cold, "year", "years"))
	case one.Cold == 0:
		return fmt.Sprintf("heat spoils %s, cold none", plural(one.Heat, "year", "years"))
	}
	return fmt.Sprintf("cold ends %s, heat spoils %d", plural(one.Cold, "year", "years"), one.Heat)
}

// growUnder keeps what a planting grows under.
func (s *site) growUnder(w http.ResponseWriter, r *http.Request) error {
	if s.Under == nil {
		return missing("page for this")
	}
	key, cover, how := r.PathValue("key"), r.PostFormValue("under"), season.Growing{}
	now, err := s.current(r)
	if err != nil {
		return err
	}
	q, ok := plantingOf(now, key)
	if !ok {
		return missing("planting of that name in this season's plan")
	}
	moved := *q
	if text := r.PostFormValue("day"); text != "" && text != q.Start.String() {
		day, err := civil.Parse(text)
		if err != nil {
			return problem{badRequest, quoted(text) + " is no date.", "Go back and write the day as year-month-day: nothing was changed."}
		}
		if moved, err = now.BegunOn(*q, day, s.Today()); err != nil {
			return problem{refused, sentence(err.Error(), ""), "Go back to the planting: nothing was changed."}
		}
		how.Start = &day
	}
	list, why := now.Shelters(moved, s.Today())
	if why != "" {
		return problem{refused, why, "Go back to the planting: nothing was changed."}
	}
	for _, one := range list {
		if c := shelterChoiceOf(now, one); c.Value != cover {
			continue
		} else if c.Cannot != "" {
			return problem{refused, upper(c.Label) + " it cannot be grown. " + c.Cannot, "Go back and choose another: nothing was changed."}
		}
		if one.Cover != nil {
			how.Cover = one.Cover.ID
		}
		var store told
		if err := s.Under(r.Context(), key, how); errors.As(err, &store) {
			return err
		} else if err != nil {
			return problem{refused, sentence(err.Error(), ""), "Go back to the planting: nothing was changed."}
		}
		return seeOther(w, r, "/planting/"+url.PathEscape(key)+"?done=grown")
	}
	return problem{badRequest, quoted(cover) + " is no way this can be grown.", "Go back and choose one of those offered: nothing was changed."}
}
