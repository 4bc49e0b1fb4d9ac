package soil

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Stage is how far a heap has come.
type Stage string

// The stages.
const (
	Building Stage = "not hot yet"
	Hot      Stage = "hot"
	Cooling  Stage = "cooling"
	Curing   Stage = "curing"
	Ripe     Stage = "ripe"
	Gone     Stage = "used up"
)

// The heats of a heap: from 55 to 77 °C germs and weed seeds die; above 66 the makers of compost suffer too; under 40 it cures.
//
// Source: NOP-203 (131 to 170 °F, 3 days enclosed or 15 days and five turnings in the open); COOPERBAND (130–140 °F best, up to 150)
const (
	killLow, killHigh quantity.Celsius = 55, 76.7 // 131 and 170 °F
	tooHot            quantity.Celsius = 66
	cool              quantity.Celsius = 40
	killDays                           = 15
	killTurns                          = 5
	readApart                          = 4 // days between readings that still stand for the days between them
)

// How long a heap takes where no more is known, days; common practice: a hot heap cures a month or two; a cold one takes half a year
// to a year.
const (
	cureDays    = 30
	turnedDays  = 120 // from its start, turned three times or more
	coldDays    = 365
	reheatsFrom = 10.0 // °C that it warms after a turning while it is not done
)

// HeapState is what a heap's log tells.
type HeapState struct {
	Stage     Stage
	Days      int // since it was begun
	Turnings  int
	Hottest   *quantity.Celsius
	Latest    *quantity.Celsius
	KillDays  int  // days in which it was from 55 to 77 °C, as far as readings stand near enough together
	KillTurns int  // turnings in that time
	Killed    bool // hot for long enough, turned often enough: not raw manure any more
	Raw       bool // there is manure in it and it was not hot enough: the days before harvest count
	Fit       bool // it may be dug in where things are planted
	Next      string
	Reasons   []garden.Reason

	units quantity.System // in which it is said
}

// HeapOn reads a heap's log on a day.
func HeapOn(h garden.Heap, today civil.Date, units quantity.System) HeapState {
	s := HeapState{units: units, Days: int(today - h.Started), Stage: Building}
	log := slices.Clone(h.Log)
	slices.SortStableFunc(log, func(a, b garden.HeapEntry) int { return int(a.Date - b.Date) })
	log = slices.DeleteFunc(log, func(e garden.HeapEntry) bool { return e.Date > today })
	heats := s.read(log)
	s.kill(log, heats)
	for _, p := range h.Put {
		if f, ok := FindFeedstock(p.Feedstock); ok && f.Raw && !s.Killed {
			s.Raw = true
		}
	}
	s.stage(log, heats, today)
	if h.Emptied != nil && *h.Emptied <= today {
		s.Stage, s.Fit, s.Next = Gone, false, ""
	}
	if s.Raw {
		s.why("manure in the heap", "NOP-203", fmt.Sprintf("There is manure in it, and the log shows %s between %s and %s with %s, where %d days and %d turnings make it safe: use it as raw manure, %d days before the harvest of what touches the soil and %d of what does not.", quantity.Plural(float64(s.KillDays), "day"), s.degrees(killLow), s.degrees(killHigh), quantity.Plural(float64(s.KillTurns), "turning"), killDays, killTurns, DaysTouching, DaysClear))
	}
	return s
}

// Yield is about what a heap gives when it is ripe, loose: the low end, because what is counted on must be there.
func Yield(h garden.Heap) (out quantity.Litre) {
	for _, p := range h.Put {
		out += p.Volume * leftLow
	}
	return out
}

// degrees is a temperature of the rules, to the whole degree.
func (s *HeapState) degrees(c quantity.Celsius) string {
	return s.units.Temperature(quantity.Celsius(math.Round(float64(c))))
}

func (s *HeapState) why(rule, source, says string) {
	s.Reasons = append(s.Reasons, garden.Reason{Says: says, Rule: rule, Source: source})
}

// read takes the readings and turnings.
func (s *HeapState) read(log []garden.HeapEntry) (heats []garden.HeapEntry) {
	for _, e := range log {
		if e.Kind == garden.HeapTurned {
			s.Turnings++
		}
		if e.Celsius == nil {
			continue
		}
		heats = append(heats, e)
		warm := *e.Celsius
		s.Latest = &warm
		if s.Hottest == nil || warm > *s.Hottest {
			s.Hottest = &warm
		}
	}
	return heats
}

// kill counts the days in which the heap was hot enough: those between readings that were both so and lie near together, and
// the day of each. The turnings are those from the first to the last such day of a run.
func (s *HeapState) kill(log, heats []garden.HeapEntry) {
	heats = afterManure(log, heats)
	enough := func(e garden.HeapEntry) bool { return *e.Celsius >= killLow-0.05 && *e.Celsius <= killHigh+0.05 }
	for i := 0; i < len(heats); {
		if !enough(heats[i]) {
			i++
			continue
		}
		j := i
		for j+1 < len(heats) && enough(heats[j+1]) && heats[j+1].Date-heats[j].Date <= readApart {
			j++
		}
		days := int(heats[j].Date-heats[i].Date) + 1
		turns := 0
		for _, e := range log {
			if e.Kind == garden.HeapTurned && e.Date >= heats[i].Date && e.Date <= heats[j].Date {
				turns++
			}
		}
		if days > s.KillDays {
			s.KillDays, s.KillTurns = days, turns
		}
		s.Killed = s.Killed || days >= killDays && turns >= killTurns
		i = j + 1
	}
	if s.Killed {
		s.why("heat that kills germs and seeds", "NOP-203", fmt.Sprintf("It was between %s and %s for %s and turned %s in them.", s.degrees(killLow), s.degrees(killHigh), quantity.Plural(float64(s.KillDays), "day"), quantity.Plural(float64(s.KillTurns), "time")))
	}
}

