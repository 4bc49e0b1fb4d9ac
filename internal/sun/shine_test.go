package sun

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// box is a body with walls, at a bearing; with a ridge higher than the eaves a house.
func box(x, y, length, width, bearing, eaves, ridge float64) Solid {
	sin, cos := math.Sincos(bearing * degree)
	at := func(along, across float64) Spot {
		return Spot{quantity.Metre(x + along*sin + across*cos), quantity.Metre(y + along*cos - across*sin)}
	}
	s := Solid{Foot: []Spot{at(-length/2, -width/2), at(length/2, -width/2), at(length/2, width/2), at(-length/2, width/2)}}
	for _, f := range s.Foot {
		s.Top = append(s.Top, Apex{f, quantity.Metre(eaves)})
	}
	if ridge > eaves {
		s.Top = append(s.Top, Apex{at(-length/2, 0), quantity.Metre(ridge)}, Apex{at(length/2, 0), quantity.Metre(ridge)})
	}
	return s
}

// leaves is a share by month: through a bare crown from November to April.
func leaves(bare float64) []float64 {
	return []float64{bare, bare, bare, bare, 0.03, 0.03, 0.03, 0.03, 0.03, 0.03, bare, bare}
}

// suburb is an invented plot of 30 × 20 m with twelve things around and on it.
func suburb() (Scene, Grid) {
	tree := func(x, y, radius, bottom, top float64, cone bool, passes []float64) []Thing {
		middle := Spot{quantity.Metre(x), quantity.Metre(y)}
		return []Thing{
			{Crown{middle, quantity.Metre(radius), quantity.Metre(bottom), quantity.Metre(top), cone}, passes},
			{Post{middle, 0.15, quantity.Metre(bottom)}, nil},
		}
	}
	s := Scene{Slope: 4, Aspect: 160, Turn: 12, Horizon: Horizon{{90, 3}, {180, 2}, {270, 8}}}
	add := func(shape Shape, passes ...float64) { s.Things = append(s.Things, Thing{shape, passes}) }
	add(box(6, 25, 10, 8, 80, 3, 7))            // a house north of it
	add(box(38, 8, 12, 9, 10, 6, 10))           // a neighbour's roof
	add(box(27, 3, 3, 2, 0, 2.2, 2.2))          // a shed
	add(box(15, -0.2, 30, 0.3, 90, 1.8, 0))     // a wall along the south
	add(box(-0.1, 10, 20, 0.1, 0, 1.5, 0), 0.2) // a fence of slats
	add(box(30.5, 14, 10, 1, 0, 2.5, 0), leaves(0.5)...)
	s.Things = append(s.Things, tree(10, 4, 2.5, 1.8, 6, false, leaves(0.45))...)
	s.Things = append(s.Things, tree(12, 3, 2, 1.8, 5, false, leaves(0.45))...)
	s.Things = append(s.Things, tree(20, -5, 4, 2, 14, true, nil)...)
	s.Things = append(s.Things, tree(-6, 8, 5, 3, 12, false, leaves(0.4))...)
	s.Things = append(s.Things, tree(24, 12, 1.5, 1, 4, false, leaves(0.5))...)
	s.Things = append(s.Things, tree(3, -4, 3, 2, 9, true, nil)...)
	return s, Grid{Cell: 0.25, Columns: 120, Rows: 80}
}

// year is the twelve usual days in steps.
func year(latitude, minutes float64) (days [][]Step) {
	for m := time.January; m <= time.December; m++ {
		steps := Steps(latitude, 0, UsualDay(2027, m), minutes, Faint)
		for i := range steps {
			steps[i].Beam = steps[i].Hours * math.Sin(steps[i].Sun.Altitude*degree)
		}
		days = append(days, steps)
	}
	return days
}

// compare tells how far two reckonings are apart: over the whole ground and the year in daily hours, and per cell.
func compare(quick, plain Shine) (mean, rms, beam float64) {
	var n, sum, square, hours, light, lit float64
	for day := range plain.Hours {
		for i, want := range plain.Hours[day] {
			off := float64(quick.Hours[day][i] - want)
			sum, square, hours, n = sum+off, square+off*off, hours+float64(want), n+1
			light, lit = light+float64(quick.Beam[day][i]-plain.Beam[day][i]), lit+float64(plain.Beam[day][i])
		}
	}
	return sum / hours, math.Sqrt(square/n) / (hours / n), light / lit
}

// TestShineAgainstRays: the quick way against the plain one. Both look at the middles of the cells, so they differ only
// where a shadow's edge passes a middle within rounding, and by the rounding of weights.
func TestShineAgainstRays(t *testing.T) {
	s, g := suburb()
	g.Cell, g.Columns, g.Rows = 0.5, 60, 40
	days := year(45, 20)
	quick, plain := s.Shine(g, days), s.byRays(g, days)
	mean, rms, beam := compare(quick, plain)
	t.Logf("daily hours off by %+.4f %%, root mean square of cells %.4f %%, beam %+.4f %%", 100*mean, 100*rms, 100*beam)
	if math.Abs(mean) > 0.001 || rms > 0.005 || math.Abs(beam) > 0.001 {
		t.Errorf("daily hours off by %.3f %%, cells by %.3f %%, beam by %.3f %%", 100*mean, 100*rms, 100*beam)
	}
}

