package water

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Evaporation is the reference evapotranspiration of a record, day by day.
type Evaporation struct {
	Place Place
	First civil.Date
	Days  []quantity.Millimetre // one for every day of the record
	Known []bool                // false: no temperature, and 0 stands
	Count Count
	Notes []weather.Note // what was doubted, for the person
}

// Count is on how many days each measure was taken.
type Count struct {
	Days      int
	Radiation [3]int
	Humidity  [5]int
	Wind      [2]int
	Above     int // radiation above the clear sky's
}

// dryCountry is the part of reference evapotranspiration that rain makes up, below which a place counts as arid or half
// so and its nights do not reach the dew point; the dew point then lies by dewBelow under the minimum.
//
// Source: UNEP-1992 (0.5, semi-arid); FAO56 (chapter 3: 2–3 °C)
const (
	dryCountry = 0.5
	dewBelow   = 2.0
)

// PlaceOf is a place as a record knows it: its own position, and whether the country is arid, told from rain against
// evaporation over the record.
func PlaceOf(latitude float64, elevation quantity.Metre, r *weather.Record) Place {
	p := Place{Latitude: latitude, Elevation: elevation}
	if r == nil {
		return p
	}
	skies := newSkies(p)
	var rain, et float64
	for _, d := range r.Days {
		if d.HasTemp && d.HasRain {
			rain += float64(d.Rain)
			et += float64(weather.Hargreaves(d.Min, d.Max, skies.at(d.Date.YearDay()).ra))
		}
	}
	if et > 0 && rain/et < dryCountry {
		p.DewBelow = dewBelow
	}
	return p
}

// skies are a place's skies of every day of the year, reckoned once.
type skies struct {
	place Place
	days  [367]sky
	done  [367]bool
}

func newSkies(p Place) *skies { return &skies{place: p} }

func (s *skies) at(yearDay int) sky {
	if !s.done[yearDay] {
		s.days[yearDay], s.done[yearDay] = s.place.sky(yearDay), true
	}
	return s.days[yearDay]
}

// mostAbove is the part of a record's radiation that may lie above the clear sky before it is taken to be in another unit.
const mostAbove = 0.2

// Evaporate runs over a record. Radiation above a clear sky's is taken as a clear sky's and told; where RadiationDoubt holds it to be in
// another unit, it is left out and the person is told what to do.
func Evaporate(p Place, r *weather.Record) Evaporation {
	if n, doubted := wrongUnit(p, r); doubted {
		out := p.evaporate(r, true)
		out.Notes = []weather.Note{n}
		return out
	}
	return p.evaporate(r, false)
}

func (p Place) evaporate(r *weather.Record, withoutRadiation bool) Evaporation {
	out := Evaporation{Place: p}
	if r == nil || len(r.Days) == 0 {
		return out
	}
	out.First = r.Days[0].Date
	out.Days, out.Known = make([]quantity.Millimetre, len(r.Days)), make([]bool, len(r.Days))
	skies, psychro := newSkies(p), Psychrometric(Pressure(p.Elevation))
	var first, last civil.Date
	worst, worstClear := quantity.MegajoulePerSquareMetre(0), quantity.MegajoulePerSquareMetre(0)
	for i := range r.Days {
		d := &r.Days[i]
		if !d.HasTemp {
			continue
		}
		day := *d
		if withoutRadiation {
			day.HasRadiation = false
		}
		s := skies.at(d.Date.YearDay())
		a, b := p.of(day, s, psychro)
		out.Days[i], out.Known[i] = a.Reference(), true
		out.Count.add(b)
		if b.Above {
			if out.Count.Above == 1 {
				first = d.Date
			}
			last = d.Date
			if d.Radiation-s.clear > worst-worstClear {
				worst, worstClear = d.Radiation, s.clear
			}
		}
	}
	if days := out.Count.Above; days > 0 {
		out.Notes = append(out.Notes, weather.Note{Kind: weather.AboveClearSky, From: first, To: last,
			Says: fmt.Sprintf("%d %s, first %s, radiation above what a clear sky lets through (at most %.1f where %.1f MJ/m² can come); a clear sky's was taken.",
				days, map[bool]string{true: "day has", false: "days have"}[days == 1], first, float64(worst), float64(worstClear))})
	}
	return out
}

func (c *Count) add(b Basis) {
	c.Days++
	c.Radiation[b.Radiation]++
	c.Humidity[b.Humidity]++
	c.Wind[b.Wind]++
	if b.Above {
		c.Above++
	}
}

