package weather

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// steady is an invented record: the same temperatures every day, rain where asked.
func steady(name string, from civil.Date, days int, low float64, rain bool) *Record {
	r := &Record{Origin: Measured, Source: name, Station: Station{ID: name, Name: name, Located: true, Levelled: true}}
	for i := range days {
		r.Days = append(r.Days, Day{Date: from.Add(i), Min: quantity.Celsius(low), Max: quantity.Celsius(low + 10), HasTemp: true, Rain: quantity.Millimetre(low), HasRain: rain})
	}
	return r
}

func says(r *Record, kind string) string {
	var text []string
	for _, n := range r.Notes {
		if n.Kind == kind {
			text = append(text, n.Says)
		}
	}
	return strings.Join(text, " ")
}

func TestMergeLaterWins(t *testing.T) {
	start := civil.Of(2020, 1, 1)
	grid := steady("grid", start, 100, 1, true)
	own := steady("own", start.Add(50), 100, 5, false)
	own.Days[10].HasTemp = false // a gap in the later one is filled from the earlier
	got, err := Merge(grid, own)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Days) != 150 || got.Days[0].Date != start || got.Station.ID != "own" || got.Source != "grid + own" || got.Origin != Measured {
		t.Errorf("got %d days from %s of %s, %s", len(got.Days), got.Days[0].Date, got.Station.ID, got.Source)
	}
	for i, want := range map[int]float64{0: 1, 49: 1, 50: 5, 60: 1, 61: 5, 149: 5} {
		if d := got.Days[i]; float64(d.Min) != want || float64(d.Max) != want+10 {
			t.Errorf("day %d has %v to %v, want %v", i, d.Min, d.Max, want)
		}
	}
	if d := got.Days[70]; !d.HasRain || d.Rain != 1 {
		t.Errorf("rain of day 70 should be the earlier record's: %+v", d)
	}
	if d := got.Days[120]; d.HasRain {
		t.Errorf("no record has rain on day 120: %+v", d)
	}
	if s := says(got, "merged"); !strings.Contains(s, "51 days from grid, 99 days from own") {
		t.Errorf("shares: %q", s)
	}
	if s := says(got, "missing"); !strings.Contains(s, "50 days have no rain in any source, the first 2020-04-10") {
		t.Errorf("missing: %q", s)
	}
}

func TestMergeTellsOfGaps(t *testing.T) {
	a := steady("a", civil.Of(2020, 1, 1), 10, 1, true)
	b := steady("a", civil.Of(2020, 2, 1), 10, 1, true)
	b.Station.Latitude = 2 // 222 km north of the other
	got, err := Merge(nil, b, a)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Days) != 41 || got.Days[20].HasTemp {
		t.Errorf("%d days, day 20 %+v", len(got.Days), got.Days[20])
	}
	if s := says(got, "missing"); !strings.Contains(s, "21 days have no temperature in any source, the first 2020-01-11; the longest hole is 21 days from 2020-01-11") {
		t.Errorf("missing: %q", s)
	}
	if s := says(got, "far"); !strings.Contains(s, "222 km (138 miles) apart") {
		t.Errorf("far: %q", s)
	}
	if says(got, "merged") != "" {
		t.Error("records of one source and station are told as two")
	}
}

func TestMergeRefusesNothing(t *testing.T) {
	empty := &Record{Days: []Day{{Date: 5}}}
	for _, records := range [][]*Record{nil, {nil}, {empty, nil}} {
		if _, err := Merge(records...); err == nil || !strings.Contains(err.Error(), "none of the records has a day") {
			t.Errorf("%v: %v", records, err)
		}
	}
	if _, err := Merge(steady("a", civil.Of(1500, 1, 1), 2, 0, true), steady("b", civil.Of(2020, 1, 1), 2, 0, true)); err == nil || !strings.Contains(err.Error(), "wrong date") {
		t.Errorf("five centuries: %v", err)
	}
	made := steady("made", 0, 3, 0, true)
	made.Origin = Generated
	if got, err := Merge(made, steady("own", 0, 3, 1, true)); err != nil || got.Origin != Generated {
		t.Errorf("a generated record among them: %v, %v", got.Origin, err)
	}
	ends := steady("ends", 100, 10, 0, true)
	ends.Days[0] = Day{Date: 100}
	ends.Days[9] = Day{Date: 109}
	if got, err := Merge(ends); err != nil || len(got.Days) != 8 || got.Days[0].Date != 101 {
		t.Errorf("empty ends are not left off: %v", err)
	}
}

