package work

import (
	"fmt"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/water"
)

// watered is what jobs know of a garden's water.
type watered struct {
	in     map[string]water.GoingIn
	garden garden.Garden
}

// waterIn adds to a job of sowing or setting out how wet the ground is likely to be, and what the planting is watered in with.
func (d *desk) waterIn(j *Job, p *garden.Planting) {
	g, known := d.water.in[p.Key]
	bed := d.beds[p.BedID]
	if !known || g.Years == 0 || bed == nil || p.Role == garden.Marker {
		return
	}
	way, supply := d.water.garden.WateredBy(*bed), d.water.garden.Site.Supply
	if way.By == garden.BySprinkler || way.By == garden.ByDrip || way.By == garden.Unwatered {
		way.By = garden.ByCan // a drill or a plant is watered in by hand
	}
	area := p.Place.Area()
	middle := water.Tell(g.Water, area, way, supply, d.system)
	says := fmt.Sprintf("To water it in, if no rain comes: about %s", middle.Says)
	if g.Most > g.Water*1.3 {
		says += fmt.Sprintf("; on dry ground up to %s", water.Tell(g.Most, area, way, supply, d.system).Says)
	}
	j.How = append(j.How, says+".")
	j.Conditions = append(j.Conditions, garden.Reason{Says: dryWords(g, j.Kind), Rule: "soil moisture at going in", Source: "FAO56"})
}

// dryWords says how likely the top of the ground is too dry.
func dryWords(g water.GoingIn, k Kind) string {
	then, what := "water the bottom of the drill before the seed goes in", "for seed"
	if k != Sow {
		then, what = "water the ground the evening before", "for roots"
	}
	switch {
	case g.Dry == 0:
		return fmt.Sprintf("The top of the ground is moist enough %s on this day in all %d weather years.", what, g.Years)
	case g.Dry == g.Years:
		return fmt.Sprintf("The top of the ground is too dry %s on this day in all %d weather years: %s.", what, g.Years, then)
	}
	return fmt.Sprintf("The top of the ground is too dry %s on this day in %d of %d weather years: then %s.", what, g.Dry, g.Years, then)
}

// BedWater is what a bed, or a part of it that is named with it, wants of water in a week, in words.
type BedWater struct{ Bed, Typical, Dry string }

// WaterWords writes a week's water for a terminal or a letter, a bed after the other; nothing where no bed wants any.
func WaterWords(list []BedWater) string {
	if len(list) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("\n  Water this week, with the usual rain:\n")
	for _, w := range list {
		wrap(&b, w.Says(), "    - ", "      ")
	}
	return b.String()
}

// Says is a bed's water in a line.
func (w BedWater) Says() string {
	if w.Typical == w.Dry {
		return w.Bed + ": " + w.Dry
	}
	return fmt.Sprintf("%s: %s; in a dry year %s", w.Bed, w.Typical, w.Dry)
}
