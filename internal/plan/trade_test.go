package plan

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// What is earthed up is not squeezed in beside another drill of the bed: soil is drawn to it from both
// sides (common practice).
func TestWhatIsEarthedUpHasTheWholeBed(t *testing.T) {
	in := oneBed(t, "mild", 6, 1.2,
		garden.Want{Crop: "potato", Basis: garden.Total, Amount: 4, Unit: "kg", Weight: 4},
		garden.Want{Crop: "parsnip", Basis: garden.Total, Amount: 4, Unit: "kg", Weight: 4},
		garden.Want{Crop: "leek", Basis: garden.Total, Amount: 3, Unit: "kg", Weight: 4})
	found := 0
	for _, x := range made(t, in).Plantings {
		if c, _ := in.Crops.Find(x.CropID); c.Practice.EarthUp {
			found++
			if x.Place.AcrossFrom > 1e-3 || x.Place.AcrossTo < 1.2-1e-3 {
				t.Errorf("%s has %v of the bed's width", x.CropID, x.Place)
			}
		}
	}
	if found == 0 {
		t.Error("nothing that is earthed up is planted")
	}
}

// No lane is narrower than a hoe's way along a drill, one foot, wherever the bed is as wide.
func TestNoStripNarrowerThanADrill(t *testing.T) {
	for width := 0.15; width < 8; width += 0.05 {
		pl := newPlot(garden.Bed{Length: 9, Width: quantity.Metre(width)}, 0)
		if pl.lane < min(0.3, width)-1e-6 {
			t.Errorf("a bed %.2f m wide has %d lanes of %.2f m", width, pl.lanes, pl.lane)
		}
	}
}

// Vines in any bed have the ground that the middle of the printed spacings gives them, a foot of path
// along the bed's own sides counted in: winter squash 24–36 in by 72–96 in, pumpkin 36 in by 72–120 in
// (OLDS, the wider half of its rows), muskmelon 20–36 in by 60 in (IFAS-SP103).
func TestVinesHaveTheGroundOfTheTables(t *testing.T) {
	const inch = 0.0254
	for id, least := range map[string]float64{
		"squash-winter": 30 * 84 * inch * inch, "pumpkin": 36 * 96 * inch * inch, "muskmelon": 28 * 60 * inch * inch,
	} {
		c, ok := crop.Default().Find(id)
		if !ok {
			t.Fatalf("no crop %s", id)
		}
		for _, bed := range []garden.Bed{{Length: 6, Width: 1.2}, {Length: 9, Width: 0.8}, {Length: 3, Width: 3}, {Length: 6, Width: 4, RowsAcross: true}, {Length: 12, Width: 1.5}} {
			pl := newPlot(bed, 0)
			for l0 := range pl.lanes {
				for n := 1; n <= pl.cells; n++ {
					r := rect{0, n, l0, pl.lanes}
					s := pl.stand(c, r)
					if s.plants() == 0 {
						continue
					}
					at := pl.place(r)
					row, side, whole := at.AlongTo-at.AlongFrom, [2]quantity.Metre{at.AcrossFrom, at.AcrossTo}, bed.Width
					if bed.RowsAcross {
						row, side, whole = at.AcrossTo-at.AcrossFrom, [2]quantity.Metre{at.AlongFrom, at.AlongTo}, bed.Length
					}
					wide := side[1] - side[0]
					if side[0] < 1e-3 {
						wide += 0.3
					}
					if side[1] > whole-1e-3 {
						wide += 0.3
					}
					ground := float64(row * wide)
					if each := ground / float64(s.plants()); each < least-1e-6 {
						t.Errorf("%s: %d plants on %v of a bed %v × %v have %.2f m² each; the tables give %.2f at least", id, s.plants(), at, bed.Length, bed.Width, each, least)
					}
				}
			}
		}
	}
}

// Beet is sown where it stands, as is customary, where nothing is gained by raising it.
func TestBeetIsSownWhereItStands(t *testing.T) {
	for _, climate := range []string{"cold", "mild", "warm"} {
		in := oneBed(t, climate, 6, 1.2,
			garden.Want{Crop: "beet", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 3},
			garden.Want{Crop: "carrot", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 3})
		found := false
		for _, x := range made(t, in).Plantings {
			if x.CropID != "beet" {
				continue
			}
			found = true
			if x.Way != crop.Sow {
				t.Errorf("%s: beet is %s", climate, x.Way)
			}
		}
		if !found {
			t.Errorf("%s: no beet", climate)
		}
	}
}

