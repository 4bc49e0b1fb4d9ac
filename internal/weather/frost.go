package weather

import (
	"math"
	"slices"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Chance is a date with its exceedance.
type Chance struct {
	Percent int        // spring: chance of a later frost; autumn: chance of an earlier frost
	Date    civil.Date // in the season asked for
	None    bool       // in so few years is there such a frost that the date does not exist
}

// Frost is the spread of last spring and first autumn days at or below a threshold.
type Frost struct {
	Threshold  quantity.Celsius
	Season     civil.Season
	Spring     []civil.Date // one per year that had one, laid over the season, ascending
	Autumn     []civil.Date
	Years      int // years looked at
	SpringNone int // years with no spring frost
	AutumnNone int
	FreeDays   []int // length of the frost-free season per year, ascending
}

// FrostOf counts over scenarios (from Scenarios with the same season and lead). The spring frost of a
// year is the last day from the season's start to midsummer whose minimum is at or below the
// threshold, the autumn frost the first from midsummer to the season's end. A year without counts as
// none. The frost-free days are those strictly between the two; where one is missing they run
// from the season's start or to its end.
//
// Minimum and threshold are compared in whole tenths of a degree, since many records were read in
// whole °F and stored in tenths of °C: 28 °F is −2.2.
//
// Midsummer is 24 July, in the southern hemisphere (a season that starts between April and
// September) 24 January. Source: UCC-FREEZE.
func FrostOf(season civil.Season, lead int, years []Scenario, threshold quantity.Celsius) Frost {
	f := Frost{Threshold: threshold, Season: season, Years: len(years)}
	for _, y := range FrostYears(season, lead, years, threshold) {
		if y.HasSpring {
			f.Spring = append(f.Spring, y.Spring)
		} else {
			f.SpringNone++
		}
		if y.HasAutumn {
			f.Autumn = append(f.Autumn, y.Autumn)
		} else {
			f.AutumnNone++
		}
		f.FreeDays = append(f.FreeDays, y.FreeDays)
	}
	slices.Sort(f.Spring)
	slices.Sort(f.Autumn)
	slices.Sort(f.FreeDays)
	return f
}

// FrostYear is the frosts of one recorded year, laid over the season.
type FrostYear struct {
	Year                 int
	Spring, Autumn       civil.Date // last and first; meaningful with their flag
	HasSpring, HasAutumn bool
	FreeDays             int
}

// FrostYears is what FrostOf counts, year by year in the order of the scenarios.
func FrostYears(season civil.Season, lead int, years []Scenario, threshold quantity.Celsius) []FrostYear {
	limit := inTenths(float32(threshold))
	midsummer := int(Midsummer(season) - season.Start)
	out := make([]FrostYear, len(years))
	for k, y := range years {
		spring, autumn := -1, season.Days
		for i := midsummer - 1; i >= 0; i-- {
			if frosty(y.Min, lead+i, limit) {
				spring = i
				break
			}
		}
		for i := max(midsummer, 0); i < season.Days; i++ {
			if frosty(y.Min, lead+i, limit) {
				autumn = i
				break
			}
		}
		out[k] = FrostYear{
			Year: y.Year, Spring: season.Start.Add(spring), Autumn: season.Start.Add(autumn),
			HasSpring: spring >= 0, HasAutumn: autumn < season.Days, FreeDays: autumn - spring - 1,
		}
	}
	return out
}

// Midsummer is the day that parts a season's spring frosts from its autumn frosts.
func Midsummer(season civil.Season) civil.Date {
	month := 7
	if m := season.Start.Month(); m >= time.April && m <= time.September {
		month = 1
	}
	d := civil.Of(season.Year(), month, 24)
	if d < season.Start {
		d = civil.Of(season.Year()+1, month, 24)
	}
	return d
}

func frosty(low []float32, i, limit int) bool {
	return i >= 0 && i < len(low) && inTenths(low[i]) <= limit
}

// inTenths rounds to a whole number of tenths of a degree. NaN is warmer than any threshold.
func inTenths(celsius float32) int {
	if celsius != celsius {
		return math.MaxInt32
	}
	return int(math.Round(float64(celsius) * 10))
}

// LaterThan is the day after which a frost still comes in percent of all years (spring):
// LaterThan(10) is the late, safe date. None says that so high a chance is never reached, because
// fewer years than that have a spring frost at all.
//
// The chance is counted over all years, those without a frost included, as in the mixed distribution
// P(later than d) = p·(1 − F(d)) with p the share of years that have one; F is the empirical
// distribution with the plotting positions of mixedQuantile. Source: THOM-1959; checked against
// NOAA-FREEZE-7100 and NCEI-FREEZE.
func (f Frost) LaterThan(percent float64) Chance {
	day, ok := mixedQuantile(f.offsets(f.Spring, -1), f.Years, percent)
	return f.chance(percent, -day, ok)
}

// EarlierThan is the day before which a frost already comes in percent of all years (autumn):
// EarlierThan(10) is the early, safe date. None as in LaterThan.
func (f Frost) EarlierThan(percent float64) Chance {
	day, ok := mixedQuantile(f.offsets(f.Autumn, 1), f.Years, percent)
	return f.chance(percent, day, ok)
}

// FreeAtLeast is the length in days that the frost-free season reaches or passes in percent of all years.
func (f Frost) FreeAtLeast(percent float64) int {
	values := make([]float64, len(f.FreeDays))
	for i, n := range f.FreeDays {
		values[len(values)-1-i] = -float64(n)
	}
	day, ok := mixedQuantile(values, f.Years, percent)
	if !ok {
		return 0
	}
	return int(math.Round(-day))
}

// ChanceLater is the share of years, 0–1, with a spring frost later than a date.
func (f Frost) ChanceLater(date civil.Date) float64 {
	return share(len(f.Spring)-upTo(f.Spring, date), f.Years)
}

// ChanceEarlier is the share of years, 0–1, with an autumn frost earlier than a date.
func (f Frost) ChanceEarlier(date civil.Date) float64 { return share(upTo(f.Autumn, date-1), f.Years) }

func upTo(dates []civil.Date, date civil.Date) int {
	n, _ := slices.BinarySearch(dates, date+1)
	return n
}

func share(n, of int) float64 {
	if of == 0 {
		return 0
	}
	return float64(n) / float64(of)
}

// offsets are days from the season's start, times sign, ascending.
func (f Frost) offsets(dates []civil.Date, sign float64) []float64 {
	out := make([]float64, len(dates))
	for i, d := range dates {
		out[i] = sign * float64(d-f.Season.Start)
	}
	slices.Sort(out)
	return out
}

func (f Frost) chance(percent, day float64, ok bool) Chance {
	c := Chance{Percent: int(math.Round(percent))}
	if !ok {
		c.None = true
		return c
	}
	c.Date = f.Season.Start.Add(int(math.Round(day)))
	return c
}

// mixedQuantile is the value below which percent of years lie, where only some of the years have a
// value (ascending) and the others count as beyond every value. False where percent lies among those.
func mixedQuantile(values []float64, years int, percent float64) (float64, bool) {
	if len(values) == 0 || years < len(values) || percent != percent {
		return 0, false
	}
	p := max(0, min(1, percent/100))
	if p > share(len(values), years) {
		return 0, false
	}
	// Plotting position of the i-th of n: (i − ½)/n (Hazen), so that the middle of an even
	// number lies between the two middle ones and no date lies outside those seen.
	at := p*float64(years) - 0.5
	low := int(math.Floor(at))
	switch {
	case low < 0:
		return values[0], true
	case low >= len(values)-1:
		return values[len(values)-1], true
	}
	return values[low] + (values[low+1]-values[low])*(at-float64(low)), true
}

// LaterThanFitted is LaterThan from a normal distribution fitted to the dates of the years that had
// one. With few years it is steadier at 10 and 90 % than the dates themselves; where frosts come in
// two seasons or hardly at all, the dates themselves are better. Source: THOM-1959.
func (f Frost) LaterThanFitted(percent float64) Chance {
	day, ok := f.fitted(f.offsets(f.Spring, -1), percent)
	return f.chance(percent, -day, ok)
}

// EarlierThanFitted is EarlierThan from a fitted normal distribution.
func (f Frost) EarlierThanFitted(percent float64) Chance {
	day, ok := f.fitted(f.offsets(f.Autumn, 1), percent)
	return f.chance(percent, day, ok)
}

func (f Frost) fitted(values []float64, percent float64) (float64, bool) {
	n := len(values)
	if n < 3 || f.Years < n || !(percent > 0 && percent < 100) {
		return 0, false
	}
	p := percent / 100 / share(n, f.Years)
	if p >= 1 {
		return 0, false
	}
	sum, square := 0.0, 0.0
	for _, v := range values {
		sum += v
	}
	mean := sum / float64(n)
	for _, v := range values {
		square += (v - mean) * (v - mean)
	}
	day := mean + math.Sqrt(square/float64(n-1))*math.Sqrt2*math.Erfinv(2*p-1)
	return max(-float64(f.Season.Days), min(float64(f.Season.Days), day)), true
}
