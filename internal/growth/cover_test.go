package growth

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// A day under a cover by hand: 3 °C by night, 5 by day, aired at 20 °C.
func TestCoveredDay(t *testing.T) {
	p := &crop.Protection{Night: 3, Day: 5, VentCool: 20, VentWarm: 28}
	for _, row := range []struct {
		warm                      bool
		low, high, inLow, inHigh_ quantity.Celsius
	}{
		{false, -4, 6, -1, 11},  // shut all day
		{false, 4, 17, 7, 20},   // opened at 20
		{false, 10, 24, 13, 24}, // open: no warmer than outside
		{true, 10, 24, 13, 28},
		{false, 18, 19, 21, 21}, // a warm night under it: the day is no colder than its night
	} {
		low, high := CoveredDay(p, row.warm, row.low, row.high)
		if low != row.inLow || high != row.inHigh_ {
			t.Errorf("%v–%v outside: %v–%v under the cover, by hand %v–%v", row.low, row.high, low, high, row.inLow, row.inHigh_)
		}
	}
}

// plainlyCovered is the climate under an option's cover told day by day, without anything of the real one but its
// form: the oracle's air and soil.
func plainlyCovered(c *Climate, o Option) *Climate {
	p := o.Protection
	if p == nil {
		return c
	}
	out := *c
	out.low, out.high, out.mean = nil, nil, nil
	for y := range c.Years {
		for d := range c.days {
			at := y*c.days + d
			low, high := float64(c.low[at]), float64(c.high[at])
			if plainlyOn(c, o, y, d) {
				vent := float64(p.VentCool)
				if o.Crop.Hardiness.Class == "tender" || o.Crop.Hardiness.Class == "very tender" {
					vent = float64(p.VentWarm)
				}
				if inside := math.Min(high+float64(p.Day), vent); inside > high {
					high = inside
				}
				low += float64(p.Night)
				high = math.Max(low, high)
			}
			out.low, out.high = append(out.low, float32(low)), append(out.high, float32(high))
			out.mean = append(out.mean, (float32(low)+float32(high))/2)
		}
	}
	return &out
}

func plainlyOn(c *Climate, o Option, y, d int) bool {
	at := func(k int) float64 { return float64(c.low[y*c.days+k]) }
	on := true
	if o.Protection.Off != nil {
		sum, n := 0.0, 0.0
		for k := max(d-6, 0); k <= d; k++ {
			sum, n = sum+at(k), n+1
		}
		on = sum/n < float64(*o.Protection.Off)-1e-9 || at(d) <= 2
	}
	if o.Crop.Plant.Height > o.Protection.Room {
		e := max(d, 1)
		on = on && c.hours[e] > c.hours[e-1]
	}
	return on
}

// plainlyWarmed is the soil under an option's cover, day by day.
func plainlyWarmed(c *Climate, o Option, depth quantity.Metre) []float32 {
	if o.Protection == nil {
		return c.soil(depth)
	}
	var out []float32
	for y := range c.Years {
		drive := func(d int) float64 {
			at := y*c.days + d
			t := float64(SoilDrive(quantity.Celsius(c.low[at]), quantity.Celsius(c.high[at])))
			if plainlyOn(c, o, y, d) {
				t += float64(float32(o.Protection.Soil))
			}
			return t
		}
		t := 0.0
		for d := range 14 {
			t += drive(d) / 14
		}
		for d := range c.days {
			t += SoilResponse(depth) * (drive(d) - t)
			out = append(out, float32(t))
		}
	}
	return out
}

// drawCover is open ground, a cover of the catalogue, or an invented one.
func drawCover(t *rapid.T) *crop.Protection {
	all := crop.Protections()
	k := rapid.IntRange(-1, len(all)).Draw(t, "cover")
	switch {
	case k < 0:
		return nil
	case k < len(all):
		return all[k]
	}
	p := &crop.Protection{
		ID: "test-cover", Name: "test cover",
		Night: quantity.Celsius(rapid.Float64Range(0, 6).Draw(t, "night")), Day: quantity.Celsius(rapid.Float64Range(0, 9).Draw(t, "day")),
		Soil:     quantity.Celsius(rapid.Float64Range(0, 5).Draw(t, "soil")),
		VentCool: 18, VentWarm: 27, Room: quantity.Metre(rapid.Float64Range(0.1, 1).Draw(t, "room")),
	}
	if rapid.Bool().Draw(t, "comes off") {
		p.Off = celsius(rapid.Float64Range(3, 14).Draw(t, "off"))
	}
	return p
}

