package season

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
	"kailyard/internal/work"
)

// soilBook is what the season's jobs on the ground are made from. It is read once for the season and not anew each day, so that a job
// stays the same job: what is given since closes jobs and does not change them. A book that cannot be read makes no jobs, and says so.
func (r *Result) soilBook(journal []garden.Entry) *work.SoilBook {
	day := r.bookDay()
	g, err := GroundOf(GroundInput{Season: r.Season, Garden: r.Garden, Crops: r.Crops, Record: r.Record, Years: r.Years,
		Plan: r.Plan, Journal: journal, Day: day, Whole: true})
	if err != nil {
		r.Aside = append(r.Aside, "The soil book makes no jobs: "+strings.TrimSuffix(err.Error(), ".")+".")
		return nil
	}
	book := work.SoilBook{Day: day}
	for _, b := range g.Beds {
		book.Beds = append(book.Beds, b.forWork(g))
	}
	return &book
}

// bookDay is the season's first day, or the day the plan was made on where that is earlier, or that of a newer soil test.
func (r *Result) bookDay() civil.Date {
	day := r.Season.Start
	if r.Plan != nil && r.Plan.From != nil {
		day = max(min(day, *r.Plan.From), r.Season.Start-work.Before)
	}
	for _, t := range r.Garden.Tests {
		if t.Date > day && t.Date <= r.Season.End() {
			day = t.Date
		}
	}
	return day
}

// forWork is what the jobs need of a bed.
func (b BedGround) forWork(g *Ground) work.BedGround {
	w := work.BedGround{BedID: b.Bed.ID, Stopped: b.Stopped, Dose: b.Reaction.Dose, Why: b.Reaction.Reasons, Advice: b.Reaction.Advice, Fitness: b.Fitness, Holes: map[string]work.Hole{}}
	for _, t := range b.Tests {
		w.Read = append(w.Read, t.sentence())
	}
	if len(w.Read) == 0 {
		w.Read = []string{"Never tested."}
	}
	if b.Reaction.PH > 0 {
		w.Read = append(w.Read, fmt.Sprintf("pH expected now: %.1f, %s; the crops here want %.1f to %.1f.", b.Reaction.PH, soil.PHWord(b.Reaction.PH), b.Reaction.Target.Low, b.Reaction.Target.High))
	}
	for _, h := range b.Holes {
		w.Holes[h.Planting] = work.Hole{Hole: h.Hole, Digging: h.Digging}
	}
	w.Feeding = b.Feeding
	if o := b.Organic; o != nil && o.Due <= g.Season.End() && b.Feeding != nil {
		w.Organic, w.Due = o.onPlanted(b), o.Due
	}
	if n := b.New; n != nil && !n.Broken && n.Planned {
		w.Breaking = &work.Breaking{Breaking: n.Breaking, Toil: n.Toil, Plant: n.Plant, Stints: n.Stints, Left: n.Left}
	}
	return w
}

// onPlanted is the organic matter for the part of a bed that bears anything in the season: nobody feeds what lies idle.
func (o *OrganicGround) onPlanted(b BedGround) *soil.Enrichment {
	e := o.Enrichment
	share := min(1, float64(b.Feeding.Need.Planted)/float64(e.Area))
	e.Area *= quantity.SquareMetre(share)
	e.Loose *= quantity.Litre(share)
	e.Mass *= quantity.Kilogram(share)
	e.Nitrogen *= quantity.Kilogram(share)
	return &e
}

// sentence is a test in a line: "5 Oct 2026: pH 6.4, slightly acid; phosphorus 60 ppm, high."
func (t TestRead) sentence() string {
	var parts []string
	for _, r := range t.Readings {
		text := r.Of
		if r.Value != "" {
			text += " " + r.Value
		}
		if r.Word != "" {
			text += ", " + r.Word
		}
		parts = append(parts, text)
	}
	return fmt.Sprintf("Tested %s: %s.", t.Test.Date.Long(), strings.Join(parts, "; "))
}

// planned is a bed's ground as its feeding is reckoned: organic matter that is to be worked in before its first planting is counted, as
// still to come, so that no bed is fed twice. For the jobs of a whole season, what was given since the book was read is left out, because
// it closes jobs; materials that no job asks for count all the same.
func (r *bedReader) planned(g soil.Ground, b BedGround, asked []string) soil.Ground {
	first := r.in.Season.End()
	for _, p := range g.Plantings {
		if p.Start >= r.in.Season.Start {
			first = min(first, p.Start)
		}
	}
	organic := ""
	if b.Organic != nil {
		organic = b.Organic.Material
	}
	list := slices.Clone(g.Treatments)
	if r.in.Whole {
		list = slices.DeleteFunc(list, func(t garden.Treatment) bool {
			m, ok := soil.Find(t.Material)
			follows := ok && m.Family == soil.Fertiliser && (asked == nil || slices.Contains(asked, t.Material))
			return t.BedID == b.Bed.ID && t.Date > r.in.Day && (follows || t.Material == organic)
		})
	}
	if o := b.Organic; o != nil && o.Due <= first && len(g.Plantings) > 0 && (r.in.Whole || r.in.Day <= first) {
		if m, ok := soil.Find(o.Material); ok && !m.Raw {
			g.Coming = []garden.Treatment{{BedID: b.Bed.ID, Date: max(r.in.Season.Start, first-1), Material: o.Material, Amount: o.Mass * planted(g), Volume: o.Loose, Depth: o.Into}}
		}
	}
	g.Treatments = list
	return g
}

// planted is the share of a bed's ground that takes anything to be fed.
func planted(g soil.Ground) quantity.Kilogram {
	return quantity.Kilogram(min(1, float64(soil.NeedOf(g).Planted)/float64(g.Bed.Area())))
}

// strays are materials given to a bed since the book was read that its feeding does not ask for.
func (r *bedReader) strays(b BedGround) bool {
	return slices.ContainsFunc(r.in.Garden.Treatments, func(t garden.Treatment) bool {
		m, ok := soil.Find(t.Material)
		return ok && m.Family == soil.Fertiliser && t.BedID == b.Bed.ID && t.Date > r.in.Day && t.Date <= r.in.Season.End() && !slices.Contains(b.asked(), t.Material)
	})
}

// asked are the plant foods of a bed's feeding.
func (b BedGround) asked() []string {
	ids := []string{}
	if b.Feeding != nil {
		for _, p := range b.Feeding.Mix.Parts {
			ids = append(ids, p.Offer.Material.ID)
		}
	}
	return ids
}

// growsIn says whether anything but a green manure grows in a bed in the season.
func growsIn(g soil.Ground) bool {
	return slices.ContainsFunc(g.Plantings, func(p garden.Planting) bool {
		if g.Crops == nil {
			return true
		}
		c, ok := g.Crops.Find(p.CropID)
		return !ok || c.Group != crop.Cover
	})
}
