package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// radiationUnits are the units of a day's radiation that are read, each as its factor to MJ/m² and as a column is called.
//
// Source: FAO56 (table 3: conversion factors for radiation)
var radiationUnits = []struct {
	spelt  []string // with "^2" or "2" for the square; "/day" behind it may be left out
	factor float64
	says   string
	column string
}{
	{[]string{"mj/m^2", "mj/m2"}, 1, "MJ/m²", "radiation_mj_m2"},
	{[]string{"kw-hr/m^2", "kwh/m^2", "kwh/m2", "kw-hr/m2"}, 3.6, "kWh/m²", "radiation_kwh_m2"},
	{[]string{"wh/m^2", "w-hr/m^2", "wh/m2"}, 0.0036, "Wh/m²", "radiation_wh_m2"},
	{[]string{"w/m^2", "w/m2"}, 0.0864, "W/m² (the mean over 24 hours)", "radiation_w_m2"},
	{[]string{"cal/cm^2", "cal/cm2", "ly", "langley", "langleys"}, 0.041868, "langleys (cal/cm²)", "radiation_cal_cm2"},
	{[]string{"j/cm^2", "j/cm2"}, 0.01, "J/cm²", "radiation_j_cm2"},
	{[]string{"kj/m^2", "kj/m2"}, 0.001, "kJ/m²", "radiation_kj_m2"},
	{[]string{"j/m^2", "j/m2"}, 1e-6, "J/m²", "radiation_j_m2"},
}

// radiationMJ is the factor from a unit of a day's radiation to MJ/m², NaN where it is not known.
func radiationMJ(unit string) float64 {
	unit = strings.NewReplacer(" ", "", "²", "^2", "day-1", "/day", "d-1", "/day", "m-2", "/m^2", "cm-2", "/cm^2").Replace(strings.ToLower(strings.TrimSpace(unit)))
	unit = strings.TrimSuffix(strings.TrimSuffix(unit, "/day"), "/d")
	for _, u := range radiationUnits {
		if slices.Contains(u.spelt, unit) {
			return u.factor
		}
	}
	return math.NaN()
}

// RadiationColumns are what a column of radiation may be called, for a sentence.
func RadiationColumns() string {
	var all []string
	for _, u := range radiationUnits {
		all = append(all, u.column)
	}
	last := len(all) - 1
	return strings.Join(all[:last], ", ") + " or " + all[last]
}

// A column of radiation in another unit is known by how far its sunny days stand above what the sun gives anywhere: of its
// days the sunniest twentieth lies between these, in MJ/m², from a dull year far north to a clear one in a desert.
// Source: common practice
const leastSunny, mostSunny = 12.0, 36.0

// checkRadiationColumn leaves out a whole column that is in another unit than its name says: so much falls in no day, on more
// than a fifth of its days.
func (s *sheet) checkRadiationColumn() {
	var all []float64
	first, beyond := row{}, 0
	for _, w := range s.rows {
		if math.IsNaN(w.radiation) {
			continue
		}
		all = append(all, w.radiation)
		if w.radiation > highestMJ {
			if beyond == 0 {
				first = w
			}
			beyond++
		}
	}
	if beyond <= 3 || beyond <= len(all)/5 {
		return
	}
	slices.Sort(all)
	sunny := all[len(all)*19/20]
	var guesses []string
	for _, u := range radiationUnits {
		if v := sunny * u.factor; v >= leastSunny && v <= mostSunny {
			guesses = append(guesses, fmt.Sprintf("%s (then call the column %s)", u.says, u.column))
		}
	}
	unit := "it is in another unit"
	if len(guesses) > 0 {
		unit = "it seems to be in " + strings.Join(guesses, " or ")
	}
	s.note(WrongUnit, 0, 0, fmt.Sprintf("The column for radiation was left out: it is above %.0f MJ/m², more than the sun gives in a day anywhere, on %d of %d days, first %s (line %d) with %s, and %s. "+
		"Put its unit into its name (%s) and give the file again.", highestMJ, beyond, len(all), first.date, first.line, plainNumber(first.radiation), unit, RadiationColumns()))
	for i := range s.rows {
		s.rows[i].radiation = math.NaN()
	}
}

// plainNumber is a value as somebody would write it.
func plainNumber(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }
