package season

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// bedEnergy is what each bed gets of the open sky's energy, by month, where its light is known by month; nil where no bed's is.
func (r *Result) bedEnergy() map[int64][12]float64 {
	if !LightKnown(r.Garden) {
		return nil
	}
	y := LightYearOf(r.Garden, r.Record)
	out := map[int64][12]float64{}
	for _, b := range r.Garden.Beds {
		if !byMonth(r.Garden, b) {
			continue
		}
		var shares [12]float64
		for m, month := range y.Bed(b) {
			shares[m] = 1
			if open := y.Open[m].Energy; open > 0 {
				shares[m] = float64(month.Energy / open)
			}
		}
		out[b.ID] = shares
	}
	return out
}

// shadeSays tells which beds evaporate less for their shade, and that roots of trees are left out.
func (r *Result) shadeSays() []string {
	light := r.waterQuestion().Light
	month := midsummer(r.Garden.Site.Latitude)
	var dim []string
	for _, b := range r.Garden.Beds {
		if shares, known := light[b.ID]; known && shares[month-1] < 0.9 {
			dim = append(dim, fmt.Sprintf("%s %.0f %%", b.Name, math.Round(100*shares[month-1])))
		}
	}
	if len(dim) == 0 {
		return nil
	}
	const told = 4
	if len(dim) > told {
		dim = append(dim[:told-1], fmt.Sprintf("%d more", len(dim)-told+1))
	}
	says := fmt.Sprintf("Shaded beds evaporate less: the sun's part goes by what of the open sky's energy they get (in %s %s); warm and moving air counts as in the open.", month, strings.Join(dim, ", "))
	if slices.ContainsFunc(r.Garden.Shades, func(s garden.Shade) bool { return s.Kind.Grows() }) {
		says += " What roots of trees and hedges take from a bed is not reckoned: near them look a finger deep."
	}
	return []string{says}
}

// midsummer is the month in the middle of a place's growing season.
func midsummer(latitude float64) time.Month {
	if latitude < 0 {
		return time.January
	}
	return time.July
}

// textured is the garden with the texture that the newest test of each bed tells, where one does.
func (r *Result) textured() garden.Garden {
	g := r.Garden
	g.Beds = slices.Clone(g.Beds)
	for i, b := range g.Beds {
		if texture, _ := soil.TextureOf(r.Garden, b); texture != "" {
			g.Beds[i].Soil.Texture = texture
		}
	}
	return g
}
