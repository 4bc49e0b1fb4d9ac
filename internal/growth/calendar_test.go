package growth

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// published is a spring planting date of a regional list: the day or the days it prints for the start.
type published struct {
	id       string
	way      crop.Way
	from, to string // month-day, the same where the list prints one day
}

// The list for Schoharie and Otsego counties, New York (CCE-SO, 2021) prints 15 April ("as early as garden can be
// worked") for hardy crops, the average last frost (26 May at Cobleskill) for tender ones, and 1 June
// ("when soil has warmed"). At Ithaca the average last frost is 14 May (NCEI-FREEZE, USC00304174, 32 °F at
// 50 %): rows tied to it run from there to the printed day. Left out: potato, printed with the tender crops,
// which every other list of the folder sets a month earlier. Tolerance 14 days: lists for one place differ by
// two to four weeks.
var ithaca = []published{
	{"pea-dwarf", crop.Sow, "04-15", "04-15"},
	{"lettuce-loose-leaf", crop.Sow, "04-15", "04-15"},
	{"radish", crop.Sow, "04-15", "04-15"},
	{"carrot", crop.Sow, "04-15", "04-15"},
	{"beet", crop.Sow, "04-15", "04-15"},
	{"turnip", crop.Sow, "04-15", "04-15"},
	{"kale", crop.Sow, "04-15", "04-15"},
	{"spinach", crop.Sow, "04-15", "04-15"},
	{"chard", crop.Sow, "04-15", "04-15"},
	{"onion-long-day", crop.Set, "04-15", "04-15"},
	{"cabbage-early", crop.SetOut, "04-15", "04-15"},
	{"bean-bush", crop.Sow, "05-14", "05-26"},
	{"sweet-corn-early", crop.Sow, "05-14", "05-26"},
	{"tomato-early", crop.SetOut, "05-14", "05-26"},
	{"cucumber", crop.Sow, "06-01", "06-01"},
	{"squash-summer", crop.Sow, "06-01", "06-01"},
}

// The monthly planting chart for the Willamette Valley (OSU-FOODHERO) prints whole months; tolerance 15 days
// around them. It names one month a crop, April for lettuce and beet, which can go in from late February in ground that
// the rain lets one work; rain is not in the model, so two rows may be off by up to 45 days.
var corvallis = []published{
	{"pea-dwarf", crop.Sow, "03-01", "03-31"},
	{"spinach", crop.Sow, "03-01", "03-31"},
	{"chard", crop.Sow, "03-01", "03-31"},
	{"radish", crop.Sow, "02-01", "02-28"},
	{"kale", crop.SetOut, "03-01", "04-30"},
	{"beet", crop.Sow, "04-01", "04-30"},
	{"lettuce-butterhead", crop.SetOut, "04-01", "04-30"},
	{"parsnip", crop.Sow, "04-01", "04-30"},
	{"potato", crop.Set, "04-01", "04-30"},
	{"sweet-corn-early", crop.Sow, "05-01", "05-31"},
	{"bean-bush", crop.Sow, "05-01", "05-31"},
	{"squash-summer", crop.Sow, "05-01", "05-31"},
	{"cucumber", crop.SetOut, "05-01", "05-31"},
	{"tomato-early", crop.SetOut, "05-01", "05-31"},
}

// lastDays is the list of last dates for autumn crops dated at Ithaca itself (CCE-SCHUYLER: average first frost
// 1 October); where copies of the list differ both days stand.
var lastDays = []published{
	{"beet", crop.Sow, "07-31", "07-31"},
	{"carrot", crop.Sow, "07-15", "07-15"},
	{"bean-bush", crop.Sow, "07-15", "07-15"},
	{"cabbage-early", crop.SetOut, "07-31", "07-31"},
	{"broccoli", crop.SetOut, "07-31", "08-10"},
	{"cauliflower", crop.SetOut, "07-15", "07-15"},
	{"chard", crop.Sow, "07-31", "07-31"},
	{"collards", crop.Sow, "07-31", "07-31"},
	{"cucumber", crop.Sow, "07-15", "07-15"},
	{"kale", crop.Sow, "07-31", "07-31"},
	{"kohlrabi", crop.Sow, "07-31", "07-31"},
	{"lettuce-loose-leaf", crop.Sow, "08-10", "08-10"},
	{"radish", crop.Sow, "09-10", "09-10"},
	{"rutabaga", crop.Sow, "07-15", "07-15"},
	{"squash-summer", crop.Sow, "07-15", "07-15"},
	{"sweet-corn-early", crop.Sow, "07-15", "07-15"},
}

func TestSpringWindowsNewYork(t *testing.T) {
	compare(t, recorded(t, "USC00304174.dly", 42.45), ithaca, opening, 14, 30)
}

func TestSpringWindowsOregon(t *testing.T) {
	compare(t, recorded(t, "USC00351862.dly", 44.63), corvallis, opening, 15, 45)
}

func TestLastSowingsNewYork(t *testing.T) {
	compare(t, recorded(t, "USC00304174.dly", 42.45), lastDays, closing, 14, 30)
}

