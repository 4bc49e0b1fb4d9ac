package season

import (
	"fmt"
	"math"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/growth"
)

// Verb is what is done on a start day: sow, set out, plant.
func (r Ready) Verb() string {
	switch r.Method.Way {
	case crop.SetOut:
		return "set out"
	case crop.Set:
		return "plant"
	}
	return "sow"
}

// Dated is a date with its year, as sentences about more than one season need it.
func Dated(d civil.Date) string { return d.Time().Format("2 Jan 2006") }

// Says is the answer in sentences, the most wanted first.
func (r Ready) Says() []string {
	if r.Never != "" {
		return []string{r.Never}
	}
	says := r.fresh()
	if r.Stored != nil {
		says = append(says, r.stored()...)
	}
	return says
}

// fresh is the answer for what is picked on the day.
func (r Ready) fresh() []string {
	a := r.Fresh
	if !a.Can() {
		return []string{fmt.Sprintf("It cannot be relied on for %s: no day to %s it gives %.0f %%. %s", Dated(r.Day), r.Verb(), 100*r.Share, a.Alone)}
	}
	says := []string{fmt.Sprintf("%s: then in at least %.0f %% of the weather years the first harvest is by %s and the crop is still good on the day. The surest day is %s, %s.",
		upper(r.when(a.Spans)), 100*r.Share, Dated(r.Day), Dated(a.Best.Start), yearsOf(a.Best.Ready, a.Best.Years))}
	if late := r.tooLate(a); late != "" {
		says = append(says, late)
	}
	return says
}

// stored is what keeping adds.
func (r Ready) stored() []string {
	a, keeps := *r.Stored, r.Crop.Harvest.StoreDays
	switch {
	case !a.Can() && a.Best.Kept == 0:
		return []string{fmt.Sprintf("Nor does it help that it keeps %d days after harvest.", keeps)}
	case !a.Can():
		return []string{fmt.Sprintf("Nor can it from the store, though it keeps %d days after harvest. %s", keeps, a.Alone)}
	case sameSpans(a.Spans, r.Fresh.Spans):
		return nil
	}
	lead := "From the store as well"
	if !r.Fresh.Can() {
		lead = "But from the store it can be relied on"
	}
	says := []string{fmt.Sprintf("%s (it keeps %d days after harvest): %s. The surest day is %s, %s.",
		lead, keeps, r.when(a.Spans), Dated(a.Best.Start), yearsOf(a.Best.Ready+a.Best.Kept, a.Best.Years))}
	if late := r.tooLate(a); late != "" {
		says = append(says, late)
	}
	return says
}

func yearsOf(n, of int) string {
	if n == 1 {
		return fmt.Sprintf("1 year of %d", of)
	}
	return fmt.Sprintf("%d years of %d", n, of)
}

// when is the spans as a clause: "sow from 3 May 2027 to 20 Jul 2027", with the days under cover.
func (r Ready) when(spans []civil.Span) string {
	var list []string
	for _, s := range spans {
		text := "from " + Dated(s.From) + " to " + Dated(s.To)
		if s.From == s.To {
			text = "on " + Dated(s.From)
		}
		if r.Method.Way == crop.SetOut {
			under := Dated(r.Raised(s.From)) + " to " + Dated(r.Raised(s.To))
			if s.From == s.To {
				under = Dated(r.Raised(s.From))
			}
			text += " (sown under cover " + under + ")"
		}
		list = append(list, text)
	}
	return r.Verb() + " " + strings.Join(list, ", or ")
}

// tooLate says what of the answer is already past.
func (r Ready) tooLate(a Answer) string {
	if r.Today > r.Day {
		return "That day is past."
	}
	open := a.Open(r.Today)
	if len(open) == 0 {
		return fmt.Sprintf("It is too late for that: the last day to %s it was %s.", r.Verb(), Dated(a.Latest()))
	}
	if r.Method.Way == crop.SetOut && r.Raised(a.Latest()) < r.Today {
		return fmt.Sprintf("It is too late to raise plants for it (the last day was %s); bought plants can still go out until %s.", Dated(r.Raised(a.Latest())), Dated(a.Latest()))
	}
	return ""
}

