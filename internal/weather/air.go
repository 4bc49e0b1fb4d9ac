package weather

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"kailyard/internal/quantity"
)

// Air is what a station measured of a day's air besides its temperature. A value that was not measured is 0 and
// absent from Has.
type Air struct {
	DewPoint                               quantity.Celsius
	HumidityMin, HumidityMax, HumidityMean float64 // per cent, relative
	Wind                                   float64 // m/s, the day's mean, brought to 2 m above short grass
	Sunshine                               quantity.Hour
	Has                                    AirParts
}

// AirParts says which parts of the air were measured.
type AirParts uint8

// The parts, in the order of the record's own CSV.
const (
	HasDewPoint AirParts = 1 << iota
	HasHumidityMin
	HasHumidityMax
	HasHumidityMean
	HasWind
	HasSunshine
)

// airColumns are the parts' names in the record's own CSV.
var airColumns = [airParts]string{"dew_point_c", "humidity_min_percent", "humidity_max_percent", "humidity_mean_percent", "wind_2m_m_s", "sunshine_h"}

// Values are the parts as plain numbers, in the order of the constants.
func (a Air) Values() [6]float64 {
	return [airParts]float64{float64(a.DewPoint), a.HumidityMin, a.HumidityMax, a.HumidityMean, a.Wind, float64(a.Sunshine)}
}

// AirOf is the air from its parts as plain numbers; what has does not name is nothing.
func AirOf(has AirParts, v [6]float64) Air {
	for i := range v {
		if has&(1<<i) == 0 {
			v[i] = 0
		}
	}
	return Air{quantity.Celsius(v[0]), v[1], v[2], v[3], v[4], quantity.Hour(v[5]), has & (1<<airParts - 1)}
}

// lay puts what another reading has over this one.
func (a Air) lay(over Air) Air {
	mine, theirs := a.Values(), over.Values()
	for i := range mine {
		if over.Has&(1<<i) != 0 {
			mine[i] = theirs[i]
		}
	}
	return AirOf(a.Has|over.Has, mine)
}

// The air in a sheet: NaN where it was not measured.
const (
	airDew = iota
	airHumidityMin
	airHumidityMax
	airHumidityMean
	airWind
	airSunshine
	airParts
)

func noAir() (air [airParts]float64) {
	for i := range air {
		air[i] = math.NaN()
	}
	return air
}

func airOf(v [airParts]float64) Air {
	var has AirParts
	for i := range v {
		if !math.IsNaN(v[i]) {
			has |= 1 << i
		}
	}
	return AirOf(has, v)
}

// WindAtTwoMetres is the wind at 2 m above short grass.
//
//	speed   m/s
//	height  m above the ground at which it was measured, 0.5 to 100
//
// Source: FAO56 eq. 47
func WindAtTwoMetres(speed float64, height quantity.Metre) float64 {
	if height == 2 {
		return speed
	}
	return speed * 4.87 / math.Log(67.8*float64(max(0.5, min(100, height)))-5.42)
}

// DewPointOf is the temperature at which air with a vapour pressure is saturated.
//
//	vapour  kPa, above 0
//
// Source: FAO56 eq. 11, turned about
func DewPointOf(vapour float64) float64 {
	l := math.Log(vapour / 0.6108)
	return 237.3 * l / (17.27 - l)
}

// airNames are the beginnings of columns about the air, with the part they give.
var airNames = map[string]int{
	"dew_point": airDew, "dewpoint": airDew, "tdew": airDew, "t2mdew": airDew, "dew_point_2m_mean": airDew,
	"vapour_pressure": airDew, "vapor_pressure": airDew, "vp": airDew, "vapr": airDew,
	"humidity_min": airHumidityMin, "rhmin": airHumidityMin, "rh_min": airHumidityMin, "relative_humidity_2m_min": airHumidityMin,
	"humidity_max": airHumidityMax, "rhmax": airHumidityMax, "rh_max": airHumidityMax, "relative_humidity_2m_max": airHumidityMax,
	"humidity": airHumidityMean, "humidity_mean": airHumidityMean, "rhmean": airHumidityMean, "rh_mean": airHumidityMean,
	"rh2m": airHumidityMean, "relative_humidity_2m_mean": airHumidityMean,
	"wind": airWind, "wind_speed": airWind, "windspeed": airWind, "wndsp": airWind,
	"sunshine": airSunshine, "sunshine_duration": airSunshine, "sunshine_hours": airSunshine,
}

var windUnit = regexp.MustCompile(`^(?:(\d+(?:\.\d+)?)_?m_?)?(?:mean_?)?(.*)$`)

