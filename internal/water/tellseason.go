package water

import (
	"fmt"
	"math"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// TellSeason says what a season's watering comes to, its peak, and whether tap and tank can supply it.
func TellSeason(n Needs, store Store, s garden.Supply, units quantity.System) []string {
	if n.Dry < 1 {
		return []string{"Nothing needs watering in nine years of ten."}
	}
	said := []string{
		fmt.Sprintf("In a typical year all beds want %s over the season, in a dry year of ten %s.", Rough(n.Typical, units), Rough(n.Dry, units)),
		peak(n, s, units),
	}
	if s.Tank > 0 && s.Roof > 0 {
		said = append(said, tankSays(n, store, s, units)...)
	}
	return said
}

// Rough is a volume to two figures of the person's own unit: a season's need is known no better.
func Rough(v quantity.Litre, units quantity.System) string {
	unit := 1.0
	if units == quantity.US {
		unit = quantity.LitresPerGallon
	}
	return units.Volume(quantity.Litre(unit * quantity.TwoFigures(float64(v)/unit)))
}

// peak tells of the week that asks most.
func peak(n Needs, s garden.Supply, units quantity.System) string {
	says := fmt.Sprintf("The peak week of a dry year begins on %s and wants %s", n.PeakWeek.Short(), Rough(n.Peak, units))
	switch hours := TapHours(n.Peak, s.Tap); {
	case hours <= 0:
		return says + "; time how long the tap takes to fill a bucket, and hours can be told."
	case hours > longestRun:
		return says + fmt.Sprintf(", which the tap takes %s for: more than a garden's tap should run. Mulch, sow less thirsty ground, or find a second source.", units.Hours(hours))
	default:
		return says + fmt.Sprintf(", %s of the tap.", running(hours))
	}
}

// longestRun is a week's running beyond which a tap does not supply a garden by any sensible rule: four hours a day.
const longestRun = quantity.Hour(28)

func running(hours quantity.Hour) string {
	if hours < 2 {
		return fmt.Sprintf("%.0f min", math.Max(1, 60*float64(hours)))
	}
	return fmt.Sprintf("%.1f hours", float64(hours))
}

func tankSays(n Needs, store Store, s garden.Supply, units quantity.System) []string {
	var said []string
	if store.Whole >= 0.9 {
		said = append(said, fmt.Sprintf("The tank of %s gives all of it in %.0f years of ten.", units.Volume(s.Tank), math.Floor(10*store.Whole)))
	} else {
		said = append(said, fmt.Sprintf("The tank of %s runs dry in %s: it gives %.0f %% of the season's water and is %s short in the mean year.", units.Volume(s.Tank), yearsOfTen(1-store.Whole), math.Round(100*store.Met), Rough(store.Short, units)))
		said = append(said, shortWeeks(store, units))
	}
	switch {
	case store.Enough > s.Tank:
		said = append(said, fmt.Sprintf("Under this roof %s would do in nine years of ten.", Rough(store.Enough, units)))
	case store.Enough == 0 && store.Whole < 0.9:
		said = append(said, "Under this roof no tank would do in nine years of ten: it does not catch enough.")
	}
	return said
}

// yearsOfTen is a share of the years in words.
func yearsOfTen(share float64) string {
	switch n := math.Round(10 * share); {
	case share >= 1:
		return "every year"
	case n >= 10:
		return "nearly every year"
	case n <= 1:
		return "one year of ten"
	default:
		return fmt.Sprintf("%.0f years of ten", n)
	}
}

// shortWeeks says when the tank fails first, and in which week it lacks most.
func shortWeeks(store Store, units quantity.System) string {
	first, worst := -1, 0
	for i, w := range store.Weeks {
		if first < 0 && w.Chance < 0.5 {
			first = i
		}
		if w.DryShort > store.Weeks[worst].DryShort {
			worst = i
		}
	}
	typical := "nothing"
	if short := store.Weeks[worst].Short; short >= 0.5 {
		typical = Rough(short, units)
	}
	most := fmt.Sprintf("it lacks most in the week from %s: %s in a typical year, %s in a dry one of ten", store.Weeks[worst].From.Short(), typical, Rough(store.Weeks[worst].DryShort, units))
	if first < 0 {
		return "No week finds it empty in more than half of the years; " + most + "."
	}
	return fmt.Sprintf("In more than half of the years it first fails in the week from %s, %s short then in a dry one; %s.", store.Weeks[first].From.Short(), Rough(store.Weeks[first].DryShort, units), most)
}

// Cautions are what to mind with stored water.
func Cautions(s garden.Supply) []string {
	if s.Tank <= 0 {
		return nil
	}
	return []string{
		"Water from a roof is not for drinking. Give it to the ground, not to leaves and fruit that are eaten raw, and none from roofs with lead, asbestos or treated wood; local rules go before this.",
		"Keep a lid on the tank, fastened so that no child can lift it, and fine mesh where mosquitoes breed.",
	}
}
