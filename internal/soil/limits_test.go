package soil

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func enriched(t *testing.T, id string, b Patch) Enrichment {
	t.Helper()
	m, ok := Find(id)
	if !ok {
		t.Fatal(id)
	}
	e, err := Enrich(b, m, 0, quantity.US)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// TestManureRule: fresh cattle and horse manure 500 lb on 1000 sq ft at the most, poultry 125 to 250 (the manure rule of the trade, from
// memory). What was composted is stronger weight for weight where it is of poultry, so it stays at the low end.
func TestManureRule(t *testing.T) {
	bed := Patch{Area: 1000 * squareFoot, First: true}
	for _, row := range []struct {
		id          string
		least, most float64 // lb on 1000 sq ft
	}{
		{"manure-cattle-fresh", 250, 500}, {"manure-horse-fresh", 250, 500}, {"manure-poultry-fresh", 125, 250}, {"manure-poultry-composted", 60, 125},
		{"manure-sheep-fresh", 125, 500}, {"manure-rabbit-fresh", 125, 500},
	} {
		e := enriched(t, row.id, bed)
		if pounds := float64(e.Mass) / quantity.KilogramsPerPound; pounds < row.least-1 || pounds > row.most+1 {
			t.Errorf("%s: %.0f lb on 1000 sq ft", row.id, pounds)
		}
		for _, why := range e.Reasons {
			if strings.Contains(why.Says, " 0 in") {
				t.Errorf("%s: %s", row.id, why.Says)
			}
		}
	}
	for _, id := range []string{"manure-cattle-composted", "manure-horse-composted", "compost-mushroom"} { // an inch, common practice
		if e := enriched(t, id, bed); float64(e.Depth) > 1.02*float64(inch) {
			t.Errorf("%s: %.3f m deep", id, float64(e.Depth))
		}
	}
	if words := Layer(0.001, quantity.US); strings.Contains(words, "0 in") {
		t.Errorf("a scatter is told as %q", words)
	}
}

// TestSaltyGroundBindsTheCaution: on salty ground no more than an inch of what its own caution calls salty.
func TestSaltyGroundBindsTheCaution(t *testing.T) {
	for _, m := range OfFamily(Organic) {
		if !Salty(m) || m.Density == nil {
			continue
		}
		if e := enriched(t, m.ID, Patch{Area: 10, First: true, Texture: garden.Loam, Salty: true}); float64(e.Depth) > float64(inch)+1e-9 {
			t.Errorf("%s: %.3f m on salty ground", m.ID, float64(e.Depth))
		}
	}
}

// TestWhatRobsLiesOnTop: sawdust, chips and straw are not dug in raw, and nobody is told to give the nitrogen of a whole season at once.
func TestWhatRobsLiesOnTop(t *testing.T) {
	for _, id := range []string{"sawdust", "wood-chips", "bark", "straw"} {
		e := enriched(t, id, Patch{Area: 10, First: true})
		told := ""
		for _, why := range e.Reasons {
			told += why.Says
		}
		if e.Into != 0 || e.Nitrogen != 0 || !strings.Contains(told, "takes nitrogen") || !strings.Contains(told, "mulch") {
			t.Errorf("%s: into %v, %v kg: %s", id, e.Into, e.Nitrogen, told)
		}
		if float64(e.Depth) > 3*float64(inch)+1e-9 || math.IsNaN(float64(e.Depth)) {
			t.Errorf("%s: %v deep", id, e.Depth)
		}
	}
}

// TestNotForFood: what carries parasites of people is refused as what is put on food ground.
func TestNotForFood(t *testing.T) {
	for _, id := range []string{"manure-swine-fresh", RawCompost} {
		if CheckChoice(garden.Soil{Organic: id}, nil).Err() == nil {
			t.Errorf("%s is taken as organic matter for the beds", id)
		}
	}
	if err := CheckChoice(garden.Soil{Organic: "manure-cattle-composted"}, nil).Err(); err != nil {
		t.Error(err)
	}
}

// TestMaterialOf: a product of the person's own is known by the label of its package, as lime or as plant food.
func TestMaterialOf(t *testing.T) {
	number := func(x float64) *float64 { return &x }
	packages := []garden.Package{
		{Material: "own-feed", Name: "own feed", Mass: 10, N: number(6), P2O5: number(3), K2O: number(2)},
		{Material: "quarry-fines", Mass: 25, CCE: number(88)},
		{Material: "quarry-fines", Mass: 5, CCE: number(88)},
		{Material: "mystery", Mass: 5},
	}
	for id, family := range map[string]Family{"own-feed": Fertiliser, "quarry-fines": Liming, "limestone-ground": Liming, "compost": Organic} {
		if m, ok := MaterialOf(id, packages); !ok || m.Family != family || m.Name == "" {
			t.Errorf("%s: %v %+v", id, ok, m)
		}
	}
	if _, ok := MaterialOf("mystery", packages); ok {
		t.Error("a product without a label is known")
	}
	if own := OwnLimes(packages); len(own) != 1 || own[0].ID != "quarry-fines" {
		t.Errorf("limes of one's own: %+v", own)
	}
	if _, ok := LimeOf("own-feed", packages); ok {
		t.Error("a plant food limes")
	}
	if _, ok := LimeOf("", packages); ok {
		t.Error("nothing limes")
	}
	if offers, left := Offers(packages[1:3], Choice{}); len(left) != 0 || len(offers) == 0 {
		t.Errorf("a lime of one's own is told to lack a label: %v", left)
	}
}
