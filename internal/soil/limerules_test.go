package soil

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Common practice: ground in which something stands that wants it sour is never limed, whatever grows beside.
func TestNoLimeBesideWhatWantsItSour(t *testing.T) {
	for _, crops := range [][]*crop.Crop{{cabbage, blueberry}, {blueberry}, {blueberry, carrot, cabbage}} {
		if r := must(t, sour(4.2, crops...)); r.Verdict == GiveLime || r.Dose != nil {
			t.Errorf("tested: %s", r.Verdict)
		}
		s := sour(6, crops...)
		s.Tests = nil
		if r := must(t, s); r.Verdict == GiveLime || r.Dose != nil {
			t.Errorf("never tested: %s", r.Verdict)
		}
	}
}

// Without a test too, every lime is given by what it is worth: as much pure lime as the ground limestone of the trade's rule, no
// wood ash beyond 20 lb to 1,000 square feet in a year (ASH-EXT).
func TestUntestedLimeByItsWorth(t *testing.T) {
	stone := must(t, untestedWith("", nil))
	pure := func(r Reaction, label *garden.Package) float64 {
		s, err := StrengthOf(r.Dose.Material, label)
		if err != nil {
			t.Fatal(err)
		}
		return s.Share * float64(r.Dose.Rate)
	}
	want := pure(stone, nil)
	for _, id := range []string{"lime-hydrated", "lime-burnt", "limestone-dolomitic"} {
		near(t, id, pure(must(t, untestedWith(id, nil)), nil), want, 1e-9)
	}
	cce, fine := 60.0, 50.0
	label := garden.Package{Material: "limestone-ground", Mass: 20, CCE: &cce, Fineness: &fine}
	weak := must(t, untestedWith("", []garden.Package{label}))
	near(t, "weak stone", pure(weak, &label), want, 1e-9)
	own := garden.Package{Material: "my-lime", Name: "lime of our own", Mass: 20, CCE: &cce, Fineness: &fine}
	near(t, "own lime", pure(must(t, untestedWith("my-lime", []garden.Package{own})), &own), want, 1e-9)
	if ash := must(t, untestedWith("wood-ash", nil)); float64(ash.Dose.Rate) > 20*float64(PoundPer1000SquareFeet)*(1+1e-9) || len(ash.Dose.Parts) != 1 {
		t.Errorf("wood ash %v in %d parts", ash.Dose.Rate, len(ash.Dose.Parts))
	}
}

func untestedWith(lime string, packages []garden.Package) Sour {
	s := sour(6, cabbage)
	s.Tests, s.Lime, s.Packages = nil, lime, packages
	return s
}

// Wood ash on tested ground: at most its limit in a year, and not within a year of the last.
func TestAshOnceAYear(t *testing.T) {
	s := sour(5, cabbage)
	s.Lime = "wood-ash"
	s.Treatments = []garden.Treatment{{Date: civil.Of(2026, 4, 1), BedID: 1, Material: "wood-ash", Amount: 0.5}}
	r := must(t, s)
	if r.Dose == nil || float64(r.Dose.Rate) > 20*float64(PoundPer1000SquareFeet)*(1+1e-9) || len(r.Dose.Parts) != 1 || r.Dose.Parts[0].From < civil.Of(2027, 4, 1) {
		t.Errorf("%+v", r.Dose)
	}
}

// What is put on counts by its label: a weak stone less than the usual, a product of one's own like any.
func TestLimeGivenCountsByItsLabel(t *testing.T) {
	cce, fine := 60.0, 50.0
	give := func(material string, packages ...garden.Package) float64 {
		s := sour(5.2, cabbage)
		s.Packages = packages
		s.Treatments = []garden.Treatment{{Date: civil.Of(2026, 9, 25), BedID: 1, Material: material, Amount: 2}}
		return float64(must(t, s).Requirement.Lime)
	}
	usual := give("limestone-ground")
	weak := give("limestone-ground", garden.Package{Material: "limestone-ground", Mass: 20, CCE: &cce, Fineness: &fine})
	own := give("my-lime", garden.Package{Material: "my-lime", Mass: 20, CCE: &cce, Fineness: &fine})
	near(t, "own as the same by its label", own, weak, 1e-9)
	// 2 kg on 100 square feet, each as much as its neutralising value times its fineness: 0.30 by the label.
	stone, _ := Find("limestone-ground")
	s, err := StrengthOf(stone, nil)
	if err != nil {
		t.Fatal(err)
	}
	left := 1 - Reacted(stone, 6/365.25)
	near(t, "less taken off", weak-usual, (s.Share-0.30)*2/float64(100*quantity.SquareMetresPerFoot)*left, 1e-3)
}

// Lime of shortly before a test had not yet shown in the buffer: it is taken off, so that it is not given twice.
func TestLimeBeforeTheTestIsNotGivenTwice(t *testing.T) {
	buffer := 6.5
	s := sour(5.5, cabbage)
	s.Tests[0].Buffer, s.Tests[0].Method = &buffer, garden.SMP
	bare := must(t, s).Requirement.Lime
	s.Treatments = []garden.Treatment{{Date: s.Tests[0].Date - 30, BedID: 1, Material: "limestone-ground", Amount: 4}}
	if limed := must(t, s).Requirement.Lime; !(limed < bare) {
		t.Errorf("a month after liming %v, never limed %v", limed, bare)
	}
}

// Lime is not due while a test of since the last lime says that none is wanted.
func TestATestPutsLimeOff(t *testing.T) {
	s := sour(6.6, cabbage)
	s.Treatments = []garden.Treatment{{Date: civil.Of(2022, 10, 1), BedID: 1, Material: "limestone-ground", Amount: 4}}
	if r := must(t, s); r.Verdict != LeaveIt || r.Due <= s.Today.Add(365) {
		t.Errorf("%s, due %s", r.Verdict, r.Due)
	}
}

// Two stones of one name are two products: the dose, the buying and what it costs go by the one that costs least for what it is worth.
// By hand: 40 lb of 0.95 × 0.95 for 8.00 are 0.22 a pound of pure lime; 50 lb of 0.60 × 0.50 for 4.00 are 0.27.
func TestTwoLabelsOfOneStone(t *testing.T) {
	figure := func(x float64) *float64 { return &x }
	good := garden.Package{ID: 1, Material: "limestone-ground", Mass: 40 * quantity.KilogramsPerPound, Price: 8, CCE: figure(95), Fineness: figure(95)}
	weak := garden.Package{ID: 2, Material: "limestone-ground", Mass: 50 * quantity.KilogramsPerPound, Price: 4, CCE: figure(60), Fineness: figure(50)}
	for _, packages := range [][]garden.Package{{good, weak}, {weak, good}} {
		if label := labelAmong(packages, "limestone-ground"); label == nil || label.ID != 1 {
			t.Fatalf("the label is %+v", label)
		}
		offer, err := OfferFor("limestone-ground", packages, quantity.US)
		if err != nil || len(offer.Sizes) != 1 || offer.Sizes[0].Mass != good.Mass {
			t.Errorf("offered %+v, %v", offer.Sizes, err)
		}
	}
}

// What peat takes up is limed for, and what mushroom compost brings is not limed again: to the gram of what the enrichment says.
func TestOrganicMatterEntersTheLimeSum(t *testing.T) {
	s := sour(5.2, cabbage)
	bare := float64(must(t, s).Requirement.Lime)
	for _, takes := range []quantity.KilogramPerSquareMetre{0.1, -0.1} {
		s.Beside = takes
		near(t, "lime", float64(must(t, s).Requirement.Lime), bare+float64(takes), 1e-9)
	}
}
