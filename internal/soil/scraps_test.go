package soil_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// nitrogenOfATeaspoon is that of a level teaspoon (5 ml) of ammonium sulfate, 21 per cent nitrogen, at a pound to the pint.
//
// Source: KSU-SIDE (a pint weighs a pound); the label's 21-0-0
const nitrogenOfATeaspoon = 5. / 473.2 * 0.4536 * 0.21 // kg

// TestNoScraps: however small the plantings and whatever is credited, no side-dressing is less than a teaspoon, and what is left out
// stands as such, so that need, credit, scraps and what is brought add up.
func TestNoScraps(t *testing.T) {
	ids := []string{"broccoli", "leek", "lettuce-romaine", "onion-long-day", "squash-summer", "spinach", "sweet-corn-main"}
	rapid.Check(t, func(r *rapid.T) {
		g := groundOf()
		for k := range rapid.IntRange(1, 4).Draw(r, "plantings") {
			from := quantity.Metre(rapid.Float64Range(0, 9).Draw(r, "from"))
			to := from + quantity.Metre(rapid.Float64Range(0.05, 1).Draw(r, "length"))
			start := day(rapid.IntRange(4, 7).Draw(r, "month"), 10)
			g.Plantings = append(g.Plantings, planted(string(rune('a'+k)), rapid.SampledFrom(ids).Draw(r, "crop"), from, to, start, start+80))
		}
		g.Treatments = []garden.Treatment{{BedID: 1, Date: day(3, 1), Material: "compost", Volume: quantity.Litre(rapid.Float64Range(0.1, 300).Draw(r, "litres"))}}
		list, _, err := soil.Feed([]soil.Ground{g}, nil, soil.Choice{}, 0)
		if err != nil {
			r.Fatal(err)
		}
		p := list[0]
		for _, d := range p.Dressings {
			if d.Planting != "" && float64(d.Nitrogen) < 0.9*nitrogenOfATeaspoon {
				r.Fatalf("%s gets %.2f g of nitrogen %s", d.Crop, 1000*float64(d.Nitrogen), d.Stage)
			}
		}
		need, credit, net, scraps := p.Need.Total.N, soil.SumOf(p.Credits).N, p.Net.N, p.Scraps.N
		if want := math.Max(0, float64(need-credit)); math.Abs(float64(net+scraps)-want) > 1e-9 || net > 0 && scraps > 0 {
			r.Fatalf("need %v, credit %v, net %v and scraps %v", need, credit, net, scraps)
		}
		if rate := float64(net) / float64(p.Need.Planted); net > 0 && rate < 0.001 {
			r.Fatalf("%.2f g/m² of nitrogen is brought", 1000*rate)
		}
	})
}

// TestSmallDressingsAreFolded: leeks in a third of a square metre are fed once instead of three times with less than a teaspoon.
func TestSmallDressingsAreFolded(t *testing.T) {
	times := func(length quantity.Metre) (n int, nitrogen quantity.Kilogram) {
		p, _ := feed(t, groundOf(planted("a", "leek", 0, length, day(4, 20), day(9, 20)), planted("b", "broccoli", 5, 10, day(4, 20), day(7, 20))), nil, soil.Choice{})
		for _, d := range p.Dressings {
			if d.Planting == "a" {
				n, nitrogen = n+1, nitrogen+d.Nitrogen
			}
		}
		return n, nitrogen
	}
	many, all := times(3)
	few, some := times(0.3)
	if many < 2 || few >= many || few == 0 {
		t.Errorf("3 m² of leeks are fed %d times, 0.3 m² %d times", many, few)
	}
	if math.Abs(float64(some/all)-0.1) > 0.02 {
		t.Errorf("a tenth of the ground gets %.3f of the nitrogen", float64(some/all))
	}
}

