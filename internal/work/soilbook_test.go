package work

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"

	"pgregory.net/rapid"
)

// bookOf prescribes for a drawn garden by the soil room, as the soil book does.
func bookOf(t interface{ Fatal(...any) }, in Input, tested bool) *SoilBook {
	season := in.Plan.Season
	book := SoilBook{Day: season.Start}
	if tested {
		low := 5.4
		in.Garden.Tests = []garden.SoilTest{{ID: 1, Date: season.Start, PH: &low, Elements: []garden.Reading{
			{Element: garden.Phosphorus, Class: garden.Low, Extractor: garden.HomeKit}, {Element: garden.Potassium, Class: garden.Low, Extractor: garden.HomeKit},
		}}}
	}
	compost, _ := soil.Find("compost")
	for _, bed := range in.Garden.Beds {
		ground := soil.GroundOf(in.Garden, bed, in.Plan.Plantings, season, in.Crops)
		list, _, err := soil.Feed([]soil.Ground{ground}, nil, soil.Choice{}, 0)
		if err != nil {
			t.Fatal(err)
		}
		reaction, err := soil.ReactionOf(soil.SourOf(in.Garden, ground, garden.TowardsAcid, season.Start))
		if err != nil {
			t.Fatal(err)
		}
		organic, err := soil.Enrich(soil.Patch{Area: bed.Area()}, compost, 0, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		book.Beds = append(book.Beds, BedGround{BedID: bed.ID, Dose: reaction.Dose, Feeding: &list[0], Organic: &organic})
	}
	return &book
}

// Every bed's jobs put on what its prescription asks for, no more and no less: plant foods of all dressings, organic matter, and the
// parts of lime that fall in the season. The law is the balance itself.
func TestJobsSumToThePrescription(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawPlan(t)
		if len(in.Plan.Plantings) == 0 {
			return
		}
		in.Soil = bookOf(t, in, rapid.Bool().Draw(t, "tested"))
		want, got := map[string]float64{}, map[string]float64{}
		for _, b := range in.Soil.Beds {
			for _, s := range b.Feeding.Dressings {
				for _, p := range s.Parts {
					want[fmt.Sprint(b.BedID, p.Offer.Material.ID)] += float64(p.Mass)
				}
			}
			want[fmt.Sprint(b.BedID, "compost")] += float64(b.Organic.Mass)
		}
		lime := 0.0
		for _, j := range newDesk(in).putJobs() {
			for _, p := range j.Puts {
				if m, _ := soil.Find(p.Material); m.Family == soil.Liming {
					lime += float64(p.Mass)
					continue
				}
				got[fmt.Sprint(p.BedID, p.Material)] += float64(p.Mass)
			}
		}
		for at, kg := range want {
			if math.Abs(got[at]-kg) > 1e-6*(1+kg) {
				t.Fatalf("%s: the jobs put on %.6f kg, the prescription asks for %.6f", at, got[at], kg)
			}
		}
		for at, kg := range got {
			if kg > want[at]+1e-6 {
				t.Fatalf("%s: %.6f kg that nobody asked for", at, kg)
			}
		}
		if d := in.Soil.Beds[0].Dose; d != nil && lime > float64(d.Mass)+1e-9 {
			t.Fatalf("%.3f kg of lime, where %.3f are asked for", lime, float64(d.Mass))
		}
	})
}

