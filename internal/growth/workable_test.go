package growth

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/sun"
)

// The rule itself, told the slow way: from Stays on, no day's ground is too cold to work; the day before is.
func TestWorkableGroundIsTheRuleOfThePlantings(t *testing.T) {
	c := coldWinters.climate(1, 3)
	w := c.Workable()
	if w.Years != 1 || w.Never != 0 || w.Always != 0 || w.First.P50 > w.Stays.P50 {
		t.Fatalf("%+v", w)
	}
	soil := c.SoilTemperature(workableDepth)[0]
	mean := func(d civil.Date) float64 {
		i := int(d - c.Season.Start)
		sum := 0.0
		for _, v := range soil[i-6 : i+1] {
			sum += float64(v) / 7
		}
		return sum
	}
	for d := w.Stays.P50; d < civil.Of(2027, 7, 24); d++ {
		if mean(d) < 6 {
			t.Errorf("%s: the soil is at %v °C", d, mean(d))
		}
	}
	if v := mean(w.Stays.P50 - 1); v >= 6 {
		t.Errorf("the day before the ground can be worked for good it is at %v °C", v)
	}
	if v := mean(w.First.P50); v < 6 {
		t.Errorf("on the first workable day the soil is at %v °C", v)
	}
}

func TestWorkableGroundInTheExtremes(t *testing.T) {
	if w := steady(18).Workable(); w.Always != 1 || w.Never != 0 {
		t.Errorf("warm ground all year: %+v", w)
	}
	if w := steady(-3).Workable(); w.Never != 1 || w.First.P50 != 0 {
		t.Errorf("ground that never warms: %+v", w)
	}
	south := coldWinters
	south.latitude = -42.4
	w := south.climate(8, 3).Workable()
	if m := w.Stays.P50.Month(); m < 8 || m > 11 {
		t.Errorf("in the south the ground warms in spring, from August on; got %s", w.Stays.P50)
	}
}

// Days longer than ten hours at 42.4° north run from 2 February to 9 November (sunrise 6:57 and sunset 16:58 on
// the first, Boston; from memory of printed sunrise tables; ±3 days).
func TestDaysLongerThanTenHours(t *testing.T) {
	c := coldWinters.climate(1, 1)
	spans := c.LongerThan(10)
	if len(spans) != 1 {
		t.Fatalf("%v", spans)
	}
	if d := int(spans[0].From - civil.Of(2027, 2, 2)); d < -3 || d > 3 {
		t.Errorf("from %s", spans[0].From)
	}
	if d := int(spans[0].To - civil.Of(2027, 11, 9)); d < -3 || d > 3 {
		t.Errorf("to %s", spans[0].To)
	}
	if got := sun.DayLength(42.4, spans[0].From); got <= 10 {
		t.Errorf("the first of them has %v h", got)
	}
	if n := len(c.LongerThan(25)); n != 0 {
		t.Errorf("%d spans of days longer than 25 h", n)
	}
}