// airColumn is the part a column gives and its conversion; known without one: the unit is not.
func airColumn(name string, windHeight quantity.Metre) (part int, convert func(float64) float64, known bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	name = strings.NewReplacer("(", "_", ")", "", "[", "_", "]", "", " ", "_", "%", "percent", "/", "_", "°", "").Replace(name)
	longest := ""
	for n := range airNames {
		if len(n) > len(longest) && (name == n || strings.HasPrefix(name, n+"_")) {
			longest = n
		}
	}
	if longest == "" {
		return 0, nil, false
	}
	unit := strings.Trim(strings.TrimPrefix(name, longest), "_")
	part = airNames[longest]
	scale := func(f float64) func(float64) float64 { return func(v float64) float64 { return v * f } }
	var factor float64
	switch part {
	case airDew:
		if strings.HasPrefix(longest, "v") {
			kilopascal, ok := map[string]float64{"kpa": 1, "hpa": 0.1, "mbar": 0.1, "mb": 0.1, "pa": 0.001}[unit]
			if !ok {
				return part, nil, true
			}
			return part, func(v float64) float64 { return DewPointOf(v * kilopascal) }, true
		}
		f, offset, ok := celsiusFrom(unit)
		if !ok || unit == "" {
			return part, nil, true
		}
		return part, func(v float64) float64 { return (v + offset) * f }, true
	case airSunshine:
		factor = unitFactor(unit, map[string]float64{"h": 1, "hours": 1, "hour": 1, "min": 1.0 / 60, "minutes": 1.0 / 60, "s": 1.0 / 3600, "seconds": 1.0 / 3600})
	case airWind:
		m := windUnit.FindStringSubmatch(unit)
		if height, err := strconv.ParseFloat(m[1], 64); err == nil {
			windHeight = quantity.Metre(height)
		}
		if windHeight == 0 {
			windHeight = 2
		}
		factor = unitFactor(strings.ReplaceAll(m[2], "_", ""), map[string]float64{"ms": 1, "mps": 1, "kmh": 1 / 3.6, "kph": 1 / 3.6, "mph": 0.44704, "kn": 1.852 / 3.6, "kt": 1.852 / 3.6, "knots": 1.852 / 3.6})
		factor *= WindAtTwoMetres(1, windHeight)
	default:
		factor = unitFactor(unit, map[string]float64{"percent": 1, "pct": 1, "perc": 1})
	}
	if math.IsNaN(factor) {
		return part, nil, true
	}
	return part, scale(factor), true
}

func unitFactor(unit string, known map[string]float64) float64 {
	if f, ok := known[unit]; ok {
		return f
	}
	return math.NaN()
}

// The limits of the air. A day's mean wind at 2 m over 40 m/s is more than any place has; stations where people garden have
// means of 1 to 6 m/s over the year. Humidity sensors drift a little past 100. Source: common practice.
const (
	highestWind   = 40.0
	windiestPlace = 7.0
	dampestSensor = 105.0
)

// checkAir leaves out what the air cannot be, and whole columns that are plainly in another unit.
func (s *sheet) checkAir() {
	s.checkAirColumns()
	var dew, humid, wind, sun, over doubt
	for i := range s.rows {
		w := &s.rows[i]
		leave := func(part int, wrong bool, d *doubt) {
			if wrong {
				d.add(*w)
				w.air[part] = math.NaN()
			}
		}
		leave(airDew, outside(w.air[airDew], -90, 40) || w.air[airDew] > w.max+2, &dew)
		for _, part := range []int{airHumidityMin, airHumidityMax, airHumidityMean} {
			leave(part, outside(w.air[part], 0, dampestSensor), &humid)
			w.air[part] = math.Min(w.air[part], 100)
		}
		leave(airHumidityMin, w.air[airHumidityMin] > w.air[airHumidityMax], &over)
		leave(airWind, outside(w.air[airWind], 0, highestWind), &wind)
		leave(airSunshine, outside(w.air[airSunshine], 0, 24), &sun)
	}
	dew.tell(s, "implausible", "had a dew point below −90 or above 40 °C (104 °F), or above the day's maximum temperature, which was left out")
	humid.tell(s, "implausible", "had a humidity outside 0–100 %, which was left out")
	over.tell(s, "implausible", "had a least humidity above the greatest; the least was left out")
	wind.tell(s, "implausible", "had a mean wind below 0 or above 40 m/s (90 mph), which was left out")
	sun.tell(s, "implausible", "had sunshine of less than nothing or more than 24 hours, which was left out")
}

// checkAirColumns leaves out a column that is in another unit than its name says.
func (s *sheet) checkAirColumns() {
	var count, beyond [airParts]int
	var most, sum [airParts]float64
	first := [airParts]row{}
	limits := [airParts]float64{60, dampestSensor, dampestSensor, dampestSensor, math.Inf(1), 24}
	for _, w := range s.rows {
		for part, v := range w.air {
			if math.IsNaN(v) {
				continue
			}
			count[part]++
			sum[part] += v
			most[part] = math.Max(most[part], v)
			if v > limits[part] {
				if beyond[part] == 0 {
					first[part] = w
				}
				beyond[part]++
			}
		}
	}
	for part, n := range count {
		if n == 0 {
			continue
		}
		says := ""
		switch {
		case beyond[part] > n/5 && beyond[part] > 3:
			says = fmt.Sprintf("is above %g on %d of %d days, first on line %d", limits[part], beyond[part], n, first[part].line)
		case n >= 30 && (part == airHumidityMax || part == airHumidityMean) && most[part] <= 1.05:
			says = "never rises above 1: these are shares, not per cent"
		case n >= 30 && part == airWind && sum[part]/float64(n) > windiestPlace:
			says = fmt.Sprintf("is %.0f m/s at 2 m on average, more than where anybody gardens: it seems to be in km/h, miles an hour or knots", sum[part]/float64(n))
		}
		if says == "" {
			continue
		}
		remedy := "Put its unit into its name, as in " + airExample[part] + ","
		if beyond[part] > n/5 && part >= airHumidityMin && part <= airHumidityMean {
			remedy = "Air holds no more than 100 %: look whether another column stands under this name, or the instrument reads wrong, mend it"
		}
		s.note(WrongUnit, 0, 0, fmt.Sprintf("The column for %s was left out: it %s. %s and give the file again.", airSays[part], says, remedy))
		for i := range s.rows {
			s.rows[i].air[part] = math.NaN()
		}
	}
}

var (
	airSays    = [airParts]string{"the dew point", "the least humidity", "the greatest humidity", "the mean humidity", "the wind", "sunshine"}
	airExample = [airParts]string{"dew_point_c or dew_point_f", "humidity_min_percent", "humidity_max_percent", "humidity_mean_percent", "wind_10m_km_h, wind_2m_mph or wind_2m_m_s", "sunshine_h or sunshine_min"}
)
