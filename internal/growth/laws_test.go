package growth

import (
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// Earlier sown is never later up in the same year.
func TestEarlierSownIsNeverLaterUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawCrop(t)
		c := drawClimate(t).climate(1, rapid.Uint64().Draw(t, "seed"))
		table := Tabulate(c, []Option{o})[0]
		var last civil.Date
		for d := c.Season.Start; d <= c.Season.End(); d++ {
			out := table.Outcome(d, 0)
			if out.Emerge == 0 {
				continue
			}
			if out.Emerge < last {
				t.Fatalf("sown %v it is up %v, sown before that only on %v", d, out.Emerge, last)
			}
			last = out.Emerge
		}
	})
}

// Below its optimum more heat never delays a crop: neither its emergence nor its first harvest.
func TestMoreHeatNeverDelaysBelowTheOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := drawClimate(t)
		kind.mean = rapid.Float64Range(2, 12).Draw(t, "cool mean")
		kind.amplitude = min(kind.amplitude, 10)
		season := civil.SeasonOf(2027, kind.latitude)
		cool := kind.scenarios(season, 1, rapid.Uint64().Draw(t, "seed"))
		warm := warmed(t, cool[0])
		options := []Option{{Crop: cold(spinach()), Method: 0}, {Crop: cold(lettuce()), Method: 0}, {Crop: cold(lettuce()), Method: 1}}
		a, b := tabulated(t, season, kind.latitude, cool[0], options), tabulated(t, season, kind.latitude, warm, options)
		for k := range options {
			for d := season.Start; d <= season.End(); d++ {
				x, y := a[k].Outcome(d, 0), b[k].Outcome(d, 0)
				if x.Emerge != 0 && (y.Emerge == 0 || y.Emerge > x.Emerge) {
					t.Fatalf("%s from %v: up %v, in the warmer year %v", options[k].Crop.ID, d, x.Emerge, y.Emerge)
				}
				if x.Fate == Ready && (y.Fate != Ready || y.First > x.First) {
					t.Fatalf("%s from %v: ready %v, in the warmer year %v on %v", options[k].Crop.ID, d, x.First, y.Fate, y.First)
				}
			}
		}
	})
}

// cold is a crop that nothing kills and whose optimum is out of reach, so that only the heat law is left.
func cold(c *crop.Crop) *crop.Crop {
	c.Cardinal.OptLow, c.Cardinal.OptHigh, c.Cardinal.Max = 60, 70, 80
	c.Hardiness = crop.Hardiness{Seedling: -90, Established: -90, Mature: -90, Overwinters: true, Dormant: -90}
	c.Emergence.Points = []crop.EmergencePoint{{Soil: 0, Days: 60}, {Soil: 10, Days: 12}, {Soil: 50, Days: 1}}
	c.Emergence.Most, c.Emergence.GiveUp = 60, 0
	c.Heat, c.DayLength = crop.Heat{}, crop.DayLength{}
	for m := range c.Methods {
		c.Methods[m].AirAtLeast = nil
	}
	return c
}

// warmed is the year with each day's minimum and maximum raised by amounts of its own.
func warmed(t *rapid.T, s weather.Scenario) weather.Scenario {
	out := s
	out.Min, out.Max = append([]float32(nil), s.Min...), append([]float32(nil), s.Max...)
	most := rapid.Float32Range(0, 4).Draw(t, "warmer by")
	for i := range out.Min {
		by := most * float32(i%7) / 6
		out.Min[i] += by
		out.Max[i] += by
	}
	return out
}

func tabulated(t *rapid.T, season civil.Season, latitude float64, s weather.Scenario, options []Option) []*Table {
	c, err := NewClimate(season, latitude, []weather.Scenario{s})
	if err != nil {
		t.Fatal(err)
	}
	return Tabulate(c, options)
}

