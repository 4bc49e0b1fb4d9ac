package growth

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/weather"
)

// The comparison of windows with every published calendar of the reference folder: what is printed, read here;
// what is ours, in publishedwindows_test.go; the report in doc/windows.md.

// boundary is which edge of a window a row prints.
type boundary string

const (
	opensSpring  boundary = "opens"        // the first day of the spring window
	closesSpring boundary = "closes"       // the last day of the spring window
	opensAutumn  boundary = "opens autumn" // the first day of the autumn window
	lastInYear   boundary = "last day"     // the last day that still comes to harvest within the year
)

// printed is one edge of a calendar laid over the season: a day, or from one day to another.
type printed struct {
	set      string // which calendar
	source   string // key
	place    string // as the calendar says
	station  *station
	crop     string // as the calendar says
	way      crop.Way
	id       string // in the catalogue
	edge     boundary
	from, to civil.Date
	by       civil.Date // last day: the day by which the first harvest must come; the season's end when zero
	months   bool       // printed to the month
	indoors  bool       // the day to sow under cover
}

// station is a place with a daily record.
type station struct {
	id, name string
	latitude float64
	climate  *Climate
	frost    weather.Frost // at 0 °C over the climate's years
	tables   map[string]*Table
}

// spring and autumn are the average frost dates: as late or later, as early or earlier, in half the years.
func (s *station) spring() (civil.Date, bool) {
	c := s.frost.LaterThan(50)
	return c.Date, !c.None
}

func (s *station) autumn() (civil.Date, bool) {
	c := s.frost.EarlierThan(50)
	return c.Date, !c.None
}

