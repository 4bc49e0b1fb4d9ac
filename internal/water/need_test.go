package water

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

func catalogue(t testing.TB, id string) *crop.Crop {
	t.Helper()
	c, ok := crop.Default().Find(id)
	if !ok {
		t.Fatal(id)
	}
	return c
}

// years are invented weather years over the season of 2027, the rain of each another share of the first's.
func years(n int, rain float64) (season civil.Season, list []weather.Scenario) {
	season = civil.SeasonOf(2027, 45)
	lead := 60
	for y := range n {
		w := weather.Scenario{Year: 1990 + y, Start: season.Start.Add(-lead)}
		for i := range lead + season.Days + 30 {
			day := w.Start.Add(i)
			warm := math.Sin(2 * math.Pi * float64(day.YearDay()-110) / 365)
			w.Min, w.Max = append(w.Min, float32(6+9*warm)), append(w.Max, float32(15+12*warm))
			wet := 0.0
			if (i+3*y)%6 == 0 {
				wet = rain * (0.5 + float64(y)/float64(n))
			}
			w.Rain = append(w.Rain, float32(wet))
		}
		list = append(list, w)
	}
	return season, list
}

func tomatoes(t testing.TB, bed int64) Stand {
	return Stand{Key: "2027-01", Name: "tomato", BedID: bed, Area: 6, Crop: CropOf(catalogue(t, "tomato-staked")), From: civil.Of(2027, 5, 20), To: civil.Of(2027, 10, 1), Plants: 20, Wets: 0.5, Waters: true}
}

func question(t testing.TB, rain float64) Question {
	season, list := years(20, rain)
	return Question{Season: season, Place: Place{Latitude: 45, Elevation: 100}, Years: list, Grounds: map[int64]Ground{1: GroundOf(garden.Loam)}, Stands: []Stand{tomatoes(t, 1)}}
}

