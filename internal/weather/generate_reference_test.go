package weather

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// measuredPlace is a built-in place whose daily record lies beside the repository.
type measuredPlace struct {
	id, file    string
	first, last int
}

var measuredPlaces = []measuredPlace{
	{"bozeman", "USC00241044.dly", 1989, 2018},
	{"burlington", "USW00014742.dly", 1989, 2018},
	{"corvallis", "USC00351862.dly", 1989, 2018},
	{"davis", "USC00042294.dly", 1989, 2018},
	{"de-bilt", "DeBilt_NL_1980-2019.txt", 1990, 2019},
	{"el-paso", "USW00023044.dly", 1989, 2018},
	{"fort-collins", "USC00053005.dly", 1989, 2018},
	{"gatton", "Gatton_QLD_1961-2007.met", 1977, 2006},
	{"ithaca", "USC00304174.dly", 1989, 2018},
	{"morris", "USC00215638.dly", 1989, 2018},
	{"new-york", "USW00094728.dly", 1989, 2018},
	{"tallahassee", "USW00093805.dly", 1989, 2018},
	{"urbana", "USC00118740.dly", 1989, 2018},
	{"wagga-wagga", "WaggaWagga_NSW_1940-2008.met", 1979, 2008},
}

// record reads the place's daily record and cuts it to its years.
func (p measuredPlace) record(t testing.TB) *Record {
	t.Helper()
	if strings.HasSuffix(p.file, ".dly") {
		return cut(readReference(t, "weather", "records", p.file), p.first, p.last)
	}
	text, err := os.ReadFile(reference(t, "weather", "records", p.file))
	if err != nil {
		t.Skipf("%v", err)
	}
	r := &Record{}
	for line := range strings.Lines(string(text)) {
		var d Day
		if strings.HasSuffix(p.file, ".txt") { // KNMI: station, date, …, TN in column 12 from 0, TX in 14, RH in 22; tenths
			f := strings.Split(line, ",")
			var date, low, high, rain int
			if len(f) < 25 {
				continue
			}
			if n, _ := fmt.Sscan(f[1]+" "+f[12]+" "+f[14]+" "+f[22], &date, &low, &high, &rain); n != 4 {
				continue
			}
			d = Day{Date: civil.Of(date/10000, date/100%100, date%100), Min: quantity.Celsius(low) / 10, Max: quantity.Celsius(high) / 10, Rain: max(0, quantity.Millimetre(rain)/10)}
		} else {
			var year, day int
			var light, high, low, rain float64
			if n, _ := fmt.Sscan(line, &year, &day, &light, &high, &low, &rain); n != 6 {
				continue
			}
			d = Day{Date: civil.Of(year, 1, 1).Add(day - 1), Min: quantity.Celsius(low), Max: quantity.Celsius(high), Rain: quantity.Millimetre(rain)}
		}
		d.HasTemp, d.HasRain = true, true
		r.Days = append(r.Days, d)
	}
	return cut(r, p.first, p.last)
}

// yearlyLows are the coldest minimum of each scenario year, ascending.
func yearlyLows(years []Scenario) []float64 {
	var out []float64
	for _, y := range years {
		low := math.Inf(1)
		for _, v := range y.Min {
			low = min(low, float64(v))
		}
		out = append(out, low)
	}
	slices.Sort(out)
	return out
}

// middling is the value at a share of an ascending list.
func middling(values []float64, share float64) float64 {
	return values[int(share*float64(len(values)-1)+0.5)]
}

// frostColumn is a figure of frost dates: which end of the season, and with what chance.
type frostColumn struct {
	name    string
	percent float64
	of      func(Frost, float64) Chance
	none    func(Frost) int
}

func frostColumns() (out []frostColumn) {
	for _, percent := range []float64{10, 50, 90} {
		out = append(out, frostColumn{"spring", percent, Frost.LaterThan, func(f Frost) int { return f.SpringNone }},
			frostColumn{"autumn", percent, Frost.EarlierThan, func(f Frost) int { return f.AutumnNone }})
	}
	return out
}

