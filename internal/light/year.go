package light

import (
	"sync/atomic"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// Year is the light on every cell of the plot, by month, each month by the day that stands for it.
type Year struct {
	Garden   garden.Garden
	Sunshine Sunshine
	Grid     sun.Grid
	Hours    [12][]float32 // of direct sun on a clear day
	Energy   [12][]float32 // MJ/m² on the month's mean day, on the ground as it slopes
	Open     [12]Month     // what level ground gets that nothing shades, the skyline neither

	days [][]sun.Step          // the sun of each month's day
	beds map[outline][12]Month // what is reckoned for each bed
}

// Month is the light of a month's day.
type Month struct {
	Hours  quantity.Hour // of direct sun, on a clear day
	Energy quantity.MegajoulePerSquareMetre
	Basis  Basis
}

// stepMinutes is how long the sun is taken to stand still.
const stepMinutes = 5

// Counting tells with hours of sun from how high the sun counts: sun.Faint.
const Counting = "The sun counts from 3° above the horizon up; lower it is too faint, so open ground has a little less than the day is long."

// anyYear is a year without a 29 February; that the sun is a quarter of a day off in others does not matter.
const anyYear = 2027

// Reckon casts the shade of everything told on the whole plot through the year.
//
// Direct light is the month's mean less the sky's part, spread over the day's hours; the sky's part is lessened by the share
// of the sky that stands hidden. Light that comes back from walls and ground is left out.
func Reckon(g garden.Garden, s Sunshine) Year {
	y := Year{Garden: g, Sunshine: s, Grid: GridOf(g), days: daysOf(g.Site, s), beds: map[outline][12]Month{}}
	scene := SceneOf(g)
	own := make([]Sun, len(g.Beds))
	var next atomic.Int32
	beds := func() { // whoever is free takes the next bed
		for i := int(next.Add(1)) - 1; i < len(g.Beds); i = int(next.Add(1)) - 1 {
			own[i] = y.hoursOn(g.Beds[i])
		}
	}
	seen := make(chan [][]float32, 1)
	go func() {
		sky := scene.Sky(y.Grid, 12)
		beds()
		seen <- sky
	}()
	shine := scene.Shine(y.Grid, y.days)
	beds()
	sky := <-seen
	for m := range 12 {
		y.Hours[m], y.Energy[m] = shine.Hours[m], shine.Beam[m]
		for i, share := range sky[m] {
			y.Energy[m][i] += share * float32(s.Diffuse[m])
		}
		y.Open[m] = openMonth(y.days[m], s, m)
	}
	for i, b := range g.Beds {
		y.beds[outlineOf(b)] = y.bedYear(b, own[i])
	}
	return y
}

func daysOf(site garden.Site, s Sunshine) [][]sun.Step {
	days := make([][]sun.Step, 12)
	for m := range days {
		d := sun.UsualDay(anyYear, time.Month(m+1))
		days[m] = sun.WithLight(sun.Steps(site.Latitude, site.Longitude, d, stepMinutes, sun.Faint), site.Latitude, d, s.Global[m], s.Diffuse[m])
	}
	return days
}

func openMonth(steps []sun.Step, s Sunshine, m int) Month {
	open := Month{Energy: s.Global[m], Basis: Reckoned}
	for _, step := range steps {
		open.Hours += quantity.Hour(step.Hours)
	}
	return open
}

// Season are the months in which most grows: April to September, in the south October to March.
func Season(latitude float64) []time.Month {
	if latitude < 0 {
		return []time.Month{time.October, time.November, time.December, time.January, time.February, time.March}
	}
	return []time.Month{time.April, time.May, time.June, time.July, time.August, time.September}
}

// InSeason is the mean over the season of what months have.
func InSeason(latitude float64, of [12]Month) (mean Month) {
	months := Season(latitude)
	for _, m := range months {
		mean.Hours += of[m-1].Hours / quantity.Hour(len(months))
		mean.Energy += of[m-1].Energy / quantity.MegajoulePerSquareMetre(len(months))
	}
	mean.Basis = of[months[2]-1].Basis
	return mean
}