// The same from generated years of the built-in climates, so that the check runs everywhere; made weather is
// rougher, hence the wider tolerances of three weeks and, for the months, 25 days.
func TestSpringWindowsOfGeneratedYears(t *testing.T) {
	compare(t, builtIn(t, "ithaca"), ithaca, opening, 21, 30)
	compare(t, builtIn(t, "corvallis"), corvallis, opening, 25, 50)
}

// Garlic is set from 1 to 31 October in the Willamette Valley (OSU-FALL; tolerance 15 days).
func TestGarlicIsSetInAutumn(t *testing.T) {
	for _, w := range Tabulate(builtIn(t, "corvallis"), []Option{option(t, "garlic", crop.Set)})[0].Windows(0.8) {
		if w.From < civil.Of(2027, 9, 16) || w.Best > civil.Of(2027, 11, 15) && w.Days[1] > 240 {
			t.Errorf("window %v, best %v", w.Span, w.Best)
		}
	}
}

// What the days end, where the days are long: winter radish is sown after midsummer, spring sowings bolt; spinach is
// sown in spring and again for autumn, not in the weeks about midsummer (common practice). Tolerance: from a week before
// midsummer on; none from 1 June to 5 July.
func TestLongDaysKeepMidsummerShut(t *testing.T) {
	for _, place := range []string{"ithaca", "corvallis"} {
		c := builtIn(t, place)
		for _, w := range Tabulate(c, []Option{option(t, "radish-winter", crop.Sow)})[0].Windows(0.8) {
			if w.From < civil.Of(2027, 6, 14) {
				t.Errorf("%s: winter radish from %v", place, w.From)
			}
		}
	}
	for _, w := range Tabulate(builtIn(t, "ithaca"), []Option{option(t, "spinach", crop.Sow)})[0].Windows(0.8) {
		if w.Meets(civil.Span{From: civil.Of(2027, 6, 1), To: civil.Of(2027, 7, 5)}) {
			t.Errorf("spinach from %v to %v", w.From, w.To)
		}
	}
}

// builtIn is the climate of thirty generated years of a built-in place.
func builtIn(t *testing.T, id string) *Climate {
	t.Helper()
	for _, place := range weather.Climates() {
		if place.ID != id {
			continue
		}
		season := civil.SeasonOf(2027, place.Latitude)
		years, _, err := weather.Generate(place, 1990, 32, 1).Scenarios(season, Lead, Tail, 30)
		if err != nil {
			t.Fatal(err)
		}
		c, err := NewClimate(season, place.Latitude, years)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	t.Fatalf("there is no built-in climate %s", id)
	return nil
}

// opening and closing are the day of an option's windows that is compared, with what bounds it there.
func opening(w []Window) (civil.Date, string) {
	return w[0].From, w[0].Opens.Reason(quantity.Metric).Says
}
func closing(w []Window) (civil.Date, string) {
	return w[len(w)-1].To, w[len(w)-1].Closes.Reason(quantity.Metric).Says
}

// compare holds a day of the windows in which at least 8 years of 10 succeed to the published days.
func compare(t *testing.T, c *Climate, rows []published, day func([]Window) (civil.Date, string), tolerance, most int) {
	t.Helper()
	within, worst := 0, 0
	for _, row := range rows {
		o := option(t, row.id, row.way)
		windows := Tabulate(c, []Option{o})[0].Windows(0.8)
		if len(windows) == 0 {
			t.Errorf("%-20s %-8s published %s – %s, ours none", row.id, row.way, row.from, row.to)
			continue
		}
		from, to := onDay(t, c, row.from), onDay(t, c, row.to)
		ours, says := day(windows)
		off := min(ours.Since(from), 0) + max(ours.Since(to), 0)
		t.Logf("%-20s %-8s published %s – %s  ours %-7s %+3d  %s", row.id, row.way, row.from, row.to, ours.Short(), off, says)
		if off >= -tolerance && off <= tolerance {
			within++
		}
		worst = max(worst, off, -off)
	}
	t.Logf("%d of %d within %d days", within, len(rows), tolerance)
	if within < 10 || 4*within < 3*len(rows) || worst > most {
		t.Errorf("%d of %d crops are within %d days of the published dates, the worst %d days off; at least ten and three quarters must, and none be off by more than %d", within, len(rows), tolerance, worst, most)
	}
}

// option is a crop of the catalogue by its first method of a way.
func option(t *testing.T, id string, way crop.Way) Option {
	t.Helper()
	k, ok := crop.Default().Find(id)
	if !ok {
		t.Fatalf("the catalogue has no %s", id)
	}
	for m := range k.Methods {
		if k.Methods[m].Way == way {
			return Option{Crop: k, Method: m}
		}
	}
	t.Fatalf("%s has no method %s", id, way)
	return Option{}
}

func onDay(t *testing.T, c *Climate, monthDay string) civil.Date {
	t.Helper()
	d, err := civil.Parse(c.Season.Start.String()[:4] + "-" + monthDay)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
