package garden

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"kailyard/internal/quantity"
)

const mostShades = 500

// lie reads how the plot lies.
func (f *fields) lie() Lie {
	l := Lie{Slope: f.number("slope", optional), Aspect: f.number("aspect", optional), North: f.number("north", optional)}
	v, ok := f.want("horizon", optional, "horizon = [[90, 5], [180, 2]]: pairs of bearing and height in degrees", listKind)
	if !ok {
		return l
	}
	for _, pair := range v.items {
		if pair.kind != listKind || len(pair.items) != 2 || !pair.items[0].numeric() || !pair.items[1].numeric() {
			f.complain("horizon", pair.at, Problem{Says: "horizon holds " + pair.words() + ", where pairs are wanted", Remedy: "write pairs of bearing and height in degrees, for example [[90, 5], [180, 2]]"})
			continue
		}
		l.Horizon = append(l.Horizon, Sight{pair.items[0].real, pair.items[1].real})
	}
	return l
}

func (v *value) numeric() bool { return v.kind == realKind || v.kind == wholeKind }

func (d *describer) readShade(i int, t *table) Shade {
	f := d.fields("shade", i, t)
	s := Shade{ID: int64(i + 1), Name: f.text("name", required)}
	f.part = partName("shade", s.Name, i)
	s.Kind = ShadeKind(f.text("kind", required))
	s.X, s.Y = f.length("x", required), f.length("y", required)
	s.Length, s.Width = f.length("length", optional), f.length("width", optional)
	s.Bearing = f.number("bearing", optional)
	s.Height, s.Ridge = f.length("height", required), f.length("ridge", optional)
	s.Crown = CrownShape(f.text("crown", optional))
	if s.Crown == "" && s.Kind == Tree {
		s.Crown = RoundCrown
	}
	s.Spread, s.CrownBase, s.Trunk = f.length("spread", optional), f.length("crown_base", optional), f.length("trunk", optional)
	s.LeafOn, s.LeafOff = f.dayOfYear("leaf_on"), f.dayOfYear("leaf_off")
	s.Bare, s.Gaps = f.figure("bare_percent"), f.figure("gaps_percent")
	s.Note = f.text("note", optional)
	f.done()
	return s
}

func (f *fields) dayOfYear(key string) DayOfYear {
	text := f.text(key, optional)
	if text == "" {
		return DayOfYear{}
	}
	d, err := ParseDayOfYear(text)
	f.refused(key, err)
	return d
}

// sunSeen reads the sun a person saw on a bed. What is wrong with a table is told at its own place.
func (f *fields) sunSeen() (seen []SunSeen) {
	for _, t := range f.tables("sun_seen") {
		r := f.under("sun_seen", len(seen), t)
		month, from, to := r.text("month", required), r.text("from", required), r.text("to", required)
		r.done()
		if month == "" || from == "" || to == "" {
			f.wrong[f.path+"/sun_seen"] = true
			continue
		}
		m, err := ParseMonth(month)
		r.refused("month", err)
		s, wrong := ParseSunSeen(m, from, to)
		r.refused("from", wrong)
		if err != nil || wrong != nil {
			f.wrong[f.path+"/sun_seen"] = true
			continue
		}
		r.judge(Bed{Observed: []SunSeen{s}}.seenProblems(), f)
		seen = append(seen, s)
	}
	return seen
}

// ParseMonth reads "June", "jun" or "6".
func ParseMonth(text string) (time.Month, error) {
	word := strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(word); err == nil && n >= 1 && n <= 12 {
		return time.Month(n), nil
	}
	for m := time.January; m <= time.December; m++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), strings.TrimSuffix(word, ".")) {
			return m, nil
		}
	}
	return 0, &quantity.ParseError{Says: quoted(text) + " is not a month", Remedy: "write it as \"June\" or 6"}
}

// ParseDayOfYear reads "04-25" (month and day), "25 April" or "April 25".
func ParseDayOfYear(text string) (DayOfYear, error) {
	wrong := &quantity.ParseError{Says: quoted(text) + " is not a day of the year", Remedy: "write month and day, for example \"04-25\" or \"25 April\""}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '-' || r == '.' || r == ',' })
	if len(parts) != 2 {
		return DayOfYear{}, wrong
	}
	day, month := parts[1], parts[0]
	if _, err := strconv.Atoi(month); err == nil && strings.Contains(text, " ") {
		day, month = month, day // "25 April"
	}
	m, err := ParseMonth(month)
	n, notDay := strconv.Atoi(day)
	d := DayOfYear{m, n}
	if err != nil || notDay != nil || !d.exists() {
		return DayOfYear{}, wrong
	}
	return d, nil
}

// String is the day as it is written in a garden description.
func (d DayOfYear) String() string {
	if !d.Told() {
		return ""
	}
	return fmt.Sprintf("%02d-%02d", int(d.Month), d.Day)
}

// ParseSunSeen reads what a person says of the sun on a bed: "from 10 till 2 in June". A till that is not after the from
// is taken for the afternoon.
func ParseSunSeen(m time.Month, from, to string) (SunSeen, error) {
	s := SunSeen{Month: m}
	var err error
	if s.From, err = parseClock(from); err != nil {
		return s, err
	}
	if s.To, err = parseClock(to); err != nil {
		return s, err
	}
	if s.To <= s.From && s.To <= 12 && !strings.ContainsAny(strings.ToLower(to), "ap") {
		s.To += 12
	}
	if s.To <= s.From {
		return s, &quantity.ParseError{Text: to, Says: "till " + quoted(to) + " is not later than from " + quoted(from), Remedy: "write both as hours of one day, for example \"10:00\" and \"14:00\""}
	}
	return s, nil
}

// parseClock reads "10", "10:30", "14:00", "2 pm", "noon".
func parseClock(text string) (quantity.Hour, error) {
	wrong := &quantity.ParseError{Says: quoted(text) + " is not a time of day", Remedy: "write it as \"10:00\", \"14:30\" or \"2 pm\""}
	word := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(text), ".", ":"))
	if word == "noon" {
		return 12, nil
	}
	half := 0.0
	for suffix, add := range map[string]float64{"am": 1, "pm": 13, "a:m:": 1, "p:m:": 13} { // 1 more, so that 0 means neither
		if rest, ok := strings.CutSuffix(word, suffix); ok {
			word, half = strings.TrimSpace(rest), add
		}
	}
	hours, minutes, _ := strings.Cut(word, ":")
	h, err := strconv.ParseUint(hours, 10, 8)
	n := uint64(0)
	if err == nil && minutes != "" {
		n, err = strconv.ParseUint(minutes, 10, 8)
	}
	if err != nil || h > 24 || n > 59 || half > 0 && (h > 12 || h == 0) {
		return 0, wrong
	}
	at := float64(h)
	if half > 0 {
		at = math.Mod(at, 12) + half - 1
	}
	return quantity.Hour(at + float64(n)/60), nil
}