// afterManure are the readings since raw manure last went on: what goes on later was not hot before.
func afterManure(log, heats []garden.HeapEntry) []garden.HeapEntry {
	var last civil.Date
	for _, e := range log {
		if e.Kind == garden.HeapAdded && slices.ContainsFunc(strings.Fields(strings.ReplaceAll(e.Text, ",", " ")), func(word string) bool {
			f, ok := FindFeedstock(word)
			return ok && f.Raw
		}) {
			last = e.Date
		}
	}
	for i, e := range heats {
		if e.Date >= last {
			return heats[i:]
		}
	}
	return nil
}

// stage tells how far it is and what to do next.
func (s *HeapState) stage(log, heats []garden.HeapEntry, today civil.Date) {
	if s.Latest == nil {
		s.cold(log)
		return
	}
	last := heats[len(heats)-1]
	since := int(today - last.Date)
	switch {
	case *s.Latest >= tooHot:
		s.Stage, s.Next = Hot, "It is too hot: turn it now and wet it if it is dry; above "+s.degrees(tooHot)+" the life that makes compost dies too."
	case *s.Latest >= killLow:
		s.Stage, s.Next = Hot, "It works well: leave it until it falls below "+s.degrees(killLow)+", then turn it."
	case *s.Latest >= cool:
		s.Stage, s.Next = Cooling, "It cools: turn it, outside to the middle, and wet it if a handful does not feel like a wrung sponge; if it is done it will not heat again."
	case *s.Hottest < killLow && s.Days < turnedDays:
		s.Stage, s.Next = Building, "It does not heat: too dry, too brown, too small or packed too dense. Wet it, mix in green stuff, turn it."
		s.cold(log)
	default:
		s.cure(log, heats, today)
	}
	if since > 14 && (s.Stage == Hot || s.Stage == Cooling) {
		s.Next = fmt.Sprintf("Its heat was last read %d days ago: read it again.", since)
	}
}

// cure looks whether a heap that has fallen below 40 °C is ripe: cool for a month, and no warmer after its last turning.
func (s *HeapState) cure(log, heats []garden.HeapEntry, today civil.Date) {
	from := heats[len(heats)-1].Date
	for i := len(heats) - 1; i >= 0 && *heats[i].Celsius < cool; i-- {
		from = heats[i].Date
	}
	cured := int(today - from)
	var turned civil.Date
	for _, e := range log {
		if e.Kind == garden.HeapTurned && e.Date >= from {
			turned = e.Date
		}
	}
	reheated, asked := false, false
	if turned != 0 {
		var before, after quantity.Celsius
		for _, e := range heats {
			if e.Date <= turned {
				before = *e.Celsius
			} else {
				asked, after = true, max(after, *e.Celsius)
			}
		}
		reheated = asked && after > before+reheatsFrom
	}
	s.Stage = Curing
	switch {
	case cured >= cureDays && !reheated:
		s.Stage, s.Fit = Ripe, true
		s.Next = "It is fit to use if it is dark and crumbly, smells of earth and nothing in it can be told any more; sieve out what is not done for the next heap."
		s.why("fit when cool", "", fmt.Sprintf("It has been below %s for %d days and did not heat again.", s.degrees(cool), cured))
	case reheated:
		s.Next = "It heated again after it was turned, so it is not done: keep it damp and wait."
	default:
		s.Next = fmt.Sprintf("It cures: turn it once, read it some days later, and give it about %s more.", quantity.Plural(float64(max(1, cureDays-cured)), "day"))
	}
}

// cold judges a heap that was never read, or never heated, by its age.
func (s *HeapState) cold(log []garden.HeapEntry) {
	need, how := coldDays, "left alone"
	if s.Turnings >= 3 {
		need, how = turnedDays, "turned three times or more"
	}
	if s.Days >= need {
		s.Stage, s.Fit = Ripe, true
		s.Next = "By its age it should be fit: dark, crumbly and smelling of earth. Weed seeds in it may live."
		s.why("fit by age", "", fmt.Sprintf("It is %d days old; a heap %s is usually done in about %d (common practice).", s.Days, how, need))
		return
	}
	if s.Latest == nil {
		s.Stage = Building
		s.Next = "Push a thermometer into the middle after three or four days and write down what it shows; turn it when it has been hot and falls."
		if s.Days > 30 {
			s.Stage, s.Next = Curing, fmt.Sprintf("Never read, so it is judged by age: about %s more.", quantity.Plural(float64(need-s.Days), "day"))
		}
	}
}
