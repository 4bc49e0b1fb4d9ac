package plan

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// BedCrop is a crop in a bed.
type BedCrop struct {
	Bed  int64
	Crop string // ID
}

// SoilShare is what the ground of a bed does to a crop. Where nothing is told, it bears in full and at any time.
type SoilShare struct {
	Share   float64    // of its yield that the ground leaves, above 0 to 1
	Held    civil.Date // no harvest may be counted on before this day, for raw manure; 0: none is held
	Stopped bool       // a soil test stops it: nothing to eat is grown there at all
	Reasons []garden.Reason
}

// validateSoil refuses shares that no ground has.
func (p *problem) validateSoil() error {
	for at, s := range p.soil {
		if !(s.Share > 0 && s.Share <= 1) {
			return fmt.Errorf("the ground of bed %d leaves %v of the yield of %s; it must be above 0 and at most 1", at.Bed, s.Share, at.Crop)
		}
	}
	return nil
}

// soilShare is the share of a crop's yield that the ground of a bed leaves.
func (p *problem) soilShare(bed int64, c *crop.Crop) float64 {
	if s, ok := p.soil[BedCrop{bed, c.ID}]; ok {
		return s.Share
	}
	return 1
}

// stopped says whether a soil test keeps a crop out of a bed.
func (p *problem) stopped(bed int64, c *crop.Crop) bool { return p.soil[BedCrop{bed, c.ID}].Stopped }

// heldIn is, for each option, the day before which no harvest from a bed is counted on, from the season's start.
func (p *problem) heldIn(bed int64) []int {
	held := make([]int, len(p.options))
	for i, o := range p.options {
		held[i] = math.MinInt
		if s, ok := p.soil[BedCrop{bed, o.crop.ID}]; ok && s.Held != 0 {
			held[i] = s.Held.Since(p.season.Start)
		}
	}
	return held
}

// allowed says whether a sowing may stand in a bed: the bed takes the crop, its harvest does not come too soon, and nobody forbids it.
func (f *field) allowed(bed, sow int) bool {
	return f.share(bed, sow) != 0 && f.ripeOnTime(bed, sow) && !f.barred(bed, sow)
}

// ripeOnTime says whether a sowing's harvest from a bed, in nine years of ten, begins when raw manure no longer holds it.
func (f *field) ripeOnTime(bed, sow int) bool {
	w := &f.sows[sow]
	held := f.held[bed][w.option]
	return held == math.MinInt || len(w.yield) == 0 || w.sum.First.P10.Since(f.season.Start) >= held
}

// soilAllows: a planting counts on no harvest before raw manure lets it, nor on more than its ground bears: the yield of all of it, in the
// mean of the years, by the bed's light and soil.
func (c *checker) soilAllows(x *garden.Planting, o option, bed garden.Bed) {
	soil, told := c.soil[BedCrop{bed.ID, x.CropID}]
	if soil.Stopped {
		c.fault(x, "stands in ground where a soil test stops it: no food is grown there")
	}
	if told && soil.Held != 0 && x.Expect > 0 && x.First.P10 < soil.Held {
		c.fault(x, "is harvested from %s, before raw manure allows it on %s", x.First.P10, soil.Held)
	}
	most := float64(o.crop.Harvest.Yield) * float64(x.Place.Area())
	if told {
		most *= soil.Share
	}
	_, leaves, _ := c.shadeOf(x, o, bed)
	most *= leaves
	mean := 0.0
	for i := range x.Years {
		if y := o.times.Outcome(x.Start, i); y.Yield > 0 {
			mean += y.Yield / float64(x.Years)
		}
	}
	if most *= mean; float64(x.Expect) > most*1.01+0.002 {
		c.fault(x, "is to bear %.3f kg where its ground bears %.3f kg at the most", float64(x.Expect), most)
	}
}