// What is wanted for the store is sown in one go, not in neighbouring patches days apart, and leek, which is
// raised and set out, is not sown in the drill for the sake of a marker.
func TestOneSowingSideBySide(t *testing.T) {
	in := demo(t)
	p := made(t, in)
	for i, x := range p.Plantings {
		if x.CropID == "leek" && x.Way != crop.SetOut {
			t.Errorf("leek is %s", x.Way)
		}
		for _, y := range p.Plantings[:i] {
			if x.CropID != "parsnip" || y.CropID != "parsnip" || x.BedID != y.BedID {
				continue
			}
			if side := x.Place.AlongFrom == y.Place.AlongTo || y.Place.AlongFrom == x.Place.AlongTo; side && x.Place.AcrossFrom == y.Place.AcrossFrom && x.Place.AcrossTo == y.Place.AcrossTo {
				t.Errorf("parsnip is sown on %s and beside it on %s", y.Start, x.Start)
			}
		}
	}
}

// A crop grown by another method than its usual one says so, and what it costs.
func TestAnUnusualMethodIsExplained(t *testing.T) {
	beet, _ := crop.Default().Find("beet")
	if why := whyMethod(beet, beet.Methods[0], 40); why != nil {
		t.Errorf("the usual way is explained: %v", why)
	}
	if why := says(whyMethod(beet, beet.Methods[1], 40)); why == "" {
		t.Error("raising beet is not explained")
	}
}

// No harvest is counted once the ground is promised to what follows.
func TestNoHarvestAfterTheGroundIsGivenAway(t *testing.T) {
	in := oneBed(t, "cold", 6, 1.2, garden.Want{Crop: "kale", Basis: garden.Weekly, Amount: 0.3, Unit: "kg", Weight: 3})
	p, err := newProblem(in)
	if err != nil {
		t.Fatal(err)
	}
	f, err := newField(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range f.wants[0].sowings {
		s := &f.sows[k]
		if first := f.season.WeekStart(s.week + len(s.yield) - 1); first >= f.season.Start.Add(s.clear) {
			t.Errorf("sown on %s, cleared by %s, and something is picked in the week of %s", f.season.Start.Add(s.start), f.season.Start.Add(s.clear), first)
		}
	}
}

// Early kale stays as long as it bears when later weeks want it: nothing is cleared before the last
// harvest in the planner's share of the years, whatever would like its ground.
func TestKaleIsNotClearedWhileItBears(t *testing.T) {
	from, to := civil.Of(2027, 6, 15), civil.Of(2027, 11, 30)
	in := oneBed(t, "cold", 6, 1.2,
		garden.Want{Crop: "kale", Basis: garden.Weekly, Amount: 0.3, Unit: "kg", Weight: 4, From: &from, To: &to},
		garden.Want{Crop: "spinach", Basis: garden.Weekly, Amount: 0.4, Unit: "kg", Weight: 4})
	for _, x := range made(t, in).Plantings {
		if x.CropID == "kale" && x.Clear < x.Last.P50 {
			t.Errorf("kale of %s is cleared by %s and picked to %s", x.Start, x.Clear, x.Last.P50)
		}
	}
}

// In a bed a family does not come back beside its old drill: the whole width of the stretch it had rests.
func TestTheOtherHalfOfABedRestsToo(t *testing.T) {
	in := oneBed(t, "mild", 6, 0.8, garden.Want{Crop: "carrot", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 4})
	in.Garden.History = []garden.Past{{BedID: 1, Year: 2026, CropID: "parsnip", Place: garden.Place{AlongTo: 3, AcrossTo: 0.4}}}
	found := false
	for _, x := range made(t, in).Plantings {
		found = true
		if x.Place.AlongFrom < 3-1e-3 {
			t.Errorf("%s stands at %v, beside last year's parsnips", x.CropID, x.Place)
		}
	}
	if !found {
		t.Error("no carrots in the rested half of the length")
	}
}
