package plan

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
)

// Planned in autumn, a crop that can still be begun but bears only after the season is told by a day that is still to come,
// not by the surest of them all, which is past.
func TestFoodForTheNextSeasonIsToldByADayToCome(t *testing.T) {
	tr := newTrial()
	tr.bed(4, 1)
	tr.grow(plainCrop("slow", "A", 0.1, 0.3, 2), steadyTimes{from: 60, to: 320, days: 130, span: 10, good: 10})
	tr.want("slow", "total", 4, 3)
	tr.from = civil.Of(2027, 9, 15) // 130 days from then are past the year's end
	p := mustPlan(t, tr)
	if len(p.Plantings) != 0 || len(p.Supply) != 1 || len(p.Supply[0].Short) == 0 {
		t.Fatalf("%+v", p.Supply)
	}
	says := p.Supply[0].Short[0].Says
	if !strings.Contains(says, "its best day to come") || !strings.Contains(says, "on 17 Sep") || !strings.Contains(says, "2028") {
		t.Errorf("%q", says)
	}
}

// What has no window is counted over every day, as where windows are asked for, and not over the first days of weeks alone.
// A want a week of it has no week that could have it: it is not met, though nothing is asked.
func TestNoWindowIsCountedDayByDay(t *testing.T) {
	tr := newTrial()
	tr.bed(4, 1)
	midweek := int(tr.season.WeekStart(20)-tr.season.Start) + 3
	tr.grow(plainCrop("rare", "A", 0.1, 0.3, 2), steadyTimes{from: midweek, to: midweek, days: 60, span: 10, good: 6})
	tr.want("rare", "weekly", 1, 3)
	s := mustPlan(t, tr).Supply[0]
	if len(s.Short) == 0 || !strings.Contains(s.Short[0].Says, "on "+tr.season.Start.Add(midweek).Short()+", succeeds in 6 of") {
		t.Errorf("%+v", s.Short)
	}
	if !s.Weekless() || s.Met() || s.Share() != 0 {
		t.Errorf("a week of it can be had: %+v", s)
	}
	if none := (Supply{}); none.Weekless() || !none.Met() {
		t.Error("a want of nothing is not met")
	}
}
