package weather

import (
	"fmt"
	"math"
	"math/rand/v2"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// The generator after Richardson: the residuals of maximum and minimum from their means of the day,
// in standard deviations, are a first-order autoregressive pair x(t) = A·x(t−1) + B·e(t); whether a
// day is wet is a Markov chain of two states; the rain of a wet day is gamma distributed. The form is
// that of RICHARDSON-1981 and the WGEN program (RICHARDSON-1984).
//
// A place with a Shape has its own: its residuals are turned into normal scores by the quantiles of its record (a Gaussian
// copula), and its correlations are those of its scores, month by month. The constants below serve the places without; they
// are estimated from the GHCN-Daily records of 22 stations of the United States, 1981–2018: maxMin is the correlation of the two on a day, the others those with the day before.
// RICHARDSON-1981 has 0.633, 0.621, 0.445, 0.563, 0.674 (from memory).
//
// A part of the variance, slowShare, is a slow swing common to both with a memory of slowDays: a pure
// first-order model gives years that are too much alike. A place with a Shape has its own share. Both figures are from the same records,
// whose correlations are 0.074, 0.052 and 0.031 at lags of 10, 20 and 30 days where a first-order
// model has 0.014, 0.000 and 0.000.
const (
	maxMin    = 0.578
	lagMaxMax = 0.650
	lagMaxMin = 0.397 // today's maximum with yesterday's minimum
	lagMinMax = 0.528 // today's minimum with yesterday's maximum
	lagMinMin = 0.633
	slowShare = 0.07
	slowDays  = 40.0
)

var commonLinks = links{maxMin, lagMaxMax, lagMaxMin, lagMinMax, lagMinMin}

// The Markov chain from the share of wet days f: P(wet | dry) = 0.8 f, P(wet | wet) = 0.2 + 0.8 f,
// the form of GENG-1986 (who has 0.75); the gamma distribution of a wet day's rain beyond its first
// millimetre has one shape. Both figures are the means of 253 station-months of the same records.
const (
	wetAfterDry = 0.8
	wetShape    = 0.64
)

// A wet day's temperatures stand apart from a dry day's, in standard deviations: the maximum is lower,
// most in summer, the minimum higher, most in winter. The figures are those of the same records by
// month, put on a yearly wave: maximum −0.11 in January, −0.63 in July; minimum 0.50 and −0.02.
const (
	wetMaxMean, wetMaxWinter = -0.40, 0.28
	wetMinMean, wetMinWinter = 0.27, 0.23
)

// spinUp is the number of days run and thrown away before the first.
const spinUp = 90

// Generate makes years of daily weather from monthly figures: seeded, reproducing means, spread and day-to-day persistence.
// The same climate, first year, number of years and seed give the same days. Between 1 and 1000 years are made.
func Generate(c Climate, firstYear, years int, seed uint64) *Record {
	years = max(1, min(1000, years))
	first := civil.Of(firstYear, 1, 1)
	n := int(civil.Of(firstYear+years, 1, 1) - first)
	g := newGenerator(c, seed)
	r := &Record{
		Station: Station{ID: c.ID, Name: c.Name, Latitude: c.Latitude, Longitude: c.Longitude, Elevation: c.Elevation, Located: true, Levelled: true},
		Origin:  Generated,
		Source:  fmt.Sprintf("generated from the monthly figures of %s (%s)", c.Name, c.Source),
		Days:    make([]Day, n),
		Notes: []Note{{Kind: "generated", From: first, To: first.Add(n - 1),
			Says: fmt.Sprintf("These %d years were not measured: they were made from the monthly figures of %s (%s) with seed %d.", years, c.Name, c.Source, seed)}},
	}
	for i := -spinUp; i < n; i++ {
		date := first.Add(i)
		low, high, rain := g.day(date)
		if i < 0 {
			continue
		}
		r.Days[i] = Day{Date: date, Min: quantity.Celsius(low), Max: quantity.Celsius(high), HasTemp: true, Rain: quantity.Millimetre(rain), HasRain: true}
	}
	return r
}

// generator is the state of the weather and the curves it moves about.
type generator struct {
	random          *rand.Rand
	low, high       [366]float64 // means of the day
	wetHigh, wetLow [366]float64 // how far a wet day's residuals stand from a dry day's
	lowSD, highSD   [366]float64 // of the residuals
	along, across   [366]float64 // mix of the two standard residuals that gives the minimum's
	rain            [12]rainMonth
	// Where the place has a shape, lowCourse and highCourse stand for the spreads.
	lowCourse, highCourse *course
	wholeFahrenheit       bool
	a, b                  [12][2][2]float64 // by month
	slowShare             float64
	fast                  [2]float64 // standard residuals of maximum and minimum
	slow, slowMemory      float64
	wet                   bool
}

type rainMonth struct{ share, afterDry, afterWet, scale float64 }

func newGenerator(c Climate, seed uint64) *generator {
	g := &generator{random: rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15)), slowMemory: math.Exp(-1 / slowDays)}
	var low, high, lowSD, highSD [12]float64
	for m, n := range c.Months {
		low[m], high[m] = float64(n.Min), max(float64(n.Max), float64(n.Min)+0.2)
		g.rain[m] = newRainMonth(float64(n.Rain), n.WetDays, monthLength[m])
	}
	g.low, g.high = curve(low), curve(high)
	for m, n := range c.Months {
		lowSD[m] = withoutTrend(float64(n.MinSD), &g.low, m)
		highSD[m] = withoutTrend(float64(n.MaxSD), &g.high, m)
	}
	g.lowSD, g.highSD = curve(lowSD), curve(highSD)
	for d := range g.lowSD {
		g.lowSD[d], g.highSD[d] = max(g.lowSD[d], 0.1), max(g.highSD[d], 0.1)
		if s := c.Shape; s == nil {
			g.along[d], g.across[d] = mix(g.high[d]-g.low[d], g.lowSD[d], g.highSD[d], maxMin)
		} else if g.across[d] = 1; s.Lent {
			g.along[d], g.across[d] = mix(g.high[d]-g.low[d], g.lowSD[d], g.highSD[d], s.Links[monthOfLeapDay(d)].sameDay)
		}
		room := min(1, g.across[d]) // where minimum and maximum are tied together, rain may not part them
		if s := c.Shape; s != nil {
			room = min(room, untied(s.Links[monthOfLeapDay(d)].sameDay, maxMin))
		}
		g.wetHigh[d] = room * (wetMaxMean + wetMaxWinter*winter(c.Latitude, d))
		g.wetLow[d] = room * (wetMinMean + wetMinWinter*winter(c.Latitude, d))
	}
	g.link(c.Shape)
	g.slow = g.random.NormFloat64()
	return g
}

