package growth

import (
	"regexp"
	"strings"
	"testing"

	"kailyard/internal/quantity"
)

var (
	metricMeasure = regexp.MustCompile(`\d (°C|cm|mm|m)\b|°C`)
	usMeasure     = regexp.MustCompile(`\d (°F|in|ft)\b|[½¼¾⅛] in\b`)
)

// A person reads the edges of windows in one system of units, never in two.
func TestEdgesInOneSystemOfUnits(t *testing.T) {
	in := map[quantity.System]int{}
	for _, table := range Tabulate(coldWinters.climate(20, 4), testOptions()) {
		for _, w := range table.Windows(0.8) {
			for _, e := range []Edge{w.Opens, w.Closes} {
				metric, us := e.Reason(quantity.Metric).Says, e.Reason(quantity.US).Says
				if found := metricMeasure.FindString(us); found != "" {
					t.Errorf("%s: %q in US units", table.Option.Crop.ID, us)
				}
				if found := usMeasure.FindString(metric); found != "" {
					t.Errorf("%s: %q in metric units", table.Option.Crop.ID, metric)
				}
				if strings.Contains(us, "°F") {
					in[quantity.US]++
				}
				if strings.Contains(metric, "°C") {
					in[quantity.Metric]++
				}
			}
		}
	}
	if in[quantity.US] == 0 || in[quantity.US] != in[quantity.Metric] {
		t.Errorf("temperatures are told %d times in °F and %d times in °C", in[quantity.US], in[quantity.Metric])
	}
}

// 6 °C is 42.8 °F and 10 cm is 3.94 in (by definition), rounded as a gardener reads them.
func TestEdgeOfWorkableGround(t *testing.T) {
	option := testOptions()[0]
	for u, want := range map[quantity.System]string{
		quantity.Metric: "Opens when the ground is warm enough to work (6 °C at 10 cm), or is within a week, in 8 years of 10.",
		quantity.US:     "Opens when the ground is warm enough to work (43 °F at 4 in), or is within a week, in 8 years of 10.",
	} {
		if got := (Edge{option: option, why: groundCold, opening: true, share: 0.8}).Reason(u).Says; got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}
