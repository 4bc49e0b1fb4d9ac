package plan

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// This file keeps tall crops out of the light of the beds behind them.

// rowKey is a tall crop in a bed and the bed it shades.
type rowKey struct {
	crop     string
	from, on int64
}

// upright is what the rule needs of a planting.
type upright struct {
	crop            *crop.Crop
	start, to, tall civil.Date // begun, last harvested, as tall as it shades from
	clear           civil.Date
}

// uprightOf reads a planting of a crop begun on a day.
func uprightOf(c *crop.Crop, of growth.Summary, start, clear civil.Date) upright {
	u := upright{crop: c, start: start, clear: clear}
	_, u.to = growing(c, start, of)
	u.tall = start + max(0, of.First.P50-start)/2
	if c.Perennial {
		u.tall = start
	}
	return u
}

// dims says whether a tall planting takes too much of the light of another in a bed behind it: more than a twentieth of the
// yield, for all the time that it stands taller than half grown.
func (l *Light) dims(tall, low upright, hours, row [12]quantity.Hour) bool {
	from, to := max(tall.tall, low.start), min(tall.clear, low.to)
	if from >= to {
		return false
	}
	left := hours
	for m := range left {
		left[m] -= row[m]
	}
	open, shaded := useful(hours, low.crop.Light), useful(left, low.crop.Light)
	lost, all := 0.0, 0.0
	eachMonth(from, to, func(m int, days float64) { lost += days * l.Grows[m] * float64(open[m]-shaded[m]) })
	eachMonth(low.start, low.to, func(m int, days float64) { all += days * l.Grows[m] })
	if all == 0 {
		return false
	}
	sun := l.meanLight(open, low.start, low.to)
	return lightShare(sun, low.crop.Light)-lightShare(sun-quantity.Hour(lost/all), low.crop.Light) > aTwentieth
}

// behind reads which beds lie behind which, once.
func (f *field) behind() {
	f.rows = map[rowKey][12]quantity.Hour{}
	f.facing = make([][]int, len(f.plots))
	if f.light == nil {
		return
	}
	number := map[int64]int{}
	for i := range f.plots {
		number[f.plots[i].bed.ID] = i
	}
	seen := map[[2]int]bool{}
	for _, r := range f.light.Rows {
		from, ok := number[r.From]
		on, okay := number[r.On]
		if _, told := f.light.Beds[r.On]; !ok || !okay || !told {
			continue
		}
		f.rows[rowKey{r.Crop, r.From, r.On}] = r.Hours
		for _, pair := range [][2]int{{from, on}, {on, from}} {
			if !seen[pair] {
				seen[pair] = true
				f.facing[pair[0]] = append(f.facing[pair[0]], pair[1])
			}
		}
	}
}

// uprightSow reads a sowing.
func (f *field) uprightSow(sow int) upright {
	if f.uprights == nil {
		f.uprights = make([]upright, len(f.sows))
	}
	if u := &f.uprights[sow]; u.crop == nil {
		s := &f.sows[sow]
		o, start := f.options[s.option], f.season.Start.Add(s.start)
		*u = uprightOf(o.crop, o.times.Summary(start), start, f.season.Start.Add(s.clear))
	}
	return f.uprights[sow]
}

// uprightIn reads what stands in a slot; ok is false where its crop is not known.
func (s *state) uprightIn(x *placed) (upright, bool) {
	if !x.fixed {
		return s.uprightSow(x.sow), true
	}
	for _, p := range s.standing() {
		if p.Key == x.key {
			c, ok := s.crops.Find(p.CropID)
			return uprightOf(c, growth.Summary{First: p.First, Last: p.Last}, p.Start, s.season.Start.Add(x.clear)), ok
		}
	}
	return upright{}, false
}

// allowed is the field's, and that nothing tall and nothing low stands where the one would take the other's light, nor anything
// where it was begun too late too often.
func (s *state) allowed(bed, sow int) bool {
	if !s.field.allowed(bed, sow) || s.late != nil && s.late[lateKey{bed, sow}] {
		return false
	}
	if len(s.facing[bed]) == 0 {
		return true
	}
	x := s.uprightSow(sow)
	here := s.plots[bed].bed.ID
	for _, other := range s.facing[bed] {
		there := s.plots[other].bed.ID
		mine, shades := s.rows[rowKey{x.crop.ID, here, there}]
		for _, slot := range s.inBed[other] {
			y, ok := s.uprightIn(&s.slots[slot])
			if !ok {
				continue
			}
			if shades && s.light.dims(x, y, s.light.Beds[there].Hours, mine) {
				return false
			}
			if theirs, ok := s.rows[rowKey{y.crop.ID, there, here}]; ok && s.light.dims(y, x, s.light.Beds[here].Hours, theirs) {
				return false
			}
		}
	}
	return true
}
