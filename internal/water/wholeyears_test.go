package water

import (
	"bufio"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// reference is a file of the folder of reference data, found beside the repository.
func reference(t testing.TB, parts ...string) string {
	t.Helper()
	dir, err := filepath.Abs(".")
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil || dir == filepath.Dir(dir) {
			break
		}
		dir = filepath.Dir(dir)
	}
	text, err := os.ReadFile(filepath.Join(append([]string{dir, "..", "shared", "reference"}, parts...)...))
	if err != nil {
		t.Skip("the folder of reference data is not here")
	}
	return string(text)
}

// agreement is how two series of days lie to each other.
type agreement struct {
	n                        int
	worst, bias, rmse, ratio float64
}

func agree(got, want []float64) agreement {
	a := agreement{n: len(got)}
	var sumGot, sumWant float64
	for i := range got {
		off := got[i] - want[i]
		a.worst = math.Max(a.worst, math.Abs(off))
		a.bias += off / float64(len(got))
		a.rmse += off * off / float64(len(got))
		sumGot += got[i]
		sumWant += want[i]
	}
	a.rmse, a.ratio = math.Sqrt(a.rmse), sumGot/sumWant
	return a
}

func number(text string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// station is a record with the evapotranspiration somebody else reckoned for it, by day.
func station(days []weather.Day, want []float64) (*weather.Record, []float64) {
	return &weather.Record{Days: days}, want
}

// maricopaRecord are the days of Maricopa 2003–2020 with Ref-ET's figures.
func maricopaRecord(t testing.TB) (*weather.Record, []float64) {
	var days []weather.Day
	var want []float64
	lines := bufio.NewScanner(strings.NewReader(reference(t, "weather", "records", "Maricopa_AZ_2003-2020.wth")))
	for lines.Scan() {
		f := strings.Fields(lines.Text())
		if len(f) != 12 || len(f[0]) != 8 || f[0][4] != '-' {
			continue
		}
		year, _ := strconv.Atoi(f[0][:4])
		n, err := strconv.Atoi(f[0][5:])
		if err != nil {
			continue
		}
		v := make([]float64, len(f))
		for i := range f {
			v[i] = number(f[i])
		}
		d := weather.Day{Date: civil.Of(year, 1, 1).Add(n - 1), Max: quantity.Celsius(v[2]), Min: quantity.Celsius(v[3]), HasTemp: v[2] >= v[3],
			Radiation: quantity.MegajoulePerSquareMetre(v[1]), HasRadiation: v[1] > 0, Rain: quantity.Millimetre(v[9]), HasRain: true}
		d.Air = weather.AirOf(weather.HasDewPoint|weather.HasHumidityMin|weather.HasHumidityMax|weather.HasWind, [6]float64{v[5], v[7], v[6], 0, weather.WindAtTwoMetres(v[8], 3), 0})
		days, want = append(days, d), append(want, v[10])
	}
	return station(days, want)
}

// deBiltRecord are the days of De Bilt 1990–2019 with KNMI's own reference crop evaporation (Makkink).
func deBiltRecord(t testing.TB) (*weather.Record, []float64) {
	var days []weather.Day
	var want []float64
	lines := bufio.NewScanner(strings.NewReader(reference(t, "weather", "records", "DeBilt_NL_1980-2019.txt")))
	for lines.Scan() {
		f := strings.Split(lines.Text(), ",")
		if len(f) != 41 || strings.TrimSpace(f[0]) != "260" {
			continue
		}
		day := strings.TrimSpace(f[1])
		y, _ := strconv.Atoi(day[:4])
		m, _ := strconv.Atoi(day[4:6])
		dd, _ := strconv.Atoi(day[6:])
		if y < 1990 {
			continue
		}
		at := func(i int) float64 { return number(f[i]) }
		d := weather.Day{Date: civil.Of(y, m, dd), Min: quantity.Celsius(at(12) / 10), Max: quantity.Celsius(at(14) / 10), HasTemp: true,
			Rain: quantity.Millimetre(max(0, at(22)) / 10), HasRain: true}
		if q := at(20); q >= 0 {
			d.Radiation, d.HasRadiation = quantity.MegajoulePerSquareMetre(q/100), true
		}
		d.Air = weather.AirOf(weather.HasHumidityMin|weather.HasHumidityMax|weather.HasHumidityMean|weather.HasWind|weather.HasSunshine,
			[6]float64{0, at(38), at(36), at(35), weather.WindAtTwoMetres(at(4)/10, 10), max(0, at(18)) / 10})
		days, want = append(days, d), append(want, at(40)/10)
	}
	return station(days, want)
}

// without is a record of which less was measured.
func without(r *weather.Record, radiation bool, air weather.AirParts) *weather.Record {
	out := &weather.Record{Days: append([]weather.Day(nil), r.Days...)}
	for i := range out.Days {
		d := &out.Days[i]
		d.HasRadiation = d.HasRadiation && !radiation
		d.Air = weather.AirOf(d.Air.Has&^air, d.Air.Values())
	}
	return out
}

const everything = 1<<6 - 1

func plainDays(e Evaporation) []float64 {
	out := make([]float64, len(e.Days))
	for i, d := range e.Days {
		out[i] = float64(d)
	}
	return out
}

// monthly are the sums of calendar months.
func monthly(r *weather.Record, v []float64) (out []float64) {
	last := -1
	for i, d := range r.Days {
		if m := int(d.Date.Month()); m != last {
			out, last = append(out, 0), m
		}
		out[len(out)-1] += v[i]
	}
	return out
}

// TestMaricopaWholeYears: Ref-ET's figures of 18 years in the desert, day by day: 0.1 mm and a root mean square error of
// 0.03. Temperature alone gives the sum within a tenth; FAO-56 (chapter 3) promises no more than that its estimates
// are better than other formulas.
func TestMaricopaWholeYears(t *testing.T) {
	r, want := maricopaRecord(t)
	if len(r.Days) != 6575 {
		t.Fatalf("%d days", len(r.Days))
	}
	e := Evaporate(maricopa, r)
	a := agree(plainDays(e), want)
	t.Logf("%d days, bias %+.3f, root mean square error %.4f, worst %.3f mm; %s %v", a.n, a.bias, a.rmse, a.worst, e.Count.Says(), e.Notes)
	if a.worst > 0.1 || a.rmse > 0.03 {
		t.Errorf("worst %.3f, root mean square error %.4f mm", a.worst, a.rmse)
	}
	arid := PlaceOf(maricopa.Latitude, maricopa.Elevation, r)
	if arid.DewBelow != dewBelow {
		t.Error("the desert does not count as dry country")
	}
	bare := Evaporate(arid, without(r, true, everything))
	b := agree(plainDays(bare), want)
	m := agree(monthly(r, plainDays(bare)), monthly(r, want))
	t.Logf("temperature alone: sum %.3f of Ref-ET's, daily rmse %.2f, monthly rmse %.1f mm", b.ratio, b.rmse, m.rmse)
	if math.Abs(b.ratio-1) > 0.1 {
		t.Errorf("temperature alone gives %.3f of the sum", b.ratio)
	}
}

// TestDeBiltWholeYears: KNMI's Makkink evaporation for 30 years of a humid coast. That is another formula, of radiation
// and temperature alone: Penman and Monteith's stays above it, in winter most, and its months follow within 10 mm. With less
// and less measured the sum stays where it is within a tenth.
func TestDeBiltWholeYears(t *testing.T) {
	r, makkink := deBiltRecord(t)
	if len(r.Days) != 10957 {
		t.Fatalf("%d days", len(r.Days))
	}
	p := PlaceOf(52.10, 2, r)
	if p.DewBelow != 0 {
		t.Error("De Bilt counts as dry country")
	}
	var again, printed []float64 // KNMI's own figure from our slope and constants, printed to 0.1 mm
	for i, d := range r.Days {
		if d.HasRadiation && d.HasTemp {
			again, printed = append(again, makkink1(d)), append(printed, makkink[i])
		}
	}
	own := agree(again, printed)
	t.Logf("Makkink again: bias %+.3f, root mean square error %.3f, worst %.2f mm", own.bias, own.rmse, own.worst)
	if own.rmse > 0.06 || own.worst > 0.4 {
		t.Errorf("Makkink from our slope: root mean square error %.3f, worst %.2f mm", own.rmse, own.worst)
	}
	full := Evaporate(p, r)
	want := plainDays(full)
	k := agree(want, makkink)
	km := agree(monthly(r, want), monthly(r, makkink))
	t.Logf("Makkink: sum %.3f, daily rmse %.2f, monthly rmse %.1f mm; notes %v", k.ratio, k.rmse, km.rmse, full.Notes)
	if k.ratio < 1 || k.ratio > 1.2 || km.rmse > 10 {
		t.Errorf("beside Makkink: sum %.3f, months %.1f mm off", k.ratio, km.rmse)
	}
	for _, c := range []struct {
		name      string
		radiation bool
		air       weather.AirParts
	}{
		{"sunshine in the place of radiation", true, 0},
		{"the greatest humidity alone", false, weather.HasHumidityMin | weather.HasHumidityMean},
		{"the mean humidity alone", false, weather.HasHumidityMin | weather.HasHumidityMax},
		{"no humidity", false, weather.HasHumidityMin | weather.HasHumidityMax | weather.HasHumidityMean},
		{"no wind", false, weather.HasWind},
		{"no radiation and no sunshine", true, weather.HasSunshine},
		{"temperature alone", true, everything},
	} {
		less := without(r, c.radiation, c.air)
		e := Evaporate(p, less)
		a := agree(plainDays(e), want)
		m := agree(monthly(r, plainDays(e)), monthly(r, want))
		t.Logf("%s: sum %.3f, daily rmse %.2f, monthly rmse %.1f mm", c.name, a.ratio, a.rmse, m.rmse)
		if math.Abs(a.ratio-1) > 0.1 {
			t.Errorf("%s: the sum is %.3f of that with everything", c.name, a.ratio)
		}
	}
}

func BenchmarkPenmanMonteithFortyYears(b *testing.B) {
	r := invented(40 * 365)
	b.ResetTimer()
	for b.Loop() {
		Evaporate(maricopa, r)
	}
}

// invented are days of invented weather, with everything measured.
func invented(days int) *weather.Record {
	r := &weather.Record{}
	for i := range days {
		season := math.Sin(2 * math.Pi * float64(i-100) / 365.25)
		wet := 0.0
		if i%5 == 0 {
			wet = float64(i % 13)
		}
		r.Days = append(r.Days, weather.Day{Date: civil.Of(1981, 1, 1).Add(i), Min: quantity.Celsius(5 + 9*season), Max: quantity.Celsius(15 + 11*season), HasTemp: true,
			Rain: quantity.Millimetre(wet), HasRain: true, Radiation: quantity.MegajoulePerSquareMetre(13 + 9*season), HasRadiation: true,
			Air: weather.AirOf(everything, [6]float64{4 + 9*season, 45, 90, 70, 2, 6})})
	}
	return r
}

// makkink1 is Makkink's evaporation as KNMI reckons it: 0.65·Δ/(Δ+γ) of the radiation as water, with the mean of minimum and
// maximum in the place of the mean of 24 hours.
func makkink1(d weather.Day) float64 {
	mean := (d.Min + d.Max) / 2
	slope := SaturationSlope(mean)
	return 0.65 * slope / (slope + Psychrometric(101.3)) * float64(d.Radiation) * MillimetresPerMegajoule
}
