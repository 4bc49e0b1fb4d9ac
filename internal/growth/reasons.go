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
	clause, rule, source := e.option.bound(e.why, u)
	ground := e.why == groundCold || e.why == soilCold
	says := fmt.Sprintf("Closes because later %s %s.", e.option.startings(), clause)
	switch {
	case ground && e.opening:
		says = fmt.Sprintf("Opens when %s, or is within a week, in %s.", clause, yearsOfTen(e.share))
	case ground:
		says = fmt.Sprintf("Closes with the last day on which %s in %s.", clause, yearsOfTen(e.share))
	case e.opening:
		says = fmt.Sprintf("Opens here because earlier %s %s.", e.option.startings(), clause)
	}
	return garden.Reason{Says: says, Rule: rule, Source: source}
}

// bound is what bounds a window by a cause: a clause, the rule and the source key. For the ground the
// clause says what must be; for the others, what befalls the planting.
func (o Option) bound(why cause, u quantity.System) (clause, rule, source string) {
	m, k := o.method(), o.Crop
	switch why {
	case groundCold:
		return fmt.Sprintf("the ground is warm enough to work (%s at %s)", u.Temperature(workableSoil), u.Depth(workableDepth)), "workable ground", ""
	case soilCold:
		return fmt.Sprintf("the soil at %s%s is warm enough (%s)", u.Depth(m.Depth), o.covered(), u.Temperature(m.SoilAtLeast)), "soil temperature", "CRN-2020"
	case soilWarm:
		return fmt.Sprintf("rest and rot in soil above %s", u.Temperature(restingSoil)), "soil temperature", "CRN-2020"
	case nightsCold:
		return fmt.Sprintf("meet a night below %s in their first fortnight", u.Temperature(*m.AirAtLeast)), "cold nights", ""
	case notUp:
		return fmt.Sprintf("are not up within %s", quantity.Plural(k.Emergence.GiveUp, "day")), "emergence", "HM54-UCSC"
	case frozenYoung:
		return "are killed by cold before harvest", "killing cold", ""
	case frozenHarvest:
		return "have their harvest cut short by killing cold", "killing cold", ""
	case boltedHeat:
		return fmt.Sprintf("bolt or spoil in the heat of days above a mean of %s", u.Temperature(quantity.Celsius(orElse(k.Heat.BoltAbove, 0)))), "heat", ""
	case boltedDays:
		return "run to flower in long days", "day length", ""
	case boltedSpring:
		return "run to flower in the spring after their winter", "biennial", ""
	case noWinter:
		return "make no full bulbs for want of a winter", "winter cold", ""
	case heatCutHarvest:
		return "have their harvest cut short by heat", "heat", ""
	case didNotSet:
		return "flower when it is too hot or too cold to set", "fruit set", ""
	case smallBulbs:
		return "bulb while they are still small", "day length", ""
	case stoodStill:
		return "stand still too long to come to anything", "time", ""
	}
	return "are not ready within the year that follows", "time", ""
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