// A cover that gains nothing changes nothing.
func TestCoverWithoutGainChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawCrop(t)
		o.Protection = nil
		c := drawClimate(t).climate(1, rapid.Uint64().Draw(t, "seed"))
		under := o
		under.Protection = &crop.Protection{ID: "nothing", VentCool: 18, VentWarm: 25, Room: 0.3}
		if rapid.Bool().Draw(t, "comes off") {
			under.Protection.Off = celsius(8)
		}
		tables := Tabulate(c, []Option{o, under})
		for i := range tables[0].outcomes {
			if a, b := tables[0].outcomes[i], tables[1].outcomes[i]; a != b {
				t.Fatalf("outcome %d: %+v in the open, %+v under a cover without gain", i, a, b)
			}
		}
	})
}

// Under a cover no day is colder, and a plant is hardened as in the open; so at one stage nothing is killed
// there that lives outside.
func TestCoverIsNeverColder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawCrop(t)
		o.Protection = drawCover(t)
		c := drawClimate(t).climate(1, rapid.Uint64().Draw(t, "seed"))
		in := c.under(o.cover())
		for i := range c.low {
			if in.low[i] < c.low[i] || in.high[i] < c.high[i] || in.hardened[i] != c.hardened[i] {
				t.Fatalf("day %d: %v–%v °C in the open, %v–%v under the cover", i, c.low[i], c.high[i], in.low[i], in.high[i])
			}
		}
		outside, inside := c.soil(0.05), in.soil(0.05)
		for i := range outside {
			if inside[i] < outside[i] {
				t.Fatalf("day %d: soil %v °C in the open, %v under the cover", i, outside[i], inside[i])
			}
		}
	})
}

// hardening is a crop that grows no less hardy and knows no heat: with what kills it no worse by stage and its optimum
// out of reach, so that only cold is left to end it.
func hardening(t *rapid.T, c *crop.Crop) *crop.Crop {
	c = cold(c)
	s := quantity.Celsius(rapid.Float64Range(-8, 1).Draw(t, "seedling dies"))
	c.Hardiness = crop.Hardiness{Class: "hardy", Seedling: s, Established: s - 1, Mature: s - 2}
	c.Harvest.Manner = crop.Once
	return c
}

// A cover never makes frost kill what comes to harvest in the open, if both go in and are up on the same days: what
// the warmth brings up earlier meets more cold nights.
func TestCoverNeverMakesFrostKill(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawClimate(t).climate(1, rapid.Uint64().Draw(t, "seed"))
		o := Option{Crop: hardening(t, lettuce()), Method: rapid.IntRange(0, 1).Draw(t, "method")}
		under := o
		under.Protection = drawCover(t)
		tables := Tabulate(c, []Option{o, under})
		for d := c.Season.Start; d <= c.Season.End(); d++ {
			a, b := tables[0].Outcome(d, 0), tables[1].Outcome(d, 0)
			if a.In == b.In && a.Emerge == b.Emerge && a.Fate == Ready && b.Fate != Ready {
				t.Fatalf("from %v: ready on %v in the open, %v under %v", d, a.First, b.Fate, under.Protection)
			}
		}
	})
}

// More gain at night never closes the early side of a window: what came to harvest still does, no later.
func TestMoreGainNeverClosesTheEarlySide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawClimate(t).climate(1, rapid.Uint64().Draw(t, "seed"))
		little := &crop.Protection{Night: 1, Day: 4, Soil: 1, VentCool: 20, VentWarm: 28, Room: 1}
		if rapid.Bool().Draw(t, "comes off") {
			little.Off = celsius(10)
		}
		much := *little
		much.Night += quantity.Celsius(rapid.Float64Range(0, 5).Draw(t, "more"))
		k := hardening(t, lettuce())
		k.Methods[1].AirAtLeast = celsius(-3)
		m := rapid.IntRange(0, 1).Draw(t, "method")
		tables := Tabulate(c, []Option{{Crop: k, Method: m, Protection: little}, {Crop: k, Method: m, Protection: &much}})
		for d := c.Season.Start; d <= c.Season.End(); d++ {
			a, b := tables[0].Outcome(d, 0), tables[1].Outcome(d, 0)
			if a.In == b.In && a.Fate == Ready && (b.Fate != Ready || b.First > a.First) {
				t.Fatalf("from %v: ready %v with the smaller gain, fate %v on %v with the greater", d, a.First, b.Fate, b.First)
			}
		}
	})
}

