package audit

import (
	"math"
	"strings"
	"testing"
)

const small = `{"weeks":20,"families":["a","b"],"crops":[
 {"id":0,"value":2,"demand":{"kind":"weekly","weeks":[6],"qty":1,"segs":[[1,1],[1,0.5]]}},
 {"id":1,"value":4,"demand":{"kind":"total","qty":1,"segs":[[1,1]]}}],
 "options":[
 {"id":0,"s":2,"e":6,"minArea":0.5,"sun":2,"fams":["a"],"cost":0.25,"n":1,"parts":[{"crop":0,"y":3,"harv":[[6,1]]}]},
 {"id":1,"s":8,"e":12,"minArea":0.5,"sun":1,"fams":["b"],"cost":0.5,"n":1,"parts":[{"crop":1,"y":1,"harv":[[11,0.25],[12,0.5]]}]},
 {"id":2,"s":9,"e":12,"minArea":0.25,"sun":0,"fams":["a"],"cost":0,"n":1,"parts":[{"crop":1,"y":1,"harv":[[12,1]]}]}],
 "beds":[
 {"id":0,"width":1,"length":2,"area":2,"sun":1,"history":[],"pre":{"area":0.5,"until":4},"maxPlantings":2},
 {"id":1,"width":1,"length":1,"area":1,"sun":0,"history":[["b"]],"maxPlantings":1}]}`

func judge(t *testing.T, plan ...Planting) (float64, []string) {
	t.Helper()
	c, err := Read(strings.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	return c.Judge(plan)
}

func strip(bed, option int, side string, from, to float64) Planting {
	width := 1.0
	if side != "both" {
		width = 0.5
	}
	return Planting{Bed: bed, Option: option, Area: width * (to - from), Strip: Strip{side, from, to}}
}

// By hand: 1 m² of option 0 at 0.65 light gives 1.95 kg in week 6: 1 at 2.00, 0.95 at 1.00, less 0.25: 2.70.
// 1 m² of option 1 in full light gives 0.75 kg at 4.00, less 0.50: 2.50.
func TestValueByHand(t *testing.T) {
	value, faults := judge(t, strip(0, 0, "both", 1, 2), strip(0, 1, "both", 0, 1))
	if len(faults) > 0 || math.Abs(value-5.2) > 1e-12 {
		t.Errorf("%g, %q", value, faults)
	}
}

func TestEveryRuleIsSeen(t *testing.T) {
	odd := strip(0, 1, "both", 0, 1)
	odd.Area = 1.5
	for _, c := range []struct {
		want string
		plan []Planting
	}{
		{"not in the problem", []Planting{strip(3, 0, "both", 0, 1)}},
		{"wants light 2", []Planting{strip(1, 0, "both", 0, 1)}},
		{"family b stood here", []Planting{strip(1, 1, "both", 0, 1)}},
		{"less than the least area", []Planting{strip(0, 1, "first", 0, 0.5)}},
		{"does not lie in the bed", []Planting{strip(0, 1, "both", 1.5, 2.5)}},
		{"strip side", []Planting{strip(0, 1, "left", 0, 1)}},
		{"not on a quarter", []Planting{strip(0, 1, "both", 0.1, 1.1)}},
		{"the plan says 1.5", []Planting{odd}},
		{"ground taken", []Planting{strip(0, 0, "both", 0, 1)}},
		{"share a family and no week", []Planting{strip(0, 0, "both", 1, 2), strip(0, 2, "both", 1, 2)}},
		{"stand on the same ground", []Planting{strip(0, 1, "both", 0, 1), strip(0, 2, "second", 0.75, 1.25)}},
		{"3 plantings, at most 2", []Planting{strip(0, 2, "first", 0, 0.5), strip(0, 2, "second", 0, 0.5), strip(0, 1, "both", 1, 2)}},
		{"too much in week 9", []Planting{strip(0, 1, "both", 0, 2), strip(0, 2, "both", 0, 1)}},
	} {
		if _, faults := judge(t, c.plan...); !strings.Contains(strings.Join(faults, "\n"), c.want) {
			t.Errorf("want %q, have %q", c.want, faults)
		}
	}
}
