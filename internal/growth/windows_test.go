package growth

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// The windows, told plainly: every day of a window but bridged ones meets the share, and no day outside does but strays.
func TestWindowsHoldTheShare(t *testing.T) {
	c := coldWinters.climate(20, 4)
	for _, table := range Tabulate(c, testOptions()) {
		inside := map[civil.Date]bool{}
		windows := table.Windows(0.8)
		long := false
		for _, w := range windows {
			long = long || w.To-w.From >= 3
			missed, badly := 0, 0
			for d := w.From; d <= w.To; d++ {
				inside[d] = true
				ready := table.Summary(d).Success
				if missed++; ready >= 16 {
					missed, badly = 0, 0
				} else if ready < 14 {
					badly++
				}
				if missed > 14 || missed > 3 && badly > 0 {
					t.Errorf("%s: %v bridges too much before %v", table.Option.Crop.ID, w.Span, d)
				}
				if s := table.Summary(d); ready > table.Summary(w.Best).Success+1 || ready == 20 && table.Summary(w.Best).Success == 20 && s.Yield > table.Summary(w.Best).Yield/0.9+1e-9 {
					t.Errorf("%s: %v is better than the best, %v", table.Option.Crop.ID, d, w.Best)
				}
			}
			if table.Summary(w.From).Success < 16 || table.Summary(w.To).Success < 16 {
				t.Errorf("%s: %v ends on a day below the share", table.Option.Crop.ID, w.Span)
			}
			for _, says := range []string{w.Opens.Reason(quantity.Metric).Says, w.Closes.Reason(quantity.Metric).Says} {
				if !strings.HasSuffix(says, ".") || strings.Contains(says, "%!") {
					t.Errorf("%s: reason %q", table.Option.Crop.ID, says)
				}
			}
		}
		run := 0
		for d := c.Season.Start; d <= c.Season.End(); d++ {
			if run++; inside[d] || table.Summary(d).Success < 16 {
				run = 0
			}
			if run > 3 || run > 0 && !long {
				t.Errorf("%s: %v meets the share outside every window", table.Option.Crop.ID, d)
			}
		}
	}
}

// Strays go where there is a longer window, and stay where there is none; gaps are bridged by their length and by how
// nearly the share is met in them. Chances in tenths, day by day.
func TestStraysAndGaps(t *testing.T) {
	for _, row := range []struct {
		chances string
		want    []string // first and last day, counted from 0
	}{
		{"0888800000008000", []string{"1-4"}},
		{"0880000000008880", []string{"1-2", "12-14"}},
		{"0888800088888000", []string{"1-12"}},        // three days are bridged whatever they hold
		{"0888800008888000", []string{"1-4", "9-12"}}, // four are not
		{"0888877778888000", []string{"1-12"}},        // but when they come near
		{"0888877678888000", []string{"1-4", "9-12"}},
		{"08888777777777777778888", []string{"1-22"}},
		{"088887777777777777778888", []string{"1-4", "20-23"}},
		{"0000", nil},
	} {
		season := civil.Season{Start: civil.Of(2027, 1, 1), Days: len(row.chances)}
		table := &Table{Climate: &Climate{Season: season, Years: make([]int, 10)}}
		for _, tenths := range row.chances {
			for y := range 10 {
				p := packed{cause: outOfYear}
				if y < int(tenths-'0') {
					p.cause = ready
				}
				table.outcomes = append(table.outcomes, p)
			}
		}
		var got []string
		for _, span := range withoutStrays(table.spans(0.8)) {
			got = append(got, fmt.Sprintf("%d-%d", span.From-season.Start, span.To-season.Start))
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("%s: %v, want %v", row.chances, got, row.want)
		}
	}
}

// A summary is its outcomes counted; the harvest by week adds up to the mean yield.
func TestSummaryAndHarvestAreTheOutcomesCounted(t *testing.T) {
	c := mildWinters.climate(9, 8)
	for _, table := range Tabulate(c, testOptions()) {
		for d := c.Season.Start; d <= c.Season.End(); d += 11 {
			s := table.Summary(d)
			ready, yield, fates := 0, 0.0, [7]int{}
			for i := range c.Years {
				out := table.Outcome(d, i)
				fates[out.Fate]++
				if out.Fate == Ready {
					ready++
					yield += out.Yield / 9
				}
			}
			if s.Success != ready || s.Fates != fates || math.Abs(s.Yield-yield) > 1e-9 {
				t.Fatalf("%s from %v: %+v; counted %d, %v, %g", table.Option.Crop.ID, d, s, ready, fates, yield)
			}
			sum := 0.0
			for _, share := range table.Harvest(d) {
				sum += share
			}
			if math.Abs(sum-yield) > 1e-6 {
				t.Fatalf("%s from %v: the weeks sum to %g, the yield is %g", table.Option.Crop.ID, d, sum, yield)
			}
			if ready > 0 && (s.First.P10 > s.First.P50 || s.First.P50 > s.First.P90 || d.Add(s.Days[1]) != s.First.P50) {
				t.Fatalf("%s from %v: %+v", table.Option.Crop.ID, d, s)
			}
		}
	}
}

