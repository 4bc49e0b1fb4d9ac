package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
)

func (s *site) waterLogFields(g garden.Garden) []*field {
	what := append([]choice{{Value: "rain", Label: "it rained"}}, bedChoice(g)...)
	return []*field{
		{Name: "what", Label: "What came", Kind: "choice", Options: what, Required: true},
		{Name: "water", Label: "How much", Kind: "text", Required: true, Hint: givenHint(g.Site.Units)},
		{Name: "on", Label: "Day", Kind: "date", Value: s.Today().String(), Required: true},
	}
}

// waterLog takes what fell or what a bed was given.
func (s *site) waterLog(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: s.waterLogFields(g), units: g.Site.Units}
	v := garden.Entry{Kind: garden.Rained}
	if what := a.text("what"); what != "rain" {
		v.Kind = garden.Watered
		v.BedID, _ = strconv.ParseInt(what, 10, 64)
	}
	if d := a.date("on"); d != nil {
		v.Date = *d
		if v.Date > s.Today() {
			a.field("on").Error = "This day is still to come. Write down what has happened."
		}
	}
	a.cameDown("water", &v, g)
	whole := a.problems(v.Validate(), map[string]string{"volume": "water", "depth": "water", "date": "on", "bed": "what"})
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, formPage{frame: s.gardenFrame("Rain and watering", r, g), Heading: "Rain and watering", Back: navLink{Href: "/water", Label: "Back to the water"},
			Form: form{Action: "/water/log", Submit: "Write it down", Fields: a.fields, Whole: whole}})
	}
	if _, err := s.Store.Append(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/water?done=noted")
}

// cameDown reads the water of an entry: rain as a depth, a bed's in the person's own terms.
func (a *answers) cameDown(name string, v *garden.Entry, g garden.Garden) {
	text := a.text(name)
	if text == "" {
		return
	}
	if v.Kind == garden.Rained {
		depth, err := quantity.ParseRain(text, a.units)
		if err != nil {
			a.fault(name, err)
		}
		v.Depth = quantity.Metre(depth / 1000)
		a.believed(name, *v, 0)
		return
	}
	b, ok := g.Bed(v.BedID)
	if !ok {
		a.field(name).Error = "Choose the bed that was given it."
		return
	}
	var err error
	if v.Volume, v.Depth, err = water.ParseGiven(text, g.WateredBy(b), g.Site.Supply, a.units); err != nil {
		a.fault(name, err)
		return
	}
	a.believed(name, *v, b.Area())
}

// believed asks an amount of water back that cannot be meant.
func (a *answers) believed(name string, v garden.Entry, area quantity.SquareMetre) {
	if err := water.Believable(v, area, a.units); err != nil {
		a.fault(name, err)
	}
}

// cameWords is the water of an entry; empty where it has none.
func cameWords(e garden.Entry, u quantity.System) string {
	switch {
	case e.Kind != garden.Rained && e.Kind != garden.Watered:
		return ""
	case e.Depth > 0:
		return u.Rain(quantity.Millimetre(1000 * e.Depth))
	case e.Volume > 0:
		return u.Volume(e.Volume)
	}
	return ""
}

// measured reads a quantity that may be left out.
func measured[T ~float64](a *answers, name string, parse func(string, quantity.System) (T, error)) T {
	text := a.text(name)
	if text == "" {
		return 0
	}
	v, err := parse(text, a.units)
	if err != nil {
		a.fault(name, err)
	}
	return v
}

// tapFlow prints a tap's rate as taps are measured: by the minute, where that is a round figure.
func tapFlow(u quantity.System) func(quantity.LitrePerHour) string {
	return func(f quantity.LitrePerHour) string {
		for _, unit := range []struct {
			word string
			of   float64
		}{{"L/min", 60}, {"gal/min", 60 * quantity.LitresPerGallon}} {
			n := float64(f) / unit.of
			text := strconv.FormatFloat(math.Round(10*n)/10, 'f', -1, 64) + " " + unit.word
			if back, err := quantity.ParseFlow(text, u); err == nil && back == f && (unit.word[0] == 'g') == (u == quantity.US) {
				return text
			}
		}
		return u.ExactFlow(f)
	}
}

// exact is a quantity as it can be typed again; nothing for 0.
func exact[T ~float64](v T, print func(T) string) string {
	if v == 0 {
		return ""
	}
	return print(v)
}

var wayMeans = map[garden.WateringWay]string{
	garden.ByCan: "at the plants' feet", garden.ByHose: "in the hand", garden.ByDrip: "lines that drip or weep", garden.BySprinkler: "over all of it", garden.Unwatered: "it has what falls",
}

var mulchMeans = map[garden.Mulch]string{garden.OrganicMulch: "straw, leaves, grass or chips", garden.FilmMulch: "plastic sheet"}

// wateringFields are the questions that site and bed share.
func wateringFields(v garden.Watering, u quantity.System, way, mulch string) []*field {
	return []*field{
		{Name: "watered_by", Label: "Watered with", Kind: "choice", Options: wordChoices(way, garden.WateringWays, v.By, wayMeans)},
		{Name: "mulch", Label: "Mulch between the plants", Kind: "choice", Options: wordChoices(mulch, garden.Mulches, v.Mulch, mulchMeans)},
		{Name: "drip", Label: "What a bed's drip lines give together", Kind: "text", Value: exact(v.Drip, u.ExactFlow), Hint: "“24 L/h” or “6 gal/h”."},
		{Name: "sprinkler", Label: "What the sprinkler lays down", Kind: "text", Value: exact(v.Rain, u.ExactSpray), Hint: "“12 mm/h” or “0.5 in/h”."},
	}
}