// Generated years against the measured ones they stand for: fourteen places, last and first days at or below 0, −2.2 and
// −4.4 °C with a chance of 10, 50 and 90 %, and the coldest night of the year. A record of 25 to 30 years gives such a date with an
// error of its own, told here by as many generated years at a time: a date may be off by three such errors and five days. Over the
// places a column may lean by no more than six days, and be off by six in the mean; the coldest nights by 2 °C, 0.8 in the mean.
func TestGeneratedFrostsAgainstMeasured(t *testing.T) {
	misses, order := map[string][]float64{}, []string{}
	note := func(column string, miss float64) {
		if misses[column] == nil {
			order = append(order, column)
		}
		misses[column] = append(misses[column], miss)
	}
	for _, p := range measuredPlaces {
		c := climate(t, p.id)
		season := civil.SeasonOf(2027, c.Latitude)
		measured, _, err := p.record(t).Scenarios(season, 0, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		generated, _, _ := Generate(c, 2001, 400, 11).Scenarios(season, 0, 0, 0)
		line := fmt.Sprintf("%-12s", p.id)
		for _, threshold := range []quantity.Celsius{0, -2.2, -4.4} {
			a, b := FrostOf(season, 0, measured, threshold), FrostOf(season, 0, generated, threshold)
			line += fmt.Sprintf(" | %g °C:", float64(threshold))
			for _, k := range frostColumns() {
				share, ours := float64(k.none(a))/float64(a.Years), float64(k.none(b))/float64(b.Years)
				if sampling := math.Sqrt(ours * (1 - ours) / float64(a.Years)); math.Abs(share-ours) > 3*sampling+0.08 {
					t.Errorf("%s: %.0f %% of the years have no %s frost of %g °C, of the measured %.0f %%", p.id, 100*ours, k.name, float64(threshold), 100*share)
				}
				was, is := k.of(a, k.percent), k.of(b, k.percent)
				if was.None || is.None {
					continue
				}
				miss := float64(is.Date.Since(was.Date))
				line += fmt.Sprintf(" %s %.0f%% %+.0f", k.name, k.percent, miss)
				note(fmt.Sprintf("%4g °C %s %.0f %%", float64(threshold), k.name, k.percent), miss)
				if own := errorOf(season, generated, threshold, k, len(measured)); math.Abs(miss) > 3*own+5 {
					t.Errorf("%s: the %s date of %g °C at %.0f %% is off by %+.0f days; a record's own error is %.0f", p.id, k.name, float64(threshold), k.percent, miss, own)
				}
			}
		}
		line += " | coldest night"
		was, is := yearlyLows(measured), yearlyLows(generated)
		for _, share := range []float64{0.1, 0.5, 0.9} {
			miss := middling(is, share) - middling(was, share)
			line += fmt.Sprintf(" %.1f (%+.1f)", middling(was, share), miss)
			note(fmt.Sprintf("coldest night %.0f %%", 100*share), miss)
			if math.Abs(miss) > 2 {
				t.Errorf("%s: the coldest night at %.0f %% is off by %+.1f °C", p.id, 100*share, miss)
			}
		}
		t.Log(line)
	}
	for _, column := range order {
		sum, absolute := 0.0, 0.0
		for _, miss := range misses[column] {
			sum, absolute = sum+miss, absolute+math.Abs(miss)
		}
		n := float64(len(misses[column]))
		t.Logf("%-24s %2.0f places, leans %+.1f, off by %.1f", column, n, sum/n, absolute/n)
		most := 6.0
		if strings.HasPrefix(column, "coldest") {
			most = 0.8
		}
		if math.Abs(sum/n) > most || absolute/n > most {
			t.Errorf("%s leans by %+.1f and is off by %.1f in the mean of the places", column, sum/n, absolute/n)
		}
	}
}

// errorOf is by how many days a date varies between records of so many years.
func errorOf(season civil.Season, generated []Scenario, threshold quantity.Celsius, k frostColumn, years int) float64 {
	middle := k.of(FrostOf(season, 0, generated, threshold), k.percent).Date
	sum, n := 0.0, 0.0
	for at := 0; at+years <= len(generated); at += years {
		if c := k.of(FrostOf(season, 0, generated[at:at+years], threshold), k.percent); !c.None {
			sum, n = sum+math.Pow(float64(c.Date.Since(middle)), 2), n+1
		}
	}
	return math.Sqrt(sum / max(n, 1))
}

// The typed shapes are those of the records, to the digits typed.
func TestShapesAreTheRecords(t *testing.T) {
	for _, p := range measuredPlaces {
		got, want := climate(t, p.id).Shape, measuredShape(p.record(t))
		for m := range 12 {
			for k := range knots {
				if math.Abs(got.Min[k][m]-want.Min[k][m]) > 0.051 || math.Abs(got.Max[k][m]-want.Max[k][m]) > 0.051 {
					t.Errorf("%s month %d, knot %d: %.1f and %.1f, the record has %.2f and %.2f", p.id, m+1, k, got.Min[k][m], got.Max[k][m], want.Min[k][m], want.Max[k][m])
				}
			}
			a, b := got.Links[m], want.Links[m]
			for _, d := range []float64{a.sameDay - b.sameDay, a.maxAfterMax - b.maxAfterMax, a.maxAfterMin - b.maxAfterMin, a.minAfterMax - b.minAfterMax, a.minAfterMin - b.minAfterMin} {
				if math.Abs(d) > 0.0051 {
					t.Errorf("%s month %d: %+v, the record has %+v", p.id, m+1, a, b)
				}
			}
		}
		if math.Abs(got.SlowShare-want.SlowShare) > 0.0051 {
			t.Errorf("%s: slow share %.2f, the record has %.3f", p.id, got.SlowShare, want.SlowShare)
		}
	}
}
