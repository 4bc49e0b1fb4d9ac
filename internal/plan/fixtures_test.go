package plan

import (
	"fmt"
	"math"
	"math/rand/v2"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// Everything in this file is invented: crops with round figures and a timetable that needs no
// weather, so that a test can say beforehand what the plan must be.

// steadyTimes is a growth table in words: start days from–to succeed in good years of 10, ready in
// days, borne evenly over span days; the canopy grows in a straight line to the spread.
type steadyTimes struct {
	season   civil.Season
	from, to int // days of the season
	days     int
	span     int
	good     int
	spread   float64
	early    int // days by which the years differ: year i is i×early/9 days late
}

func (t steadyTimes) inWindow(d civil.Date) bool {
	k := d.Since(t.season.Start)
	return k >= t.from && k <= t.to
}

func (t steadyTimes) Outcome(start civil.Date, i int) growth.Outcome {
	if !t.inWindow(start) || i >= t.good {
		return growth.Outcome{Fate: growth.Frozen, In: start}
	}
	first := start.Add(t.days + i*t.early/9)
	return growth.Outcome{Fate: growth.Ready, In: start, Emerge: start.Add(7), First: first, Last: first.Add(t.span - 1), Yield: 1}
}

func (t steadyTimes) Summary(start civil.Date) growth.Summary {
	s := growth.Summary{Start: start, Years: 10}
	if !t.inWindow(start) {
		s.Fates[growth.Frozen] = 10
		return s
	}
	s.Success, s.Yield = t.good, float64(t.good)/10
	s.Fates[growth.Ready], s.Fates[growth.Frozen] = t.good, 10-t.good
	at := func(i int) civil.Date { return start.Add(t.days + i*t.early/9) }
	s.Emerge = garden.Spread{P10: start.Add(7), P50: start.Add(7), P90: start.Add(7)}
	s.First = garden.Spread{P10: at(0), P50: at(5), P90: at(9)}
	s.Last = garden.Spread{P10: at(0).Add(t.span - 1), P50: at(5).Add(t.span - 1), P90: at(9).Add(t.span - 1)}
	return s
}

func (t steadyTimes) Windows(share float64) []growth.Window {
	if float64(t.good) < 10*share-1e-9 || t.to < t.from {
		return nil
	}
	span := civil.Span{From: t.season.Start.Add(t.from), To: t.season.Start.Add(t.to)}
	return []growth.Window{{Span: span, Best: span.From.Add((t.to - t.from) / 2)}}
}

func (t steadyTimes) Harvest(start civil.Date) []float64 {
	out := make([]float64, t.season.Weeks()+53)
	for i := range 10 {
		o := t.Outcome(start, i)
		if o.Fate != growth.Ready {
			continue
		}
		for d := o.First; d <= o.Last; d++ {
			if w := t.season.Week(d); w >= 0 && w < len(out) {
				out[w] += 0.1 / float64(t.span)
			}
		}
	}
	return out
}

func (t steadyTimes) Canopy(start, on civil.Date) (p10, p50, p90 quantity.Metre) {
	share := math.Max(0, math.Min(1, float64(on.Since(start))/float64(t.days)))
	w := quantity.Metre(share * t.spread)
	return w * 0.8, w * 0.9, w
}

// plainCrop is a crop of a family with a spacing (m) and a yield (kg/m²).
func plainCrop(id, family string, inRow, between, yield float64) *crop.Crop {
	return &crop.Crop{
		ID: id, Kind: id, Family: family,
		Methods: []crop.Method{{Way: crop.Sow}},
		Spacing: crop.Spacing{InRow: quantity.Metre(inRow), BetweenRows: quantity.Metre(between)},
		Plant:   crop.Plant{Spread: quantity.Metre(inRow)},
		Light:   crop.Light{Needs: 6, Least: 3},
		Harvest: crop.Harvest{Manner: crop.Once, Yield: quantity.KilogramPerSquareMetre(yield), Unit: "head", UnitMass: 0.5},
	}
}

// trial collects a problem piece by piece.
type trial struct{ problem }

func newTrial() *trial {
	t := &trial{problem{season: civil.SeasonOf(2027, 45), settings: DefaultSettings()}}
	t.settings.Rounds = 2000
	t.crops = crop.New()
	return t
}

func (t *trial) all() []*crop.Crop {
	var out []*crop.Crop
	for _, o := range t.options {
		out = append(out, o.crop)
	}
	return out
}

// grow adds a crop with its timetable.
func (t *trial) grow(c *crop.Crop, times steadyTimes) *crop.Crop {
	times.season = t.season
	if times.spread == 0 {
		times.spread = float64(c.Plant.Spread)
	}
	t.options = append(t.options, option{crop: c, times: times})
	t.crops = crop.New(t.all()...)
	return c
}

// bed adds a bed in full sun.
func (t *trial) bed(length, width float64) *garden.Bed {
	n := int64(len(t.garden.Beds) + 1)
	t.garden.Beds = append(t.garden.Beds, garden.Bed{ID: n, Name: fmt.Sprintf("Bed %d", n), Length: quantity.Metre(length), Width: quantity.Metre(width), Sun: 8})
	return &t.garden.Beds[n-1]
}

func (t *trial) want(cropID string, basis garden.Basis, kilograms float64, weight int) {
	t.garden.Wants = append(t.garden.Wants, garden.Want{ID: int64(len(t.garden.Wants) + 1), Crop: cropID, Basis: basis, Amount: kilograms, Unit: "kg", Weight: weight})
}

// plan makes the plan through the same steps as Make.
func (t *trial) plan() (*Plan, error) {
	if err := t.validate(); err != nil {
		return nil, err
	}
	return t.make()
}

// randomTrial is an invented garden with everything a plan must mind.
func randomTrial(r *rand.Rand) *trial {
	t := newTrial()
	if r.IntN(4) == 0 {
		t.season = civil.SeasonOf(2027, -40)
	}
	t.settings.Rounds = 300
	families := []string{"A", "B", "C", "D"}
	n := 1 + r.IntN(6)
	for i := range n {
		c := plainCrop(fmt.Sprintf("crop-%d", i), families[r.IntN(4)], 0.05+0.05*float64(r.IntN(10)), 0.15+0.1*float64(r.IntN(6)), 1+float64(r.IntN(5)))
		c.Light = crop.Light{Needs: quantity.Hour(4 + r.IntN(4)), Least: quantity.Hour(2 + r.IntN(3))}
		c.Harvest.StoreDays = []int{0, 7, 30, 150}[r.IntN(4)]
		c.Practice.Marker, c.Practice.SlowRow = r.IntN(4) == 0, r.IntN(4) == 0
		c.Practice.Block = r.IntN(8) == 0
		c.Perennial = r.IntN(8) == 0
		c.Rotation = 2 + r.IntN(4)
		from := r.IntN(250)
		t.grow(c, steadyTimes{from: from, to: from + r.IntN(110), days: 25 + r.IntN(120), span: 1 + r.IntN(50), good: 7 + r.IntN(4), early: r.IntN(20)})
	}
	for range r.IntN(5) {
		b := t.bed(1+8*r.Float64(), 0.3+2.5*r.Float64())
		b.Sun, b.Perennial, b.RowsAcross = quantity.Hour(2+r.IntN(7)), r.IntN(6) == 0, r.IntN(4) == 0
		for range r.IntN(3) {
			t.garden.History = append(t.garden.History, garden.Past{BedID: b.ID, Year: t.season.Year() - 1 - r.IntN(5), Family: families[r.IntN(4)]})
		}
	}
	for range r.IntN(5) {
		basis := garden.Total
		if r.IntN(2) == 0 {
			basis = garden.Weekly
		}
		t.want(fmt.Sprintf("crop-%d", r.IntN(n)), basis, 0.2+10*r.Float64(), 1+r.IntN(5))
	}
	if len(t.garden.Beds) > 0 && r.IntN(2) == 0 {
		b := t.garden.Beds[r.IntN(len(t.garden.Beds))]
		start := t.season.Start.Add(r.IntN(200) - 60)
		t.garden.Standing = append(t.garden.Standing, garden.Planting{
			Key: fmt.Sprintf("%d-%02d", t.season.Year(), 1+r.IntN(4)), BedID: b.ID, CropID: "crop-0",
			Place: garden.Place{AlongTo: b.Length / 3, AcrossTo: b.Width}, Start: start, Clear: start.Add(40 + r.IntN(150)),
		})
	}
	return t
}
