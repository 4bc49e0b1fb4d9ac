package civil

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Feast is a day of the year that people cook for, fixed or movable. Only feasts whose day follows from
// the year alone are here: a harvest supper or a village show is whatever day its parish chooses.
type Feast struct {
	ID   string // as typed: "easter", "orthodox-easter"
	Name string // as shown
	of   func(year int) Date
}

// In is the feast's day in a year.
func (f Feast) In(year int) Date { return f.of(year) }

// From is its first day on or after a date.
func (f Feast) From(d Date) Date {
	for year := d.Year() - 1; ; year++ {
		if day := f.of(year); day >= d {
			return day
		}
	}
}

// Feasts are the feasts in the order of the year, movable ones where they mostly fall.
func Feasts() []Feast { return append([]Feast(nil), feasts...) }

// The Thanksgiving Days are set by law: the fourth Thursday of November in the United States, the second
// Monday of October in Canada.
//
// Source: USC-5-6103; CANADA-1957; the days reckoned from Easter are common practice.
var feasts = []Feast{
	{"new-year", "New Year's Day", fixed(1, 1)},
	{"candlemas", "Candlemas", fixed(2, 2)},
	{"shrove-tuesday", "Shrove Tuesday", fromEaster(Easter, -47)},
	{"good-friday", "Good Friday", fromEaster(Easter, -2)},
	{"easter", "Easter Sunday", Easter},
	{"orthodox-easter", "Orthodox Easter Sunday", OrthodoxEaster},
	{"may-day", "May Day", fixed(5, 1)},
	{"ascension", "Ascension Day", fromEaster(Easter, 39)},
	{"whitsun", "Whit Sunday", fromEaster(Easter, 49)},
	{"orthodox-whitsun", "Orthodox Whit Sunday", fromEaster(OrthodoxEaster, 49)},
	{"corpus-christi", "Corpus Christi", fromEaster(Easter, 60)},
	{"midsummer", "Midsummer Day, 24 June", fixed(6, 24)},
	{"independence-day", "Independence Day, USA", fixed(7, 4)},
	{"lammas", "Lammas", fixed(8, 1)},
	{"michaelmas", "Michaelmas", fixed(9, 29)},
	{"thanksgiving-canada", "Thanksgiving Day, Canada", func(year int) Date { return nth(year, time.October, time.Monday, 2) }},
	{"halloween", "Halloween", fixed(10, 31)},
	{"martinmas", "Martinmas", fixed(11, 11)},
	{"thanksgiving", "Thanksgiving Day, USA", func(year int) Date { return nth(year, time.November, time.Thursday, 4) }},
	{"christmas", "Christmas Day", fixed(12, 25)},
	{"new-years-eve", "New Year's Eve", fixed(12, 31)},
}

var feastAliases = map[string]string{
	"pentecost": "whitsun", "whit-sunday": "whitsun", "easter-sunday": "easter", "pascha": "orthodox-easter",
	"thanksgiving-usa": "thanksgiving", "christmas-day": "christmas", "new-years-day": "new-year", "ascension-day": "ascension",
	"midsummer-day": "midsummer", "saint-johns-day": "midsummer", "st-johns-day": "midsummer", "orthodox-pentecost": "orthodox-whitsun",
}

func fixed(month, day int) func(int) Date {
	return func(year int) Date { return Of(year, month, day) }
}

func fromEaster(easter func(int) Date, days int) func(int) Date {
	return func(year int) Date { return easter(year).Add(days) }
}

// nth is the n-th of a weekday in a month.
func nth(year int, month time.Month, weekday time.Weekday, n int) Date {
	first := Of(year, int(month), 1)
	return first.Add((int(weekday)-int(first.Weekday())+7)%7 + 7*(n-1))
}

// FindFeast finds a feast by what a person types.
func FindFeast(word string) (Feast, bool) {
	id := strings.Join(strings.Fields(strings.NewReplacer("'", "", "’", "", ".", "", "-", " ", ",", " ").Replace(strings.ToLower(word))), "-")
	if to, ok := feastAliases[id]; ok {
		id = to
	}
	for _, f := range feasts {
		if f.ID == id {
			return f, true
		}
	}
	return Feast{}, false
}

// The years for which a named day is worked out: the Gregorian rule must hold, and a garden lies near.
const (
	firstFeastYear = 1900
	lastFeastYear  = 2200
)

// ParseDay reads a date or a feast, with or without its year: "2027-12-24", "easter", "easter 2028". A feast
// without a year is its next day on or after today. The name is empty for a plain date.
func ParseDay(text string, today Date) (day Date, name string, err error) {
	text = strings.TrimSpace(text)
	if d, err := Parse(text); err == nil {
		if y := d.Year(); y < firstFeastYear || y > lastFeastYear {
			return 0, "", fmt.Errorf("%s lies outside the years %d to %d", text, firstFeastYear, lastFeastYear)
		}
		return d, "", nil
	}
	word, year := text, 0
	if i := strings.LastIndexAny(text, " -"); i > 0 {
		if n, err := strconv.Atoi(text[i+1:]); err == nil && len(text[i+1:]) == 4 {
			word, year = text[:i], n
		}
	}
	f, ok := FindFeast(word)
	if !ok {
		var ids []string
		for _, f := range feasts {
			ids = append(ids, f.ID)
		}
		return 0, "", fmt.Errorf("%q is neither a date nor a feast that is known; write year-month-day, for example 2027-12-24, or one of %s", text, strings.Join(ids, ", "))
	}
	if year == 0 {
		return f.From(today), f.Name, nil
	}
	if year < firstFeastYear || year > lastFeastYear {
		return 0, "", fmt.Errorf("%s of %d is not worked out; give a year from %d to %d", f.Name, year, firstFeastYear, lastFeastYear)
	}
	return f.In(year), f.Name, nil
}
