package work

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

// Common practice: carrots in drills, slow to come up, a quick marker in the same drill.
func TestSowingCarrots(t *testing.T) {
	jobs := Jobs(kitchen())
	j := find(t, jobs, "2027-01/sow")
	if j.Title != "Sow carrot, main crop, in Long drill: two drills of 9 m" {
		t.Error(j.Title)
	}
	if j.Window.From != on(4, 10) || j.Window.To < j.Window.From {
		t.Error(j.Window)
	}
	mustSay(t, j, "two drills 9 m long", "drop a radish seed every", "Label", "29 of 30", "carrot family", "Up by", "First harvest by", "into dry soil")
	mustSay(t, find(t, jobs, "2027-02/sow"), "same drill", "the carrots will be")
	mustSay(t, find(t, jobs, "2027-01/thin"), "5 cm apart", "Pull the radishes", "carrot fly")
	for _, j := range jobs {
		if j.Planting == "2027-02" && (j.Kind == Prepare || j.Kind == Clear || j.Kind == Thin) {
			t.Errorf("the marker has no %q of its own", j.Kind)
		}
	}
}

// Common practice: peas in a flat trench about 4 in deep and 6 in wide, covered 1 in, filled as they grow.
func TestPeasTrenchAndFill(t *testing.T) {
	in := kitchen()
	in.Garden.Site.Units = quantity.US
	jobs := Jobs(in)
	mustSay(t, find(t, jobs, "2027-05/sow"), "4 in deep and 6 in wide", "Cover with 1 in", "seed every 2 in each way", "inoculant", "40 °F")
	mustSay(t, find(t, jobs, "2027-05/fill-in"), "1 in of the soil", "Again each week")
	mustSay(t, find(t, jobs, "2027-05/support"), "twiggy", "ladder", "eye height")
	mustSay(t, find(t, jobs, "2027-05/clear"), "leave the roots in", "lettuce, loose-leaf follows on 12 Jul")
}

// Common practice: brassicas set out about six weeks from seed, cabbages 18 in apart, lettuce between,
// so 9 in from each; collars against cutworms; set out into moist soil in the evening or under cloud.
func TestCabbagesWithLettuceBetween(t *testing.T) {
	in := kitchen()
	in.Garden.Site.Units = quantity.US
	jobs := Jobs(in)
	raise := find(t, jobs, "2027-03/sow-under-cover")
	if raise.Window.From != on(3, 6) {
		t.Error(raise.Window)
	}
	mustSay(t, raise, "41 cells", "two seeds in each", "six weeks", "five to seven weeks", "wet it before")
	out := find(t, jobs, "2027-03/set-out")
	mustSay(t, out, "32 plants in four rows, 18 in apart", "collar", "Water", "evening", "moist", "no night below 25 °F", "lettuces (2027-04) between", "out by 8 Jun")
	mustSay(t, find(t, jobs, "2027-04/set-out"), "midway between the cabbages", "9 in from each")
	harden := find(t, jobs, "2027-03/harden-off")
	if harden.Window != (civil.Span{From: on(4, 9), To: on(4, 16)}) {
		t.Error("the last eight days before setting out:", harden.Window)
	}
	feed := find(t, jobs, "feed/2027-05-03")
	if feed.Window.From != on(5, 8) {
		t.Error("three weeks after 17 April is Saturday 8 May, in the week of the 3rd:", feed.Window)
	}
	mustSay(t, feed, "Cabbage, early, in Square (2027-03)", "soil test", "label", "gloves")
	mustSay(t, find(t, jobs, "2027-03/protect-net"), "insect net")
}

// One job for one patch of ground, just before it is planted.
func TestPreparingGround(t *testing.T) {
	jobs := Jobs(kitchen())
	var keys []string
	for _, j := range jobs {
		if j.Kind == Prepare {
			keys = append(keys, j.Key)
		}
	}
	slices.Sort(keys)
	want := []string{"2027-01/prepare-the-ground", "2027-03/prepare-the-ground", "2027-05/prepare-the-ground", "2027-06/prepare-the-ground"}
	if !slices.Equal(keys, want) {
		t.Fatalf("got %v, want %v", keys, want)
	}
	first := find(t, jobs, "2027-05/prepare-the-ground")
	mustSay(t, first, "one spade deep", "Dig this patch only", "sharpened spade", "Lift with the legs", "tiller", "dust", "raw manure", "crumbles in the hand")
	again := find(t, jobs, "2027-06/prepare-the-ground")
	mustSay(t, again, "loosen 10 cm deep", "no need to dig again", "lettuce, loose-leaf and potato, main crop", "from 3 m to 6 m along")
	if again.Window.From < on(7, 10) {
		t.Error("worked before the peas are off:", again.Window)
	}
	if !slices.Equal(again.Serves, []string{"2027-06", "2027-07"}) {
		t.Error(again.Serves)
	}
	if again.Hours >= first.Hours {
		t.Error("loosening takes as long as digging")
	}
}

