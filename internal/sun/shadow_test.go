package sun

import (
	"math"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// noonOf is the sun at its noon, as seen.
func noonOf(latitude float64, d civil.Date) Position {
	return At(latitude, 0, ArcOf(latitude, 0, d).Noon)
}

// TestNoonShadow: at noon a post's shadow is its height × tan(latitude − declination) long and points north (south of the
// sun's own latitude: south). Declination ±23.44° and 0° at solstices and equinoxes; the noon of the day is up to half a day
// off the moment itself, 0.2° of declination at the equinoxes.
func TestNoonShadow(t *testing.T) {
	for _, c := range []struct {
		latitude    float64
		day         civil.Date
		declination float64
	}{
		{40, civil.Of(2025, 6, 21), 23.44}, {40, civil.Of(2025, 12, 21), -23.44}, {40, civil.Of(2025, 3, 20), 0},
		{55, civil.Of(2025, 6, 21), 23.44}, {55, civil.Of(2025, 9, 22), 0.1}, {10, civil.Of(2025, 6, 21), 23.44}, {-35, civil.Of(2025, 12, 21), -23.44},
	} {
		r, lit := Scene{}.towards(noonOf(c.latitude, c.day), [2]float64{})
		want := math.Tan((c.latitude - c.declination) * degree)
		if !lit || math.Abs(r.north-want) > 0.006*(1+want*want) || math.Abs(r.east) > 0.001 {
			t.Errorf("%g° on %s: a metre's shadow goes %.4f m north and %.4f m east, want %.4f and 0", c.latitude, c.day, r.north, r.east, want)
		}
	}
}

// TestWallAtEquinox: at the equinox the end of a shadow goes along a straight line from west to east. Ground north of a
// long wall that runs east and west is therefore in the shade all day within height × tan(latitude), and never beyond.
func TestWallAtEquinox(t *testing.T) {
	const latitude, height = 45, 2
	s := Scene{Things: []Thing{{Shape: box(0, -0.05, 4000, 0.1, 90, height, 0)}}}
	g := Grid{SouthWest: Spot{-0.5, 0}, Cell: 0.1, Columns: 1, Rows: 40}
	// The declination is 0 only for a moment and the air lifts a low sun, so that the line bends where the sun is low: from 15° up.
	steps := Steps(latitude, 0, civil.Of(2025, 3, 20), 5, 15)
	hours := s.Shine(g, [][]Step{steps}).Hours[0]
	all := 0.0
	for _, step := range steps {
		all += step.Hours
	}
	for row, got := range hours {
		north := (float64(row) + 0.5) * 0.1
		switch reach := height * math.Tan(latitude*degree); {
		case north < reach-0.1 && got != 0:
			t.Errorf("%.2f m north of the wall: %.2f h of sun, want none", north, got)
		case north > reach+0.1 && math.Abs(float64(got)-all) > 0.01:
			t.Errorf("%.2f m north of the wall: %.2f h of sun, want all %.2f", north, got, all)
		}
	}
}

// TestHighWallAtMidsummer: right behind a high wall that runs east and west the sun comes only while it is north of east and
// west. It passes due east and west at an hour angle with cos H = tan δ / tan φ, and at altitude with sin h = sin δ / sin φ.
func TestHighWallAtMidsummer(t *testing.T) {
	const latitude = 50
	s := Scene{Things: []Thing{{Shape: box(0, -0.05, 1e5, 0.1, 90, 200, 0)}}}
	day := civil.Of(2025, 6, 21)
	steps := Steps(latitude, 0, day, 1, 0)
	got := s.Shine(Grid{Cell: 0.1, Columns: 1, Rows: 1}, [][]Step{steps}).Hours[0][0]
	want := -2 * math.Acos(math.Tan(23.44*degree)/math.Tan(latitude*degree)) / (15 * degree) // all day but while it is south
	for _, step := range steps {
		want += step.Hours
	}
	if math.Abs(float64(got)-want) > 0.05 {
		t.Errorf("%.3f h of sun, want %.3f", got, want)
	}
}

// TestCrownsShadow: a round crown of radius r, its middle at height m, throws at altitude h an ellipse r wide and r / sin h
// long, its middle m / tan h away, of area π r² / sin h.
func TestCrownsShadow(t *testing.T) {
	for _, altitude := range []float64{15, 30, 60, 89} {
		for _, azimuth := range []float64{180, 135, 77} {
			const radius, middle = 3.0, 6.0
			s := Scene{Things: []Thing{{Shape: Crown{Middle: Spot{50, 50}, Radius: radius, Bottom: middle - radius, Top: middle + radius}}}}
			g := Grid{Cell: 0.1, Columns: 1000, Rows: 1000}
			hours := s.Shine(g, [][]Step{{{Sun: Position{altitude, azimuth}, Hours: 1}}}).Hours[0]
			var n, east, north float64
			for i, h := range hours {
				if h == 0 {
					at := g.Middle(i%g.Columns, i/g.Columns)
					n, east, north = n+1, east+float64(at.East)-50, north+float64(at.North)-50
				}
			}
			sin, cos := math.Sincos(azimuth * degree)
			away := middle / math.Tan(altitude*degree)
			area := math.Pi * radius * radius / math.Sin(altitude*degree)
			if math.Abs(n*0.01-area) > 0.01*area {
				t.Errorf("sun %g° high: a shadow of %.2f m², want %.2f", altitude, n*0.01, area)
			}
			if math.Abs(east/n+away*sin) > 0.02 || math.Abs(north/n+away*cos) > 0.02 {
				t.Errorf("sun %g° high at %g°: the shadow's middle is %.2f m east, %.2f m north, want %.2f, %.2f", altitude, azimuth, east/n, north/n, -away*sin, -away*cos)
			}
		}
	}
}

// TestConesShadow: a cone with the sun lower than its flanks throws its bottom's circle and a triangle to the tip; with w
// the tip's distance in radii, the area is π − acos(1/w) + √(w² − 1) radii².
func TestConesShadow(t *testing.T) {
	const radius, bottom, top, altitude = 2.0, 1.0, 7.0, 35.0
	s := Scene{Things: []Thing{{Shape: Crown{Middle: Spot{20, 20}, Radius: radius, Bottom: bottom, Top: top, Cone: true}}}}
	g := Grid{Cell: 0.05, Columns: 800, Rows: 800}
	n := 0
	for _, h := range s.Shine(g, [][]Step{{{Sun: Position{altitude, 200}, Hours: 1}}}).Hours[0] {
		if h == 0 {
			n++
		}
	}
	w := (top - bottom) / math.Tan(altitude*degree) / radius
	want := radius * radius * (math.Pi - math.Acos(1/w) + math.Sqrt(w*w-1))
	if got := float64(n) * 0.05 * 0.05; math.Abs(got-want) > 0.01*want {
		t.Errorf("a shadow of %.3f m², want %.3f", got, want)
	}
}

// TestVeils: what stands behind two veils gets the product of what they let through.
func TestVeils(t *testing.T) {
	s := Scene{Things: []Thing{
		{box(5, -0.1, 100, 0.2, 90, 50, 0), []float64{0.5}}, {box(5, -1, 100, 0.2, 90, 50, 0), []float64{0.4}},
	}}
	got := s.Shine(Grid{Cell: 1, Columns: 1, Rows: 1}, [][]Step{{{Sun: Position{30, 180}, Hours: 1, Beam: 2}}})
	if math.Abs(float64(got.Hours[0][0])-0.2) > 0.002 || math.Abs(float64(got.Beam[0][0])-0.4) > 0.002 {
		t.Errorf("%v h and %v of light, want 0.2 and 0.4", got.Hours[0][0], got.Beam[0][0])
	}
}

// TestMoreShadeNeverMoreSun: a law. Each thing added, made taller or denser takes sun from some cells and gives it to none.
func TestMoreShadeNeverMoreSun(t *testing.T) {
	s, g := suburb()
	g.Cell, g.Columns, g.Rows = 1, 30, 20
	days := [][]Step{Steps(45, 0, civil.Of(2027, 4, 20), 15, Faint)}
	before := Scene{Turn: s.Turn, Slope: s.Slope, Aspect: s.Aspect, Horizon: s.Horizon}
	last := before.Shine(g, days).Hours[0]
	for _, thing := range s.Things {
		before.Things = append(before.Things, thing)
		now := before.Shine(g, days).Hours[0]
		for i := range now {
			if now[i] > last[i]+1e-4 {
				t.Fatalf("cell %d has %.3f h after a thing was added, %.3f before", i, now[i], last[i])
			}
		}
		last = now
	}
}

func TestHorizon(t *testing.T) {
	h := Horizon{{350, 10}, {10, 20}, {180, 5}}
	for bearing, want := range map[float64]float64{350: 10, 10: 20, 0: 15, 355: 12.5, 180: 5, 95: 12.5, 720: 15, -5: 12.5} {
		if got := h.At(bearing); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g° %g°, want %g°", bearing, got, want)
		}
	}
	if got := (Horizon{{90, 7}}).At(200); got != 7 {
		t.Errorf("one sight stands for all: %g", got)
	}
	if got := (Horizon{}).At(200); got != 0 {
		t.Errorf("a level skyline: %g", got)
	}
}