func TestMergeGathersNotes(t *testing.T) {
	var years []*Record
	for y := 2000; y < 2008; y++ {
		r := steady("grid", civil.Of(y, 1, 1), 365+extraDay(y), 0, true)
		from, to := r.Days[0].Date, r.Days[len(r.Days)-1].Date
		r.Notes = []Note{{"gridded", from, to, "A model's values."}, {"flagged", from, to, fmt.Sprint(y, " values were left out.")}}
		years = append(years, r)
	}
	got, err := Merge(years...)
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, n := range got.Notes {
		said = append(said, n.Says)
	}
	want := []string{"A model's values.", "2000 values were left out.", "2001 values were left out.", "2002 values were left out.", `5 further notes of the kind "flagged", from 2003-01-01 to 2007-12-31.`}
	if strings.Join(said, "\n") != strings.Join(want, "\n") || got.Notes[0].To != civil.Of(2007, 12, 31) {
		t.Errorf("got %q to %s", said, got.Notes[0].To)
	}
}

func extraDay(year int) int {
	if civil.Leap(year) {
		return 1
	}
	return 0
}

// Laws: merging a record with itself changes nothing; every value of the last record stands; a value
// is there exactly where some record has it.
func TestLawsOfMerge(t *testing.T) {
	draw := rapid.Custom(func(t *rapid.T) *Record {
		r := steady(rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "name"), civil.Date(rapid.IntRange(18000, 18040).Draw(t, "from")), rapid.IntRange(1, 40).Draw(t, "days"), float64(rapid.IntRange(-20, 20).Draw(t, "low")), true)
		for i := range r.Days {
			r.Days[i].HasTemp, r.Days[i].HasRain = rapid.Bool().Draw(t, "temperature"), rapid.Bool().Draw(t, "rain")
		}
		r.Days[0].HasTemp = true
		return r
	})
	at := func(r *Record, d civil.Date) Day {
		if i := int(d - r.Days[0].Date); i >= 0 && i < len(r.Days) {
			return r.Days[i]
		}
		return Day{}
	}
	rapid.Check(t, func(t *rapid.T) {
		records := rapid.SliceOfN(draw, 1, 4).Draw(t, "records")
		got, err := Merge(records...)
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range got.Days {
			if d.Date != got.Days[0].Date.Add(i) {
				t.Fatalf("day %d is %s", i, d.Date)
			}
			var want Day
			for _, r := range records {
				if o := at(r, d.Date); o.HasTemp {
					want.Min, want.Max, want.HasTemp = o.Min, o.Max, true
				}
				if o := at(r, d.Date); o.HasRain {
					want.Rain, want.HasRain = o.Rain, true
				}
			}
			if d.HasTemp != want.HasTemp || d.HasRain != want.HasRain || d.HasTemp && (d.Min != want.Min || d.Max != want.Max) || d.HasRain && d.Rain != want.Rain {
				t.Fatalf("%s is %+v, want %+v", d.Date, d, want)
			}
		}
		again, err := Merge(got, got)
		if err != nil || fmt.Sprint(again.Days) != fmt.Sprint(got.Days) {
			t.Fatalf("merged with itself it changes: %v", err)
		}
	})
}

