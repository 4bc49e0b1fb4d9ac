package water

import (
	"strings"
	"testing"

	"kailyard/internal/quantity"
)

// Radiation above a clear sky's on a few days is taken as a clear sky's and told with its day; a whole record of it is
// another unit, and told with what to do.
func TestRadiationAboveClearSky(t *testing.T) {
	r := invented(400)
	r.Days[200].Radiation, r.Days[210].Radiation = 44, 47
	e := Evaporate(maricopa, r)
	if e.Count.Above != 2 || len(e.Notes) != 1 || !strings.Contains(e.Notes[0].Says, "first 1981-07-20") || !strings.Contains(e.Notes[0].Says, "47.0") {
		t.Errorf("%d days, %+v", e.Count.Above, e.Notes)
	}
	if day, clear := float64(e.Days[200]), float64(Evaporate(maricopa, invented(400)).Days[200]); day <= clear || day > 1.6*clear {
		t.Errorf("%.2f mm on the day above the clear sky, %.2f without", day, clear)
	}
	for i := range r.Days {
		r.Days[i].Radiation *= 3.6
		r.Days[i].Radiation = min(r.Days[i].Radiation, 50)
	}
	e = Evaporate(maricopa, r)
	if e.Count.Radiation[SolarSunshine] != 400 || len(e.Notes) != 1 || !strings.Contains(e.Notes[0].Says, "radiation_kwh_m2") {
		t.Errorf("%+v %+v", e.Count, e.Notes)
	}
}

func TestWhatWasMeasuredIsTold(t *testing.T) {
	r := invented(100)
	if says := Evaporate(maricopa, r).Count.Says(); says != "Radiation: measured. Humidity: from the dew point. Wind: measured." {
		t.Error(says)
	}
	bare := without(r, true, everything)
	if says := Evaporate(maricopa, bare).Count.Says(); !strings.Contains(says, "Nothing but temperature") {
		t.Error(says)
	}
	for i := range 40 {
		bare.Days[i] = r.Days[i]
	}
	if says := Evaporate(maricopa, bare).Count.Says(); !strings.Contains(says, "measured on 40 of 100 days, estimated from the range of temperature on 60 of 100 days") {
		t.Error(says)
	}
	bare.Days[3].HasTemp = false
	if e := Evaporate(maricopa, bare); e.Known[3] || e.Days[3] != 0 || e.Count.Days != 99 {
		t.Error("a day without temperature has evaporation")
	}
	if e := Evaporate(maricopa, nil); len(e.Days) != 0 || e.Count.Says() == "" {
		t.Error("no record")
	}
}

// Mirrored hemispheres half a year apart agree within the earth's nearness to the sun in January; more sun, more wind and
// drier air never take less; and nothing gives a number that is none, nor less than nothing.
func TestReferenceLaws(t *testing.T) {
	for _, latitude := range []float64{-70, -45, -20, 0, 20, 45, 70, 89} {
		p := Place{Latitude: latitude, Elevation: 300}
		for day := 1; day <= 366; day += 5 {
			for _, low := range []quantity.Celsius{-40, -5, 10, 30} {
				et := float64(p.OfTemperature(low, low+12, day))
				if !(et >= 0 && et < 20) {
					t.Fatalf("%g°, day %d, %g °C: %g mm", latitude, day, float64(low), et)
				}
			}
		}
		north, south := Place{Latitude: latitude}, Place{Latitude: -latitude}
		if a, b := float64(north.OfTemperature(8, 20, 100)), float64(south.OfTemperature(8, 20, 100+183)); a > 0.5 && (a/b < 0.9 || a/b > 1.1) {
			t.Errorf("%g°: %.2f mm in the north, %.2f half a year later in the south", latitude, a, b)
		}
	}
	base := Air{Low: 10, High: 24, Vapour: 1.2, Wind: 2, Net: 12, Psychro: 0.066}
	for name, change := range map[string]func(*Air){
		"more sun": func(a *Air) { a.Net += 2 }, "more wind": func(a *Air) { a.Wind++ }, "drier air": func(a *Air) { a.Vapour -= 0.2 },
	} {
		more := base
		change(&more)
		if more.Reference() <= base.Reference() {
			t.Errorf("%s takes %.2f mm, without %.2f", name, float64(more.Reference()), float64(base.Reference()))
		}
	}
}