// The same weather half a year apart in the other hemisphere gives the same outcomes day by day. The seasons
// begin on 1 January and 1 July, 181 days apart, while the sun's halves of the year differ by some days, so day
// length is held out of it: the crops have no day-length limits, and at the equator light never falls short.
func TestHemispheresMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := drawClimate(t)
		kind.latitude = 1
		north := civil.Season{Start: civil.Of(2027, 1, 1), Days: 365}
		south := civil.Season{Start: civil.Of(2027, 7, 2), Days: 365}
		there := kind.scenarios(north, 1, rapid.Uint64().Draw(t, "seed"))[0]
		here := there
		here.Start = south.Start.Add(-Lead)
		options := []Option{{Crop: lettuce(), Method: 0}, {Crop: lettuce(), Method: 1}, {Crop: bean(), Method: 0}, {Crop: asparagus(), Method: 0}}
		a, b := tabulated(t, north, 1, there, options), tabulated(t, south, -1, here, options)
		for k := range options {
			for i := range north.Days {
				x, y := a[k].Outcome(north.Start.Add(i), 0), b[k].Outcome(south.Start.Add(i), 0)
				shift := south.Start.Since(north.Start)
				if x.Fate != y.Fate || x.Fate == Ready && (y.First.Since(x.First) != shift || y.Last.Since(x.Last) != shift || x.Yield != y.Yield) {
					t.Fatalf("%s from day %d: north %+v, south %+v", options[k].Crop.ID, i, x, y)
				}
			}
		}
	})
}

// Given the same day lengths and light as well, mirrored hemispheres agree to the day for the crops that go by them.
func TestHemispheresMirroredWithDayLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := drawClimate(t)
		north := civil.Season{Start: civil.Of(2027, 1, 1), Days: 365}
		south := civil.Season{Start: civil.Of(2027, 7, 2), Days: 365}
		there := kind.scenarios(north, 1, rapid.Uint64().Draw(t, "seed"))[0]
		here := there
		here.Start = south.Start.Add(-Lead)
		a, err := NewClimate(north, 44.6, []weather.Scenario{there})
		if err != nil {
			t.Fatal(err)
		}
		b, err := NewClimate(south, -44.6, []weather.Scenario{here})
		if err != nil {
			t.Fatal(err)
		}
		b.hours, b.light = a.hours, a.light
		b.harden()
		options := []Option{{Crop: spinach()}, {Crop: onion()}, {Crop: lettuce(), Method: 1}, {Crop: asparagus()}}
		x, y := Tabulate(a, options), Tabulate(b, options)
		for k := range options {
			for i, p := range x[k].outcomes {
				if q := y[k].outcomes[i]; p != q {
					t.Fatalf("%s from day %d: north %+v, south %+v", options[k].Crop.ID, i, p, q)
				}
			}
		}
	})
}

// The sun itself does not mirror: it is nearer in the southern summer and hurries through it. From the equinox of March to
// that of September are 186 days, back to March 179 (MEEUS-1998, ch. 27), and in January it sends 3.3 % more than
// the mean, in July as much less (FAO56, equation 23). Half a year from each other, counted from the solstices, day lengths
// at 44.6° keep within 15 minutes and the sky's light within 8 %, so that real hemispheres agree within days.
func TestSunOfTheHemispheres(t *testing.T) {
	longest, most := 0.0, 0.0
	for i := range 365 {
		n, s := civil.Of(2026, 12, 21).Add(i), civil.Of(2027, 6, 21).Add(i)
		hours := float64(sun.DayLength(44.6, n)) - float64(sun.DayLength(-44.6, s))
		longest = max(longest, hours, -hours)
		off := SkyLight(44.6, n)/SkyLight(-44.6, s) - 1
		most = max(most, off, -off)
	}
	t.Logf("day lengths within %.0f minutes, light within %.1f %%", 60*longest, 100*most)
	if longest > 0.25 || most > 0.08 {
		t.Errorf("day lengths differ by up to %.2f h, light by up to %.1f %%", longest, 100*most)
	}
}

// Running an option alone or among others, and again, gives the same table.
func TestTableDoesNotDependOnItsCompany(t *testing.T) {
	c := coldWinters.climate(5, 3)
	all := Tabulate(c, testOptions())
	for k, o := range testOptions() {
		alone := Tabulate(c, []Option{o})[0]
		for i, p := range alone.outcomes {
			if p != all[k].outcomes[i] {
				t.Fatalf("%s by %s: outcome %d is %+v alone and %+v among others", o.Crop.ID, o.method().Way, i, p, all[k].outcomes[i])
			}
		}
	}
}
