package growth

import (
	"strings"
	"testing"

	"kailyard/internal/quantity"
)

// Every cause has its kind, its clause for one planting and for many, and a sentence that helps, in both systems of units.
func TestEveryTroubleIsSaid(t *testing.T) {
	for _, option := range testOptions() {
		for why := groundCold; why <= outOfYear; why++ {
			trouble := Trouble{1, option, why}
			if trouble.Kind() == "" || kinds[why].rule == "" {
				t.Errorf("cause %d has no kind or no rule", why)
			}
			for _, u := range []quantity.System{quantity.Metric, quantity.US} {
				says, helps := trouble.Says(u), trouble.Helps(u)
				if !strings.HasPrefix(says, "it ") || strings.HasSuffix(says, ".") || strings.Contains(says, "%!") {
					t.Errorf("%s: %q", option.Crop.ID, says)
				}
				if !strings.HasPrefix(helps, "What would help: ") || !strings.HasSuffix(helps, ".") {
					t.Errorf("%s: %q", option.Crop.ID, helps)
				}
				if many := option.befalls(why, u, true); why != didNotSet && "it "+many == says {
					if _, verb, _ := strings.Cut(says, " "); verb == many {
						t.Errorf("%s: one and many are both %q", option.Crop.ID, many)
					}
				}
				if found := metricMeasure.FindString(says + helps); u == quantity.US && found != "" {
					t.Errorf("%s: %q and %q in US units", option.Crop.ID, says, helps)
				}
			}
		}
	}
}

// What is in the way is what the climate lacks: heat spoils lettuce where no day is cool, frost nothing at all. "common
// practice": lettuce bolts in hot weather and stands still in the dark of winter in the far north.
func TestLackNamesWhatIsInTheWay(t *testing.T) {
	for _, row := range []struct {
		name    string
		table   *Table
		trouble string
	}{
		{"lettuce where every day has 29 °C", Tabulate(steady(29), []Option{{Crop: lettuce(), Method: 0}})[0], "too hot"},
		{"beans where every day has 4 °C", Tabulate(steady(4), []Option{{Crop: bean()}})[0], "too cold"},
	} {
		got, ok := row.table.Lack().Trouble()
		if !ok || !strings.HasPrefix(got.Kind(), row.trouble) {
			t.Errorf("%s: %q, %q", row.name, got.Kind(), row.table.Lack().Says(quantity.Metric))
		}
	}
}

// Where it is warm enough only when it is too late, both are told: "common practice": short-day onions bulb small in the
// north, whose spring days are long before its ground is warm.
func TestLackTellsTheSqueeze(t *testing.T) {
	l := Lack{}
	option := testOptions()[0]
	l.Look(option, Summary{Success: 3, Years: 9, Losses: Losses{groundCold: 4, smallBulbs: 2}})
	l.Look(option, Summary{Success: 2, Years: 9, Losses: Losses{smallBulbs: 7}})
	says := l.Says(quantity.US)
	for _, part := range []string{"succeeds in 3 of 9", "too cold to work (below 43 °F", "once it is warm enough, it bulbs while it is still small", "a kind that bulbs in longer days"} {
		if !strings.Contains(says, part) {
			t.Errorf("%q is missing in %q", part, says)
		}
	}
}

// A start in short days is called dark where the light is at a standstill and the warmth is not: 60° north, 10 °C all year.
func TestShortDaysAreCalledDark(t *testing.T) {
	c := steadyAt(60, 10)
	table := Tabulate(c, []Option{{Crop: lettuce(), Method: 0}})[0]
	dark := 0
	for d := c.Season.Start; d <= c.Season.End(); d++ {
		if n := table.Summary(d).Losses[tooDark]; n > 0 {
			dark += n
			if h := c.DayLength(d.Add(60)); h > 14 {
				t.Errorf("sown on %s it is said to lack light, and two months later the day has %.1f h", d, float64(h))
			}
		}
	}
	if dark == 0 {
		t.Error("no start lacks light at 60° north")
	}
}