// The smallest of the sorted values that at least the asked percent do not exceed.
func TestQuantile(t *testing.T) {
	ten := []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
	for _, row := range []struct{ percent, want int }{{0, 1}, {10, 1}, {50, 5}, {90, 9}, {91, 10}, {100, 10}} {
		if got := quantile(ten, row.percent); got != row.want {
			t.Errorf("%d%%: %d, want %d", row.percent, got, row.want)
		}
	}
}

// A canopy grows from nothing to the mature spread and never shrinks or passes it.
func TestCanopyGrowsToTheSpread(t *testing.T) {
	c := coldWinters.climate(10, 6)
	for _, table := range Tabulate(c, testOptions()) {
		start := c.Season.Start.Add(140)
		var before quantity.Metre
		for d := start - 3; d < start+200; d++ {
			p10, p50, p90 := table.Canopy(start, d)
			if p10 > p50 || p50 > p90 || p90 > table.Option.Crop.Plant.Spread || p50 < before || d < start && p90 > 0 {
				t.Fatalf("%s on %v: %v %v %v after %v", table.Option.Crop.ID, d, p10, p50, p90, before)
			}
			before = p50
		}
		s := table.Summary(start)
		if table.Option.Crop.Perennial || s.Success == 0 {
			continue
		}
		if _, _, p90 := table.Canopy(start, s.First.P10); p90 < 0.9*table.Option.Crop.Plant.Spread {
			t.Errorf("%s: %v wide when the earliest are ready, its spread is %v", table.Option.Crop.ID, p90, table.Option.Crop.Plant.Spread)
		}
	}
	if CanopyShare(0.5) < 0.45 || CanopyShare(0.5) > 0.55 {
		t.Errorf("half way it has %g of its spread", CanopyShare(0.5))
	}
}

// Two climates as unlike as can be give unlike windows: the tender bean goes in months earlier where winters are mild
// and summers warm, and the same record gives the same windows again.
func TestWindowsFollowTheClimate(t *testing.T) {
	warm := climateKind{mean: 19, amplitude: 8, daily: 11, noise: 2.5, latitude: 30}
	beans := []Option{{Crop: bean(), Method: 0}}
	north, south := Tabulate(coldWinters.climate(20, 1), beans)[0].Windows(0.8), Tabulate(warm.climate(20, 1), beans)[0].Windows(0.8)
	if len(north) == 0 || len(south) == 0 {
		t.Fatalf("no windows: %v, %v", north, south)
	}
	if days := north[0].From.Since(south[0].From); days < 45 {
		t.Errorf("the bean opens %v in the cold place and %v in the warm one", north[0].From, south[0].From)
	}
	again := Tabulate(coldWinters.climate(20, 1), beans)[0].Windows(0.8)
	if again[0] != north[0] {
		t.Errorf("the same record gave %v and then %v", north[0], again[0])
	}
}

// Two measured records: in Ithaca, New York, the bush bean opens in late May or June; at Key West, Florida, without
// frost, it is open through the winter and shut in summer.
func TestTwoMeasuredRecords(t *testing.T) {
	beans := []Option{option(t, "bean-bush", "sow")}
	cold := Tabulate(recorded(t, "USC00304174.dly", 42.45), beans)[0].Windows(0.8)
	hot := Tabulate(recorded(t, "USW00012836.dly", 24.55), beans)[0].Windows(0.8)
	if len(cold) == 0 || len(hot) == 0 {
		t.Fatalf("windows: Ithaca %v, Key West %v", cold, hot)
	}
	t.Logf("Ithaca %v; Key West %v", cold[0].Span, hot[0].Span)
	if cold[0].From < civil.Of(2027, 5, 10) || hot[0].From > civil.Of(2027, 2, 1) {
		t.Errorf("Ithaca opens %v, Key West %v", cold[0].From, hot[0].From)
	}
}

// Thermal time over a base: ten days of 18 °C over 10 °C make 80 degree-days.
func TestThermalTime(t *testing.T) {
	c := unbroken(12, 24)
	_, p50, _ := c.ThermalTime(10, c.Season.Start.Add(100))
	if math.Abs(float64(p50[9])-80) > 1e-4 || len(p50) != c.Season.Days-100 {
		t.Errorf("%v over %d days", p50[9], len(p50))
	}
	if got, _, _ := c.ThermalTime(10, 0); got != nil {
		t.Error("a date the climate does not reach has thermal time")
	}
	a, b, e := c.AirOn(c.Season.Start)
	if a != 18 || b != 18 || e != 18 {
		t.Errorf("air %v %v %v", a, b, e)
	}
	if _, soil, _ := c.SoilAt(0.1, c.Season.Start); math.Abs(float64(soil)-18.96) > 1e-3 {
		t.Errorf("soil %v", soil)
	}
}
