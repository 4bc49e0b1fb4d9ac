package plan

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	sunlight "kailyard/internal/light"
	"kailyard/internal/quantity"
)

// Light is what is known of the sun on the beds by month. Without it the hours told for a bed's whole season count.
type Light struct {
	Beds  map[int64]BedLight // beds that are missing have the hours told
	Grows [12]float64        // how much of its growth a crop makes in a day of the month, 0–1, by the light of the open sky
	Rows  []RowShade         // tall crops that stand south of other beds
}

// BedLight is the direct sun of a bed.
type BedLight struct {
	Hours [12]quantity.Hour // on a clear day, by month; short days evened to the length of the season's
	Basis string            // "seen", "reckoned" …, for the person
}

// BedSun is the sun on a bed from which a plan was made.
type BedSun struct {
	Bed   int64
	Hours [12]quantity.Hour // by month as BedLight has them; all alike where the hours told for the season count
}

// RowShade is what a tall crop in one bed takes from another.
type RowShade struct {
	Crop     string // ID
	From, On int64  // beds
	Hours    [12]quantity.Hour
}

// The rule of shade: a bed's light for a crop is the mean of its hours over the days from start to last harvest in the middle year,
// each day counting by how much the crop grows in it. Of no month more hours count than the crop needs: what it cannot use in June
// does not make up for a dark September. What that leaves of its yield, and how much later it is, is the rule of
// light.Share and light.Later, which the pages of light read too: where it leaves nothing it is not planted. A tall crop is not
// planted where it takes more than aTwentieth of the yield of what stands in a bed behind it.
// Source: PLAN-PRACTICE (estimates).
const aTwentieth = 0.05

// eachMonth walks the days from one to before another, a month at a time.
func eachMonth(from, to civil.Date, do func(month int, days float64)) {
	for from < to {
		next := min(to, civil.Of(from.Year(), int(from.Month())+1, 1))
		do(int(from.Month())-1, float64(next-from))
		from = next
	}
}

// meanLight is the mean of hours by month over the days from one to before another; none where nothing grows in them.
func (l *Light) meanLight(hours [12]quantity.Hour, from, to civil.Date) (mean quantity.Hour) {
	sum, weight := 0.0, 0.0
	eachMonth(from, to, func(m int, days float64) {
		sum, weight = sum+days*l.Grows[m]*float64(hours[m]), weight+days*l.Grows[m]
	})
	if weight == 0 {
		return 0
	}
	return quantity.Hour(sum / weight)
}

// useful are the hours of each month that a crop can use.
func useful(hours [12]quantity.Hour, wants crop.Light) [12]quantity.Hour {
	if wants.Needs > 0 {
		for m := range hours {
			hours[m] = min(hours[m], wants.Needs)
		}
	}
	return hours
}

// sunOn is the sun that counts for a crop in a bed while it grows, and whether it is known by month.
func (p *problem) sunOn(b garden.Bed, wants crop.Light, from, to civil.Date) (sun quantity.Hour, byMonth bool) {
	if p.light != nil {
		if of, ok := p.light.Beds[b.ID]; ok {
			return p.light.meanLight(useful(of.Hours, wants), from, to), true
		}
	}
	return b.Sun, false
}

// growing are the days from a start to the last harvest in the middle year; of what stays for years, a year.
func growing(c *crop.Crop, start civil.Date, of growth.Summary) (from, to civil.Date) {
	if c.Perennial {
		return start, start + 365
	}
	return start, max(start, of.Last.P50) + 1
}

// sunFor is sunOn for an option begun on a day.
func (p *problem) sunFor(b garden.Bed, o option, start civil.Date) (quantity.Hour, bool) {
	from, to := growing(o.crop, start, o.times.Summary(start))
	return p.sunOn(b, o.crop.Light, from, to)
}

// lateness is how many days later than in full light an option is harvested that has a share of it, in whole weeks.
func lateness(o option, start civil.Date, share float64) int {
	if share <= 0 || share >= 1 || o.crop.Perennial {
		return 0
	}
	return 7 * sunlight.Later(o.times.Summary(start).First.P50.Since(start), share)
}

// lags are the delays that the beds give an option begun on a day, rising; 0 is always among them.
func (p *problem) lags(o option, start civil.Date) []int {
	lags := []int{0}
	if p.light == nil {
		return lags
	}
	for _, b := range p.garden.Beds {
		if sun, ok := p.sunFor(b, o, start); ok {
			if lag := lateness(o, start, lightShare(sun, o.crop.Light)); !slices.Contains(lags, lag) {
				lags = append(lags, lag)
			}
		}
	}
	slices.Sort(lags)
	return lags
}

// outcome is a weather year of a start day, its harvest a delay later. With a delay it is a good year only if it would be one
// for what is begun that many days later, too.
func (o option) outcome(start civil.Date, i, lag int) growth.Outcome {
	y := o.times.Outcome(start, i)
	if lag == 0 || y.Fate != growth.Ready {
		return y
	}
	if then := o.times.Outcome(start.Add(lag), i); then.Fate != growth.Ready {
		return then
	}
	y.First, y.Last = y.First.Add(lag), y.Last.Add(lag)
	return y
}

