package plan

import (
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// sunDuring is the sun of a bed that a planting makes use of over its growth, day by day, on no day more than its crop needs: told
// by month where it is known, else the hours told.
func (c *checker) sunDuring(bed garden.Bed, of *crop.Crop, from, to civil.Date, row *RowShade, shaded civil.Span) float64 {
	known, ok := BedLight{}, false
	if c.problem.light != nil {
		known, ok = c.problem.light.Beds[bed.ID]
	}
	if !ok {
		return float64(bed.Sun)
	}
	if of.Perennial {
		to = from + 364
	}
	hours, weights := 0.0, 0.0
	for d := from; d <= to; d++ {
		m := d.Month() - 1
		h := float64(known.Hours[m])
		if row != nil && shaded.Has(d) {
			h -= float64(row.Hours[m])
		}
		if most := float64(of.Light.Needs); most > 0 && h > most {
			h = most
		}
		hours += h * c.problem.light.Grows[m]
		weights += c.problem.light.Grows[m]
	}
	if weights <= 0 {
		return 0
	}
	return hours / weights
}

// shadeOf is the sun on a planting, the share of its yield that leaves, and by how many days it is late.
func (c *checker) shadeOf(x *garden.Planting, o option, bed garden.Bed) (sun, leaves float64, late int) {
	s := o.times.Summary(x.Start)
	sun = c.sunDuring(bed, o.crop, x.Start, s.Last.P50, nil, civil.Span{})
	leaves = 1
	if need := float64(o.crop.Light.Needs); need > 0 && sun < need {
		leaves = sun / need
	}
	if c.problem.light == nil || o.crop.Perennial {
		return sun, leaves, 0
	}
	if _, ok := c.problem.light.Beds[bed.ID]; ok {
		weeks := (1 - leaves) / 2 * float64(s.First.P50-x.Start) / 7
		late = 7 * int(math.Floor(weeks+0.5))
	}
	return sun, leaves, late
}

func (c *checker) light(x *garden.Planting, o option, bed garden.Bed) {
	if sun, _, _ := c.shadeOf(x, o, bed); sun < float64(o.crop.Light.Least)-0.05-1e-9 { // 6.0 reads as 6
		c.fault(x, "gets %.1f h of sun and needs at least %.1f h", sun, float64(o.crop.Light.Least))
	}
	if o.crop.Perennial != bed.Perennial {
		c.fault(x, "perennials and annuals do not share beds")
	}
}

// overshadowed: nothing tall that is newly planted, or stood already, takes more than a twentieth of the yield of what stands behind it.
func (c *checker) overshadowed(tall, low *garden.Planting) {
	if c.problem.light == nil || c.stands[tall.Key] || c.stands[low.Key] {
		return
	}
	for i, r := range c.problem.light.Rows {
		if r.Crop != tall.CropID || r.From != tall.BedID || r.On != low.BedID {
			continue
		}
		to, ok := c.optionOf(tall)
		lo, okay := c.optionOf(low)
		if _, told := c.problem.light.Beds[low.BedID]; !ok || !okay || !told {
			continue
		}
		half := tall.Start + max(0, to.times.Summary(tall.Start).First.P50-tall.Start)/2
		if to.crop.Perennial {
			half = tall.Start
		}
		last := lo.times.Summary(low.Start).Last.P50
		bed := c.beds[low.BedID]
		open := c.sunDuring(bed, lo.crop, low.Start, last, nil, civil.Span{})
		shut := c.sunDuring(bed, lo.crop, low.Start, last, &c.problem.light.Rows[i], civil.Span{From: half, To: tall.Clear - 1})
		need, least := float64(lo.crop.Light.Needs), float64(lo.crop.Light.Least)
		leaves := func(sun float64) float64 {
			switch {
			case sun < least-0.05:
				return 0
			case need <= 0:
				return 1
			}
			return math.Min(1, sun/need)
		}
		if leaves(open)-leaves(shut) > 0.05+1e-9 {
			c.fault(tall, "takes the light of %s behind it: %.1f h are left of %.1f h", low.Key, shut, open)
		}
	}
}
