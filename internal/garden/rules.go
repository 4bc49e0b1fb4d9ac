package garden

import (
	"fmt"
	"math"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// The limits of what a garden can be. They catch a slip of the unit, not an unusual garden.
const (
	longestBed  quantity.Metre = 1000
	largestPlot quantity.Metre = 5000
	lowestLand  quantity.Metre = -430 // the shore of the Dead Sea, the lowest dry land
	highestLand quantity.Metre = 6000
	longestSun  quantity.Hour  = 16
	firstYear                  = 1900
	lastYear                   = 2200
)

// Validate tells what is wrong with the site.
func (s Site) Validate() Problems {
	var ps Problems
	if strings.TrimSpace(s.Name) == "" {
		ps.add("name", "give the place a name", "the site has no name")
	}
	if !within(s.Latitude, -90, 90) {
		ps.add("latitude", "write degrees north of the equator, from −90 to 90 (south is negative)", "latitude is %v, which is nowhere on the earth", s.Latitude)
	}
	if !within(s.Longitude, -180, 180) {
		ps.add("longitude", "write degrees east of Greenwich, from −180 to 180 (west is negative)", "longitude is %v, which is nowhere on the earth", s.Longitude)
	}
	if !within(s.Elevation, lowestLand, highestLand) {
		ps.add("elevation", "write the height above the sea, from −430 m to 6000 m", "elevation is %v m, where no garden is", float64(s.Elevation))
	}
	if s.Household < 0 || s.Household > 1000 {
		ps.add("household", "write how many people the garden feeds, from 0 to 1000", "household is %d people", s.Household)
	}
	if !within(s.Width, 0, largestPlot) {
		ps.add("width", "write the plot's size from west to east, or leave it out", "the plot's width is %v m", float64(s.Width))
	}
	if !within(s.Depth, 0, largestPlot) {
		ps.add("depth", "write the plot's size from south to north, or leave it out", "the plot's depth is %v m", float64(s.Depth))
	}
	if !within(s.HoursAWeek, 0, 2000) {
		ps.add("hours_a_week", "write how many hours a week can be given to the garden by all who work in it, or leave it out", "hours a week are %v", float64(s.HoursAWeek))
	} else if s.HoursAWeek > 0 && s.HoursAWeek < .25 {
		ps.doubt("hours_a_week", "write hours, not minutes or days", "hours a week are %v", float64(s.HoursAWeek))
	}
	if !within(s.Trays, 0, 10000) {
		ps.add("trays", "write how many trays of seedlings there is light for under cover, or leave it out", "trays are %v", s.Trays)
	}
	for _, id := range s.Covers {
		if p := unknownCover(id); p != nil {
			ps.add("covers", p.Remedy, "%s", p.Says)
		}
	}
	ps = append(ps, s.Lie.problems()...)
	ps = append(append(ps, s.Supply.Validate()...), s.Watering.Validate()...)
	return append(ps, s.Soil.ofSite()...)
}

// Validate tells what is wrong with the bed by itself.
func (b Bed) Validate() Problems {
	var ps Problems
	if strings.TrimSpace(b.Name) == "" {
		ps.add("name", "give each bed a name of its own", "the bed has no name")
	}
	if !within(b.X, -largestPlot, largestPlot) {
		ps.add("x", "write how far east of the plot's south-west corner the bed's middle is", "x is %v m", float64(b.X))
	}
	if !within(b.Y, -largestPlot, largestPlot) {
		ps.add("y", "write how far north of the plot's south-west corner the bed's middle is", "y is %v m", float64(b.Y))
	}
	ps = append(ps, sideProblem("length", b.Length)...)
	ps = append(ps, sideProblem("width", b.Width)...)
	if !within(b.Bearing, 0, 180) {
		ps.add("bearing", "write degrees clockwise from north, 0 to 180: 0 for a bed that runs north and south, 90 for east and west", "bearing is %v degrees", b.Bearing)
	}
	switch {
	case !within(b.Sun, 0, longestSun):
		ps.add("sun_hours", "write the hours of direct sun on a clear summer day, from 0 to 16", "hours of sun are %v", float64(b.Sun))
	case b.Sun == 0 && len(b.Observed) == 0:
		ps.doubt("sun_hours", "write the hours of direct sun on a clear summer day if it has some", "hours of sun are 0: nothing to eat will grow there")
	}
	ps = append(ps, b.seenProblems()...)
	ps = append(ps, b.Watering.Validate()...)
	return append(ps, b.Soil.ofBed()...)
}

func sideProblem(field string, side quantity.Metre) (ps Problems) {
	switch {
	case !(side > 0):
		ps.add(field, fmt.Sprintf("write the bed's %s with its unit, for example \"1.2 m\" or \"4 ft\"", field), "%s must be more than 0", field)
	case side < 0.05:
		ps.add(field, "check the unit: a bed is at least 5 cm or 2 in wide", "%s is %v m", field, float64(side))
	case side > longestBed:
		ps.add(field, "check the unit: a bed is at most 1000 m or 3280 ft long", "%s is %v m", field, float64(side))
	}
	return ps
}

// Validate tells what is wrong with the want. Without a catalogue the crop and its units are not looked up.
func (w Want) Validate(crops *crop.Catalogue) Problems {
	var ps Problems
	found := cropProblem(&ps, "crop", w.Crop, crops)
	if w.Basis != Total && w.Basis != Weekly {
		ps.add("basis", `write "total" for an amount over the season or "weekly" for an amount each week`, "basis is %q", w.Basis)
	}
	switch {
	case !(w.Amount > 0):
		ps.add("amount", "write how much you would like, or leave the want out", "amount must be more than 0")
	case w.Amount > 1e6:
		ps.add("amount", "check the amount and its unit", "amount is %v", w.Amount)
	}
	if len(found) > 0 && !knownUnit(w.Unit, found) {
		ps.add("unit", "write "+strings.Join(Units(found), ", "), "%q is not a unit for %s", w.Unit, w.Crop)
	}
	if w.Weight < 1 || w.Weight > 5 {
		ps.add("weight", "write from 1 (nice to have) to 5 (first)", "weight is %d", w.Weight)
	}
	if w.From != nil && w.To != nil && *w.To < *w.From {
		ps.add("to", "write the first week's date as from and the last week's as to", "the weeks wanted end on %s, before they begin on %s", w.To, w.From)
	}
	if w.Under != "" && w.Under != InTheOpen {
		if p := unknownCover(w.Under); p != nil {
			ps.add("under", p.Remedy+`; or write "open"`, "%s", p.Says)
		}
	}
	if w.Basis == Total && (w.From != nil || w.To != nil) {
		ps.doubt("from", "leave the dates out, or ask by the week", "the dates count only for a want by the week")
	}
	return ps
}

// Validate tells what is wrong with a line of history. Without a catalogue crop and family are not looked up.
func (p Past) Validate(crops *crop.Catalogue) Problems {
	var ps Problems
	if p.Year < firstYear || p.Year > lastYear {
		ps.add("year", "write the year it grew there, with four digits", "year is %d", p.Year)
	}
	switch {
	case p.CropID == "" && p.Family == "":
		ps.add("crop", "write the crop or, if you know no more, its family", "neither a crop nor a family is given")
	case p.CropID != "":
		cropProblem(&ps, "crop", p.CropID, crops)
	case crops != nil:
		familyProblem(&ps, p.Family, crops)
	}
	return ps
}

// Validate tells what is wrong with a journal entry.
func (e Entry) Validate() Problems {
	var ps Problems
	if !e.Kind.known() {
		ps.add("kind", "write one of "+strings.Join(kindNames(), ", "), "%q is not something a journal tells", e.Kind)
	}
	if y := e.Date.Year(); y < firstYear || y > lastYear {
		ps.add("date", "write the day it happened", "the date is %s", e.Date)
	}
	if !(e.Amount >= 0) || math.IsInf(float64(e.Amount), 0) {
		ps.add("amount", "write how much, or leave it out", "amount must not be below 0")
	}
	return append(ps, e.fedProblems()...)
}

// EntryKinds are what a journal can tell, in the order of a season.
func EntryKinds() []EntryKind {
	return []EntryKind{Dug, Fed, Sowed, SetOut, CameUp, Watered, Rained, Frost, Harvested, Cleared, Failed, Noted}
}

func (k EntryKind) known() bool {
	for _, one := range EntryKinds() {
		if k == one {
			return true
		}
	}
	return false
}

func kindNames() (names []string) {
	for _, k := range EntryKinds() {
		names = append(names, string(k))
	}
	return names
}

// cropProblem looks a word up, and gives what it may mean.
func cropProblem(ps *Problems, field, word string, crops *crop.Catalogue) []*crop.Crop {
	if strings.TrimSpace(word) == "" {
		ps.add(field, "write a crop of the catalogue", "no crop is given")
		return nil
	}
	if crops == nil {
		return nil
	}
	found, near := crops.Match(word)
	if len(found) == 0 {
		ps.add(field, didYouMean(near, "the catalogue lists what there is"), "the catalogue has no crop %q", word)
	}
	return found
}

// familyProblem refuses a slip of a known family's name, and doubts a name nothing is like.
func familyProblem(ps *Problems, family string, crops *crop.Catalogue) {
	var known []string
	for _, c := range crops.All() {
		if strings.EqualFold(c.Family, family) {
			return
		}
		known = append(known, c.Family)
	}
	if near := nearest(family, known); len(near) > 0 {
		ps.add("family", didYouMean(near, ""), "no crop of the catalogue is of the family %q", family)
		return
	}
	ps.doubt("family", "", "no crop of the catalogue is of the family %q, so it will not matter", family)
}