// link sets how a day hangs on the day before, and, where the place has a shape, how far it may go.
func (g *generator) link(s *Shape) {
	g.slowShare = slowShare
	if s == nil {
		a, b, _ := commonLinks.matrices(slowShare)
		for m := range g.a {
			g.a[m], g.b[m] = a, b
		}
		return
	}
	g.slowShare, g.wholeFahrenheit = s.SlowShare, s.WholeFahrenheit
	g.lowCourse, g.highCourse = courseOf(s.Min), courseOf(s.Max)
	for m := range g.a {
		g.a[m], g.b[m], _ = s.Links[m].matrices(s.SlowShare)
	}
}

// day makes the next day. The conversions to float64 keep a processor that multiplies and adds in one step
// from rounding otherwise than one that does not.
func (g *generator) day(date civil.Date) (low, high, rain float64) {
	e0, e1, e2 := g.random.NormFloat64(), g.random.NormFloat64(), g.random.NormFloat64()
	g.slow = float64(g.slowMemory*g.slow) + float64(math.Sqrt(1-g.slowMemory*g.slowMemory)*e2)
	d, month := dayInLeapYear(date), int(date.Month())-1
	a, b, x := &g.a[month], &g.b[month], g.fast
	for i := range x {
		x[i] = float64(a[i][0]*g.fast[0]) + float64(a[i][1]*g.fast[1]) + float64(b[i][0]*e0) + float64(b[i][1]*e1)
	}
	g.fast = x
	slowPart, fastPart := math.Sqrt(g.slowShare), math.Sqrt(1-g.slowShare)
	ofMax := fastPart*x[0] + slowPart*g.slow
	ofMin := fastPart*x[1] + slowPart*g.slow

	rain = g.rainOf(month)
	low, high = g.residuals(d, ofMin, ofMax, g.rain[month].share, rain > 0)
	low, high = g.low[d]+low, g.high[d]+high
	if low > high-0.2 { // rare by the choice of mix, or by the place's own correlations
		middle := (low + high) / 2
		low, high = middle-0.1, middle+0.1
	}
	return g.reading(low), g.reading(high), rain
}

// residuals are a day's distances in °C from its means, from the standard residuals of minimum and maximum.
func (g *generator) residuals(d int, ofMin, ofMax, wetShare float64, wet bool) (low, high float64) {
	ofMin = float64(g.along[d]*ofMax) + float64(g.across[d]*ofMin)
	ofMin, ofMax = parted(ofMin, g.wetLow[d], wetShare, wet), parted(ofMax, g.wetHigh[d], wetShare, wet)
	if g.lowCourse != nil {
		return g.lowCourse.at(d, ofMin), g.highCourse.at(d, ofMax)
	}
	bounded := func(score float64) float64 { return max(-widestScore, min(widestScore, score)) }
	return g.lowSD[d] * bounded(ofMin), g.highSD[d] * bounded(ofMax)
}

