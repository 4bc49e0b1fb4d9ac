package web

import (
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// lightSince says that the light is another than the one the plan was made from.
type lightSince struct {
	Says string
	Beds []navLink // whose light it is, where the page is not of one of them
	Plan bool      // whether the page can have it planned again
}

// manyBeds is how many beds are named before the rest is only counted.
const manyBeds = 6

// lightSince is nil while the plan has the light of today, and of a season that is over.
func (s *site) lightSince(now *season.Result) *lightSince {
	changed := s.changedLight(now)
	if len(changed) == 0 {
		return nil
	}
	v := &lightSince{Says: "The light has been changed since this plan was made: plan again.", Plan: s.Replan != nil}
	for _, b := range changed[:min(len(changed), manyBeds)] {
		v.Beds = append(v.Beds, navLink{Href: fmt.Sprintf("/bed/%d", b.ID), Label: b.Name})
	}
	if more := len(changed) - manyBeds; more > 0 {
		v.Beds = append(v.Beds, navLink{Href: "/plot/light", Label: plural(more, "bed more", "beds more")})
	}
	return v
}

// lightOfBedSince is lightSince for what is told of one bed.
func (s *site) lightOfBedSince(now *season.Result, bed int64) *lightSince {
	for _, b := range s.changedLight(now) {
		if b.ID == bed {
			return &lightSince{Says: "The light of " + b.Name + " has been changed since this plan was made: plan again. Until then the reasons tell the hours it was made from.", Plan: s.Replan != nil}
		}
	}
	return nil
}

func (s *site) changedLight(now *season.Result) []garden.Bed {
	if now.Season.End() < s.Today() {
		return nil
	}
	return now.LightSince()
}