// stations reads the records, by id.
func stations(t *testing.T) map[string]*station {
	t.Helper()
	text, err := os.ReadFile(reference(t, "weather", "records", "stations.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*station{}
	for line := range strings.Lines(string(text)) {
		words := strings.Fields(line)
		if len(words) < 6 {
			continue
		}
		latitude, err := strconv.ParseFloat(words[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		s := &station{id: words[0], latitude: latitude, tables: map[string]*Table{}}
		var name []string
		for _, w := range words[5:] {
			if w == "HCN" || w == "GSN" || strings.HasPrefix(w, "72") {
				break
			}
			name = append(name, strings.ToUpper(w[:1])+strings.ToLower(w[1:]))
		}
		s.name = strings.Join(name, " ") + " " + words[4]
		f, err := os.Open(reference(t, "weather", "records", s.id+".dly"))
		if err != nil {
			t.Fatal(err)
		}
		r, err := weather.Read(s.id+".dly", f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		season := civil.SeasonOf(2027, latitude)
		years, _, err := r.Scenarios(season, Lead, Tail, 30)
		if err != nil {
			t.Fatal(err)
		}
		if s.climate, err = NewClimate(season, latitude, years); err != nil {
			t.Fatal(err)
		}
		s.frost = weather.FrostOf(season, Lead, years, 0)
		out[s.id] = s
	}
	return out
}

// tabulate runs the options that the rows ask for.
func (s *station) tabulate(rows []printed) {
	var options []Option
	asked := map[string]bool{}
	for _, r := range rows {
		key := r.id + " " + string(r.way)
		if r.station == s && !asked[key] {
			asked[key] = true
			o, _ := optionOf(r.id, r.way)
			options = append(options, o)
		}
	}
	for _, table := range Tabulate(s.climate, options) {
		s.tables[table.Option.Crop.ID+" "+string(table.Option.method().Way)] = table
	}
}

// optionOf is a crop of the catalogue by a way; its usual one where way is empty.
func optionOf(id string, way crop.Way) (Option, bool) {
	k, ok := crop.Default().Find(id)
	if !ok {
		return Option{}, false
	}
	for m := range k.Methods {
		if way == "" || k.Methods[m].Way == way {
			return Option{Crop: k, Method: m}, true
		}
	}
	return Option{}, false
}

// onionFor is the onion for a latitude: long-day kinds from 38° up, short-day ones below 32° (common practice).
func onionFor(latitude float64) string {
	switch {
	case latitude >= 38:
		return "onion-long-day"
	case latitude >= 32:
		return "onion-intermediate-day"
	}
	return "onion-short-day"
}

// inCatalogue is the crop of the catalogue that stands for a crop of a calendar. Where the calendar does not say
// which sort, the early one is taken: it is the one whose season is widest.
var inCatalogue = map[string]string{
	"Brussels sprouts": "brussels-sprouts", "Chinese cabbage": "chinese-cabbage", "Jerusalem artichoke": "artichoke-jerusalem",
	"New Zealand spinach": "new-zealand-spinach", "Swiss chard": "chard", "artichoke": "artichoke-globe", "arugula": "arugula",
	"asparagus": "asparagus", "basil": "basil", "bean": "bean-bush", "bean, bush snap": "bean-bush", "bean, green": "bean-bush",
	"bean, lima": "bean-lima-bush", "bean, pole snap": "bean-pole", "bean, snap": "bean-bush", "bean, wax": "bean-bush",
	"beet": "beet", "broccoli": "broccoli", "broccoli (early)": "broccoli", "broccoli (late)": "broccoli", "cabbage": "cabbage-early",
	"cabbage (early)": "cabbage-early", "cabbage (late)": "cabbage-late",
	"cantaloupe": "muskmelon", "carrot": "carrot", "cauliflower": "cauliflower",
	"celeriac": "celeriac", "celery": "celery", "collards": "collards", "corn salad": "corn-salad", "cowpea": "cowpea",
	"cucumber": "cucumber", "dill": "dill", "eggplant": "eggplant", "endive": "endive", "garlic": "garlic", "kale": "kale",
	"kohlrabi": "kohlrabi", "leek": "leek", "lettuce": "lettuce-loose-leaf", "lettuce, Bibb": "lettuce-butterhead",
	"lettuce, head": "lettuce-butterhead", "lettuce, leaf": "lettuce-loose-leaf", "lettuce, romaine": "lettuce-romaine",
	"melon": "muskmelon", "muskmelon": "muskmelon", "mustard": "mustard-greens", "okra": "okra", "onion": "onion",
	"onion (plants)": "onion", "onion (sets, seed)": "onion", "onion sets": "onion", "onion, globe": "onion",
	"onion, green": "onion-bunching", "oregano": "oregano", "parsley": "parsley", "parsnip": "parsnip", "pea": "pea-dwarf",
	"pepper": "pepper-sweet", "potato": "potato-early", "potato, early": "potato-early", "pumpkin": "pumpkin", "radish": "radish",
	"radish, Chinese": "radish-winter", "rhubarb": "rhubarb", "rutabaga": "rutabaga", "salsify": "salsify",
	"soybean, edible": "soybean-green", "spinach": "spinach", "squash": "squash-summer", "squash, bush": "squash-summer",
	"squash, summer": "squash-summer", "squash, vine": "squash-winter", "squash, winter": "squash-winter",
	"sweet corn": "sweet-corn-early", "sweet corn (early)": "sweet-corn-early", "sweet corn (mid-season)": "sweet-corn-main",
	"sweet potato": "sweet-potato", "tomato": "tomato-early", "tomato (early)": "tomato-early", "tomato (late)": "tomato-staked",
	"turnip": "turnip", "watermelon": "watermelon", "zucchini": "squash-summer",
}

// ways are the ways that a calendar's words may mean, the first that the crop has being taken; none: its usual way.
var ways = map[string][]crop.Way{
	"direct sow": {crop.Sow}, "set out transplant": {crop.SetOut}, "direct sow or transplant": {crop.SetOut, crop.Sow},
	"plant plants or sets": {crop.Set, crop.SetOut}, "plant tubers": {crop.Set}, "plant cloves": {crop.Set}, "plant crowns": {crop.Set},
	"start indoors": {crop.SetOut},
}

// calendars are the printed edges of every place that has a station, and what could not be compared.
type calendars struct {
	stations map[string]*station
	rows     []printed
	left     map[string]int // reason: rows
}

func readCalendars(t *testing.T) *calendars {
	t.Helper()
	c := &calendars{stations: stations(t), left: map[string]int{}}
	c.newYork(t)
	c.oregon(t)
	c.relative(t)
	c.zones(t)
	return c
}

// tableOf reads a calendar into one map per row.
func tableOf(t *testing.T, name string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(reference(t, "calendars", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for k, name := range all[0] {
			row[name] = cells[k]
		}
		rows = append(rows, row)
	}
	return rows
}

// add keeps a row if the catalogue has its crop by its way.
func (c *calendars) add(p printed, method string) {
	p.id = inCatalogue[p.crop]
	if p.id == "onion" {
		p.id = onionFor(p.station.latitude)
		if p.crop == "onion sets" || p.crop == "onion (sets, seed)" {
			method = "plant plants or sets"
		}
	}
	if p.id == "" {
		c.left["not a crop of the catalogue: "+p.crop]++
		return
	}
	wanted := ways[method]
	if wanted == nil {
		wanted = []crop.Way{""}
	}
	for _, way := range wanted {
		if o, ok := optionOf(p.id, way); ok {
			p.way = o.method().Way
			p.indoors = method == "start indoors"
			c.rows = append(c.rows, p)
			return
		}
	}
	c.left[fmt.Sprintf("the catalogue has no %s for %s", method, p.crop)]++
}

func (c *calendars) on(t *testing.T, s *station, monthDay string) civil.Date {
	return onDay(t, s.climate, monthDay)
}

// newYork is the two lists for upstate New York, at Ithaca. The first-dates list is for a county with its average
// last frost on 26 May (Cobleskill): rows that it ties to the frost are moved to Ithaca's.
func (c *calendars) newYork(t *testing.T) {
	s := c.stations["USC00304174"]
	last, _ := s.spring()
	for _, r := range tableOf(t, "new_york_upstate.csv") {
		p := printed{place: "upstate New York", station: s, crop: r["crop"]}
		switch {
		case r["season"] == "spring":
			p.set, p.source, p.edge = "New York, first dates", "CCE-SO", opensSpring
			p.from = c.on(t, s, r["earliest"])
			p.to = p.from
			if strings.Contains(r["note"], "last frost") {
				p.from = min(last, p.from)
			}
		default:
			p.set, p.source, p.edge = "New York, last dates", "CCE-SCHUYLER", lastInYear
			p.from = c.on(t, s, r["latest"])
			p.to = p.from
		}
		c.add(p, r["method"])
	}
}

// oregon is the western valleys, at Corvallis; the chart prints months, the autumn list parts of months. Lettuce to set out
// is the heading one: the autumn list has leaf lettuce in another row, sown ten days after plants are set out.
func (c *calendars) oregon(t *testing.T) {
	s := c.stations["USC00351862"]
	for _, r := range tableOf(t, "oregon.csv") {
		if !strings.HasPrefix(r["place"], "Willamette") {
			c.left["no station: "+r["place"]]++
			continue
		}
		p := printed{set: "Oregon, spring months", source: "OSU-FOODHERO", place: "western Oregon", station: s, crop: r["crop"], edge: opensSpring, months: true}
		first, last := r["earliest"], r["latest"]
		if first == "" {
			first = last
		} else if last == "" {
			last = first[:3] + "28"
		}
		p.from, p.to = c.on(t, s, first), c.on(t, s, last)
		if first == "02-01" { // the chart begins in February: the month printed may have begun before
			p.from = s.climate.Season.Start
		}
		if p.crop == "lettuce" && r["method"] == "set out transplant" {
			p.crop = "lettuce, head"
		}
		if r["season"] == "fall" {
			p.set, p.source, p.edge = "Oregon, autumn", "OSU-FALL", lastInYear
			switch {
			case r["method"] == "plant cloves":
				p.edge = opensAutumn
			case r["earliest"] == "": // "by the middle of July": the ten days that the words cover
				p.from, p.months = p.to-9, false
			}
		}
		c.add(p, r["method"])
	}
}