// TestRowCosts: the same wall-at-the-equinox rule for a row of plants, and no loss on the sunny side; a low row far off costs
// nothing in June at 45°, where the noon sun throws a shadow of 0.39 heights.
func TestRowCosts(t *testing.T) {
	equinox := civil.Of(2025, 3, 20)
	all := quantity.Hour(0)
	for _, step := range Steps(45, 0, equinox, 1, Faint) {
		all += quantity.Hour(step.Hours)
	}
	row := Row{Height: 2, Bearing: 90}
	if got := row.Costs(45, equinox, 1.7, 0); math.Abs(float64(got-all)) > 0.1 {
		t.Errorf("1.7 m north of a row of 2 m at the equinox: %.2f h lost of %.2f, want all", got, all)
	}
	if got := row.Costs(45, equinox, 2.2, 0); got > 0.02 {
		t.Errorf("2.2 m north of it: %.2f h lost, want none", got)
	}
	if got := row.Costs(45, equinox, 0.5, 180); got > 0.02 {
		t.Errorf("south of it: %.2f h lost, want none", got)
	}
	half := Row{Height: 2, Bearing: 90, Passes: 0.5}
	if got := half.Costs(45, equinox, 1, 0); math.Abs(float64(got-all/2)) > 0.02 {
		t.Errorf("a row that lets half through costs %.2f h, want %.2f", got, all/2)
	}
	// A short row costs less than a long one, and both as much as a screen of that length in the scene.
	short := Row{Height: 2, Length: 3, Bearing: 70}
	day := civil.Of(2025, 5, 1)
	screen := Scene{Things: []Thing{{Shape: box(0, 0, 3, 0.001, 70, 2, 0)}}}
	g := Grid{SouthWest: Spot{quantity.Metre(-0.8*math.Cos(70*degree) - 0.05), quantity.Metre(0.8*math.Sin(70*degree) - 0.05)}, Cell: 0.1, Columns: 1, Rows: 1}
	open, shaded := 0.0, 0.0
	steps := Steps(45, 0, day, 1, Faint)
	for _, step := range steps {
		open += step.Hours
	}
	shaded = float64(screen.Shine(g, [][]Step{steps}).Hours[0][0])
	if got := float64(short.Costs(45, day, 0.8, 0)); math.Abs(got-(open-shaded)) > 0.05 || got <= 0 {
		t.Errorf("a short row costs %.3f h, the screen %.3f", got, open-shaded)
	}
}