// The standard atmosphere's temperatures by height, as its table prints them (15 °C at the sea).
// Source: ICAO Doc 7488, Manual of the ICAO Standard Atmosphere, by geopotential height; to the
// printed tenth.
func TestStandardAtmosphere(t *testing.T) {
	for height, want := range map[quantity.Metre]float64{0: 15.0, 500: 11.75, 1000: 8.5, 2000: 2.0, 3000: -4.5, 5000: -17.5} {
		r := steady("sea", 0, 1, 15, true)
		if got := r.AtElevation(height, 0, quantity.Metric).Days[0].Min; math.Abs(float64(got)-want) > 1e-9 {
			t.Errorf("at %v m %.3f °C, want %.3f", float64(height), float64(got), want)
		}
	}
}

func TestElevation(t *testing.T) {
	r := steady("hill", civil.Of(2020, 1, 1), 3, 2, true)
	r.Station.Elevation = 612
	r.Days[1] = Day{Date: r.Days[1].Date} // a day without a reading stays one
	down := r.AtElevation(292, SmallStep, quantity.Metric)
	if got := float64(down.Days[0].Min); math.Abs(got-(2+0.0065*320)) > 1e-9 || down.Days[1].HasTemp || down.Days[1].Min != 0 || down.Days[0].Rain != 2 {
		t.Errorf("got %+v", down.Days)
	}
	if s := says(down, "elevation"); !strings.Contains(s, "hill was taken 320 m higher than the garden (612 m against 292 m") || !strings.Contains(s, "raised by 2.1 °C, 6.5 °C a kilometre") || !strings.Contains(s, "hollow") {
		t.Errorf("note: %q", s)
	}
	if r.Days[0].Min != 2 || len(r.Notes) != 0 {
		t.Error("the record handed in was changed")
	}
	if again := down.AtElevation(292, SmallStep, quantity.Metric); again != down {
		t.Error("it was corrected twice")
	}
	up := r.AtElevation(1612, SmallStep, quantity.Metric)
	if s := says(up, "elevation"); math.Abs(float64(up.Days[0].Max)-(12-6.5)) > 1e-9 || !strings.Contains(s, "1000 m lower") || !strings.Contains(s, "lowered by 6.5 °C") {
		t.Errorf("%v, %q", up.Days[0].Max, s)
	}
	little := r.AtElevation(570, SmallStep, quantity.Metric)
	if s := says(little, "elevation"); little.Days[0].Min != 2 || !strings.Contains(s, "42 m higher") || !strings.Contains(s, "too little") {
		t.Errorf("%v, %q", little.Days[0].Min, s)
	}
	r.Station.Levelled = false
	if r.AtElevation(0, 0, quantity.Metric) != r {
		t.Error("a record that does not say its height was corrected")
	}
}

// A minute of latitude is a nautical mile, 1.852 km; a sphere of the mean radius agrees to 0.2 %.
func TestDistance(t *testing.T) {
	s := Station{Located: true, Latitude: 40, Longitude: -75}
	for _, r := range []struct{ latitude, longitude, want float64 }{{41, -75, 60 * 1.852}, {40, -75, 0}, {-50, -75, 90 * 60 * 1.852}, {-40, 105, 180 * 60 * 1.852}} {
		if km, ok := s.Distance(r.latitude, r.longitude); !ok || math.Abs(km-r.want) > 0.002*r.want+1e-9 {
			t.Errorf("to %v, %v: %v km, want %v", r.latitude, r.longitude, km, r.want)
		}
	}
	if _, ok := (Station{}).Distance(0, 0); ok {
		t.Error("a station of no place has a distance")
	}
}

// 6.5 °C a kilometre is 3.57 °F a thousand feet (1 ft = 0.3048 m), 320 m are 1050 ft.
func TestElevationIsToldInUSUnits(t *testing.T) {
	r := &Record{Station: Station{Name: "hill", Elevation: 612, Levelled: true}, Days: []Day{{Date: 1, Min: 1, Max: 9, HasTemp: true}}}
	notes := r.AtElevation(292, SmallStep, quantity.US).Notes
	if s := notes[len(notes)-1].Says; !strings.Contains(s, "hill was taken 1050 ft higher") || !strings.Contains(s, "raised by 3.7 °F, 3.6 °F a thousand feet") {
		t.Error(s)
	}
}
