package soil

import (
	"strings"
	"testing"

	"kailyard/internal/garden"
)

func ptr[T any](v T) *T { return &v }

// TestCheck: slips of typing are refused in a sentence that says what was meant.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		test garden.SoilTest
		want string // part of the sentence; empty: it can be kept
	}{
		{garden.SoilTest{PH: ptr(6.2)}, ""},
		{garden.SoilTest{PH: ptr(5.4), Salt: true, Buffer: ptr(6.4), Method: garden.SMP}, ""},
		{garden.SoilTest{}, "no reading"},
		{garden.SoilTest{PH: ptr(14.0)}, "not one that ground has"},
		{garden.SoilTest{PH: ptr(65.0)}, "point missing, 6.5"},
		{garden.SoilTest{PH: ptr(645.0)}, "point missing, 6.45"},
		{garden.SoilTest{PH: ptr(-1.0)}, "not a pH"},
		{garden.SoilTest{PH: ptr(6.0), Buffer: ptr(5.6), Method: garden.SMP}, "below the soil's own"},
		{garden.SoilTest{PH: ptr(5.0), Buffer: ptr(6.5)}, "method"},
		{garden.SoilTest{PH: ptr(5.0), Buffer: ptr(6.5), Method: "litmus"}, "method"},
		{garden.SoilTest{PH: ptr(5.0), Buffer: ptr(6.5), Method: garden.AdamsEvans}, "reads from"},
		{garden.SoilTest{PH: ptr(6.0), Organic: ptr(140.0)}, "organic matter"},
		{garden.SoilTest{PH: ptr(6.0), Salts: ptr(1.2)}, "how they were measured"},
		{garden.SoilTest{PH: ptr(6.0), Depth: 15}, "not topsoil"},
		{garden.SoilTest{PH: ptr(6.0), Elements: []garden.Reading{{Element: garden.Phosphorus, Value: 40000, Unit: garden.PPM, Extractor: garden.Mehlich3}}}, "ppm or lb/acre"},
		{garden.SoilTest{PH: ptr(6.0), Elements: []garden.Reading{{Element: garden.Phosphorus, Value: 40, Unit: garden.PPM, Extractor: "vinegar"}}}, "vinegar"},
		{garden.SoilTest{Kit: true, Elements: []garden.Reading{{Element: garden.Nitrogen, Value: 20, Unit: garden.PPM, Extractor: garden.HomeKit}}}, "as a class, not a number"},
		{garden.SoilTest{Kit: true, PH: ptr(6.5), Elements: []garden.Reading{{Element: garden.Phosphorus, Class: garden.Low, Extractor: garden.HomeKit}}}, ""},
	} {
		err := Check(c.test)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%+v: got %v, want %q", c.test, err, c.want)
		}
	}
}

// TestAlarms: lead over the lowest limit and salts over 4 dS/m stop the work; both send to a local office.
func TestAlarms(t *testing.T) {
	for lead, stop := range map[float64]bool{30: false, 80: false, 120: true, 500: true} {
		alarms := AlarmsOf(garden.SoilTest{Lead: ptr(lead)})
		stops := len(alarms) > 0 && alarms[0].Stop
		if stops != stop || stop && !strings.Contains(alarms[0].Says, "local health or extension office") {
			t.Errorf("lead %g: %+v", lead, alarms)
		}
	}
	if a := AlarmsOf(garden.SoilTest{Salts: ptr(0.5), SaltsBy: garden.OneToFive, Texture: garden.Loam}); len(a) != 1 || !a[0].Stop {
		t.Errorf("0.5 dS/m at 1:5 is about 5 in paste: %+v", a)
	}
	if a := AlarmsOf(garden.SoilTest{Salts: ptr(1.0), SaltsBy: garden.SaturatedPaste}); len(a) != 0 {
		t.Errorf("%+v", a)
	}
}

// TestPHWord: the classes of reaction of USDA's soil survey manual (from memory): 4.5–5.0 very strongly, 5.1–5.5 strongly,
// 5.6–6.0 moderately, 6.1–6.5 slightly acid, 6.6–7.3 neutral, 7.4–7.8 slightly, 7.9–8.4 moderately, 8.5–9.0 strongly alkaline.
func TestPHWord(t *testing.T) {
	for ph, want := range map[float64]string{4.4: "extremely acid", 4.5: "very strongly acid", 5.1: "strongly acid", 6.0: "moderately acid", 6.5: "slightly acid",
		6.6: "neutral", 7.3: "neutral", 7.4: "slightly alkaline", 8.4: "moderately alkaline", 8.5: "strongly alkaline", 9.1: "very strongly alkaline"} {
		if got := PHWord(ph); got != want {
			t.Errorf("pH %g: %s, want %s", ph, got, want)
		}
	}
	if ph, ok := InWater(garden.SoilTest{PH: ptr(5.4), Salt: true}); !ok || ph != 6.0 {
		t.Errorf("5.4 in calcium chloride: %g", ph)
	}
}
