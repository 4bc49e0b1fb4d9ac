package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Each step of weight counts double. Of what is asked the first fifth counts threefold, so that
// every want gets something; up to half it counts whole, up to four fifths at 7/10, the last fifth at
// 4/10. More than anybody eats costs a quarter of what it would be worth: it has to be picked and
// carried to the heap. A want wholly met is worth 119 points at weight 1 and 1904 at
// weight 5. Values are whole numbers so that the search adds and takes away without drift, and
// every machine agrees.
const (
	point     int64 = 10_000_000_000 // what Plan.Value counts in
	unit            = 100 * point    // all that is asked at weight 1, were each part to count whole
	glutShare       = 4              // what nobody eats costs one such share of its worth
)

// demand is a want made ready for the search. Masses are whole milligrams.
type demand struct {
	want    garden.Want
	crops   []*crop.Crop
	sowings []int    // indices into field.sows
	brief   []int    // the same, for those that are taken whole from among slow plants
	asked   int64    // as it counts
	weekly  []int64  // by week; nil for a season total
	carry   int      // weeks that a harvest keeps
	price   [4]int64 // value of a milligram in each part
	fixed   []int64  // harvest by week from what already stands
}

// matchWant finds the crops a want names.
func (p *problem) matchWant(w garden.Want) ([]*crop.Crop, error) {
	found, near := p.crops.Match(w.Crop)
	if len(found) == 0 {
		hint := "; the catalogue's crops are listed by kind and type"
		if len(near) > 0 {
			hint = "; did you mean " + strings.Join(near, " or ") + "?"
		}
		return nil, fmt.Errorf("the want for %q names no crop of the catalogue%s", w.Crop, hint)
	}
	return found, nil
}

// mass converts a want's amount to milligrams.
func mass(w garden.Want, crops []*crop.Crop) (int64, error) {
	var kg float64
	switch u := strings.ToLower(strings.TrimSpace(w.Unit)); u {
	case "kg", "":
		kg = w.Amount
	case "g":
		kg = w.Amount / 1000
	case "lb", "lbs":
		kg = w.Amount * quantity.KilogramsPerPound
	case "oz":
		kg = w.Amount * quantity.GramsPerOunce / 1000
	default:
		each, ok := unitMass(u, crops)
		if !ok {
			return 0, fmt.Errorf("the want for %q is counted in %q; write kg, lb or %s", w.Crop, w.Unit, unitNames(crops))
		}
		kg = w.Amount * each
	}
	if math.IsNaN(kg) || kg < 0 || kg > 1e6 {
		return 0, fmt.Errorf("the want for %q asks for %v %s; give an amount between 0 and a million kilograms", w.Crop, w.Amount, w.Unit)
	}
	return int64(math.Round(kg * 1e6)), nil
}

// unitMass is the mass in kg of what people count, "head" or "heads".
func unitMass(u string, crops []*crop.Crop) (float64, bool) {
	for _, c := range crops {
		name := strings.ToLower(c.Harvest.Unit)
		if name != "" && (u == name || u == name+"s" || u == name+"es") && c.Harvest.UnitMass > 0 {
			return float64(c.Harvest.UnitMass), true
		}
	}
	return 0, false
}

func unitNames(crops []*crop.Crop) string {
	for _, c := range crops {
		if c.Harvest.Unit != "" && c.Harvest.Unit != "kg" {
			return c.Harvest.Unit
		}
	}
	return "g"
}

// leastPerSquare is the least that a square metre of a want's best sowing counts in full, so that of what is asked beyond all measure
// some is grown where the ground is free: as much as its work and a little more (estimate). Source: PLAN-PRACTICE.
const (
	leastPerSquare = 15 * point
	mostRaised     = 50 // times: a crop that yields next to nothing is not worth its work
)

