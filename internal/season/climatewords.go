package season

import (
	"fmt"
	"math"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Says is the finding in a sentence or two.
func (m Moved) Says(u quantity.System) string {
	if m.Untold != "" {
		return m.Untold
	}
	t := m.Trend
	slope := m.amount(u, 10*t.Slope, true)
	low, high := m.amount(u, 10*t.Low, true), m.amount(u, 10*t.High, true)
	chance := fmt.Sprintf("%.0f %%", 100*t.Chance)
	if t.Chance < .01 {
		chance = "less than 1 %"
	}
	says := fmt.Sprintf("No movement that can be told from chance: %s each ten years, but anything from %s to %s fits; chance alone gives as much in %s of such records.", slope, low, high, chance)
	if t.Plain() {
		says = fmt.Sprintf("%s each ten years (between %s and %s); chance alone gives as steady a movement in %s of such records.", upper(slope), low, high, chance)
	}
	if m.Without > 0 {
		says += fmt.Sprintf(" The %s without one are left out.", countYears(m.Without))
	}
	return says
}

// Change is the slope by ten years, signed: "−2.9 days".
func (m Moved) Change(u quantity.System, perYear float64) string {
	return m.amount(u, 10*perYear, false)
}

// ChangeWords is the slope by ten years in words: "2.9 days earlier".
func (m Moved) ChangeWords(u quantity.System, perYear float64) string {
	return m.amount(u, 10*perYear, true)
}

// Value is a reading as shown: a date, days, or degrees.
func (m Moved) Value(u quantity.System, start civil.Date, v float64) string {
	switch m.Of {
	case OfDate:
		return start.Add(int(math.Round(v))).Short()
	case OfDays:
		return fmt.Sprintf("%.0f days", v)
	}
	if u == quantity.US {
		return fmt.Sprintf("%.1f °F", quantity.Celsius(v).Fahrenheit())
	}
	return minus(fmt.Sprintf("%.1f °C", v))
}

// amount is a change in words ("2.9 days earlier") or signed.
func (m Moved) amount(u quantity.System, v float64, words bool) string {
	more, less, text := "later", "earlier", fmt.Sprintf("%.1f days", math.Abs(v))
	switch m.Of {
	case OfDays:
		more, less = "longer", "shorter"
	case OfTemperature:
		more, less, text = "warmer", "cooler", fmt.Sprintf("%.2f °C", math.Abs(v))
		if u == quantity.US {
			text = fmt.Sprintf("%.2f °F", math.Abs(1.8*v))
		}
	}
	if !words {
		if v < 0 && strings.Trim(text, "0. daysC°F") != "" {
			return "−" + text
		}
		return "+" + text
	}
	if v < 0 {
		return text + " " + less
	}
	return text + " " + more
}

func minus(text string) string { return strings.Replace(text, "-", "−", 1) }

func countYears(n int) string {
	if n == 1 {
		return "1 year"
	}
	return fmt.Sprintf("%d years", n)
}

// MovedNote is what must be known to read the trends.
const MovedNote = "The slope is the median of the slopes of all pairs of years (Sen), its interval 95 %, the chance that of the Mann–Kendall test. " +
	"Of twenty figures that do not move, one looks as if it did. What a record shows may also come from a station that was moved, a town that grew round it, or another hour of reading; and it foretells nothing."

// LengthSays is the finding about the length of the frost-free season.
func LengthSays(f weather.Frost) string {
	n := len(f.FreeDays)
	if n == 0 {
		return "There are no years to count."
	}
	if f.SpringNone == f.Years && f.AutumnNone == f.Years {
		return "It never freezes: no year of the record has a frost."
	}
	return fmt.Sprintf("The frost-free season lasts %d days in the middle year; at least %d in nine years of ten, at least %d in one of ten. The shortest had %d, the longest %d.",
		f.FreeAtLeast(50), f.FreeAtLeast(90), f.FreeAtLeast(10), f.FreeDays[0], f.FreeDays[n-1])
}

// WorkableSays is when the ground can be worked.
func (r *Result) WorkableSays() string {
	u, w := r.Garden.Site.Units, r.Climate.Workable()
	rule := fmt.Sprintf("The ground can be worked when the soil %s deep has warmed to %s", u.Depth(w.Depth), u.Temperature(w.Least))
	switch {
	case w.Always == w.Years:
		return rule + ": here, in every weather year, from the season's first day on."
	case w.Never == w.Years:
		return rule + ": here, in no weather year before midsummer."
	}
	says := fmt.Sprintf("%s. From %s on it stays so", rule, spreadWords(w.Stays.P10, w.Stays.P50, w.Stays.P90))
	if w.First.P50 < w.Stays.P50 {
		says += fmt.Sprintf("; a first thaw comes about %s", spreadWords(w.First.P10, w.First.P50, w.First.P90))
	}
	if w.Always > 0 {
		says += fmt.Sprintf("; in %s it never freezes up", countYears(w.Always))
	}
	if w.Never > 0 {
		says += fmt.Sprintf("; in %s it does not come before midsummer", countYears(w.Never))
	}
	return says + "."
}

// spreadWords is a date with its spread: "3 Jul (20 Jun – 14 Jul)".
func spreadWords(low, mid, high civil.Date) string {
	if low == high {
		return mid.Short()
	}
	return mid.Short() + " (" + low.Short() + " – " + high.Short() + ")"
}

// DayLengthSays is what the length of the days does to growth.
func (r *Result) DayLengthSays() string {
	shortest, longest := 25.0, -1.0
	for d := r.Season.Start; d <= r.Season.End(); d++ {
		h := float64(r.Climate.DayLength(d))
		shortest, longest = min(shortest, h), max(longest, h)
	}
	says := fmt.Sprintf("The shortest day has %s between sunrise and sunset, the longest %s.", hours(shortest), hours(longest))
	if spans := r.Climate.LongerThan(10); shortest <= 10 && len(spans) > 0 {
		var list []string
		for _, s := range spans {
			list = append(list, s.From.Short()+" to "+s.To.Short())
		}
		return says + fmt.Sprintf(" Days are longer than 10 h from %s; in shorter ones little grows.", strings.Join(list, " and from "))
	}
	return says + " No day is so short that growth stops for want of light."
}

func hours(h float64) string {
	minutes := int(math.Round(h * 60))
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

// QualitySays is how whole the record is.
func (r *Result) QualitySays() []string {
	q := r.Record.Quality()
	if q.Days == 0 {
		return []string{"The record is empty."}
	}
	if r.Generated() {
		return []string{"Made, not measured: nothing can be missing. See the months below for what it was made from."}
	}
	says := []string{fmt.Sprintf("The record runs from %s to %s, %d days.", Dated(q.First), Dated(q.Last), q.Days)}
	if q.NoTemperature == 0 {
		says = append(says, "No day lacks its temperatures.")
	} else {
		says = append(says, fmt.Sprintf("%s %s temperatures; %d of these days stand in holes of at most five days and were put in on a straight line. The longest hole has %s, from %s.",
			partOf(q.NoTemperature, q.Days), lack(q.NoTemperature), q.FilledDays, days(q.LongestHole), Dated(q.LongestFrom)))
	}
	if q.NoRain > 0 {
		says = append(says, fmt.Sprintf("%s %s rain figures.", partOf(q.NoRain, q.Days), lack(q.NoRain)))
	}
	whole := 0
	for _, y := range q.ByYear {
		if y.Days >= 365 {
			whole++
		}
	}
	says = append(says, fmt.Sprintf("Of %s, %d are used: the latest, thirty at most, without a hole too long to fill.", wholeYears(whole), len(r.Years)))
	if q.Swapped+q.Doubt > 0 {
		says = append(says, fmt.Sprintf("%s on values exchanged, left out or doubted stand below.", remarks(q.Swapped+q.Doubt)))
	}
	return says
}

func wholeYears(n int) string {
	if n == 1 {
		return "1 whole calendar year"
	}
	return fmt.Sprintf("%d whole calendar years", n)
}

func remarks(n int) string {
	if n == 1 {
		return "One remark"
	}
	return fmt.Sprintf("%d remarks", n)
}

// partOf is a number of days with its share of all: "4 days (under 0.1 %)".
func partOf(n, of int) string {
	share := 100 * float64(n) / float64(of)
	if share < .1 {
		return days(n) + " (under 0.1 %)"
	}
	return fmt.Sprintf("%s (%.1f %%)", days(n), share)
}

func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

func lack(n int) string {
	if n == 1 {
		return "lacks"
	}
	return "lack"
}
