package garden

import (
	"fmt"
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// perennialYears is how long a perennial holds its ground where the description does not say.
const perennialYears = 25

// readStanding reads a planting that is in the ground. What a person need not say has a plain
// meaning: the whole bed, the crop's usual method, plants at the catalogue's spacing, and for a
// perennial that it stays.
func (d *describer) readStanding(i int, t *table) Planting {
	f := d.fields("standing", i, t)
	p := Planting{Key: f.text("key", optional), Role: Alone, Status: InGround}
	if p.Key == "" {
		p.Key = fmt.Sprintf("kept-%d", i+1)
	}
	p.CropID = f.text("crop", required)
	f.part = partName("standing", p.CropID, i)
	c := f.crop("crop", p.CropID, true)
	if c != nil {
		p.CropID = c.ID
	}
	p.BedID = f.bed("bed")
	bed, _ := (Garden{Beds: d.beds}).Bed(p.BedID)
	if p.BedID == 0 {
		d.wrong[f.path+"/along"] = true
	}
	p.Place.AlongFrom, p.Place.AlongTo = f.reach("along", bed.Length)
	p.Place.AcrossFrom, p.Place.AcrossTo = f.reach("across", bed.Width)
	f.method(&p, c)
	if cover := f.text("under", optional); cover != "" {
		p.Protection = f.cover("under", f.spots[f.path+"/under"], cover)
	}
	f.counts(&p, c, bed)
	f.days(&p, c)
	f.course(&p)
	f.done()
	return p
}

// method reads how it came into the ground.
func (f *fields) method(p *Planting, c *crop.Crop) {
	way := crop.Way(f.text("way", optional))
	p.Method = f.whole("method", optional, 0) - 1
	given := f.table.values["method"] != nil
	if c == nil {
		p.Way, p.Method = way, max(p.Method, 0)
		return
	}
	if !given {
		p.Method = 0
		for i, m := range c.Methods {
			if m.Way == way {
				p.Method = i
				break
			}
		}
	}
	if p.Way = way; way == "" && p.Method >= 0 && p.Method < len(c.Methods) {
		p.Way = c.Methods[p.Method].Way
	}
	if way != "" && way != crop.Sow && way != crop.SetOut && way != crop.Set {
		f.complain("way", f.spots[f.path+"/way"], Problem{
			Says: fmt.Sprintf("way is %q", way), Remedy: fmt.Sprintf("write %q, %q or %q", crop.Sow, crop.SetOut, crop.Set)})
	}
}

// counts reads rows and plants, or works them out from the spacing.
func (f *fields) counts(p *Planting, c *crop.Crop, bed Bed) {
	rows, plants := 0, 0
	if c != nil && c.Spacing.BetweenRows > 0 && c.Spacing.InRow > 0 {
		long, wide := p.Place.AlongTo-p.Place.AlongFrom, p.Place.AcrossTo-p.Place.AcrossFrom
		if bed.RowsAcross {
			long, wide = wide, long
		}
		rows = countAt(wide, c.Spacing.BetweenRows)
		plants = rows * countAt(long, c.Spacing.InRow)
	}
	p.Rows = f.whole("rows", optional, rows)
	p.Plants = f.whole("plants", optional, plants)
}

// countAt is how many plants or rows fit a length at a distance, at least one.
func countAt(length, apart quantity.Metre) int {
	n := math.Floor(float64(length/apart) + 1e-6)
	return int(min(max(n, 1), 1e6))
}

// days reads when it went in and when the ground is free.
func (f *fields) days(p *Planting, c *crop.Crop) {
	if start := f.date("start"); start != nil {
		p.Start = *start
	} else {
		f.complain("start", f.table.at, Problem{Says: "start is missing", Remedy: "write start = the day it went into the ground"})
	}
	p.Season = f.whole("season", optional, f.seasonHolding(p.Start))
	switch end := f.date("clear"); {
	case end != nil:
		p.Clear = *end
	case c != nil && c.Perennial:
		p.Clear = p.Start.InYear(p.Start.Year() + perennialYears)
	default:
		f.complain("clear", f.table.at, Problem{Says: "clear is missing", Remedy: "write clear = the day from which the ground is free"})
	}
	p.RaiseOn = f.date("raise_on")
	p.Emerge, p.First, p.Last = f.spread("emerge"), f.spread("first"), f.spread("last")
}

// course reads what the planner knew of it, which a person may leave out.
func (f *fields) course(p *Planting) {
	if role := f.text("role", optional); role != "" {
		p.Role = Role(role)
	}
	p.Partner = f.text("partner", optional)
	if status := f.text("status", optional); status != "" {
		p.Status = Status(status)
	}
	p.Pinned = f.truth("pinned")
	p.Success = f.whole("success_years", optional, 0)
	p.Years = f.whole("weather_years", optional, 0)
	p.Expect = quantity.Kilogram(f.number("expect_kg", optional))
	p.Reasons = f.reasons("reason")
}
