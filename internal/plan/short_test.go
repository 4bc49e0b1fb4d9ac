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
