package light

import (
	"fmt"
	"math"
	"testing"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// hides says whether a shade stands between a point of the ground and the sun, by the ray alone: a box by where the ray goes in
// and out between its pairs of sides, a round crown by the distance of the ray from its middle when the crown is drawn to a ball.
func hides(s garden.Shade, x, y float64, up, east, north float64) bool {
	dx, dy := x-float64(s.X), y-float64(s.Y)
	if s.Kind == garden.Tree {
		r, tall := float64(s.Spread)/2, float64(s.Height-s.CrownBase)/2
		p := [3]float64{dx / r, dy / r, -float64(s.CrownBase+s.Height) / 2 / tall}
		d := [3]float64{east / r, north / r, up / tall}
		along := p[0]*d[0] + p[1]*d[1] + p[2]*d[2]
		square := d[0]*d[0] + d[1]*d[1] + d[2]*d[2]
		return p[0]*p[0]+p[1]*p[1]+p[2]*p[2]-along*along/square < 1 && along < 0
	}
	sin, cos := math.Sincos(s.Bearing * math.Pi / 180)
	from, to := 0.0, float64(s.Height)/up
	for _, side := range [2][3]float64{{dx*sin + dy*cos, east*sin + north*cos, float64(s.Length) / 2}, {dx*cos - dy*sin, east*cos - north*sin, float64(s.Width) / 2}} {
		one, other := (-side[2]-side[0])/side[1], (side[2]-side[0])/side[1]
		from, to = max(from, min(one, other)), min(to, max(one, other))
	}
	return from < to
}

// byTheMinute is the mean sun on a bed by rays from fine spots of it to the sun of every minute.
func byTheMinute(g garden.Garden, b garden.Bed, m time.Month) (hours float64) {
	const golden = 0.6180339887 // of the pitch
	const along, across = 21, 21
	for _, step := range sun.Steps(g.Site.Latitude, g.Site.Longitude, sun.UsualDay(anyYear, m), 1, sun.Faint) {
		up, level := math.Sincos(step.Sun.Altitude * math.Pi / 180)
		sin, cos := math.Sincos((step.Sun.Azimuth - g.Site.Lie.North) * math.Pi / 180)
		lit := 0.0
		for i := range along {
			for j := range across {
				// Rows and columns each a little further on than the one before, so that no two lie alike to an edge of shade.
				_, on := math.Modf(golden * float64(j))
				_, off := math.Modf(golden * float64(i))
				at := b.On(b.Length*quantity.Metre((float64(i)+on)/along), b.Width*quantity.Metre((float64(j)+off)/across))
				comes := 1.0
				for _, s := range g.Shades {
					if comes > 0 && hides(s, float64(at.East), float64(at.North), up, level*sin, level*cos) {
						comes *= s.Through(m)
					}
				}
				lit += comes
			}
		}
		hours += step.Hours * lit / (along * across)
	}
	return hours
}

// TestBedsAgainstTheMinute: the sun on beds from a border of 30 cm to 1.5 m wide, at the foot of a wall where the shade's edge lies
// along them all day about the equinox, askew to it, and under a tree by a shed, against rays from 441 spots of each bed in every minute.
func TestBedsAgainstTheMinute(t *testing.T) {
	wall := func(bearing float64) garden.Shade {
		return garden.Shade{ID: 1, Name: "wall", Kind: garden.Wall, X: 15, Y: 2, Length: 26, Width: 0.1, Bearing: bearing, Height: 2}
	}
	tree := garden.Shade{ID: 2, Name: "fir", Kind: garden.Tree, X: 12, Y: 3, Height: 7, Crown: garden.RoundCrown, Spread: 4, CrownBase: 0}
	shed := garden.Shade{ID: 3, Name: "shed", Kind: garden.Shed, X: 19, Y: 4, Length: 3, Width: 2, Bearing: 20, Height: 2.2}
	type place struct {
		name   string
		shades []garden.Shade
		bed    garden.Bed
		north  float64
	}
	var cases []place
	for _, of := range [][2]float64{{1.2, 0.75}, {1.2, 1}, {0.6, 0.7}, {0.3, 1.4}, {0.3, 1.8}} {
		y := 2.05 + of[1] + of[0]/2
		cases = append(cases, place{fmt.Sprintf("%v m wide, %v m off a wall", of[0], of[1]), []garden.Shade{wall(90)}, garden.Bed{X: 15, Y: quantity.Metre(y), Length: 6, Width: quantity.Metre(of[0]), Bearing: 90}, 0})
	}
	cases = append(cases,
		place{"along a wall askew", []garden.Shade{wall(90)}, garden.Bed{X: 15, Y: 3.6, Length: 6, Width: 0.8, Bearing: 90}, 25},
		place{"across a wall", []garden.Shade{wall(90)}, garden.Bed{X: 15, Y: 5, Length: 5, Width: 0.3, Bearing: 10}, 0},
		place{"east of a wall", []garden.Shade{wall(0)}, garden.Bed{X: 16, Y: 5, Length: 4, Width: 1, Bearing: 0}, 0},
		place{"by a tree and a shed", []garden.Shade{tree, shed}, garden.Bed{X: 15, Y: 6, Length: 4, Width: 1.5, Bearing: 70}, 0},
		place{"small, by a tree and a shed", []garden.Shade{tree, shed}, garden.Bed{X: 14, Y: 4.5, Length: 1, Width: 1, Bearing: 45}, 0},
	)
	if testing.Short() {
		t.Skip("short: beds were not gone over by the minute")
	}
	worst, worstShare := 0.0, 0.0
	for i, c := range cases {
		latitude := []float64{38.5, 52}[i%2]
		g := garden.Garden{Site: garden.Site{Latitude: latitude, Width: 30, Depth: 20, Lie: garden.Lie{North: c.north}}, Beds: []garden.Bed{c.bed}, Shades: c.shades}
		y := Reckon(g, SunshineOf(g.Site, nil))
		for _, m := range []time.Month{time.February, time.April, time.June, time.September} {
			got, want := float64(y.reckoned(c.bed)[m-1].Hours), byTheMinute(g, c.bed, m)
			off := math.Abs(got - want)
			worst = max(worst, off)
			if want > 1 {
				worstShare = max(worstShare, off/want)
			}
			if off > 0.01*want && off > 0.01 {
				t.Errorf("%s at %v°, %s: %.3f h, by the minute %.3f", c.name, latitude, m, got, want)
			}
		}
	}
	t.Logf("off by %.3f h at most, %.2f %% of a bed's own hours", worst, 100*worstShare)
}
