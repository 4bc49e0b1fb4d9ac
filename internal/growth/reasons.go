package growth

import (
	"fmt"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Edge is what ends a window on one side. It is put into words where it is shown, in the person's units.
type Edge struct {
	option  Option // without a crop: the season's own start or end
	why     cause
	opening bool
	share   float64 // of the weather years, that the window asks
}

// Reason is the edge as a sentence, its figures in a system of units.
func (e Edge) Reason(u quantity.System) garden.Reason {
	switch {
	case e.option.Crop == nil && e.opening:
		return garden.Reason{Says: "Open when the season starts.", Rule: "season"}
	case e.option.Crop == nil:
		return garden.Reason{Says: "Still open when the season ends.", Rule: "season"}
	}
	k := kinds[e.why]
	reason := garden.Reason{Rule: k.rule, Source: k.source}
	switch must := e.option.must(e.why, u); {
	case must != "" && e.opening:
		reason.Says = fmt.Sprintf("Opens when %s, or is within a week, in %s.", must, yearsOfTen(e.share))
	case must != "":
		reason.Says = fmt.Sprintf("Closes with the last day on which %s in %s.", must, yearsOfTen(e.share))
	case e.opening:
		reason.Says = fmt.Sprintf("Opens here because earlier %s %s.", e.option.startings(), e.option.befalls(e.why, u, true))
	default:
		reason.Says = fmt.Sprintf("Closes because later %s %s.", e.option.startings(), e.option.befalls(e.why, u, true))
	}
	return reason
}

// must is what the ground must be where it is the ground that bounds a window; else empty.
func (o Option) must(why cause, u quantity.System) string {
	switch m := o.method(); why {
	case groundCold:
		return fmt.Sprintf("the ground is warm enough to work (%s at %s)", u.Temperature(workableSoil), u.Depth(workableDepth))
	case soilCold:
		return fmt.Sprintf("the soil at %s%s is warm enough (%s)", u.Depth(m.Depth), o.covered(), u.Temperature(m.SoilAtLeast))
	}
	return ""
}

// startings is what the plantings of the option are called.
func (o Option) startings() string {
	switch o.method().Way {
	case crop.Sow:
		return "sowings" + o.covered()
	case crop.SetOut:
		return "settings-out" + o.covered()
	}
	return "plantings" + o.covered()
}

// covered is " under row cover", or nothing in the open.
func (o Option) covered() string {
	if o.Protection == nil {
		return ""
	}
	return " under " + o.Protection.Under()
}