// Says tells in a sentence or two which figures were measured and which estimated.
func (c Count) Says() string {
	if c.Days == 0 {
		return "No day has a temperature, so nothing can be told of evaporation."
	}
	if c.Radiation[SolarTemperature] == c.Days && c.Humidity[VapourMinimum] == c.Days && c.Wind[WindUsual] == c.Days {
		return "Nothing but temperature was measured: sunshine is estimated from the day's range of temperature, humidity from the night's minimum, wind as 2 m/s (4.5 mph). Single days may be a quarter off, a month about a tenth."
	}
	said := "Radiation: " + c.list(c.Radiation[:], "measured", "from hours of sunshine", "estimated from the range of temperature")
	said += " Humidity: " + c.list(c.Humidity[:], "from the dew point", "from the greatest and the least", "from the greatest", "from the daily mean", "estimated from the night's minimum")
	return said + " Wind: " + c.list(c.Wind[:], "measured", "taken as 2 m/s (4.5 mph)")
}

func (c Count) list(counts []int, words ...string) string {
	said := ""
	for i, n := range counts {
		if n == 0 {
			continue
		}
		if said != "" {
			said += ", "
		}
		if n == c.Days {
			return words[i] + "."
		}
		said += fmt.Sprintf("%s on %d of %d days", words[i], n, c.Days)
	}
	return said + "."
}

// says tells what a record's evaporation rests on, what was doubted of it, and how years of temperature and rain go by it.
func (e Evaporation) says(factors [12]float64) []string {
	says := []string{"Evaporation, by the record. " + e.Count.Says()}
	for _, n := range e.Notes {
		says = append(says, n.Says)
	}
	low, high := slices.Min(factors[:]), slices.Max(factors[:])
	if low < 0.995 || high > 1.005 {
		says = append(says, fmt.Sprintf("Typical and dry years have temperature and rain alone; what that tells of evaporation is multiplied month by month, by %.2f to %.2f, so that it is as what was measured.", low, high))
	}
	return says
}

// Factors are by how much a month's evapotranspiration with all that was measured differs from the one that temperature
// alone gives, 0.6 to 1.6; 1 where fewer than 60 days of the month tell. With them weather years, which hold
// temperature and rain, stand for what was measured.
//
// Source: FAO56 (chapter 3: local calibration of the temperature method)
func (e Evaporation) Factors(r *weather.Record) (factors [12]float64, days [12]int) {
	var full, bare [12]float64
	skies, psychro := newSkies(e.Place), Psychrometric(Pressure(e.Place.Elevation))
	for i := range min(len(r.Days), len(e.Days)) {
		d := r.Days[i]
		if !e.Known[i] || !d.HasRadiation && d.Air.Has == 0 {
			continue
		}
		m := d.Date.Month() - 1
		a, _ := e.Place.of(weather.Day{Min: d.Min, Max: d.Max}, skies.at(d.Date.YearDay()), psychro)
		full[m] += float64(e.Days[i])
		bare[m] += float64(a.Reference())
		days[m]++
	}
	for m := range factors {
		if factors[m] = 1; days[m] >= 60 && bare[m] > 0 {
			factors[m] = max(0.6, min(1.6, full[m]/bare[m]))
		}
	}
	return factors, days
}

// OfYear is the reference evapotranspiration of a weather year, mm a day, with a month's factors.
func (p Place) OfYear(y weather.Scenario, factors [12]float64) []float32 {
	et, _ := p.year(y, factors, false)
	return et
}

// year is OfYear, and beside it, where that is asked for, what of it the sun drives.
func (p Place) year(y weather.Scenario, factors [12]float64, sunlit bool) (et, sun []float32) {
	et = make([]float32, min(len(y.Min), len(y.Max)))
	if sunlit {
		sun = make([]float32, len(et))
	}
	skies, psychro := newSkies(p), Psychrometric(Pressure(p.Elevation))
	for i := range et {
		day := y.Start.Add(i)
		a, _ := p.of(weather.Day{Min: quantity.Celsius(y.Min[i]), Max: quantity.Celsius(y.Max[i])}, skies.at(day.YearDay()), psychro)
		factor := factors[day.Month()-1]
		et[i] = float32(float64(a.Reference()) * factor)
		if sunlit {
			sun[i] = float32(a.sunlit() * factor)
		}
	}
	return et, sun
}