// ahead is what a cover is said to bring in spring.
type ahead struct {
	id         string
	way        crop.Way
	cover      string
	least, not int // days, from and to
	source     string
}

// What extension says covers bring in spring. "As much as" gives the upper end only.
var aheads = []ahead{
	{"tomato-early", crop.SetOut, "low-tunnel", 5, 30, "NCSU-APPE: as much as a month's head start for tomatoes and cucumbers"},
	{"cucumber", crop.SetOut, "low-tunnel", 5, 30, "NCSU-APPE: the same"},
	{"tomato-early", crop.SetOut, "high-tunnel", 7, 42, "UMN-HT: as much as five or six weeks in spring"},
	{"lettuce-loose-leaf", crop.Sow, "low-tunnel", 5, 30, "NCSU-APPE: cool crops"},
	{"lettuce-loose-leaf", crop.Sow, "cold-frame", 7, 42, "UMN-HT, NCSU-APPE: between the tunnels"},
}

func TestCoversOpenWindowsEarlierNewYork(t *testing.T) {
	checkAhead(t, recorded(t, "USC00304174.dly", 42.45))
}

func TestCoversOpenWindowsEarlierGenerated(t *testing.T) {
	checkAhead(t, builtIn(t, "ithaca"))
}

func checkAhead(t *testing.T, c *Climate) {
	t.Helper()
	for _, row := range aheads {
		o := option(t, row.id, row.way)
		under := o
		under.Protection, _ = crop.FindProtection(row.cover)
		tables := Tabulate(c, []Option{o, under})
		open, covered := tables[0].Windows(0.8), tables[1].Windows(0.8)
		if len(open) == 0 || len(covered) == 0 {
			t.Errorf("%s: %d windows in the open, %d under %s", row.id, len(open), len(covered), row.cover)
			continue
		}
		earlier := int(open[0].From - covered[0].From)
		t.Logf("%-20s %-8s %-12s opens %s, in the open %s: %d days earlier, ready %v against %v (%s)", row.id, row.way, row.cover,
			covered[0].From.Short(), open[0].From.Short(), earlier, readyBy(tables[1], covered[0].From), readyBy(tables[0], open[0].From), row.source)
		if earlier < row.least || earlier > row.not {
			t.Errorf("%s under %s opens %d days earlier, published %d to %d", row.id, row.cover, earlier, row.least, row.not)
		}
	}
}

func readyBy(t *Table, start civil.Date) string { return t.Summary(start).First.P50.Short() }

// A cover kept shut in heat costs: where lettuce bolts in the open in early summer, it bolts no less under glass.
func TestCoverCostsInHeat(t *testing.T) {
	c := coldWinters.climate(10, 4)
	frame, _ := crop.FindProtection("cold-frame")
	kept := *frame
	kept.Off = nil // the glass stays on all summer
	tables := Tabulate(c, []Option{{Crop: lettuce()}, {Crop: lettuce(), Protection: &kept}})
	bolted := func(t *Table) (n int) {
		for d := c.Season.Start; d <= c.Season.End(); d++ {
			n += t.Summary(d).Fates[Bolted]
		}
		return n
	}
	if open, under := bolted(tables[0]), bolted(tables[1]); under <= open {
		t.Errorf("%d plantings bolt in the open, %d in a frame", open, under)
	}
}

// The gain of a window: 10 April against 24 April, closing two days earlier.
func TestWidens(t *testing.T) {
	day := func(m, d int) civil.Date { return civil.Of(2027, m, d) }
	span := func(from, to civil.Date) Window { return Window{Span: civil.Span{From: from, To: to}} }
	open := []Window{span(day(4, 24), day(5, 30)), span(day(8, 1), day(8, 20))}
	if e, l, ok := Widens(span(day(4, 10), day(5, 28)), open); e != 14 || l != -2 || !ok {
		t.Errorf("earlier %d, later %d, meets %v", e, l, ok)
	}
	if e, l, ok := Widens(span(day(4, 10), day(8, 30)), open); e != 14 || l != 10 || !ok {
		t.Errorf("over both: earlier %d, later %d, meets %v", e, l, ok)
	}
	if _, _, ok := Widens(span(day(11, 1), day(11, 9)), open); ok {
		t.Error("a window that meets none is said to meet one")
	}
}