// What is given by the journal closes the jobs, the earliest first, and is bought no more.
func TestGivenClosesJobs(t *testing.T) {
	in := kitchen()
	in.Soil = bookOf(t, in, true)
	open := find2(Jobs(in), func(j Job) bool { return j.Kind == Dress })
	if open.Key == "" || open.Given != 0 || len(open.Puts) != 3 {
		t.Fatalf("one round of lime for three beds: %+v", open)
	}
	day := open.Window.From.Add(5)
	for _, p := range open.Puts {
		in.Garden.Treatments = append(in.Garden.Treatments, garden.Treatment{Date: day, BedID: p.BedID, Material: p.Material, Amount: p.Mass * 0.95})
	}
	j := find(t, Jobs(in), open.Key)
	if j.Given != day || !j.Puts[0].Full() {
		t.Errorf("what is strewn but for a twentieth is done: %+v", j)
	}
	mustSay(t, j, "is given already, by the book, on "+day.Short())
	if text := Words([]Job{j}, nil); !strings.Contains(text, "given on "+day.Short()) {
		t.Errorf("the shell does not say that it is given:\n%s", text)
	}
	in.Garden.Treatments = in.Garden.Treatments[:1]
	in.Garden.Treatments[0].Amount = open.Puts[0].Mass / 2
	j = find(t, Jobs(in), open.Key)
	if j.Given != 0 || math.Abs(float64(j.Puts[0].Given/open.Puts[0].Mass)-0.5) > 1e-9 || j.Puts[1].Given != 0 {
		t.Errorf("half of one bed is half of one bed: %+v", j.Puts)
	}
	half := quantity.Metric.Mass(open.Puts[0].Mass / 2)
	mustSay(t, j, "the book has "+half+" as given", half+" is left to give")
}

// Every job done in ground whose lead or salts forbid growing food says so first, once; jobs elsewhere do not.
func TestStoppedGroundIsSaidOnEveryJob(t *testing.T) {
	in := kitchen()
	const stop = "Lead of 480 mg/kg: stop (invented)."
	in.Soil = &SoilBook{Day: in.Plan.Season.Start, Beds: []BedGround{{BedID: 3, Stopped: stop}}}
	kinds := map[Kind]bool{}
	for _, j := range Jobs(in) {
		n := 0
		for i, c := range j.Cautions {
			if c == stop {
				n++
				if i > 0 {
					t.Errorf("%s says it %d-th", j.Key, i+1)
				}
			}
		}
		if want := map[bool]int{true: 1}[j.BedID == 3]; n != want {
			t.Errorf("%s, bed %d, says it %d times", j.Key, j.BedID, n)
		}
		kinds[j.Kind] = kinds[j.Kind] || n > 0
	}
	if !kinds[Prepare] || !kinds[Harvest] {
		t.Errorf("said on %v", kinds)
	}
}

func find2(jobs []Job, ok func(Job) bool) Job {
	for _, j := range jobs {
		if ok(j) {
			return j
		}
	}
	return Job{}
}

// The soil book takes the place of the general rule: no compost by the depth, no look over what may want feeding; no bed is fed twice.
func TestBookReplacesTheRule(t *testing.T) {
	in := kitchen()
	in.Soil = bookOf(t, in, true)
	compost := 0.0
	for _, j := range Jobs(in) {
		if mentions([]string{j.Title}, "Look over") || mentions(j.How, "if the soil test does not say otherwise") {
			t.Errorf("%s still goes by the general rule: %s", j.Key, j.Title)
		}
		for _, p := range j.Puts {
			compost += float64(p.Volume)
		}
	}
	bought := order(t, Orders(in), ripeCompost)
	if math.Abs(float64(bought.Volume)-compost) > 0.5 {
		t.Errorf("%.1f L of compost to buy, %.1f L to spread", float64(bought.Volume), compost)
	}
}

// Source: NOP-203, 7 CFR 205.203(c)(1): not less than 120 days before the harvest of what touches the soil, 90 of what does not. Raw
// manure on 1 March 2027 lets carrots be eaten from 29 June (March 31, April 30, May 31: 1 March + 120 = 29 June) and peas on
// brush from 30 May.
func TestRawManureHoldsTheHarvest(t *testing.T) {
	in := kitchen()
	for _, bed := range []int64{2, 3} {
		in.Garden.Treatments = append(in.Garden.Treatments, garden.Treatment{Date: on(3, 1), BedID: bed, Material: "manure-cattle-fresh", Amount: 20})
	}
	jobs := Jobs(in)
	cabbage := find(t, jobs, "2027-03/harvest") // expected from 22 June
	if cabbage.Window.From != on(6, 29) {
		t.Errorf("cabbage is cut from %s, want 29 June", cabbage.Window.From)
	}
	mustSay(t, cabbage, "Not before 29 Jun", "none of it before 29 Jun")
	if peas := find(t, jobs, "2027-05/harvest"); peas.Window.From != find(t, Jobs(kitchen()), "2027-05/harvest").Window.From {
		t.Errorf("peas hang clear and are ready after 30 May: %s", peas.Window.From)
	}
	if lettuce := find(t, jobs, "2027-04/harvest"); lettuce.Window.From != on(6, 29) {
		t.Errorf("lettuce touches the soil: %s", lettuce.Window.From)
	}
}