// TestStepsOfFiveMinutes: the quick way in steps of five minutes against rays in steps of one minute, on beds of the plot: within
// 1 % of the open day's hours for every bed and day.
func TestStepsOfFiveMinutes(t *testing.T) {
	s, g := suburb()
	g.Cell, g.Columns, g.Rows = 0.5, 60, 20
	day := func(m time.Month, minutes float64) [][]Step {
		days := make([][]Step, 12)
		days[m-1] = Steps(45, 0, UsualDay(2027, m), minutes, Faint)
		return days
	}
	for _, m := range []time.Month{time.February, time.June} {
		quick, plain := s.Shine(g, day(m, 5)), s.byRays(g, day(m, 1))
		open := 0.0
		for _, step := range day(m, 5)[m-1] {
			open += step.Hours
		}
		for bed := range 20 { // of 6 × 1 m
			var off, n float64
			for column := bed % 5 * 12; column < bed%5*12+12; column++ {
				for row := bed / 5 * 5; row < bed/5*5+2; row++ {
					i := row*g.Columns + column
					off, n = off+float64(quick.Hours[m-1][i]-plain.Hours[m-1][i]), n+1
				}
			}
			if math.Abs(off/n) > 0.01*open {
				t.Errorf("%s, bed %d: off by %.3f h of %.2f", m, bed, off/n, open)
			}
		}
	}
}

// TestShineAgainstRaysAnywhere: the same for scenes thrown together at random: any latitude, slope, turn and shapes;
// within 1 % of daily hours, single cells within 4 % (posts are drawn with eight sides, and steps of half an hour are coarse).
func TestShineAgainstRaysAnywhere(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 5))
		between := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
		s := Scene{Turn: between(-180, 180), Slope: between(0, 25), Aspect: between(0, 360)}
		for range r.IntN(5) {
			s.Horizon = append(s.Horizon, Sight{between(0, 360), between(0, 20)})
		}
		for range 1 + r.IntN(5) {
			passes := []float64{0, 0.5, between(0, 1)}[r.IntN(3)]
			at := Spot{quantity.Metre(between(-5, 15)), quantity.Metre(between(-5, 15))}
			var shape Shape
			switch r.IntN(4) {
			case 0:
				shape = box(float64(at.East), float64(at.North), between(0.5, 8), between(0.2, 6), between(0, 180), between(2, 5), between(0, 9))
			case 1:
				shape = Post{at, quantity.Metre(between(0.3, 1)), quantity.Metre(between(2, 8))}
			default:
				// Nothing of the crown may reach into the slope, where the two ways mean different things.
				bottom := between(2, 4)
				shape = Crown{at, quantity.Metre(between(0.5, 3)), quantity.Metre(bottom), quantity.Metre(bottom + between(1, 8)), r.IntN(2) == 0}
			}
			s.Things = append(s.Things, Thing{shape, []float64{passes}})
		}
		g := Grid{SouthWest: Spot{quantity.Metre(between(-2, 2)), 0}, Cell: 0.3, Columns: 1 + r.IntN(90), Rows: 1 + r.IntN(40)}
		days := [][]Step{Steps(between(-66, 66), between(-180, 180), civil.Date(20000+r.IntN(366)), 30, Faint)}
		for i := range days[0] {
			days[0][i].Beam = days[0][i].Hours
		}
		quick, plain := s.Shine(g, days), s.byRays(g, days)
		mean, rms, beam := compare(quick, plain)
		if math.Abs(mean) > 0.01 || rms > 0.04 || math.Abs(beam) > 0.01 {
			t.Errorf("seed %d: daily hours off by %.3f %%, cells by %.3f %%, beam %.3f %%", seed, 100*mean, 100*rms, 100*beam)
		}
	}
}

// BenchmarkShine is the figure the program promises: 30 × 20 m in cells of 25 cm, twelve things (their trunks
// beside), twelve months in steps of five minutes, at most a second on one core.
func BenchmarkShine(b *testing.B) {
	s, g := suburb()
	days := year(45, 5)
	b.ResetTimer()
	for range b.N {
		s.Shine(g, days)
	}
}

func BenchmarkShineByRays(b *testing.B) {
	s, g := suburb()
	days := year(45, 5)
	b.ResetTimer()
	for range b.N {
		s.byRays(g, days)
	}
}

func BenchmarkSky(b *testing.B) {
	s, g := suburb()
	for range b.N {
		s.Sky(g, 12)
	}
}