// TestCompostToCome: organic matter that is still to come is credited as a poor one, its phosphate and potash by the greater part (an
// extension service counts the phosphate whole: PSU-COMPOST), its nitrogen by a tenth, and it reads as still to come.
func TestCompostToCome(t *testing.T) {
	g := groundOf(planted("a", "broccoli", 0, 10, day(4, 20), day(7, 20)))
	compost, _ := soil.Find("compost")
	const mass = 20 // kg
	g.Coming = []garden.Treatment{{BedID: 1, Date: day(4, 19), Material: "compost", Amount: mass}}
	p, _ := feed(t, g, nil, soil.Choice{})
	if len(p.Credits) != 1 || !p.Credits[0].Coming || !strings.Contains(p.Credits[0].What, "still to come") {
		t.Fatalf("%+v", p.Credits)
	}
	c := p.Credits[0]
	near(t, "phosphate", float64(c.Mass.P2O5), mass*compost.P2O5.Low/100*0.8, 1e-9)
	near(t, "potash", float64(c.Mass.K2O), mass*compost.K2O.Low/100*0.8, 1e-9)
	near(t, "nitrogen", float64(c.Mass.N), mass*compost.N.Low/100*compost.First.Value/100, 1e-9)
	if compost.P2O5.Low >= compost.P2O5.Value {
		t.Error("a poor compost holds as much as a usual one, so this checks nothing")
	}
	for _, words := range []string{"still to come", "20 Apr 2027", "80 per cent of its phosphate and potash", "If none is given after all"} {
		if !strings.Contains(all(c.Reasons), words) {
			t.Errorf("%q is not among the reasons: %s", words, all(c.Reasons))
		}
	}
	g.Coming[0].BedID = 2
	if p, _ = feed(t, g, nil, soil.Choice{}); len(p.Credits) != 0 {
		t.Errorf("another bed's compost is credited: %+v", p.Credits)
	}
}

func all(reasons []garden.Reason) string {
	var says []string
	for _, r := range reasons {
		says = append(says, r.Says)
	}
	return strings.Join(says, " ")
}

// isoDate is a date as machines write it, and oneMany a plural of one.
var (
	isoDate = regexp.MustCompile(`\d{4}-\d\d-\d\d`)
	oneMany = regexp.MustCompile(`\b1 (days|years|treatments|turnings|times|hours|parts|holes|passes|weeks|months)\b`)
)

// TestSentencesReadAsWritten: no sentence of a prescription has a date as machines write it, nor a plural of one.
func TestSentencesReadAsWritten(t *testing.T) {
	ph := 5.2
	lime := garden.Treatment{BedID: 1, Date: civil.Of(2025, 10, 1), Material: "limestone-ground", Amount: 2}
	manure := garden.Treatment{BedID: 1, Date: civil.Of(2026, 11, 1), Material: "manure-cattle-fresh", Amount: 20}
	var says []string
	for _, treatments := range [][]garden.Treatment{nil, {lime}, {lime, lime, manure}} {
		for _, tested := range []civil.Date{civil.Of(2021, 2, 1), civil.Of(2025, 4, 2), civil.Of(2026, 4, 2)} {
			g := groundOf(planted("a", "broccoli", 0, 10, day(4, 20), day(7, 20)))
			g.Treatments = treatments
			g.Tests = []garden.SoilTest{{Date: tested, PH: &ph, Elements: []garden.Reading{{Element: garden.Phosphorus, Class: garden.Low}, {Element: garden.Potassium, Value: 1, Unit: "?"}}}}
			p, _ := feed(t, g, nil, soil.Choice{})
			says = append(append(says, all(p.Reasons)), p.Cautions...)
			sour := soil.SourOf(garden.Garden{Site: garden.Site{Latitude: 44}}, g, garden.TowardsAcid, day(4, 2))
			r, err := soil.ReactionOf(sour)
			if err != nil {
				t.Fatal(err)
			}
			says = append(says, all(r.Reasons))
			if r.Dose != nil {
				says = append(says, all(r.Dose.Reasons))
			}
		}
	}
	for _, heap := range []garden.Heap{
		{Started: day(1, 2), Log: []garden.HeapEntry{{Date: day(1, 8), Kind: garden.HeapHeat, Celsius: celsius(57)}, {Date: day(1, 9), Kind: garden.HeapTurned}}},
		{Started: day(1, 2), Put: []garden.HeapPart{{Feedstock: "horse-manure", Volume: 100}}, Log: []garden.HeapEntry{{Date: day(1, 8), Kind: garden.HeapHeat, Celsius: celsius(57)}}},
		{Started: day(1, 2)},
	} {
		for _, on := range []civil.Date{day(1, 9), day(1, 30), day(7, 1), day(12, 20)} {
			s := soil.HeapOn(heap, on, quantity.Metric)
			says = append(says, s.Next, all(s.Reasons))
		}
	}
	if len(says) < 20 {
		t.Fatal("too few sentences to check")
	}
	for _, one := range says {
		if m := isoDate.FindString(one) + oneMany.FindString(one); m != "" {
			t.Errorf("%q in %q", m, one)
		}
	}
}

func celsius(x float64) *quantity.Celsius {
	c := quantity.Celsius(x)
	return &c
}
