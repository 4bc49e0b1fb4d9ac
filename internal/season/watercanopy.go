package season

import (
	"math"

	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
)

// canopyStep is how many days lie between the days on which a canopy is measured; between them it is on a straight line.
const canopyStep = 7

// canopyOf is the share of its ground that a planting shades by day, in the middle weather year: its plants, as wide as growth has them. Nil where
// growth says nothing of it: what stands from seasons before, and what is grown broadcast.
func (r *Result) canopyOf(p garden.Planting, s water.Stand) []float32 {
	t := r.tableMade(p)
	if t == nil || s.Settled || t.Option.Crop.Perennial || p.Plants < 1 || s.To <= s.From {
		return nil
	}
	start := p.Start
	if start < r.Season.Start { // sown in the season before: as it would grow in a year like those
		start = start.Add(r.Season.Days)
	}
	days := int(s.To - s.From)
	marks := make([]float64, days/canopyStep+2)
	widest := 0.0
	for i := range marks {
		_, middle, _ := t.Canopy(start, start.Add(i*canopyStep))
		marks[i] = coverOf(p, middle)
		widest = max(widest, marks[i])
	}
	if widest == 0 {
		return nil
	}
	out := make([]float32, days)
	for d := range out {
		i, part := d/canopyStep, float64(d%canopyStep)/canopyStep
		out[d] = float32(marks[i] + (marks[i+1]-marks[i])*part)
	}
	return out
}

// coverOf is the share of its ground that a planting's plants shade from above: discs side by side that close to a strip along each row, and
// strips that close to the whole.
//
//	wide  diameter of a plant
func coverOf(p garden.Planting, wide quantity.Metre) float64 {
	area := float64(p.Place.Area())
	if area <= 0 {
		return 0
	}
	shades := float64(p.Plants) * math.Pi / 4 * float64(wide*wide)
	if p.Rows > 0 {
		shades = min(shades, float64(p.Rows)*float64(wide)*float64(p.Place.AlongTo-p.Place.AlongFrom))
	}
	return min(0.99, shades/area)
}

// tableMade is a planting's growth table where it has been made for the season; none is made for its water.
func (r *Result) tableMade(p garden.Planting) *growth.Table {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, cover := range []string{p.Protection, ""} {
		if t := r.extra[tableKey{crop: p.CropID, method: p.Method, cover: cover}]; t != nil {
			return t
		}
	}
	return nil
}
