package weather

import (
	"fmt"
	"math"
)

// The limits outside which a value is left out. The lowest air temperature measured is −89.2 °C
// (Vostok 1983), the highest 56.7 °C (Death Valley 1913), the most rain in a day 1825 mm (La
// Réunion 1966). Source: WMO-EXTREMES. The spike rule is the one GHCN-Daily applies itself: a value
// 25 °C or more away from both its neighbours in the same direction. Source: DURRE-2010.
const (
	lowestCelsius   = -90.0
	highestCelsius  = 60.0
	highestRainMM   = 1900.0
	spikeCelsius    = 25.0
	highestMJ       = 50.0 // a clear day at the top of the atmosphere gives at most about 45 MJ/m²
	exchangeCelsius = 2.0  // minimum above maximum by at most this: the two are exchanged
	streakDays      = 20   // so many equal days in a row: a stuck instrument
)

// check looks at every day across its fields and at its neighbours. What is impossible is left out
// and told; what is systematic (columns exchanged, wrong unit) is an error, since guessing would
// spoil the whole record.
func (s *sheet) check() error {
	if err := s.checkColumns(); err != nil {
		return err
	}
	s.checkRadiationColumn()
	s.checkRange()
	s.checkAir()
	s.checkSwapped()
	s.checkSpikes()
	s.checkStreaks()
	return nil
}

// checkColumns finds mistakes that run through the whole file.
func (s *sheet) checkColumns() error {
	both, swapped, hot, equal, firstSwap := 0, 0, 0, 0, row{}
	for _, w := range s.rows {
		if math.IsNaN(w.min) || math.IsNaN(w.max) {
			continue
		}
		both++
		if w.min > w.max {
			if swapped == 0 {
				firstSwap = w
			}
			swapped++
		}
		if w.max > highestCelsius {
			hot++
		}
		if w.min == w.max {
			equal++
		}
	}
	switch {
	case hot > both/20 && hot > 3:
		return s.fail(0, fmt.Sprintf("on %d of %d days the maximum is above 60 °C: these are not degrees Celsius", hot, both),
			"say in the header what the unit is, for example tmin_f,tmax_f for degrees Fahrenheit")
	case swapped > both/2:
		return s.fail(firstSwap.line, fmt.Sprintf("the minimum is above the maximum on %d of %d days, first on %s (%.1f above %.1f °C): the two columns are exchanged",
			swapped, both, firstSwap.date, firstSwap.min, firstSwap.max), "exchange their names in the header")
	case equal == both && both > 30:
		return s.fail(s.rows[0].line, "the minimum equals the maximum on every day: the same column seems to stand in both places",
			"give the daily minimum and the daily maximum")
	}
	return nil
}

// checkRange leaves out values that cannot be.
func (s *sheet) checkRange() {
	temperatures, rains, negative, radiations := doubt{}, doubt{}, doubt{}, doubt{}
	for i := range s.rows {
		w := &s.rows[i]
		if outside(w.min, lowestCelsius, highestCelsius) || outside(w.max, lowestCelsius, highestCelsius) {
			temperatures.add(*w)
			w.min, w.max = math.NaN(), math.NaN()
		}
		if w.rain < 0 {
			negative.add(*w)
			w.rain = math.NaN()
		} else if w.rain > highestRainMM {
			rains.add(*w)
			w.rain = math.NaN()
		}
		if outside(w.radiation, 0, highestMJ) {
			radiations.add(*w)
			w.radiation = math.NaN()
		}
	}
	temperatures.tell(s, "implausible", "had a temperature below −90 or above 60 °C (−130 and 140 °F), which was left out")
	negative.tell(s, "implausible", "had less than no rain, which was left out")
	rains.tell(s, "implausible", "had more rain than has ever fallen in a day (1900 mm), which was left out")
	radiations.tell(s, "implausible", "had radiation outside 0–50 MJ/m², which was left out")
}

func outside(v, low, high float64) bool { return v < low || v > high }

// checkSwapped settles single days whose minimum is above the maximum: by up to 2 °C (a slip of
// rounding or of the hour of reading) the two are exchanged, beyond that they are left out.
func (s *sheet) checkSwapped() {
	exchanged, dropped := doubt{}, doubt{}
	for i := range s.rows {
		w := &s.rows[i]
		switch gap := w.min - w.max; {
		case gap > exchangeCelsius:
			dropped.add(*w)
			w.min, w.max = math.NaN(), math.NaN()
		case gap > 0:
			exchanged.add(*w)
			w.min, w.max = w.max, w.min
		}
	}
	exchanged.tell(s, "swapped", "had a minimum up to 2 °C (3.6 °F) above the maximum; the two were exchanged")
	dropped.tell(s, "swapped", "had a minimum more than 2 °C (3.6 °F) above the maximum; both were left out")
}

// checkSpikes leaves out single days that stand 25 °C or more away from both neighbours.
func (s *sheet) checkSpikes() {
	spikes := doubt{}
	for i := 1; i+1 < len(s.rows); i++ {
		before, w, after := s.rows[i-1], &s.rows[i], s.rows[i+1]
		if w.date-before.date != 1 || after.date-w.date != 1 {
			continue
		}
		if spike(before.min, w.min, after.min) || spike(before.max, w.max, after.max) {
			spikes.add(*w)
			w.min, w.max = math.NaN(), math.NaN()
		}
	}
	spikes.tell(s, "implausible", "stood 25 °C (45 °F) or more away from the days on both sides; the temperatures were left out")
}

func spike(before, v, after float64) bool {
	return v-before >= spikeCelsius && v-after >= spikeCelsius || before-v >= spikeCelsius && after-v >= spikeCelsius
}

// checkStreaks tells of an instrument that seems stuck; the values stay.
func (s *sheet) checkStreaks() {
	run := 1
	for i := 1; i <= len(s.rows); i++ {
		if i < len(s.rows) && s.rows[i].min == s.rows[i-1].min && s.rows[i].max == s.rows[i-1].max {
			run++
			continue
		}
		if run >= streakDays {
			s.note("doubtful", s.rows[i-run].date, s.rows[i-1].date,
				fmt.Sprintf("The same minimum and maximum stand on %d days in a row (%s to %s): the instrument may have been stuck. The values were kept.",
					run, s.rows[i-run].date, s.rows[i-1].date))
		}
		run = 1
	}
}

// doubt counts days with one kind of fault and remembers the first and last.
type doubt struct {
	count       int
	first, last row
}

func (d *doubt) add(w row) {
	if d.count == 0 {
		d.first = w
	}
	d.count++
	d.last = w
}

func (d *doubt) tell(s *sheet, kind, says string) {
	switch {
	case d.count == 1:
		s.note(kind, d.first.date, d.first.date, fmt.Sprintf("%s (line %d) %s.", d.first.date, d.first.line, says))
	case d.count > 1:
		s.note(kind, d.first.date, d.last.date, fmt.Sprintf("%d days, first %s (line %d), %s.", d.count, d.first.date, d.first.line, says))
	}
}
