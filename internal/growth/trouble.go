package growth

import (
	"fmt"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Losses are weather years that fail, counted by what ended the planting.
type Losses [outOfYear + 1]int

func (l *Losses) count(why cause) {
	if why != ready {
		l[why]++
	}
}

// Add adds the years of others.
func (l *Losses) Add(others Losses) {
	for why, n := range others {
		l[why] += n
	}
}

// Trouble is one of the things that keep plantings from harvest. Windows, plan and the question "ready by" all say
// it with the words here.
type Trouble struct {
	Years  int
	option Option
	why    cause
}

// Troubles are what ended the plantings of an option, the commonest first.
func (o Option) Troubles(l Losses) []Trouble {
	var out []Trouble
	for why, n := range l {
		if n > 0 {
			out = append(out, Trouble{n, o, cause(why)})
		}
	}
	slices.SortStableFunc(out, func(a, b Trouble) int { return b.Years - a.Years })
	return out
}

// Fate is the fate it comes to.
func (t Trouble) Fate() Fate { return fates[t.why] }

// Kind is what sort of trouble it is: "too cold", "too hot", "too short a season", "not enough light".
func (t Trouble) Kind() string { return kinds[t.why].name }

// Lack is why no start day will do, over the options and days that were looked at.
type Lack struct {
	Best   Summary // the surest day
	Option Option  // whose it is
	looked []lost
}

// lost is what an option's start days come to, all days together.
type lost struct {
	option Option
	losses Losses
}

// Look adds a start day of an option.
func (l *Lack) Look(o Option, s Summary) {
	if n := len(l.looked); n == 0 || l.looked[n-1].option != o {
		l.looked = append(l.looked, lost{option: o})
	}
	l.looked[len(l.looked)-1].losses.Add(s.Losses)
	if s.Years > 0 && (l.Best.Years == 0 || s.Success > l.Best.Success) {
		l.Best, l.Option = s, o
	}
}

// Trouble is what goes wrong most: on the surest day or, where none succeeds in any year, on all of them, the cold of
// a winter left aside where there is anything else, for that is no news.
func (l Lack) Trouble() (most Trouble, ok bool) {
	if l.Best.Success > 0 {
		if all := l.Option.Troubles(l.Best.Losses); len(all) > 0 {
			return all[0], true
		}
		return most, false
	}
	for _, cold := range []bool{false, true} {
		for _, each := range l.looked {
			for _, t := range each.option.Troubles(each.losses) {
				if (t.Fate() == TooCold) == cold && t.Years > most.Years {
					most, ok = t, true
				}
			}
		}
		if ok {
			break
		}
	}
	return most, ok
}

// Says is the surest day, what goes wrong most, and what would help, in sentences.
func (l Lack) Says(u quantity.System) string {
	says := "None succeeds in any year."
	if l.Best.Success > 0 {
		says = fmt.Sprintf("The best, %s on %s, succeeds in %d of %d.", l.Option.Starting(), l.Best.Start.Short(), l.Best.Success, l.Best.Years)
	}
	t, ok := l.Trouble()
	if !ok {
		return says
	}
	later, squeezed := l.after(t)
	if !squeezed {
		return says + fmt.Sprintf(" What goes wrong most: %s (%s). %s", t.Says(u), t.Kind(), t.Helps(u))
	}
	return says + fmt.Sprintf(" What goes wrong most: %s (%s); once it is warm enough, %s (%s). %s", t.Says(u), t.Kind(), later.Says(u), later.Kind(), later.Helps(u))
}

// after is what goes wrong most once ground and nights are warm enough, where they are not at first.
func (l Lack) after(first Trouble) (Trouble, bool) {
	if first.Fate() != TooCold {
		return Trouble{}, false
	}
	for _, each := range l.looked {
		if each.option != first.option {
			continue
		}
		for _, t := range each.option.Troubles(each.losses) {
			if t.Fate() != TooCold {
				return t, true
			}
		}
	}
	return Trouble{}, false
}

// Starting is what one does to begin: "sowing lettuce, loose-leaf under row cover".
func (o Option) Starting() string {
	doing := map[crop.Way]string{crop.Sow: "sowing ", crop.SetOut: "setting out ", crop.Set: "planting "}
	return doing[o.method().Way] + o.Crop.Name() + o.covered()
}

// Says is a clause with "it" for the planting: "it bolts or spoils in the heat of days above a mean of 24 °C".
func (t Trouble) Says(u quantity.System) string { return "it " + t.option.befalls(t.why, u, false) }

// kinds are the sorts of trouble, with the rule and the source key under which a reason cites them.
var kinds = [outOfYear + 1]struct{ name, rule, source string }{
	groundCold:     {"too cold", "workable ground", ""},
	soilCold:       {"too cold", "soil temperature", "CRN-2020"},
	soilWarm:       {"too warm", "soil temperature", "CRN-2020"},
	nightsCold:     {"too cold", "cold nights", ""},
	notUp:          {"too cold or too hot for the seed", "emergence", "HM54-UCSC"},
	frozenYoung:    {"too cold", "killing cold", ""},
	frozenHarvest:  {"too cold", "killing cold", ""},
	boltedHeat:     {"too hot", "heat", ""},
	boltedDays:     {"days too long", "day length", ""},
	boltedSpring:   {"bolting after winter", "biennial", ""},
	noWinter:       {"too mild a winter", "winter cold", ""},
	heatCutHarvest: {"too hot", "heat", ""},
	didNotSet:      {"too hot or too cold to set", "fruit set", ""},
	smallBulbs:     {"days long too soon", "day length", ""},
	heaved:         {"too cold", "frozen ground", ""},
	stoodStill:     {"too cold or too hot to grow", "time", ""},
	tooHot:         {"too hot", "heat", ""},
	tooDark:        {"not enough light", "time", ""},
	daysShort:      {"days too short", "day length", ""},
	outOfYear:      {"too short a season", "time", ""},
}

// befalls is what befalls plantings by a cause, as a clause without its subject, for one of them or for many.
func (o Option) befalls(why cause, u quantity.System, many bool) string {
	verb := func(one, more string) string {
		if many {
			return more
		}
		return one
	}
	m, k := o.method(), o.Crop
	is, has, finds := verb("is", "are"), verb("has", "have"), verb("finds", "find")
	switch why {
	case groundCold:
		return fmt.Sprintf("%s the ground too cold to work (below %s at %s)", finds, u.Temperature(workableSoil), u.Depth(workableDepth))
	case soilCold:
		return fmt.Sprintf("%s the soil at %s too cold (below %s)", finds, u.Depth(m.Depth), u.Temperature(m.SoilAtLeast))
	case soilWarm:
		if bareRoot(o) {
			return fmt.Sprintf("%s the soil too warm for bare roots (above %s)", finds, u.Temperature(restingSoil))
		}
		return fmt.Sprintf("%s and %s in soil above %s", verb("rests", "rest"), verb("rots", "rot"), u.Temperature(restingSoil))
	case nightsCold:
		return fmt.Sprintf("%s a night below %s in %s first fortnight", verb("meets", "meet"), u.Temperature(quantity.Celsius(orElse(m.AirAtLeast, 0))), verb("its", "their"))
	case notUp:
		return fmt.Sprintf("%s not up within %s", is, quantity.Plural(k.Emergence.GiveUp, "day"))
	case frozenYoung:
		return is + " killed by cold before harvest"
	case frozenHarvest:
		return has + " " + verb("its", "their") + " harvest cut short by killing cold"
	case boltedHeat:
		return fmt.Sprintf("%s or %s in the heat of days above a mean of %s", verb("bolts", "bolt"), verb("spoils", "spoil"), u.Temperature(quantity.Celsius(orElse(k.Heat.BoltAbove, 0))))
	case boltedDays:
		return verb("runs", "run") + " to flower in long days"
	case boltedSpring:
		return verb("runs", "run") + " to flower in the spring after " + verb("its", "their") + " winter"
	case noWinter:
		return verb("makes", "make") + " no full bulbs for want of a winter"
	case heatCutHarvest:
		return has + " " + verb("its", "their") + " harvest cut short by heat"
	case didNotSet:
		return verb("flowers", "flower") + " when it is too hot or too cold to set"
	case smallBulbs:
		return verb("bulbs", "bulb") + " while " + verb("it is", "they are") + " still small"
	case heaved:
		return fmt.Sprintf("%s lifted by freezing ground before %s roots hold, %s after planting", is, verb("its", "their"), quantity.Plural(rooting, "day"))
	case stoodStill:
		return verb("stands", "stand") + " still too long to come to anything"
	case tooHot:
		return fmt.Sprintf("%s still in the heat of days above a mean of %s", verb("stands", "stand"), u.Temperature(quantity.Celsius(orElse(k.Heat.BoltAbove, 0))))
	case tooDark:
		return verb("stands", "stand") + " still in the light of short days"
	case daysShort:
		return verb("waits", "wait") + " in vain for days long enough to bulb in"
	}
	return is + " not ready within the year that follows"
}

// Helps is what a gardener can do about it, a sentence.
//
// Source: common practice.
func (t Trouble) Helps(u quantity.System) string {
	warmth := "a cover"
	if t.option.Protection != nil {
		warmth = "a warmer cover"
	}
	raised, either := "", ""
	if t.option.method().Way == crop.Sow {
		raised, either = "plants raised indoors, ", "or "
	}
	switch t.why {
	case groundCold, soilCold, nightsCold:
		return "What would help: " + raised + warmth + " to warm the ground, or a later day."
	case heaved:
		return "What would help: planting in spring, or earlier in autumn, with a mulch laid once the ground begins to freeze."
	case soilWarm:
		if bareRoot(t.option) {
			return "What would help: planting in the cool of spring or autumn, or plants grown in pots."
		}
		return "What would help: waiting until the soil has cooled, or ground that is shaded and mulched."
	case notUp:
		return "What would help: " + raised + either + "a time at which the soil is nearer what the seed likes."
	case frozenYoung, frozenHarvest:
		return "What would help: a hardier or a quicker kind, or " + warmth + "."
	case boltedHeat, heatCutHarvest, tooHot:
		return "What would help: a quicker kind or one that bears heat, shade cloth in the hot weeks, or a start that puts its growth into the cool of the year."
	case boltedDays:
		return "What would help: a kind slow to bolt, or a start after the longest days."
	case boltedSpring:
		return "What would help: a kind slow to bolt, or a later start, so that it meets the winter small."
	case noWinter:
		return fmt.Sprintf("What would help: sets kept at %s to %s for six to eight weeks before they are planted, or a kind grown where winters are mild.", u.Temperature(4), u.Temperature(bulbCold))
	case didNotSet:
		return "What would help: a kind that sets in such weather, or a start that has it flower when nights and days are milder."
	case smallBulbs:
		return "What would help: an earlier start, sets or strong plants instead of seed, or a kind that bulbs in longer days."
	case daysShort:
		return "What would help: a kind that bulbs in shorter days."
	case tooDark:
		return "What would help: an earlier start, so that it is grown before the days are short; a cover gives warmth, but no light."
	case stoodStill:
		return "What would help: a quicker kind, a milder time of the year, " + raised + "or " + warmth + "."
	}
	return "What would help: a quicker kind, an earlier start, " + raised + "or " + warmth + "."
}