// 7 CFR 205.203(c)(1): raw manure 120 days before harvest where food touches soil, 90 where it does not.
func TestRawManureDays(t *testing.T) {
	jobs := Jobs(kitchen())
	mustSay(t, find(t, jobs, "2027-01/prepare-the-ground"), "No raw manure now", "120 days")
	mustSay(t, find(t, jobs, "2027-05/prepare-the-ground"), "No raw manure now", "90 of what hangs clear")
	in := kitchen()
	in.Plan.Plantings[0].First = around(on(12, 1), 0)
	in.Plan.Plantings[0].Last = around(on(12, 20), 0)
	in.Plan.Plantings[0].Clear = on(12, 24)
	in.Plan.Plantings[1].Status = garden.Over
	peas := &in.Plan.Plantings[4] // on brush they hang clear
	peas.First, peas.Last, peas.Clear = around(on(12, 1), 0), around(on(12, 20), 0), on(12, 24)
	mustSay(t, find(t, Jobs(in), "2027-05/prepare-the-ground"), "dug in by 2 Sep") // 90 days before 1 December
	mustSay(t, find(t, Jobs(in), "2027-01/prepare-the-ground"), "dug in by 3 Aug") // 120 days before 1 December
}

// The fixture has a frost on 5, 8, … 2 May: five of the ten are after 17 April.
func TestFleeceWhileFrostIsLikely(t *testing.T) {
	in := kitchen()
	j := find(t, Jobs(in), "2027-03/protect-frost")
	mustSay(t, j, "after 17 Apr in 5 of 10 weather years", "−4 °C")
	in.Frost = nil
	for _, j := range Jobs(in) {
		if strings.HasSuffix(j.Key, "/protect-frost") {
			t.Error("speaks of frost without a record:", j.Key)
		}
	}
}

func TestPotatoes(t *testing.T) {
	jobs := Jobs(kitchen())
	mustSay(t, find(t, jobs, "2027-07/plant"), "20 seed tubers in two rows of 3 m", "eyes up", "10 cm deep")
	mustSay(t, find(t, jobs, "2027-07/earth-up"), "poisonous", "10 cm")
	find(t, jobs, "2027-07/earth-up-again")
	mustSay(t, find(t, jobs, "2027-07/harvest"), "died down", "five months")
}

func TestOrders(t *testing.T) {
	orders := Orders(kitchen())
	byWhat := map[string]Order{}
	for i, o := range orders {
		byWhat[o.What] = o
		if i > 0 && o.By < orders[i-1].By {
			t.Error("not by date:", o.What)
		}
	}
	lettuce := byWhat["lettuce, loose-leaf: seed"]
	if !slices.Equal(lettuce.For, []string{"2027-04", "2027-06"}) {
		t.Error("two plantings of one crop are one line:", lettuce.For)
	}
	if lettuce.By != on(2, 18) {
		t.Error("two weeks before 4 March:", lettuce.By)
	}
	carrots := byWhat["carrot, main crop: seed"]
	// 18 m at half an inch is 2 × 709 seeds, and a tenth spare.
	if carrots.Count != 1560 {
		t.Error(carrots.Count)
	}
	if g := float64(carrots.Mass); g < 1.7 || g > 1.8 {
		t.Error("1560 seeds at 25,000 to the ounce are 1.77 g:", g)
	}
	text := ""
	for _, r := range carrots.Why {
		text += r.Says + "\n"
	}
	if !strings.Contains(text, "a packet does about 9.1 m") || !strings.Contains(text, "55 of 100") {
		t.Error(text)
	}
	tubers := byWhat["potato, main crop: seed tubers"]
	if tubers.Count != 21 || tubers.Mass < 1312 || tubers.Mass > 1313 {
		t.Error("20 places and one spare at 16 to the kilogram:", tubers.Count, tubers.Mass)
	}
}

// A planting in the ground has no more going in; one that is over has nothing.
func TestStandingPlantings(t *testing.T) {
	in := kitchen()
	in.Plan.Plantings[2].Status = garden.InGround
	in.Plan.Plantings[3].Status = garden.Lost
	for _, j := range Jobs(in) {
		if j.Planting == "2027-04" {
			t.Error("lost, but", j.Key)
		}
		if j.Planting == "2027-03" && (j.Kind == Raise || j.Kind == HardenOff || j.Kind == SetOut || j.Kind == Prepare) {
			t.Error("in the ground, but", j.Key)
		}
	}
	garlic := garden.Planting{
		Key: "2026-11", BedID: 3, CropID: "potato-main", Way: crop.Set, Status: garden.InGround, Rows: 1, Plants: 5,
		Place: garden.Place{AlongTo: 1, AcrossTo: 1}, Start: civil.Of(2026, 10, 15), First: around(on(3, 1), 3), Last: around(on(3, 9), 3), Clear: on(3, 14),
	}
	in.Garden.Standing = append(in.Garden.Standing, garlic)
	find(t, Jobs(in), "2026-11/harvest")
}