// TestUsualDays: the day that stands for a month has, within 1.5 % of the year's mean day, the sunshine above the air of the
// month's mean day, from the equator to 60°.
func TestUsualDays(t *testing.T) {
	for _, latitude := range []float64{-45, 0, 30, 45, 60} {
		for m := time.January; m <= time.December; m++ {
			sum, n := 0.0, 0
			for d := civil.Of(2027, int(m), 1); d.Month() == m; d++ {
				sum, n = sum+float64(Extraterrestrial(latitude, d.YearDay())), n+1
			}
			got, want := float64(Extraterrestrial(latitude, UsualDay(2027, m).YearDay())), sum/float64(n)
			if math.Abs(got-want) > 0.015*30 {
				t.Errorf("%s at %g°: %.2f MJ/m², the month's mean is %.2f", m, latitude, got, want)
			}
		}
	}
}

func TestStepsAddUp(t *testing.T) {
	for _, latitude := range []float64{0, 45, 65, 80, -70} {
		for d := civil.Date(20000); d < 20365; d += 29 {
			sum := 0.0
			for _, step := range Steps(latitude, 30, d, 5, 0) {
				if step.Sun.Altitude < 0 || step.Hours > 5.0/60+1e-9 {
					t.Fatalf("a step of %.3f h with the sun at %.2f°", step.Hours, step.Sun.Altitude)
				}
				sum += step.Hours
			}
			// The day of ArcOf begins with the sun's edge; the steps with its middle as seen, 16′ later and earlier.
			if arc := float64(ArcOf(latitude, 30, d).Hours()); math.Abs(latitude) < 50 && (sum > arc || sum < arc-0.1) {
				t.Errorf("%g° on %s: %.3f h in steps, %.3f h of day", latitude, d, sum, arc)
			}
		}
	}
	if Steps(45, 0, 20000, 0, 0) != nil || Steps(math.NaN(), 0, 20000, 5, 0) != nil {
		t.Error("steps of no length, or nowhere")
	}
}
