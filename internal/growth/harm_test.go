package growth

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Nights near the killing temperature add up: one of half a degree above it takes 3/8 of the stand and no more; three
// within a fortnight kill, three further apart do not, and one at the temperature does at once.
func TestNightsNearKillingAddUp(t *testing.T) {
	k := bean()
	k.Methods = []crop.Method{{Way: crop.SetOut, Days: crop.Range{Low: 60, High: 60}, Reference: 21, Depth: 0.05}}
	kills := float32(k.Hardiness.Established)
	for _, row := range []struct {
		nights []int // days after setting out
		above  float32
		fate   Fate
	}{
		{nil, 0, Ready}, {[]int{20}, 0.5, Ready}, {[]int{20, 25}, 0.5, Ready}, {[]int{20, 25, 30}, 0.5, Frozen},
		{[]int{5, 20, 35}, 0.5, Ready}, {[]int{20, 25, 30}, 2, Ready}, {[]int{20}, 0, Frozen},
		{[]int{20, 22, 24, 26}, 1.5, Ready}, // an eighth each
	} {
		c := unbroken(15, 27)
		day := c.Season.Start.Add(40)
		i, _ := c.index(day)
		for _, n := range row.nights {
			c.low[i+n] = kills + row.above
		}
		if out := Tabulate(c, []Option{{Crop: k}})[0].Outcome(day, 0); out.Fate != row.fate {
			t.Errorf("nights %v of %g °C above killing: fate %d, want %d", row.nights, row.above, out.Fate, row.fate)
		}
	}
	for _, row := range []struct{ above, share float64 }{{-5, 1}, {0, 1}, {0.5, 0.375}, {1, 0.25}, {2, 0}, {9, 0}} {
		if got := Nip(quantity.Celsius(3+row.above), 3); got != row.share {
			t.Errorf("%g °C above killing: %g, want %g", row.above, got, row.share)
		}
	}
}

// What nights take of a crop that is there to be harvested is lost; what they take weeks before is made good.
func TestNightsTakeFromWhatIsRipe(t *testing.T) {
	k := lettuce()
	k.Methods = k.Methods[1:]
	k.Methods[0].AirAtLeast = nil
	yield := func(night int) float64 {
		c := unbroken(11, 23)
		i, _ := c.index(c.Season.Start.Add(40))
		c.low[i+night] = float32(k.Hardiness.Mature) + 1
		return Tabulate(c, []Option{{Crop: k}})[0].Outcome(c.Season.Start.Add(40), 0).Yield
	}
	if early, late := yield(8), yield(31); early < late+0.2 {
		t.Errorf("a cold night early leaves %.2f of the crop, one when it is ripe %.2f", early, late)
	}
}

// Warmth takes from a crop of cool weather before heat spoils it: more, the warmer; all in the end.
func TestYieldFallsWithWarmth(t *testing.T) {
	before := 1.0
	for mean := 14.0; mean <= 30; mean++ {
		c := unbroken(mean-5, mean+5)
		out := Tabulate(c, []Option{{Crop: lettuce(), Method: 1}})[0].Outcome(c.Season.Start.Add(40), 0)
		if out.Yield > before+1e-9 {
			t.Errorf("%g °C: %.2f of the crop, more than the %.2f of a degree less", mean, out.Yield, before)
		}
		before = out.Yield
		switch {
		case mean <= 20 && out.Yield < 0.99: // bolts above 24
			t.Errorf("%g °C costs %.2f of the crop", mean, 1-out.Yield)
		case mean == 23 && (out.Yield < 0.4 || out.Yield > 0.6):
			t.Errorf("3 °C too warm leave %.2f of the crop, want about half", out.Yield)
		case mean >= 29 && out.Fate == Ready:
			t.Errorf("%g °C does not spoil it", mean)
		}
	}
}

// Peas of June are clearly worse than those of April in the cold North: they flower in July. Common
// practice there is to sow as soon as the ground can be worked. A tenth: UDEL-PEA has a fifth lost from maxima of 85 to those of 90 °F.
func TestPeasOfJuneAreWorseThanThoseOfApril(t *testing.T) {
	check := func(place string, c *Climate) {
		table := Tabulate(c, []Option{option(t, "pea-dwarf", crop.Sow)})[0]
		april, june := 0.0, 1.0
		for d := onDay(t, c, "04-15"); d <= onDay(t, c, "05-05"); d++ {
			april = max(april, table.Summary(d).Yield)
		}
		for d := onDay(t, c, "06-01"); d <= onDay(t, c, "06-10"); d++ {
			june = min(june, table.Summary(d).Yield)
		}
		t.Logf("%s: April %.2f, June %.2f", place, april, june)
		if june > 0.9*april {
			t.Errorf("%s: peas of June yield %.2f, those of April %.2f", place, june, april)
		}
	}
	check("Burlington, generated years", builtIn(t, "burlington"))
	check("Hanover", recorded(t, "USC00273850.dly", 43.7))
	check("Ithaca", recorded(t, "USC00304174.dly", 42.45))
}

