package growth

import "fmt"

// bound is what bounds a window by a cause: a clause, the rule and the source key. For the ground the
// clause says what must be; for the others, what befalls the planting.
func (t *Table) bound(why cause) (clause, rule, source string) {
	m, k := t.Option.method(), t.Option.Crop
	switch why {
	case groundCold:
		return fmt.Sprintf("the ground is warm enough to work (%s °C at 10 cm)", number(workableSoil)), "workable ground", ""
	case soilCold:
		return fmt.Sprintf("the soil at %s cm%s is warm enough (%s °C)", number(float64(m.Depth)*100), t.covered(), number(float64(m.SoilAtLeast))), "soil temperature", "CRN-2020"
	case soilWarm:
		return fmt.Sprintf("rest and rot in soil above %s °C", number(restingSoil)), "soil temperature", "CRN-2020"
	case nightsCold:
		return fmt.Sprintf("meet a night below %s °C in their first fortnight", number(float64(*m.AirAtLeast))), "cold nights", ""
	case notUp:
		return fmt.Sprintf("are not up within %s days", number(k.Emergence.GiveUp)), "emergence", "HM54-UCSC"
	case frozenYoung:
		return "are killed by cold before harvest", "killing cold", ""
	case frozenHarvest:
		return "have their harvest cut short by killing cold", "killing cold", ""
	case boltedHeat:
		return fmt.Sprintf("bolt or spoil in the heat of days above a mean of %s °C", number(orElse(k.Heat.BoltAbove, 0))), "heat", ""
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
