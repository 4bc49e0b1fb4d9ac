package growth

import (
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/civil"
)

// region is where timing is told from the average last frost: the station that stands for it and, where one is published
// for the district, the frost date; else the station's own over the same thirty years as the windows.
type region struct{ station, last, source string }

// piedmontAutumn is the middle of the days that VCE-426-331 gives for the first killing frost of Virginia's Piedmont.
const piedmontAutumn = "10-24"

// The regions. For Maine there is no record; Hanover lies one state over in like country. In eastern Illinois half the
// years have a frost after 25 April (NASS-IL, district averages); at the station, in a town, after 13 April. Virginia's chart
// comes with the days of its planting areas: in the Piedmont, where the station lies, the last killing frost is on
// 20–30 April (VCE-426-331); at the station half the years of the record have 0 °C after 7 April.
var regions = map[string]region{
	"Indiana/Illinois": {"USC00118740", "04-25", "PURDUE-HO203"},
	"Central Indiana":  {"USC00118740", "04-25", "PURDUE-MARION"},
	"Colorado":         {"USC00053005", "", "CSU-720"},
	"Utah":             {"USC00428119", "", "USU-WHEN"},
	"Maine":            {"USC00273850", "", "UME-KEEP"},
	"Virginia":         {"USC00446712", "04-25", "VCE-426-331"},
}

// relative is the timing told as days from the average last frost.
func (c *calendars) relative(t *testing.T) {
	for _, r := range tableOf(t, "relative_timing.csv") {
		region := r["region"]
		if strings.Contains(region, "formula") {
			c.formula(t, region, r["class_or_basis"])
			continue
		}
		s := c.stations[regions[region].station]
		if s == nil {
			c.left["no station: "+region]++
			continue
		}
		last, _ := s.spring()
		if day := regions[region].last; day != "" {
			last = c.on(t, s, day)
		}
		p := printed{set: region + ", from the last frost", source: regions[region].source, place: region, station: s, crop: r["crop"], edge: opensSpring}
		from, err := strconv.Atoi(r["offset_from_days"])
		switch {
		case strings.HasSuffix(r["crop"], "class"):
			c.left["a class, not a crop"]++
			continue
		case r["reference_event"] == "season": // March–April
			p.set, p.months = region+", months", true
			p.from, p.to = c.on(t, s, "03-01"), c.on(t, s, "04-30")
			c.add(p, r["method"])
			continue
		case err != nil:
			c.left["tied to no date: "+r["reference_event"]]++
			continue
		}
		to, err := strconv.Atoi(r["offset_to_days"])
		if err != nil {
			to = from
		}
		p.from, p.to = last.Add(from), last.Add(to)
		method := r["method"]
		if p.crop == "onion sets" {
			method = "plant plants or sets"
		}
		switch {
		case region == "Virginia" && strings.HasPrefix(r["note"], "fall"):
			p.edge, p.to = opensAutumn, p.from
			c.add(p, method)
			p.edge, p.from, p.to = lastInYear, last.Add(to), last.Add(to)
		case region == "Virginia" && strings.HasPrefix(r["note"], "spring-summer"):
			p.to = p.from
			c.add(p, method)
			p.edge, p.from, p.to = lastInYear, last.Add(to), last.Add(to)
		case region == "Virginia":
			p.to = p.from
			c.add(p, method)
			p.edge, p.from, p.to = closesSpring, last.Add(to), last.Add(to)
		case region == "Utah" && from == -60:
			p.to = last.Add(-45)
		}
		c.add(p, method)
	}
}

