package work

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func order(t *testing.T, orders []Order, what string) Order {
	t.Helper()
	for _, o := range orders {
		if o.What == what {
			return o
		}
	}
	t.Fatalf("no %q in %v", what, orders)
	return Order{}
}

// Worked by hand: the square of 3.6576 × 1.8288 m and the far bed of 6 × 1.5 m, 2 cm deep, are
// 133.8 + 180 L; the drills of carrots get none.
func TestCompostToBuy(t *testing.T) {
	orders := Orders(kitchen())
	o := order(t, orders, "compost, ripe")
	if math.Abs(float64(o.Volume)-313.8) > 0.1 || o.CropID != "" || o.Count != 0 {
		t.Errorf("%+v", o)
	}
	if o.By != on(3, 15) { // the peas' ground, five days before 20 March
		t.Error(o.By)
	}
	if got := o.Amount(quantity.Metric); got != "about 310 L" {
		t.Error(got)
	}
	if got := o.Amount(quantity.US); got != "about 11 cu ft" { // 313.8 L ÷ 28.317
		t.Error(got)
	}
	mustSay(t, find(t, Jobs(kitchen()), "order/supplies-2027-03"), "compost, ripe, about 310 L")
}

// What comes back is bought for the most in use at once: two rows of 6 m of peas on brush, then, the
// first being down, two more of 6 m: 12 m, not 24; overlapping, 24.
func TestSupportsAreUsedAgain(t *testing.T) {
	in := kitchen()
	later := in.Plan.Plantings[4]
	later.Key, later.BedID, later.Place = "2027-08", 1, garden.Place{AlongTo: 6, AcrossTo: 1.2}
	shift := func(s garden.Spread, n int) garden.Spread {
		return garden.Spread{P10: s.P10.Add(n), P50: s.P50.Add(n), P90: s.P90.Add(n)}
	}
	for days, want := range map[int]float64{120: 12, 21: 24} {
		p := later
		p.Start, p.Clear = p.Start.Add(days), p.Clear.Add(days)
		p.Emerge, p.First, p.Last = shift(p.Emerge, days), shift(p.First, days), shift(p.Last, days)
		with := in
		one := *in.Plan
		one.Plantings = append([]garden.Planting{in.Plan.Plantings[4]}, p)
		with.Plan = &one
		o := order(t, Orders(with), "twiggy brush, about 1.8 m tall")
		if math.Abs(float64(o.Length)-want) > 1e-6 {
			t.Errorf("%d days apart: %v m, want %v", days, o.Length, want)
		}
		if o := order(t, Orders(with), "inoculant for peas"); o.Count != 1 {
			t.Error("one packet does the season's peas:", o.Count)
		}
	}
}

// A stake to a plant.
func TestStakes(t *testing.T) {
	c, _ := crop.Default().Find("tomato-staked")
	in := alone(c, 0, garden.Planting{Plants: 16, Start: on(5, 28), First: around(on(8, 20), 5), Last: around(on(9, 20), 5), Clear: on(10, 1)})
	for _, o := range Orders(in) {
		if strings.HasPrefix(o.What, "stakes, ") {
			if o.Count != 16 || o.By != on(5, 27) {
				t.Errorf("%+v", o)
			}
			return
		}
	}
	t.Error("no stakes to buy")
}

// Seed potatoes are bought once, though planted in May and in July; autumn garlic and spring garlic,
// more than four months apart, are two orders.
func TestOneOrderOfSets(t *testing.T) {
	in := kitchen()
	early := in.Plan.Plantings[6]
	early.Key, early.Start, early.Place = "2027-09", on(5, 10), garden.Place{AlongTo: 1, AcrossTo: 1}
	early.Emerge, early.First, early.Last, early.Clear = around(on(5, 30), 2), around(on(8, 20), 2), around(on(9, 1), 2), on(9, 10)
	in.Plan.Plantings = append(in.Plan.Plantings, early)
	n := 0
	for _, o := range Orders(in) {
		if strings.HasSuffix(o.What, ": seed tubers") {
			if n++; o.Count != 42 || o.By != on(4, 5) { // 40 places and one in twenty spare, 35 days before 10 May
				t.Errorf("%+v", o)
			}
		}
	}
	if n != 1 {
		t.Error(n, "orders of seed tubers")
	}
	in.Plan.Plantings[len(in.Plan.Plantings)-1].Start = on(1, 10)
	n = 0
	for _, o := range Orders(in) {
		if strings.HasSuffix(o.What, ": seed tubers") {
			n++
		}
	}
	if n != 2 {
		t.Error("half a year apart they are two orders, not", n)
	}
}

// Planned again on 1 April: what was sown under cover in March is bought, so are the peas of 20 March;
// what is lost or over has neither jobs nor orders, but its ground was dug.
func TestOrdersAfterPlanningAgain(t *testing.T) {
	in := kitchen()
	from := on(4, 1)
	in.From = &from
	for _, o := range Orders(in) {
		for _, key := range o.For {
			if key == "2027-05" || ((key == "2027-03" || key == "2027-04") && !supply(o)) {
				t.Errorf("begun, yet to buy: %s for %s", o.What, key)
			}
		}
	}
	order(t, Orders(in), "carrot, main crop: seed")
	order(t, Orders(in), "insect net") // the cabbages raised in March go under it in April

	in = kitchen()
	in.Plan.Plantings[4].Status, in.Plan.Plantings[4].Clear = garden.Lost, on(5, 1) // the peas
	jobs := Jobs(in)
	if left := served(jobs, "2027-05"); len(left) != 0 {
		t.Error("lost, yet", left[0].Key)
	}
	for _, o := range Orders(in) {
		for _, key := range o.For {
			if key == "2027-05" {
				t.Error("lost, yet to buy:", o.What)
			}
		}
	}
	mustSay(t, find(t, jobs, "2027-06/prepare-the-ground"), "no need to dig again", "free of pea, shelling from 1 May")
}

// A packet, not 0.0034 oz: seed that no kitchen balance weighs is told by count.
func TestTinySeedIsToldInPackets(t *testing.T) {
	lettuces := Order{CropID: "lettuce", What: "lettuce: seed", Count: 38, Mass: 0.09, Packets: 1}
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		if got := lettuces.Amount(units); got != "about 38 seeds, a packet" {
			t.Error(got)
		}
	}
	// Common practice: a packet of carrot seed does about 30 ft of drill; 18 m are two.
	carrots := order(t, Orders(kitchen()), "carrot, main crop: seed")
	if carrots.Packets != 2 || carrots.Amount(quantity.Metric) != "about 1,600 seeds (1.8 g), two packets" {
		t.Error(carrots.Packets, carrots.Amount(quantity.Metric))
	}
}