func (a *answers) watering() garden.Watering {
	return garden.Watering{By: garden.WateringWay(a.text("watered_by")), Mulch: garden.Mulch(a.text("mulch")),
		Drip: measured(a, "drip", quantity.ParseFlow), Rain: measured(a, "sprinkler", quantity.ParseSpray)}
}

// measuring is how rates are measured; common practice.
func measuring() *soilAside {
	return &soilAside{
		Title: "How to measure what you have",
		Steps: []string{
			"Tap: time how long it takes to fill a bucket of known size. A 10 L bucket in 50 seconds is 12 L a minute.",
			"Drip lines: stand a can under one dripper, or lay a yard or a metre of weeping hose over a tray, for a quarter of an hour. Four times what it holds is an hour's; times the drippers, or the length, is the bed's.",
			"Sprinkler: set out five straight-sided tins where it reaches, run it for a quarter of an hour, and take the mean depth four times.",
			"Can: fill it from a jug that is marked.",
			"Roof: its length times its width as seen from above, the slope left out; only what drains into the tank.",
			"Tank: what all butts and barrels hold together.",
		},
		Note: "Common practice. Do it at the pressure you water with: evenings can be slower than mornings.",
	}
}

func waterFactGroups(g garden.Garden) []fieldGroup {
	v, u := g.Site.Supply, g.Site.Units
	return []fieldGroup{
		{Title: "Where it comes from", Fields: []*field{
			{Name: "tap", Label: "The tap gives", Kind: "text", Value: exact(v.Tap, tapFlow(u)), Hint: "“12 L/min” or “3 gal/min”."},
			{Name: "can", Label: "The watering can holds", Kind: "text", Value: exact(v.Can, u.ExactVolume), Hint: "“10 L” or “2 gal”."},
			{Name: "roof", Label: "Roof that drains into the tank", Kind: "text", Value: exact(v.Roof, u.ExactArea), Hint: "“24 m²” or “260 sq ft”, seen from above."},
			{Name: "tank", Label: "The tank holds", Kind: "text", Value: exact(v.Tank, u.ExactVolume), Hint: "“300 L” or “80 gal”; butts and barrels together."},
		}},
		{Title: "How the beds are watered", Hint: "A bed that differs is told by itself.", Fields: wateringFields(g.Site.Watering, u, "with a can", "none")},
	}
}

func (s *site) waterFactsPage(r *http.Request, g garden.Garden, groups []fieldGroup, whole []string) groupsPage {
	return groupsPage{
		frame: s.gardenFrame("The garden's water", r, g), Heading: "The garden's water", Groups: groups, Aside: measuring(),
		Intro: "Leave empty what is not there or not known. With a rate measured, amounts are told in cans and minutes too.",
		Form:  form{Action: "/water/facts", Submit: "Save", Whole: whole}, Back: navLink{Href: "/water", Label: "Back to the water"},
	}
}

func (s *site) waterFacts(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.showGroups(w, s.waterFactsPage(r, g, waterFactGroups(g), nil))
}

func (s *site) waterFactsSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	groups := waterFactGroups(g)
	a := answers{r: r, fields: flat(groups), units: g.Site.Units}
	v := g.Site
	v.Supply = garden.Supply{Tap: measured(&a, "tap", quantity.ParseFlow), Can: measured(&a, "can", quantity.ParseVolume), Roof: measured(&a, "roof", quantity.ParseArea), Tank: measured(&a, "tank", quantity.ParseVolume)}
	v.Watering = a.watering()
	whole := a.problems(v.Validate(), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.waterFactsPage(r, g, groups, whole))
	}
	if err := s.Store.SaveSite(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/water?done=watered")
}

func bedWaterGroups(g garden.Garden, b garden.Bed) []fieldGroup {
	return []fieldGroup{{Title: "How this bed is watered", Hint: "What is left empty is as in the whole garden.", Fields: wateringFields(b.Watering, g.Site.Units, "as the garden", "as the garden")}}
}

func (s *site) bedWaterPage(r *http.Request, g garden.Garden, b garden.Bed, groups []fieldGroup, whole []string) groupsPage {
	return groupsPage{
		frame: s.gardenFrame("The water of "+b.Name, r, g), Heading: "The water of " + b.Name, Groups: groups, Aside: measuring(),
		Form: form{Action: fmt.Sprintf("/water/bed/%d", b.ID), Submit: "Save", Whole: whole}, Back: navLink{Href: "/water", Label: "Back to the water"},
	}
}

func (s *site) bedWater(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	return s.showGroups(w, s.bedWaterPage(r, g, b, bedWaterGroups(g, b), nil))
}

func (s *site) bedWaterSave(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	groups := bedWaterGroups(g, b)
	a := answers{r: r, fields: flat(groups), units: g.Site.Units}
	b.Watering = a.watering()
	whole := a.problems(b.Validate(), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.bedWaterPage(r, g, b, groups, whole))
	}
	if err := s.Store.SaveBed(r.Context(), b); err != nil {
		return err
	}
	return seeOther(w, r, "/water?done=watered")
}

// givenHint shows how rain and waterings are written, in the person's units; either system is read.
func givenHint(u quantity.System) string {
	if u == quantity.US {
		return "Rain as the gauge held it: “0.5 in”. A bed: “8 gal”, “25 min”, “4 cans” or “0.5 in”."
	}
	return "Rain as the gauge held it: “12 mm”. A bed: “30 L”, “25 min”, “4 cans” or “12 mm”."
}
