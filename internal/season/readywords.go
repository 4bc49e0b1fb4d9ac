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

// VerbIt is Verb with the crop as "it": sow it, set it out, plant it.
func (r Ready) VerbIt() string {
	if r.Method.Way == crop.SetOut {
		return "set it out"
	}
	return r.Verb() + " it"
}

// Dated is a date with its year, as sentences about more than one season need it.
func Dated(d civil.Date) string { return d.Time().Format("2 Jan 2006") }

// Says is the answer in sentences, the most wanted first.
func (r Ready) Says() []string {
	if r.Never != "" {
		return []string{r.Never}
	}
	var says []string
	if r.Today > r.Day {
		says = append(says, fmt.Sprintf("%s is past: what follows is what would have done.", Dated(r.Day)))
	}
	says = append(says, r.fresh()...)
	if r.Stored != nil {
		says = append(says, r.stored()...)
	}
	return says
}

// fresh is the answer for what is picked on the day.
func (r Ready) fresh() []string {
	a := r.Fresh
	if !a.Can() {
		return []string{fmt.Sprintf("It cannot be relied on for %s: no day to %s gives %.0f %%. %s", Dated(r.Day), r.VerbIt(), 100*r.Share, a.Alone)}
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
	case !a.Can() && !r.Fresh.Can() && a.Best.Start == r.Fresh.Best.Start:
		return []string{fmt.Sprintf("Nor can it from the store, though it keeps %d days after harvest: with that, the same day has %s.", keeps, yearsOf(a.Best.Ready+a.Best.Kept, a.Best.Years))}
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
		return "" // said already
	}
	open := a.Open(r.Today)
	if len(open) == 0 {
		return fmt.Sprintf("It is too late for that: the last day to %s was %s.", r.VerbIt(), Dated(a.Latest()))
	}
	if r.Method.Way == crop.SetOut && r.Raised(a.Latest()) < r.Today {
		return fmt.Sprintf("It is too late to raise plants for it (the last day was %s); bought plants can still go out until %s.", Dated(r.Raised(a.Latest())), Dated(a.Latest()))
	}
	return ""
}

// hitch is what keeps a crop from being ready on the day, by a clause, with the years it does.
type hitch struct {
	says  string
	years int
	what  hitched
	helps string // what can be done about it
}

// hitched sorts hitches: there is none, the harvest is yet to come or over on the day, or there never is one.
type hitched uint8

const (
	unhitched hitched = iota
	late
	over
	lost
)

// inTheWay says what the surest day comes to, and what an earlier or a later start meets instead.
func (r Ready) inTheWay(best growth.Readiness, run civil.Span, chance func(growth.Readiness) float64) string {
	if len(r.Starts) == 0 || best.Years == 0 {
		return "There is nothing to count."
	}
	if chance(best) == 0 {
		return r.neverReady(chance)
	}
	says := fmt.Sprintf("The best is %s with %s", Dated(best.Start), r.tally(best, chance))
	before, after := r.commonest(run.From.Add(-28), run.From-1, chance), r.commonest(run.To+1, run.To.Add(28), chance)
	if before.what != unhitched && before.says == after.says {
		return says + fmt.Sprintf(" Earlier and later, %s.", before.says)
	}
	if before.what != unhitched {
		says += fmt.Sprintf(" Earlier, %s.", before.says)
	}
	if after.what != unhitched {
		says += fmt.Sprintf(" Later, %s.", after.says)
	}
	return says
}

// neverReady says why no start day has it ready in any year: what goes in by one day is over, what goes in
// from another is not ready yet, and what lies between comes to nothing.
func (r Ready) neverReady(chance func(growth.Readiness) float64) string {
	overBy, lateFrom := civil.Date(0), civil.Date(0)
	for _, s := range r.Starts {
		if 2*(s.Over+s.Kept) >= s.Years {
			overBy, lateFrom = s.Start, 0
		} else if lateFrom == 0 && 2*s.Late >= s.Years {
			lateFrom = s.Start
		}
	}
	var parts []string
	from, to := r.Day.Add(-200), r.Day
	if overBy != 0 {
		parts = append(parts, fmt.Sprintf("what goes in by %s is over before the day", Dated(overBy)))
		from = overBy + 1
	}
	if lateFrom != 0 {
		parts = append(parts, fmt.Sprintf("what goes in from %s on is not ready by the day", Dated(lateFrom)))
		to = lateFrom - 1
	}
	says := "No start day has it ready in any of the weather years"
	helps := ""
	if h := r.commonest(max(from, r.Starts[0].Start), to, chance); h.what == lost {
		lead := "mostly "
		switch {
		case overBy != 0 && lateFrom != 0:
			lead = "between them "
		case overBy != 0:
			lead = "later, "
		case lateFrom != 0:
			lead = "earlier, "
		}
		parts, helps = append(parts, lead+h.says), " "+h.helps
	}
	if len(parts) == 0 {
		return says + "."
	}
	return says + ": " + strings.Join(parts, "; ") + "." + helps
}

// tally is the years of one start day, by how they end: those from the store are told where the chance counts them, and
// are over on the day where it does not.
func (r Ready) tally(s growth.Readiness, chance func(growth.Readiness) float64) string {
	says, overYears := yearsOf(s.Ready, s.Years), s.Over
	switch {
	case chance(growth.Readiness{Years: 1, Kept: 1}) == 0:
		overYears += s.Kept
	case s.Kept > 0 && s.Ready == 0:
		says = yearsOf(s.Kept, s.Years) + ", all from the store"
	case s.Kept > 0:
		says += fmt.Sprintf(", and %d more from the store", s.Kept)
	}
	var rest []string
	for _, h := range r.hitches(s.Late, overYears, s.Lost) {
		rest = append(rest, fmt.Sprintf("in %d %s", h.years, h.says))
	}
	if len(rest) > 0 {
		says += "; " + strings.Join(rest, ", ")
	}
	return says + "."
}

// hitches are the ways in which years fail: too late, over, then what ends the plantings.
func (r Ready) hitches(lateYears, overYears int, losses growth.Losses) []hitch {
	var out []hitch
	if lateYears > 0 {
		out = append(out, hitch{says: "it is not ready by the day", years: lateYears, what: late})
	}
	if overYears > 0 {
		out = append(out, hitch{says: "it is over before the day", years: overYears, what: over})
	}
	for _, t := range r.Option.Troubles(losses) {
		out = append(out, hitch{t.Says(r.Units), t.Years, lost, t.Helps(r.Units)})
	}
	return out
}

// commonest is the commonest hitch of the start days from one to another; none without any. Years that the
// chance does not count as good, though the store has it, are over.
func (r Ready) commonest(from, to civil.Date, chance func(growth.Readiness) float64) hitch {
	lateYears, overYears := 0, 0
	var losses growth.Losses
	for _, s := range r.Starts {
		if s.Start < from || s.Start > to {
			continue
		}
		lateYears += s.Late
		good := int(math.Round(chance(s) * float64(s.Years)))
		overYears += s.Over + s.Ready + s.Kept - good
		losses.Add(s.Lost)
	}
	var most hitch
	for _, h := range r.hitches(lateYears, overYears, losses) {
		if h.years > most.years {
			most = h
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