// perMilligram is what a milligram of all that is asked is worth.
func (d *demand) perMilligram(all []sowing) float64 {
	best := 0.0
	for _, k := range d.sowings {
		best = max(best, all[k].total, all[k].promise)
	}
	whole := float64(int64(unit)<<(d.want.Weight-1)) / float64(d.asked)
	if best > 0 {
		whole = max(whole, min(float64(leastPerSquare)/best, mostRaised*whole))
	}
	return whole
}

// newDemand reads one want. The sowings are all that may serve it.
func (p *problem) newDemand(w garden.Want, crops []*crop.Crop, all []sowing, serve, brief []int) (demand, error) {
	d := demand{want: w, crops: crops, sowings: serve, brief: brief, carry: 1 << 10}
	if w.Weight < 1 || w.Weight > 5 {
		return d, fmt.Errorf("the want for %q has weight %d; give it 1 (nice to have) to 5 (first)", w.Crop, w.Weight)
	}
	amount, err := mass(w, crops)
	if err != nil {
		return d, err
	}
	for _, c := range crops {
		d.carry = min(d.carry, c.Harvest.StoreDays/7)
	}
	d.fixed = make([]int64, horizonWeeks(p.season))
	switch w.Basis {
	case garden.Total:
		d.asked = amount
	case garden.Weekly:
		d.weekly = make([]int64, horizonWeeks(p.season))
		for _, week := range p.wantedWeeks(d, all) {
			d.weekly[week] = amount
			d.asked += amount
		}
	default:
		return d, fmt.Errorf("the want for %q is counted by %q; it must be %q or %q", w.Crop, w.Basis, garden.Total, garden.Weekly)
	}
	if d.asked > 0 {
		whole := d.perMilligram(all)
		d.price = [4]int64{int64(whole * 3), int64(whole), int64(whole * 0.7), int64(whole * 0.4)}
	}
	return d, nil
}

// worthPicking is the share of a sowing's best week from which another week of it counts as one in which it can be had (estimate), when
// it is less than a twentieth of the whole: of what is picked for half a year each week gives little.
const worthPicking = 0.5

// wantedWeeks are the weeks of a weekly want: those of From–To, or else those in which some sowing
// bears or its harvest still keeps, up to the week in which next season's first sowing could bear.
func (p *problem) wantedWeeks(d demand, all []sowing) []int {
	var out []int
	n := horizonWeeks(p.season)
	if d.want.From != nil || d.want.To != nil {
		from, to := p.wantedSpan(d.want)
		for w := 0; w < n; w++ {
			if day := p.season.WeekStart(w); day+6 >= from && day <= to {
				out = append(out, w)
			}
		}
		return out
	}
	can := make([]bool, n)
	first := n
	for _, i := range d.sowings {
		s := &all[i]
		for k, y := range s.yield {
			if y < min(0.05*s.total, worthPicking*slices.Max(s.yield)) {
				continue
			}
			first = min(first, s.week+k)
			for w := s.week + k; w <= s.week+k+d.carry && w < n; w++ {
				can[w] = true
			}
		}
	}
	for w := 0; w < n && w < first+52; w++ {
		if can[w] {
			out = append(out, w)
		}
	}
	return out
}

// wantedSpan is a want's From–To laid over the season; an absent end is the season's.
func (p *problem) wantedSpan(w garden.Want) (from, to civil.Date) {
	lay := func(d civil.Date, least civil.Date) civil.Date {
		for year := p.season.Year(); year <= p.season.Year()+2; year++ {
			if at := d.InYear(year); at >= least {
				return at
			}
		}
		return least
	}
	from, to = p.season.Start, p.season.End()
	if w.From != nil {
		from = lay(*w.From, p.season.Start)
	}
	if w.To != nil {
		to = lay(*w.To, from)
	}
	return from, to
}