// inTheWay says what the surest day comes to, and what an earlier or a later start meets instead.
func (r Ready) inTheWay(best growth.Readiness, run civil.Span, chance func(growth.Readiness) float64) string {
	if len(r.Starts) == 0 || best.Years == 0 {
		return "There is nothing to count."
	}
	if chance(best) == 0 {
		return r.neverReady(chance)
	}
	says := fmt.Sprintf("The best is %s with %s", Dated(best.Start), r.tally(best))
	before, after := r.commonest(run.From.Add(-28), run.From-1, chance), r.commonest(run.To+1, run.To.Add(28), chance)
	if before != "" && before == after {
		return says + fmt.Sprintf(" Earlier and later, %s.", trouble(before))
	}
	if before != "" {
		says += fmt.Sprintf(" Earlier, %s.", trouble(before))
	}
	if after != "" {
		says += fmt.Sprintf(" Later, %s.", trouble(after))
	}
	return says
}

// neverReady says why no start day has it ready in any year: what goes in by one day is over, what goes in
// from another is not ready yet, and what lies between comes to nothing.
func (r Ready) neverReady(chance func(growth.Readiness) float64) string {
	over, late := civil.Date(0), civil.Date(0)
	for _, s := range r.Starts {
		if 2*(s.Over+s.Kept) >= s.Years {
			over, late = s.Start, 0
		} else if late == 0 && 2*s.Late >= s.Years {
			late = s.Start
		}
	}
	var parts []string
	from, to := r.Day.Add(-200), r.Day
	if over != 0 {
		parts = append(parts, fmt.Sprintf("what goes in by %s is over before the day", Dated(over)))
		from = over + 1
	}
	if late != 0 {
		parts = append(parts, fmt.Sprintf("what goes in from %s on is not ready by the day", Dated(late)))
		to = late - 1
	}
	says := "No start day has it ready in any of the weather years"
	if key := r.commonest(max(from, r.Starts[0].Start), to, chance); key != "" && key != "late" && key != "over" {
		lead := "mostly "
		switch {
		case over != 0 && late != 0:
			lead = "between them "
		case over != 0:
			lead = "later, "
		case late != 0:
			lead = "earlier, "
		}
		parts = append(parts, lead+trouble(key))
	}
	if len(parts) == 0 {
		return says + "."
	}
	return says + ": " + strings.Join(parts, "; ") + "."
}

// tally is the years of one start day, by how they end.
func (r Ready) tally(s growth.Readiness) string {
	says := yearsOf(s.Ready, s.Years)
	if s.Kept > 0 {
		says += fmt.Sprintf(", and %d more from the store", s.Kept)
	}
	var rest []string
	add := func(n int, what string) {
		if n > 0 {
			rest = append(rest, fmt.Sprintf("in %d %s", n, trouble(what)))
		}
	}
	add(s.Late, "late")
	add(s.Over, "over")
	for fate, n := range s.Lost {
		add(n, fateKey[growth.Fate(fate)])
	}
	if len(rest) > 0 {
		says += "; " + strings.Join(rest, ", ")
	}
	return says + "."
}

var fateKey = map[growth.Fate]string{
	growth.TooCold: "cold", growth.DidNotComeUp: "not up", growth.Frozen: "frozen", growth.Bolted: "bolted",
	growth.DidNotSet: "no set", growth.OutOfTime: "out of time",
}

// trouble is the clause for what keeps a crop from being ready on the day.
func trouble(key string) string {
	switch key {
	case "late":
		return "it is not ready by the day"
	case "over":
		return "it is over before the day"
	case "cold":
		return "the ground or the nights are too cold for it to go in"
	case "not up":
		return "it does not come up"
	case "frozen":
		return "cold kills it"
	case "bolted":
		return "heat or the length of the days spoils it"
	case "no set":
		return "it flowers but sets no fruit"
	}
	return "it stands still and comes to nothing"
}

// commonest is the commonest trouble of the start days from one to another; empty without any. Years that the
// chance does not count as good, though the store has it, are over.
func (r Ready) commonest(from, to civil.Date, chance func(growth.Readiness) float64) string {
	count := map[string]int{}
	for _, s := range r.Starts {
		if s.Start < from || s.Start > to {
			continue
		}
		count["late"] += s.Late
		good := int(math.Round(chance(s) * float64(s.Years)))
		count["over"] += s.Over + s.Ready + s.Kept - good
		for fate, n := range s.Lost {
			if key := fateKey[growth.Fate(fate)]; key != "" {
				count[key] += n
			}
		}
	}
	most := ""
	for _, key := range []string{"late", "over", "cold", "not up", "frozen", "bolted", "no set", "out of time"} {
		if count[key] > count[most] {
			most = key
		}
	}
	return most
}

func sameSpans(a, b []civil.Span) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func upper(text string) string { return strings.ToUpper(text[:1]) + text[1:] }