func mustReckon(t testing.TB, q Question) Needs {
	t.Helper()
	n, err := Reckon(q)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestRuleOfThumb: extension leaflets ask for about an inch (25 mm) of water a week, rain with it, in full growth, one to two
// in hot dry country (common rule). Without rain, under a summer's sun at 45° of latitude, a grown tomato is given between
// an inch and two a week in the typical year.
func TestRuleOfThumb(t *testing.T) {
	n := mustReckon(t, question(t, 0))
	for _, w := range n.Beds[0].Weeks {
		if w.From < civil.Of(2027, 7, 10) || w.From > civil.Of(2027, 8, 10) {
			continue
		}
		if depth := float64(w.Typical.Depth); depth < 15 || depth > 65 {
			t.Errorf("week of %s: %.0f mm", w.From, depth)
		}
	}
	mean, weeks := 0.0, 0.0
	for _, w := range n.Beds[0].Weeks {
		if w.From >= civil.Of(2027, 7, 1) && w.From < civil.Of(2027, 9, 1) {
			mean, weeks = mean+float64(w.Typical.Depth), weeks+1
		}
	}
	if mean /= weeks; mean < 25.4 || mean > 50.8 {
		t.Errorf("July and August: %.1f mm a week, the rule says 25 to 51", mean)
	} else {
		t.Logf("July and August: %.1f mm a week of water given", mean)
	}
}

// Water balances over the season whatever the year: more rain never asks for more; sand asks more often than loam, for less each
// time; mulch never asks for more; thirst is small where all is watered, and greater where nothing is.
func TestNeedLaws(t *testing.T) {
	last := math.Inf(1)
	for _, rain := range []float64{0, 8, 16, 32, 64} {
		n := mustReckon(t, question(t, rain))
		if float64(n.Typical) > last+1e-9 || n.Dry < n.Typical {
			t.Errorf("rain of %g mm: typical %.0f L (before %.0f), dry %.0f", rain, float64(n.Typical), last, float64(n.Dry))
		}
		last = float64(n.Typical)
		if n.Short > 0.02 {
			t.Errorf("watered, and yet %.0f %% short", 100*n.Short)
		}
	}
	loam := mustReckon(t, question(t, 8))
	q := question(t, 8)
	q.Stands[0].Crop = CropOf(catalogue(t, "lettuce-romaine")) // roots not as deep as an inch of sand's water
	salad := mustReckon(t, q)
	q.Grounds[1] = GroundOf(garden.Sand)
	sand := mustReckon(t, q)
	times := func(n Needs) (sum float64) {
		for _, w := range n.Beds[0].Weeks {
			sum += w.Typical.Times
		}
		return sum
	}
	if times(sand) < 1.5*times(salad) {
		t.Errorf("sand is watered %.0f times, loam %.0f", times(sand), times(salad))
	}
	q = question(t, 8)
	q.Stands[0].Mulch = garden.OrganicMulch
	if mulched := mustReckon(t, q); mulched.Typical >= loam.Typical || mulched.Typical < loam.Typical/2 {
		t.Errorf("mulched %.0f L, bare %.0f", float64(mulched.Typical), float64(loam.Typical))
	}
	q = question(t, 8)
	q.Stands[0].Waters = false
	if dry := mustReckon(t, q); dry.Short < 0.1 || dry.Typical > loam.Typical/4 || math.Abs(float64(dry.Beds[0].WateringIn/dry.Typical)-1) > 0.15 {
		t.Errorf("unwatered: short %.2f, given %.0f L, watering-in %.0f", dry.Short, float64(dry.Typical), float64(dry.Beds[0].WateringIn))
	}
	if loam.Beds[0].WateringIn < 10 { // half a litre to each of 20 plants
		t.Errorf("watered in with %.1f L", float64(loam.Beds[0].WateringIn))
	}
}

// The year's sum by hand: with all closed, what was given and reached the roots, plus rain, is what was drawn, drained and
// gained; so without rain or drainage, need is near the demand Kcb·ET0 with a wet surface, between 0.7 and 1.3 of ET0 over
// the crop's days.
func TestNeedBesideReference(t *testing.T) {
	q := question(t, 0)
	n := mustReckon(t, q)
	var et float64
	w := q.Years[0]
	for day := q.Stands[0].From; day < q.Stands[0].To; day++ {
		at := int(day - w.Start)
		et += float64(q.Place.OfTemperature(quantity.Celsius(w.Min[at]), quantity.Celsius(w.Max[at]), day.YearDay()))
	}
	if share := float64(n.Typical) * 0.9 / 6 / et; share < 0.7 || share > 1.3 {
		t.Errorf("given %.2f of reference evapotranspiration", share)
	} else {
		t.Logf("%.2f of %.0f mm", share, et)
	}
}

// A crop that follows takes the ground as the one before left it; one beside it does not.
func TestFollowing(t *testing.T) {
	q := question(t, 4)
	q.Stands[0].Waters, q.Stands[0].To, q.Stands[0].Place = false, civil.Of(2027, 8, 1), garden.Place{AlongTo: 6, AcrossTo: 1}
	follow := Stand{Key: "2027-02", BedID: 1, Area: 6, Place: garden.Place{AlongFrom: 6, AlongTo: 12, AcrossTo: 1}, Crop: CropOf(catalogue(t, "kale")), From: civil.Of(2027, 8, 2), To: civil.Of(2027, 10, 20), Up: civil.Of(2027, 8, 10), Wets: 1, Waters: true}
	q.Stands = append(q.Stands, follow)
	alone := mustReckon(t, q)
	q.Stands[1].Place = q.Stands[0].Place
	after := mustReckon(t, q)
	if after.Typical < alone.Typical {
		t.Errorf("after a thirsty crop %.0f L, on rested ground %.0f", float64(after.Typical), float64(alone.Typical))
	}
	q.Stands[0].To = q.Stands[0].From - 1
	if _, err := Reckon(q); err == nil || !strings.Contains(err.Error(), "2027-01") {
		t.Errorf("it ends before it begins: %v", err)
	}
	if _, err := Reckon(Question{Season: q.Season}); err == nil {
		t.Error("no weather, and yet an answer")
	}
}

// TestStore: by hand: 10 m² of roof under 6 mm of rain catch 48 L; a butt of 100 L that is asked for 20 L a day.
func TestStore(t *testing.T) {
	season := civil.Season{Start: civil.Of(2027, 6, 1), Days: 14}
	rain := make([]float32, 14)
	rain[0], rain[8] = 6, 20
	n := Needs{Season: season, daily: [][]float32{make([]float32, 14)}}
	for i := range n.daily[0] {
		n.daily[0][i] = 20
	}
	s := StoreOf(n, garden.Supply{Roof: 10, Tank: 100}, []weather.Scenario{{Start: season.Start, Rain: rain}})
	// day 0: 48 in, 20 out; day 1: 20; day 2: 8 of 20; then empty until day 8: 160 in, 60 spilt; five days of 20.
	if math.Abs(s.Met-148.0/280) > 1e-6 || s.Whole != 0 || s.Weeks[0].Chance != 0 || s.Weeks[1].Chance != 0 || math.Abs(float64(s.Caught-208)) > 1e-4 || math.Abs(float64(s.Spilt-60)) > 1e-4 {
		t.Errorf("%+v", s)
	}
	if s := StoreOf(n, garden.Supply{Tank: 100}, nil); s.Weeks != nil {
		t.Error("a tank without a roof")
	}
	q := question(t, 16)
	need := mustReckon(t, q)
	small, large := StoreOf(need, garden.Supply{Roof: 20, Tank: 200}, q.Years), StoreOf(need, garden.Supply{Roof: 20, Tank: 2000}, q.Years)
	if small.Met > large.Met || large.Met <= 0 || small.Enough != large.Enough {
		t.Errorf("200 L meet %.2f, 2000 L %.2f", small.Met, large.Met)
	}
	if TapHours(720, 720) != 1 || TapHours(720, 0) != 0 {
		t.Error("tap")
	}
}

// TestTell: a depth of 25.4 mm is 0.623 gal to the square foot (62.3 to a hundred): arithmetic of units.
func TestTell(t *testing.T) {
	supply := garden.Supply{Can: 9, Tap: 720}
	for want, got := range map[string]Told{
		"10 mm, 45 L: 5 cans":                   Tell(45, 4.5, garden.Watering{By: garden.ByCan}, supply, quantity.Metric),
		"10 mm, 45 L: 45 min of the drip lines": Tell(45, 4.5, garden.Watering{By: garden.ByDrip, Drip: 60}, supply, quantity.Metric),
		"10 mm, 45 L: 50 min of the sprinkler":  Tell(45, 4.5, garden.Watering{By: garden.BySprinkler, Rain: 12}, supply, quantity.Metric),
		"10 mm, 45 L: 4 min of the hose":        Tell(45, 4.5, garden.Watering{By: garden.ByHose}, supply, quantity.Metric),
		"1 in, 62 gal":                          Tell(quantity.Litre(25.4*9.290304), 9.290304, garden.Watering{By: garden.ByCan}, garden.Supply{}, quantity.US),
	} {
		if got.Says != want {
			t.Errorf("%q, want %q", got.Says, want)
		}
	}
	if says := Tell(45, 4.5, garden.Watering{By: garden.BySprinkler}, supply, quantity.Metric).Says; !strings.Contains(says, "straight-sided tins") {
		t.Error(says)
	}
}

// TestToday: a dry fortnight makes a bed thirsty; rain from the person's own gauge, or a watering, ends it; a record that has
// grown old is refused.
func TestToday(t *testing.T) {
	q := question(t, 0)
	r := invented(0)
	r.Origin = weather.Measured
	for day := civil.Of(2027, 3, 1); day < civil.Of(2027, 7, 20); day++ {
		wet := 0.0
		if day < civil.Of(2027, 7, 1) && day%4 == 0 {
			wet = 22
		}
		r.Days = append(r.Days, weather.Day{Date: day, Min: 13, Max: 27, HasTemp: true, Rain: quantity.Millimetre(wet), HasRain: true})
	}
	today := civil.Of(2027, 7, 20)
	ask := func(log ...Given) Thirst {
		t.Helper()
		b, err := Today(q, r, log, today)
		if err != nil || len(b.Ground) != 1 {
			t.Fatalf("%+v, %v", b, err)
		}
		return b.Ground[0]
	}
	dry := ask()
	if !dry.Now || dry.Days != 0 || dry.Give < 100 || !strings.Contains(dry.Says, "today") {
		t.Errorf("%+v", dry)
	}
	fell := quantity.Millimetre(50)
	if wet := ask(Given{Date: today - 4, Rain: &fell}, Given{Date: today - 3, Rain: &fell}); wet.Now || wet.Missing > 20 || wet.Days < 1 || wet.Days > 4 {
		t.Errorf("after rain: %+v", wet)
	}
	if wet := ask(Given{Date: today - 1, BedID: 1, Water: dry.Give}); wet.Now || float64(wet.Missing) > 10 {
		t.Errorf("after watering: %+v", wet)
	}
	if wet := ask(Given{Date: today - 1, BedID: 2, Water: dry.Give}); !wet.Now {
		t.Error("another bed's water")
	}
	if _, err := Today(q, r, nil, today+30); err == nil || !strings.Contains(err.Error(), "up to date") {
		t.Errorf("an old record: %v", err)
	}
	if b, err := Today(q, r, nil, today+5); err != nil || len(b.Notes) == 0 {
		t.Errorf("%+v %v", b, err)
	}
	r.Origin = weather.Generated
	if _, err := Today(q, r, nil, today); err == nil {
		t.Error("generated weather tells what fell")
	}
}

// BenchmarkTwoHundredPlantings: 200 plantings over 30 years.
func BenchmarkTwoHundredPlantings(b *testing.B) {
	season, list := years(30, 12)
	q := Question{Season: season, Place: Place{Latitude: 45}, Years: list, Grounds: map[int64]Ground{}}
	for i := range 200 {
		s := tomatoes(b, int64(i%20))
		s.From = civil.Of(2027, 4, 1).Add(i % 90)
		s.To = s.From.Add(80 + i%60)
		q.Stands = append(q.Stands, s)
	}
	b.ResetTimer()
	for b.Loop() {
		mustReckon(b, q)
	}
}

func TestTellSeason(t *testing.T) {
	q := question(t, 8)
	n := mustReckon(t, q)
	supply := garden.Supply{Tap: 720, Roof: 20, Tank: 200}
	said := strings.Join(TellSeason(n, StoreOf(n, supply, q.Years), supply, quantity.Metric), "\n")
	for _, want := range []string{"In a typical year all beds want ", "The peak week of a dry year begins on ", " min of the tap.", "The tank of 200 L runs dry in ", ": it gives ", " short in the mean year", "it lacks most in the week from ", "would do in nine years of ten"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in\n%s", want, said)
		}
	}
	supply = garden.Supply{Tap: 6, Roof: 1, Tank: 100}
	said = strings.Join(TellSeason(n, StoreOf(n, supply, q.Years), supply, quantity.US), "\n")
	for _, want := range []string{"more than a garden's tap should run", "no tank would do", " gal"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in\n%s", want, said)
		}
	}
	if said := TellSeason(Needs{}, Store{}, garden.Supply{}, quantity.Metric); len(said) != 1 {
		t.Error(said)
	}
	if us, metric := Rough(6868*quantity.LitresPerGallon, quantity.US), Rough(35659, quantity.Metric); us != "6900 gal" || metric != "36000 L" {
		t.Errorf("%s, %s", us, metric)
	}
	for share, want := range map[float64]string{1: "every year", 0.97: "nearly every year", 0.7: "7 years of ten", 0.12: "one year of ten"} {
		if got := yearsOfTen(share); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if len(Cautions(supply)) == 0 || len(Cautions(garden.Supply{})) != 0 {
		t.Error("cautions")
	}
}