// Raw manure is a job only where its days lie between it and every harvest to come.
func TestNoRawManureTooCloseToHarvest(t *testing.T) {
	in := kitchen()
	manure, _ := soil.Find("manure-cattle-fresh")
	organic, err := soil.Enrich(soil.Patch{Area: 9}, manure, 0.02, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	in.Soil = &SoilBook{Day: in.Plan.Season.Start, Beds: []BedGround{{BedID: 3, Feeding: &soil.Prescription{}, Organic: &organic}}}
	with := find2(Jobs(in), func(j Job) bool { return j.Kind == Dress })
	if with.Key == "" || with.Window.From < on(11, 1) { // the last potatoes are lifted on 7 November
		t.Errorf("in autumn, when the ground is clear: %+v", with.Window)
	}
	garlic := garden.Planting{
		Key: "2027-09", BedID: 3, CropID: "leek", Way: crop.Sow, Place: garden.Place{AlongTo: 6, AcrossTo: 1.5}, Rows: 2, Plants: 60, Role: garden.Alone,
		Start: on(11, 20), Emerge: around(on(12, 5), 3), First: around(civil.Of(2028, 2, 20), 5), Last: around(civil.Of(2028, 3, 10), 5), Clear: civil.Of(2028, 3, 20),
	}
	in.Crops = crop.New(carrot(), radish(), cabbage(), lettuce(), pea(), potato(), leek())
	in.Plan.Plantings = append(in.Plan.Plantings, garlic)
	for _, j := range Jobs(in) {
		for _, p := range j.Puts {
			if p.Material == "manure-cattle-fresh" && j.Window.To > soil.LastManure(leek(), garlic.First.P10) {
				t.Errorf("%s till %s, with a harvest from %s", j.Key, j.Window.To, garlic.First.P10)
			}
		}
	}
}

// Raw straw is strewn on top by itself and is never worked in where something is about to be sown: dug in it would rob the crops of nitrogen.
func TestStrawIsNotDugIn(t *testing.T) {
	in := kitchen()
	straw, _ := soil.Find("straw")
	organic, err := soil.Enrich(soil.Patch{Area: 9, First: true}, straw, 0, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	in.Soil = &SoilBook{Day: in.Plan.Season.Start, Beds: []BedGround{{BedID: 3, Feeding: &soil.Prescription{}, Organic: &organic}}}
	put := 0
	for _, j := range Jobs(in) {
		for _, p := range j.Puts {
			if p.Material != "straw" {
				continue
			}
			if put++; p.Depth != 0 || j.Kind != Dress {
				t.Errorf("%s works straw in %v deep", j.Title, p.Depth)
			}
		}
	}
	if put == 0 {
		t.Error("the straw is put nowhere")
	}
}

// New ground is broken in spells that cover it and end before it is planted; the season's making ready then only loosens it.
// common practice: half an hour to three quarters at a time, never a whole day.
func TestNewGroundInSpells(t *testing.T) {
	in := kitchen()
	b, err := soil.Break(9, garden.Soil{State: garden.Sod, Topsoil: 0.25}, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	toil := b.By(garden.ForkAndSpade)
	stints, left := soil.Stints(toil.Hours, 9, on(2, 1), on(3, 20), nil)
	in.Soil = &SoilBook{Day: in.Plan.Season.Start, Beds: []BedGround{{BedID: 3, Breaking: &Breaking{Breaking: b, Toil: toil, Plant: on(3, 20), Stints: stints, Left: left}}}}
	j := find(t, Jobs(in), "bed-3/break")
	if j.Window.To >= on(3, 20) || j.Window.Days()*45 < int(float64(j.Hours)*60)/2 {
		t.Errorf("%v for %v h", j.Window, j.Hours)
	}
	mustSay(t, j, "never a whole day", "short spells")
	mustSay(t, find(t, Jobs(in), "2027-05/prepare-the-ground"), "It was broken for this")
}

// Rhubarb: a hole 18 in across and deep, the crown at most an inch under (common practice, as the trade has it).
func TestHolesForPerennials(t *testing.T) {
	c := &crop.Crop{
		ID: "rhubarb", Kind: "rhubarb", Family: "Polygonaceae", Perennial: true,
		Methods: []crop.Method{{Way: crop.Set, Days: crop.Range{Low: 365, High: 400}, Depth: 0.02}}, Spacing: crop.Spacing{InRow: 0.9, BetweenRows: 0.9},
		Harvest: crop.Harvest{Part: "stalk", FirstYear: 2},
	}
	in := kitchen()
	in.Garden.Site.Units = quantity.US
	in.Crops = crop.New(carrot(), radish(), cabbage(), lettuce(), pea(), potato(), c)
	in.Garden.Beds = append(in.Garden.Beds, garden.Bed{ID: 4, Name: "Corner", Length: 2, Width: 1, Perennial: true})
	p := garden.Planting{Key: "2027-09", BedID: 4, CropID: "rhubarb", Way: crop.Set, Place: garden.Place{AlongTo: 2, AcrossTo: 1}, Rows: 1, Plants: 2, Start: on(4, 20), Clear: civil.Of(2040, 1, 1), Role: garden.Alone}
	in.Plan.Plantings = append(in.Plan.Plantings, p)
	h, ok := soil.HoleFor(c, garden.Loam, quantity.US)
	if !ok {
		t.Fatal("no hole for rhubarb")
	}
	dig, err := h.Dig(2, 0, quantity.US)
	if err != nil {
		t.Fatal(err)
	}
	in.Soil = &SoilBook{Day: in.Plan.Season.Start, Beds: []BedGround{{BedID: 4, Holes: map[string]Hole{"2027-09": {h, dig}}}}}
	j := find(t, Jobs(in), "2027-09/dig-holes")
	mustSay(t, j, "two holes", "18 in across and 18 in deep", "at most 1 in under")
	if j.Window.To >= on(4, 20) {
		t.Errorf("dug till %s, planted on 20 April", j.Window.To)
	}
	mustSay(t, find(t, Jobs(in), "2027-09/plant"), "at most 1 in under it")
}

// Fresh lime brings scab on potatoes (common practice): ground where they go within half a year is limed when they are lifted.
func TestNoLimeBeforePotatoes(t *testing.T) {
	in := kitchen()
	in.Plan.Plantings = append(in.Plan.Plantings[:4:4], garden.Planting{
		Key: "2027-05", BedID: 3, CropID: "potato-main", Way: crop.Set, Place: garden.Place{AlongTo: 6, AcrossTo: 1.5}, Rows: 2, Plants: 40, Role: garden.Alone,
		Start: on(4, 20), Emerge: around(on(5, 15), 2), First: around(on(8, 20), 6), Last: around(on(9, 1), 6), Clear: on(9, 10),
	})
	in.Soil = bookOf(t, in, true)
	limed := false
	for _, j := range Jobs(in) {
		for _, p := range j.Puts {
			if m, _ := soil.Find(p.Material); m.Family == soil.Liming && p.BedID == 3 {
				if limed = true; j.Window.From < on(9, 10) {
					t.Errorf("%s from %s, with potatoes till 10 September", j.Key, j.Window.From)
				}
			}
		}
	}
	if !limed {
		t.Fatal("this ground asks for no lime, so nothing was checked")
	}
}