// The autumn rules count back from the average first frost: days to harvest and a margin. The days are the
// catalogue's, so that the rows test the margin, that is the model's autumn, and not the days. Virginia's rule also
// counts back the harvest, of the tender and the hardy alike, so that all is picked by the frost: ours is asked the same.
func (c *calendars) formula(t *testing.T, region, basis string) {
	rule := func(s *station, source string, margin int, picked bool, crops ...string) {
		first, ok := s.autumn()
		if !ok {
			return
		}
		if picked {
			first = c.on(t, s, piedmontAutumn)
		}
		for _, name := range crops {
			o, _ := optionOf(inCatalogue[name], "")
			back := int(o.method().Days.Mid()) + margin
			p := printed{set: region, source: source, place: region, station: s, crop: name, edge: lastInYear}
			if picked {
				harvest := int(o.Crop.Harvest.Span.Low)
				p.by, back = first.Add(-harvest), back+harvest
			}
			p.from, p.to = first.Add(-back), first.Add(-back)
			c.add(p, string(o.method().Way))
		}
	}
	virginia, georgia, nebraska := c.stations["USC00446712"], c.stations["USC00093621"], c.stations["USC00257715"]
	switch {
	case strings.HasPrefix(region, "Virginia") && strings.HasPrefix(basis, "days back"):
		rule(virginia, "VCE-426-334", 14, true, "beet", "broccoli", "cabbage", "carrot", "cauliflower", "collards", "kale", "lettuce", "radish", "spinach", "turnip")
	case strings.HasPrefix(region, "Virginia"):
		rule(virginia, "VCE-426-334", 28, true, "bean, snap", "sweet corn", "cucumber", "squash, summer")
	case basis == "days to maturity + 18 days of harvest":
		rule(georgia, "UGA-AUGUST", 18, false, "bean, snap", "cucumber", "squash, summer")
	case basis == "days to maturity":
		rule(georgia, "UGA-EARLY", 0, false, "cabbage", "cauliflower", "collards")
	case basis == "days to maturity + 7":
		rule(georgia, "UGA-EARLY", 7, false, "beet", "carrot")
	case basis == "days to maturity + 14":
		rule(georgia, "UGA-EARLY", 14, false, "sweet corn")
	case strings.HasPrefix(region, "Nebraska"):
		rule(nebraska, "NEB-FALL", 10, false, "bean, snap", "beet", "carrot", "kohlrabi", "lettuce", "mustard", "radish", "spinach", "turnip")
	}
}

// zones is the table of 1919 by frost zones A to G. The map is lost; a station is put into the zone in whose
// range for snap beans, which the rules sow on the average last frost, its own last frost falls (the nearest range
// where it falls between two), and the rows of snap bean are then left out.
func (c *calendars) zones(t *testing.T) {
	rows := tableOf(t, "usda_zones_1919.csv")
	for _, id := range sortedKeys(c.stations) {
		s := c.stations[id]
		zone := c.zone(t, s, rows)
		if zone == "" {
			continue
		}
		for _, r := range rows {
			if r["place"] != zone || r["crop"] == "bean, snap" {
				continue
			}
			p := printed{set: "USDA 1919, spring", source: "USDA-1919", place: strings.TrimPrefix(zone, "USDA frost "), station: s, crop: r["crop"], edge: opensSpring}
			if r["season"] == "spring" {
				p.from, p.to = c.on(t, s, r["earliest"]), c.on(t, s, r["latest"])
			} else {
				p.set, p.edge = "USDA 1919, autumn", lastInYear
				p.from = c.on(t, s, r["latest"])
				p.to = p.from
			}
			c.add(p, r["method"])
		}
	}
}

func (c *calendars) zone(t *testing.T, s *station, rows []map[string]string) string {
	last, ok := s.spring()
	if !ok {
		c.left["never freezes: "+s.name]++
		return ""
	}
	zone, nearest := "", 1000
	for _, r := range rows {
		if r["crop"] != "bean, snap" || r["season"] != "spring" {
			continue
		}
		off := outside(last, c.on(t, s, r["earliest"]), c.on(t, s, r["latest"]))
		if off = max(off, -off); off < nearest {
			zone, nearest = r["place"], off
		}
	}
	return zone
}

// outside is how many days a day lies past a span, negative before it, 0 within.
func outside(day, from, to civil.Date) int { return min(day.Since(from), 0) + max(day.Since(to), 0) }
