package weather

import (
	"errors"
	"fmt"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// longestSpan is more than any daily record: beyond it a date must be wrong.
const longestSpanYears = 400

// Merge lays records over each other: each value is that of the last record that has it, so a gap in
// a later record is filled from an earlier one. Minimum and maximum go together; rain and radiation
// each by itself. Notes say how much came from where and what no record has. The station is the
// last record's that says where it is. One generated record makes the whole a generated one.
func Merge(records ...*Record) (*Record, error) {
	first, last, found := span(records)
	if !found {
		return nil, errors.New("none of the records has a day with a value; give another")
	}
	if last.Year()-first.Year() > longestSpanYears {
		return nil, fmt.Errorf("the records run from %s to %s, more than %d years; one of them has a wrong date", first, last, longestSpanYears)
	}
	out := &Record{Origin: Measured, Days: make([]Day, int(last-first)+1)}
	for i := range out.Days {
		out.Days[i].Date = first.Add(i)
	}
	from := make([]int16, len(out.Days)) // which record gave the temperatures
	for n, r := range records {
		if r == nil {
			continue
		}
		for _, d := range r.Days {
			if d.Date < first || d.Date > last {
				continue
			}
			if at := d.Date - first; out.Days[at].lay(d) {
				from[at] = int16(n)
			}
		}
		if r.Origin == Generated {
			out.Origin = Generated
		}
		if r.Station.Located || !out.Station.Located && r.Station != (Station{}) {
			out.Station = r.Station
		}
	}
	out.Source = sources(records)
	out.Notes = gatherNotes(records)
	out.tellShares(records, from)
	out.tellDistance(records)
	out.tellMissing()
	return out, nil
}

// lay puts a day's values over what is there and says whether it brought temperatures.
func (d *Day) lay(over Day) bool {
	if over.HasTemp {
		d.Min, d.Max, d.HasTemp, d.Filled = over.Min, over.Max, true, over.Filled
	}
	if over.HasRain {
		d.Rain, d.HasRain = over.Rain, true
	}
	if over.HasRadiation {
		d.Radiation, d.HasRadiation = over.Radiation, true
	}
	d.Air = d.Air.lay(over.Air)
	return over.HasTemp
}

// span is the first and the last day that has any value in any record.
func span(records []*Record) (first, last civil.Date, found bool) {
	for _, r := range records {
		if r == nil {
			continue
		}
		for _, d := range r.Days {
			if !d.HasTemp && !d.HasRain && !d.HasRadiation && d.Air.Has == 0 {
				continue
			}
			if !found || d.Date < first {
				first = d.Date
			}
			if !found || d.Date > last {
				last = d.Date
			}
			found = true
		}
	}
	return first, last, found
}

// sources names each source once, in order.
func sources(records []*Record) string {
	var names []string
	seen := map[string]bool{}
	for _, r := range records {
		if r != nil && r.Source != "" && !seen[r.Source] {
			seen[r.Source] = true
			names = append(names, r.Source)
		}
	}
	return strings.Join(names, " + ")
}

// mostOfAKind is how many notes of one kind a merged record quotes before it only counts them.
const mostOfAKind = 3

// gatherNotes gathers the records' notes. One that several records share stands once, over all its days;
// of many of one kind the first are quoted and the others counted.
func gatherNotes(records []*Record) []Note {
	var all []Note
	for _, r := range records {
		if r == nil {
			continue
		}
	next:
		for _, n := range r.Notes {
			for i := range all {
				if all[i].Kind == n.Kind && all[i].Says == n.Says {
					all[i].From, all[i].To = min(all[i].From, n.From), max(all[i].To, n.To)
					continue next
				}
			}
			all = append(all, n)
		}
	}
	count, more := map[string]int{}, map[string]Note{}
	var kept []Note
	for _, n := range all {
		count[n.Kind]++
		if count[n.Kind] <= mostOfAKind {
			kept = append(kept, n)
			continue
		}
		m, ok := more[n.Kind]
		if !ok {
			m = n
		}
		m.From, m.To = min(m.From, n.From), max(m.To, n.To)
		more[n.Kind] = m
	}
	for _, n := range all {
		m, ok := more[n.Kind]
		if !ok {
			continue
		}
		delete(more, n.Kind)
		m.Says = fmt.Sprintf("%s of the kind %q, from %s to %s.", plural(count[n.Kind]-mostOfAKind, "further note", "further notes"), m.Kind, m.From, m.To)
		kept = append(kept, m)
	}
	return kept
}

func (r *Record) note(kind, says string) {
	r.Notes = append(r.Notes, Note{Kind: kind, From: r.Days[0].Date, To: r.Days[len(r.Days)-1].Date, Says: says})
}

// tellShares says how many days' temperatures each source or station gave.
func (r *Record) tellShares(records []*Record, from []int16) {
	var names []string
	days := map[string]int{}
	for _, one := range records {
		if name := nameOf(one); name != "" {
			if _, seen := days[name]; !seen {
				names = append(names, name)
				days[name] = 0
			}
		}
	}
	if len(names) < 2 {
		return
	}
	for i, d := range r.Days {
		if d.HasTemp {
			days[nameOf(records[from[i]])]++
		}
	}
	var shares []string
	for _, name := range names {
		shares = append(shares, fmt.Sprintf("%s from %s", plural(days[name], "day", "days"), name))
	}
	r.note("merged", "Merged, later records winning: temperatures of "+strings.Join(shares, ", ")+".")
}

// nameOf tells a record from others in a sentence.
func nameOf(r *Record) string {
	if r == nil {
		return ""
	}
	station := r.Station.Name
	if station == "" {
		station = r.Station.ID
	}
	switch {
	case station == "" && r.Source == "":
		return "the record"
	case station == "" || station == r.Source:
		return r.Source
	case r.Source == "":
		return station
	}
	return r.Source + " (" + station + ")"
}

// farKM is a distance beyond which two places have not the same weather.
const farKM = 100

// tellDistance warns when records come from far apart.
func (r *Record) tellDistance(records []*Record) {
	farthest := 0.0
	for _, a := range records {
		if a == nil || !a.Station.Located {
			continue
		}
		if km, ok := a.Station.Distance(r.Station.Latitude, r.Station.Longitude); ok && r.Station.Located {
			farthest = max(farthest, km)
		}
	}
	if farthest > farKM {
		r.note("far", fmt.Sprintf("The merged records were taken up to %.0f km (%.0f miles) apart: do they belong to one place?", farthest, farthest*1000/5280/quantity.MetresPerFoot))
	}
}

// tellMissing says what no record has.
func (r *Record) tellMissing() {
	temperature, rain := hole{}, hole{}
	for _, d := range r.Days {
		if !d.HasTemp {
			temperature.add(d.Date)
		}
		if !d.HasRain {
			rain.add(d.Date)
		}
	}
	temperature.tell(r, "temperature")
	if rain.days < len(r.Days) {
		rain.tell(r, "rain")
	}
}

// hole counts missing days and remembers the first and the longest run.
type hole struct {
	days, run, longest int
	first, last, at    civil.Date
}

func (h *hole) add(d civil.Date) {
	if h.days == 0 {
		h.first = d
	}
	if h.days == 0 || d != h.last+1 {
		h.run = 0
	}
	h.days++
	h.run++
	h.last = d
	if h.run > h.longest {
		h.longest, h.at = h.run, d.Add(1-h.run)
	}
}

func (h *hole) tell(r *Record, what string) {
	if h.days == 0 {
		return
	}
	r.Notes = append(r.Notes, Note{Kind: "missing", From: h.first, To: h.last, Says: fmt.Sprintf("%s no %s in any source, the first %s; the longest hole is %s from %s.",
		plural(h.days, "day has", "days have"), what, h.first, plural(h.longest, "day", "days"), h.at)})
}
