package work

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func catalogued(t *testing.T, id string) *crop.Crop {
	t.Helper()
	c, ok := crop.Default().Find(id)
	if !ok {
		t.Fatalf("no %s in the catalogue", id)
	}
	return c
}

func sownMethod(t *testing.T, c *crop.Crop) int {
	t.Helper()
	m := slices.IndexFunc(c.Methods, func(m crop.Method) bool { return m.Way == crop.Sow })
	if m < 0 {
		t.Fatal(c.ID, "is not sown")
	}
	return m
}

var summer = garden.Planting{
	Start: on(6, 5), Emerge: around(on(6, 14), 2), First: around(on(8, 1), 5), Last: around(on(9, 1), 5), Clear: on(9, 10),
}

// Common practice: squash four seeds to a hill, thinned to the best one or two; sweet corn two to a station.
func TestSeedsToAHill(t *testing.T) {
	c := catalogued(t, "squash-winter")
	p := summer
	p.Plants, p.Rows = 3, 1
	jobs := Jobs(alone(c, sownMethod(t, c), p))
	sow := find(t, jobs, "2027-01/sow")
	mustSay(t, sow, "three hills 76 cm apart", "four seeds in each", "about 12 seeds in all")
	if n := strings.Count(strings.Join(sow.How, " "), "four seeds"); n != 1 {
		t.Error("the seeds of a hill are told", n, "times")
	}
	mustSay(t, find(t, jobs, "2027-01/thin"), "to the best one or two in each hill")
	p.Plants = 1
	jobs = Jobs(alone(c, sownMethod(t, c), p))
	mustSay(t, find(t, jobs, "2027-01/sow"), "one low, flat hill in the middle", "four seeds in it")
	thin := find(t, jobs, "2027-01/thin")
	mustSay(t, thin, "to the best plant")
	if mentions(append(thin.How, thin.Title), " apart") {
		t.Error("one plant stands apart from none:", thin.How)
	}
	for id, each := range map[string]int{"sweet-corn-early": 2, "cucumber": 2, "chinese-cabbage": 3, "squash-summer": 4, "muskmelon": 4} {
		if s := drill(catalogued(t, id), &garden.Planting{Way: crop.Sow, Rows: 1, Plants: 10}, 4); s.station != each || s.seeds != 10*each {
			t.Errorf("%s: %d to a place, %d in all; the trade puts %d", id, s.station, s.seeds, each)
		}
	}
}

// ofOne is a plural after one, or a distance between the only plant and none.
var ofOne = regexp.MustCompile(`(?i)\b(1|one)( \w+)? (plants|seeds|hills|places|rows|drills|cells|pots|sets|stakes|cages|poles|lines|seed tubers|cloves)\b|\bone (plant|hill|place) in one row, |\b1 seed`)

// Every crop grown as one plant in one row: the grammar of one.
func TestOnePlant(t *testing.T) {
	for _, c := range crop.Default().All() {
		for m := range c.Methods {
			p := summer
			p.Plants, p.Rows = 1, 1
			in := alone(c, m, p)
			say := func(where, text string) {
				if found := ofOne.FindString(text); found != "" {
					t.Errorf("%s by %s, %s: %q in %q", c.ID, c.Methods[m].Way, where, found, text)
				}
			}
			for _, j := range Jobs(in) {
				for _, s := range append(slices.Clone(j.How), j.Title) {
					say(j.Key, s)
				}
			}
			for _, o := range Orders(in) {
				say(o.What, o.Amount(quantity.Metric))
				for _, r := range o.Why {
					say(o.What, r.Says)
				}
			}
		}
	}
}