// summary is the summary of a start day, its harvest a delay later.
func (o option) summary(start civil.Date, lag int) growth.Summary {
	s := o.times.Summary(start)
	if lag == 0 || s.Success == 0 {
		return s
	}
	good := 0
	for i := range s.Years {
		if o.outcome(start, i, lag).Fate == growth.Ready {
			good++
		}
	}
	s.Yield *= float64(good) / float64(s.Success)
	s.Success = good
	for _, d := range []*civil.Date{&s.First.P10, &s.First.P50, &s.First.P90, &s.Last.P10, &s.Last.P50, &s.Last.P90} {
		*d = d.Add(lag)
	}
	for i := range s.Days {
		s.Days[i] += lag
	}
	return s
}

// harvest is the harvest by week of a start day, a delay later.
func (o option) harvest(start civil.Date, lag int) []float64 {
	weeks := o.times.Harvest(start)
	if lag == 0 {
		return weeks
	}
	later := make([]float64, len(weeks))
	was := o.times.Summary(start).Success
	for w := range weeks {
		if to := w + lag/7; to < len(later) && was > 0 {
			later[to] = weeks[w] * float64(o.summary(start, lag).Success) / float64(was)
		}
	}
	return later
}

// brighten reads, for every bed whose light is known by month, the share of the full yield it leaves to each sowing: 0 to one
// that is for beds with another delay. What no sowing of a crop can stand is too dark for the crop.
func (f *field) brighten() {
	f.bright = make([][]float64, len(f.plots))
	f.dark = map[BedCrop]bool{}
	if f.light == nil {
		return
	}
	for i := range f.plots {
		b := f.plots[i].bed
		if _, ok := f.light.Beds[b.ID]; !ok {
			continue
		}
		f.bright[i] = make([]float64, len(f.sows))
		lit := map[string]bool{}
		for k := range f.sows {
			s := &f.sows[k]
			o, start := f.options[s.option], f.season.Start.Add(s.start)
			sun, _ := f.sunFor(b, o, start)
			share := lightShare(sun, o.crop.Light)
			if share > 0 && lateness(o, start, share) == s.lag {
				f.bright[i][k] = share
			}
			lit[o.crop.ID] = lit[o.crop.ID] || share > 0
		}
		for _, o := range f.options {
			if !lit[o.crop.ID] {
				f.dark[BedCrop{b.ID, o.crop.ID}] = true
			}
		}
	}
}

// tooDark says whether a bed has too little light for a crop, whenever it is begun.
func (p *problem) tooDark(b garden.Bed, c *crop.Crop) bool {
	if p.light != nil {
		if _, ok := p.light.Beds[b.ID]; ok {
			return p.dark[BedCrop{b.ID, c.ID}]
		}
	}
	return lightShare(b.Sun, c.Light) == 0
}

// share is what light and soil of a bed leave of the full yield of a sowing; 0 where it may not stand.
func (f *field) share(bed, sow int) float64 {
	s := f.welcome[bed][f.sows[sow].option]
	if f.bright[bed] != nil {
		s *= f.bright[bed][sow]
	}
	return s
}

// told is what is told of the light of a bed, apart from what its hours leave of a yield.
func (p *problem) toldLight(b garden.Bed, c *crop.Crop) float64 {
	if p.light != nil {
		if _, ok := p.light.Beds[b.ID]; ok {
			return 1
		}
	}
	return lightShare(b.Sun, c.Light)
}

// whyLight says what the light of a bed does to a planting.
func (w *writer) whyLight(x *placed, c *crop.Crop, b garden.Bed) garden.Reason {
	r := garden.Reason{Rule: "light", Source: practice}
	u := w.units()
	sow := &w.sows[x.sow]
	o, start := w.options[sow.option], w.day(sow.start)
	counts, byMonth := w.sunFor(b, o, start)
	sun, during, spare := counts, "", ""
	if byMonth {
		of := w.light.Beds[b.ID]
		from, to := growing(o.crop, start, o.times.Summary(start))
		sun, during = w.light.meanLight(of.Hours, from, to), fmt.Sprintf(" a day while it grows (%s)", of.Basis)
		if short := min(sun, c.Light.Needs) - counts; short >= toldApart {
			spare = fmt.Sprintf(" Of these %s count: hours above its need do not make up for darker months.", u.Hours(counts))
		}
	}
	share := lightShare(counts, c.Light)
	switch {
	case share >= 1:
		r.Says = fmt.Sprintf("%s has %s of direct sun%s; %s needs %s.", b.Name, u.Hours(sun), during, c.Name(), u.Hours(c.Light.Needs))
		return r
	case sun >= c.Light.Needs:
		r.Says = fmt.Sprintf("%s has %s of direct sun%s; %s needs %s.%s So %s.", b.Name, u.Hours(sun), during, c.Name(), u.Hours(c.Light.Needs), spare, sunlight.CountedOn(share))
	default:
		r.Says = fmt.Sprintf("%s has %s of direct sun%s, less than the %s that %s needs but not less than its least, %s: %s.%s",
			b.Name, u.Hours(sun), during, u.Hours(c.Light.Needs), c.Name(), u.Hours(c.Light.Least), sunlight.CountedOn(share), spare)
	}
	if sow.lag > 0 {
		r.Says += fmt.Sprintf(" In the shade it is slower: its harvest is counted on %s later than in full sun.", quantity.Plural(float64(sow.lag/7), "week"))
	}
	return r
}

// toldApart is from where on the hours that count are told beside those there are.
const toldApart quantity.Hour = 0.05