// reading is a temperature as it stands in a record: to a tenth of a degree, or read in whole °F and then so.
func (g *generator) reading(celsius float64) float64 {
	if g.wholeFahrenheit {
		celsius = (math.Round(float64(celsius*1.8)+32) - 32) / 1.8
	}
	return math.Round(celsius*10) / 10
}

// parted moves a standard residual to the side of the wet or of the dry days, which stand apart by a
// difference, so that over all days mean 0 and variance 1 are kept.
func parted(residual, difference, wetShare float64, wet bool) float64 {
	residual *= math.Sqrt(1 - difference*difference*wetShare*(1-wetShare))
	if wet {
		return residual + difference*(1-wetShare)
	}
	return residual - difference*wetShare
}

// winter is 1 in the middle of January and −1 in July, the other way round in the south, fading towards
// the equator within 30° of it.
func winter(latitude float64, day int) float64 {
	return max(-1, min(1, latitude/30)) * math.Cos(2*math.Pi*float64(day-14)/366)
}

func (g *generator) rainOf(month int) float64 {
	m := g.rain[month]
	chance := m.afterDry
	if g.wet {
		chance = m.afterWet
	}
	if g.wet = g.random.Float64() < chance; !g.wet {
		return 0
	}
	return math.Round((wetMM+gamma(g.random, wetShape)*m.scale)*10) / 10
}

// newRainMonth turns a month's total and wet days into chain and gamma. A wet day has at least 1 mm, so
// the gamma part is what comes on top.
func newRainMonth(total, wetDays, days float64) rainMonth {
	if total <= 0 || wetDays <= 0 {
		return rainMonth{}
	}
	wetDays = min(wetDays, total/(wetMM+0.1), days) // each has at least 1 mm
	f := wetDays / days
	return rainMonth{share: f, afterDry: wetAfterDry * f, afterWet: 1 - wetAfterDry + wetAfterDry*f, scale: (total/wetDays - wetMM) / wetShape}
}

// gamma draws from the gamma distribution of a shape, scale 1. Source: MARSAGLIA-2000.
func gamma(random *rand.Rand, shape float64) float64 {
	if shape < 1 {
		return gamma(random, shape+1) * math.Pow(1-random.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := random.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(1-random.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// matrices are A and B of the fast part, so that together with the slow part, a share of the variance, the correlations are
// those given: A = M1·M0⁻¹, B·Bᵀ = M0 − A·M1ᵀ. False where there is no such B. Where the months' correlations differ, the
// variance is a little off 1 for the first days of a month. Source: RICHARDSON-1981, equations 7–9.
func (l links) matrices(slowShare float64) (a, b [2][2]float64, ok bool) {
	memory := slowShare * math.Exp(-1/slowDays)
	fast := 1 - slowShare
	r := (l.sameDay - slowShare) / fast
	m1 := [2][2]float64{{(l.maxAfterMax - memory) / fast, (l.maxAfterMin - memory) / fast}, {(l.minAfterMax - memory) / fast, (l.minAfterMin - memory) / fast}}
	det := 1 - r*r
	var bb [2][2]float64
	for i := range 2 {
		a[i][0] = (m1[i][0] - r*m1[i][1]) / det
		a[i][1] = (m1[i][1] - r*m1[i][0]) / det
	}
	m0 := [2][2]float64{{1, r}, {r, 1}}
	for i := range 2 {
		for j := range 2 {
			bb[i][j] = m0[i][j] - a[i][0]*m1[j][0] - a[i][1]*m1[j][1]
		}
	}
	b[0][0] = math.Sqrt(bb[0][0])
	b[1][0] = bb[1][0] / b[0][0]
	rest := bb[1][1] - b[1][0]*b[1][0]
	b[1][1] = math.Sqrt(rest)
	return a, b, fast > 0 && det > 0 && bb[0][0] > 0 && rest > 0
}

// mix gives the weights of the standard residuals of maximum and minimum in the minimum's: (0, 1) as
// Richardson's where the daily range leaves room, otherwise so much of the maximum's that the range
// stays positive in all but one or two days of a hundred (range ≥ 2.2 standard deviations of the difference).
// together is the correlation the two have before.
func mix(dailyRange, lowSD, highSD, together float64) (along, across float64) {
	r := together
	room := dailyRange / 2.2
	if needed := (lowSD*lowSD + highSD*highSD - room*room) / (2 * lowSD * highSD); needed > r {
		r = max(r, min(needed, 0.97))
	}
	across = untied(r, together)
	return r - across*together, across
}

// untied is how much of its own course the minimum keeps where its correlation with the maximum is r, 1 where it is usual.
func untied(r, usual float64) float64 { return math.Sqrt((1 - r*r) / (1 - usual*usual)) }