// Where winters are mild the season of cool-weather crops runs through them, and heat shuts the windows of spring:
// Tallahassee, Davis and El Paso by generated years. Bounds are common practice of gardeners in those places, from memory: in north
// Florida lettuce and broccoli from late summer to March, none in between; in the valley of Davis onions of short days set out in
// autumn; tomatoes are not set out in El Paso's high summer and never in its winter.
func TestSeasonsOfWarmWinters(t *testing.T) {
	for _, row := range []struct {
		place, id string
		way       crop.Way
		open      []string // days on which a window is open
		shut      []string
	}{
		{"tallahassee", "lettuce-loose-leaf", crop.Sow, []string{"02-20", "09-20"}, []string{"05-01", "06-15", "07-15"}},
		{"tallahassee", "broccoli", crop.SetOut, []string{"02-20", "08-25"}, []string{"04-20", "06-01", "07-01"}},
		{"tallahassee", "radish", crop.Sow, []string{"02-20", "03-20", "10-10"}, []string{"06-15", "07-15"}},
		{"tallahassee", "spinach", crop.Sow, []string{"02-10", "10-20", "11-10"}, []string{"04-20", "06-15", "07-15"}},
		{"tallahassee", "kale", crop.Sow, []string{"02-10", "10-01", "10-25"}, nil},
		// From here IFAS-SP103 and IFAS-NORTH, months through the winter.
		{"tallahassee", "onion-short-day", crop.SetOut, []string{"10-15", "11-15"}, []string{"06-15", "07-15"}},
		{"tallahassee", "cabbage-early", crop.SetOut, []string{"10-15", "11-15", "01-31"}, []string{"06-15"}},
		{"tallahassee", "carrot", crop.Sow, []string{"10-15", "02-20"}, []string{"05-31"}},
		{"davis", "lettuce-loose-leaf", crop.Sow, []string{"02-10", "03-20", "09-01"}, nil},
		{"davis", "onion-short-day", crop.SetOut, []string{"11-15", "12-15"}, []string{"06-01", "07-15"}},
		{"davis", "tomato-early", crop.SetOut, []string{"04-25", "06-01"}, []string{"01-15", "02-10", "10-15", "12-15"}},
		{"el-paso", "spinach", crop.Sow, []string{"02-10", "10-01", "10-20"}, []string{"05-01", "06-15", "07-15"}},
		{"el-paso", "lettuce-loose-leaf", crop.Sow, []string{"03-10", "09-10"}, []string{"05-15", "06-15"}},
		{"el-paso", "tomato-early", crop.SetOut, []string{"04-05"}, []string{"01-15", "02-10", "11-15"}},
	} {
		c := builtIn(t, row.place)
		windows := Tabulate(c, []Option{option(t, row.id, row.way)})[0].Windows(0.6)
		open := func(monthDay string) bool {
			for _, w := range windows {
				if w.Has(onDay(t, c, monthDay)) {
					return true
				}
			}
			return false
		}
		for _, d := range row.open {
			if !open(d) {
				t.Errorf("%s: %s by %s is shut on %s: %v", row.place, row.id, row.way, d, spansOf(windows))
			}
		}
		for _, d := range row.shut {
			if open(d) {
				t.Errorf("%s: %s by %s is open on %s: %v", row.place, row.id, row.way, d, spansOf(windows))
			}
		}
	}
}

func spansOf(windows []Window) (out []string) {
	for _, w := range windows {
		out = append(out, w.Span.String())
	}
	return out
}

// Frost on the tops ends the growth of potatoes, not the crop: main-crop potatoes planted in May where the summer is short are lifted when
// it comes, smaller than where it comes late (MSU-POTATO: dug after the vines have died, often of the first frost). Roots of carrots are not
// so safe, nor is what had hardly begun to swell.
func TestPotatoesAreLiftedWhenFrostTakesTheTops(t *testing.T) {
	potato, ok := crop.Default().Find("potato")
	if !ok {
		t.Fatal("no potato")
	}
	season := civil.Season{Start: civil.Of(2027, 1, 1), Days: 365}
	frost := civil.Of(2027, 9, 16)
	year := weather.Scenario{Year: 2001, Start: season.Start.Add(-Lead)}
	for i := range Lead + season.Days + Tail {
		low, high := float32(9), float32(25)
		if d := year.Start.Add(i); d < civil.Of(2027, 4, 20) || d > frost+20 {
			low, high = -8, 2
		} else if d == frost {
			low = -5
		}
		year.Min, year.Max, year.Rain = append(year.Min, low), append(year.Max, high), append(year.Rain, 0)
	}
	c, err := NewClimate(season, 45.7, []weather.Scenario{year})
	if err != nil {
		t.Fatal(err)
	}
	table := Tabulate(c, []Option{{Crop: potato}})[0]
	early, late, last := table.Outcome(civil.Of(2027, 5, 1), 0), table.Outcome(civil.Of(2027, 6, 1), 0), table.Outcome(civil.Of(2027, 7, 20), 0)
	if early.Fate != Ready || early.Yield < 0.99 || early.First >= frost-1 {
		t.Errorf("planted on 1 May: fate %v, first %v, yield %.2f", early.Fate, early.First, early.Yield)
	}
	if late.Fate != Ready || late.First != frost-1 || late.Yield < 0.5 || late.Yield > 0.99 {
		t.Errorf("planted on 1 June: fate %v, first %v, yield %.2f", late.Fate, late.First, late.Yield)
	}
	if last.Fate != Frozen {
		t.Errorf("planted on 20 July: fate %v", last.Fate)
	}
}