// The radish marks the first third of the carrot's drills: both jobs say which, and the radish, a hand
// apart, is not to be thinned.
func TestMarkerOfPartOfTheDrills(t *testing.T) {
	in := kitchen()
	in.Crops = crop.New(carrot(), catalogued(t, "radish"), cabbage(), lettuce(), pea(), potato())
	in.Plan.Plantings[1].Place.AlongTo, in.Plan.Plantings[1].Plants = 3, 60
	jobs := Jobs(in)
	mustSay(t, find(t, jobs, "2027-01/sow"), "With it, from 0 to 3 m along the bed, drop a radish seed every 10 cm")
	marker := find(t, jobs, "2027-02/sow")
	mustSay(t, marker, "in part of the drills of the carrots", "from 0 to 3 m along the bed")
	if mentions(marker.How, "Thin to", "Sow a little") {
		t.Error("a marker is neither thinned nor sown in a drill of its own:", marker.How)
	}
	if mentions(find(t, Jobs(kitchen()), "2027-01/sow").How, "With it, from") {
		t.Error("it marks the whole")
	}
}

// Lettuce stands a month where the peas' trench is to be opened.
func TestTrenchAmongStandingPlants(t *testing.T) {
	in := kitchen()
	among := lettuceAmong(in.Plan.Plantings[4])
	in.Plan.Plantings[4].Role, in.Plan.Plantings[4].Partner = garden.Slow, among.Key
	in.Plan.Plantings = append(in.Plan.Plantings, among)
	mustSay(t, find(t, Jobs(in), "2027-05/sow"), "The lettuces (2027-10) still stand: open the trench between their rows only")
	if mentions(find(t, Jobs(kitchen()), "2027-05/sow").How, "still stand") {
		t.Error("nothing stands there")
	}
}

func lettuceAmong(peas garden.Planting) garden.Planting {
	return garden.Planting{
		Key: "2027-10", BedID: peas.BedID, CropID: "lettuce-leaf", Way: crop.SetOut, Place: peas.Place, Rows: 3, Plants: 40,
		Start: on(3, 10), First: around(on(4, 20), 3), Last: around(on(4, 28), 3), Clear: on(5, 1), Role: garden.Fast, Partner: peas.Key,
	}
}

// Common practice: what is laid up is cured and kept each in its way; what is eaten fresh does not wait.
func TestStandingAndKeeping(t *testing.T) {
	says := map[string][]string{
		"potato": {"fortnight", "quite dark"}, "squash-winter": {"cure ten days", "dry shelf"}, "onion-long-day": {"nets or plaits"},
		"garlic": {"nets or plaits"}, "cabbage-late": {"cold and damp"}, "carrot": {"damp sand"}, "sweet-potato": {"spoil"},
		"lettuce-romaine": {"does not stand long"}, "sweet-corn-main": {"does not stand long"}, "potato-early": {"lift as wanted"},
	}
	for _, c := range crop.Default().All() {
		if c.Group == crop.Cover || c.Perennial {
			continue
		}
		p := summer
		p.Plants, p.Rows = 14, 2
		j := find(t, Jobs(alone(c, 0, p)), "2027-01/harvest")
		mustSay(t, j, says[c.ID]...)
		if c.Harvest.StoreDays >= storable {
			if mentions(j.How, "does not stand long", "no longer") {
				t.Error(c.ID, "keeps for months, yet is said not to stand:", j.How)
			}
			if !mentions(j.How, "To keep: ") {
				t.Error(c.ID, "keeps for months, and nobody says how:", j.How)
			}
		}
	}
}

// The crop page's sentences in the person's units.
func TestPracticeWords(t *testing.T) {
	for _, c := range crop.Default().All() {
		metric, us := PracticeWords(c, quantity.Metric), PracticeWords(c, quantity.US)
		if len(metric) != len(c.Practice.Jobs) || !slices.Equal(us, c.Practice.Jobs) {
			t.Errorf("%s: %d and %d of %d sentences", c.ID, len(metric), len(us), len(c.Practice.Jobs))
		}
		if text := own.Replace(fmt.Sprint(metric)); ofOurs.MatchString(text) {
			t.Errorf("%s: %q in %s", c.ID, ofOurs.FindString(text), text)
		}
	}
}