func TestBadInput(t *testing.T) {
	if jobs := Jobs(Input{}); len(jobs) != 0 {
		t.Error(jobs)
	}
	if orders := Orders(Input{}); len(orders) != 0 {
		t.Error(orders)
	}
	in := kitchen()
	in.Garden.Beds = nil // the bed is gone
	in.Plan.Plantings[0].CropID = "no such crop"
	in.Plan.Plantings[2].Rows, in.Plan.Plantings[2].Plants, in.Plan.Plantings[2].Place = 0, 0, garden.Place{}
	in.Plan.Plantings[4].Emerge, in.Plan.Plantings[4].First, in.Plan.Plantings[4].Last = garden.Spread{}, garden.Spread{}, garden.Spread{}
	in.Plan.Plantings[5].Method = 99
	in.Plan.Plantings[6].Clear = 0
	Jobs(in)
	Orders(in)
	Jobs(Input{Plan: &plan.Plan{}})
}

func TestBetween(t *testing.T) {
	jobs := Jobs(kitchen())
	week := civil.Span{From: on(4, 12), To: on(4, 18)}
	for _, j := range Between(jobs, week) {
		if !j.Window.Meets(week) {
			t.Error(j.Key, j.Window)
		}
	}
	if n := len(Between(jobs, civil.Span{From: on(4, 18), To: on(4, 12)})); n != 0 {
		t.Error("an empty span meets nothing, got", n)
	}
	w := WeekOf(jobs, on(4, 14))
	if w.Span != week || len(w.Begin) == 0 || len(w.Going) == 0 || w.Hours <= 0 {
		t.Errorf("%v: %d begin, %d going, %v h", w.Span, len(w.Begin), len(w.Going), w.Hours)
	}
}

// All weeks together hold each job's hours once: what is spread is not lost.
func TestWeeksKeepTheHours(t *testing.T) {
	jobs := Jobs(kitchen())
	var all, weeks quantity.Hour
	for _, j := range jobs {
		all += j.Hours
	}
	for _, w := range Weeks(jobs) {
		weeks += w.Hours
	}
	if diff := all - weeks; diff > 1e-6 || diff < -1e-6 {
		t.Errorf("jobs %v h, weeks %v h", all, weeks)
	}
}

func TestWordsFitTheTerminal(t *testing.T) {
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		in := kitchen()
		in.Garden.Site.Units = units
		beds := map[int64]garden.Bed{}
		for _, b := range in.Garden.Beds {
			beds[b.ID] = b
		}
		jobs := Jobs(in)
		text := Words(jobs, beds)
		for _, line := range strings.Split(text+OrderWords(Orders(in), units), "\n") {
			if utf8.RuneCountInString(line) > 80 || strings.HasSuffix(line, " ") {
				t.Errorf("%q", line)
			}
		}
		flat := strings.Join(strings.Fields(text), " ")
		for _, j := range jobs {
			if !strings.Contains(flat, strings.Join(strings.Fields(j.Title), " ")) {
				t.Error("not told:", j.Title)
			}
		}
	}
	w := WeekOf(Jobs(kitchen()), on(6, 17))
	week := WeekWords(w, nil)
	for _, j := range append(w.Begin, w.Going...) {
		if !strings.Contains(strings.Join(strings.Fields(week), " "), j.Title) {
			t.Error("not told:", j.Title)
		}
	}
	for _, line := range strings.Split(week, "\n") {
		if utf8.RuneCountInString(line) > 80 {
			t.Errorf("%q", line)
		}
	}
	if !strings.Contains(week, "To pick:") || !strings.Contains(WeekWords(Week{}, nil), "Nothing to do") {
		t.Error(week)
	}
	if Words(nil, nil) == "" || OrderWords(nil, 0) == "" {
		t.Error("nothing to do is a sentence")
	}
}

func TestMeasures(t *testing.T) {
	metric, us := measures{quantity.Metric}, measures{quantity.US}
	for got, want := range map[string]string{
		metric.length(9.144): "9.1 m", us.length(9.144): "30 ft", us.length(29.5 * foot): "29½ ft", metric.length(0.45): "45 cm",
		metric.distance(2 * inch): "5 cm", us.distance(18 * inch): "18 in", metric.distance(0.5 * inch): "1.3 cm",
		metric.depth(0.006): "6 mm", us.depth(0.5 * inch): "½ in", metric.temperature(4.4): "4 °C", us.temperature(4.4): "40 °F",
		us.compost(28.316846592): "1 cu ft", metric.compost(134): "130 L",
		count(1, "drill", "drills"): "one drill", count(48, "plant", "plants"): "48 plants",
		list([]string{"a", "b", "c"}): "a, b and c", thousands(1234567): "1,234,567", thousands(123): "123",
		hoursWords(1.25): "1¼ h", hoursWords(0.25): "15 min",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if roundTo2(1421) != 1500 || roundTo2(99) != 99 || roundTo2(100) != 100 {
		t.Error(roundTo2(1421), roundTo2(99), roundTo2(100))
	}
}