// worth is the value of using part of what is asked at one time or in one week.
func (d *demand) worth(used, asked int64) int64 {
	v := -max(used-asked, 0) * (d.price[1] / glutShare)
	var from int64
	used = min(used, asked)
	for part, upTo := range [4]int64{asked / 5, asked / 2, asked * 4 / 5, asked} {
		if used <= upTo {
			return v + (used-from)*d.price[part]
		}
		v += (upTo - from) * d.price[part]
		from = upTo
	}
	return v
}

// useful shares a weekly harvest out to the weeks that want it, oldest first, while it keeps; use
// gets what each week eats. harvest is spoiled.
func (d *demand) useful(harvest []int64, use func(week int, eaten int64)) {
	old := 0
	for w, ask := range d.weekly {
		old = max(old, w-d.carry)
		var eaten int64
		for ask > eaten && old <= w {
			take := min(harvest[old], ask-eaten)
			harvest[old] -= take
			eaten += take
			if harvest[old] == 0 {
				old++
			} else {
				break
			}
		}
		if eaten > 0 {
			use(w, eaten)
		}
	}
}

// ends is the part of a harvest, in milligrams, that comes in the first and in the last third of the
// weeks that can serve a season's total.
type ends struct{ early, late int64 }

func (e *ends) add(s *sowing, mg int64) {
	if s.early {
		e.early += mg
	}
	if s.late {
		e.late += mg
	}
}

// value is what a harvest is worth to the want; scratch is at least as long. Of a total that can be
// picked over many weeks a fifth at either end counts half as much again.
func (d *demand) value(harvest []int64, total, promise int64, at ends, scratch []int64) int64 {
	// A perennial that bears only in later years is worth three tenths of what it will bear.
	v := min(promise, d.asked) * (d.price[1] / 10) * 3
	if d.weekly == nil {
		return v + d.worth(total, d.asked) + (min(at.early, d.asked/5)+min(at.late, d.asked/5))*(d.price[1]/2)
	}
	if d.carry == 0 {
		for w, ask := range d.weekly {
			if harvest[w] > 0 {
				v += d.worth(harvest[w], ask)
			}
		}
		return v
	}
	s := scratch[:len(harvest)]
	copy(s, harvest)
	d.useful(s, func(w int, eaten int64) { v += d.worth(eaten, d.weekly[w]) })
	for _, left := range s {
		v += d.worth(left, 0)
	}
	return v
}

// standingHarvest counts what a standing planting is expected to bear, evenly from first to last harvest.
func (f *field) standingHarvest(d *demand, s garden.Planting) {
	if mg := f.bearing(s); mg > 0 && d.weekly == nil {
		d.fixed[len(d.fixed)/4] += mg // which week does not matter to a season's total
		return
	}
	if s.Expect <= 0 || s.First.P50 == 0 || s.Status == garden.Lost {
		return
	}
	from := max(f.season.Week(s.First.P50), 0)
	to := min(max(f.season.Week(s.Last.P50), from), len(d.fixed)-1)
	if from > to {
		return
	}
	each := int64(math.Round(float64(s.Expect) * 1e6 / float64(to-from+1)))
	for w := from; w <= to; w++ {
		d.fixed[w] += each
	}
}

// bearing is the yield in milligrams, by ground, light, soil and catalogue, of a standing perennial old
// enough to bear whose expected harvest nobody has said; 0 for anything else.
func (p *problem) bearing(s garden.Planting) int64 {
	c, ok := p.crops.Find(s.CropID)
	if !ok || !c.Perennial || s.Expect > 0 || p.season.Year()-s.Start.Year()+1 < c.Harvest.FirstYear {
		return 0
	}
	for _, b := range p.garden.Beds {
		if b.ID == s.BedID {
			sun, _ := p.sunOn(b, c.Light, p.season.Start, p.season.End()+1)
			return int64(math.Round(float64(c.Harvest.Yield) * 1e6 * float64(s.Place.Area()) * lightShare(sun, c.Light) * p.soilShare(b.ID, c)))
		}
	}
	return 0
}
