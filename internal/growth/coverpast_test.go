package growth

import (
	"testing"

	"kailyard/internal/crop"
)

// A cover that comes off at warm nights has no past in a land where all nights are warm, is always on where they are
// cold, and the open never has one. The limit is the cover's own.
func TestCoverOff(t *testing.T) {
	row, _ := crop.FindProtection("row-cover")
	if row == nil || row.Off == nil {
		t.Fatal("row cover that comes off is missing")
	}
	for _, at := range []struct {
		name string
		c    *Climate
		off  bool
	}{{"25 °C all year", steady(25), true}, {"5 °C all year", steady(5), false}} {
		covered := Tabulate(at.c, []Option{{Crop: lettuce(), Method: 0, Protection: row}, {Crop: lettuce(), Method: 0}})
		start := at.c.Season.Start.Add(100)
		if got := covered[0].CoverOff(start, start.Add(20)); got != at.off {
			t.Errorf("%s: off is %v", at.name, got)
		}
		if !covered[1].CoverOff(start, start.Add(20)) {
			t.Errorf("%s: a cover in the open", at.name)
		}
		if !covered[0].CoverOff(start.Add(40), start) {
			t.Errorf("%s: a cover on in no days at all", at.name)
		}
	}
}
