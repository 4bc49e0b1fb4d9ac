package growth

import (
	"encoding/binary"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
)

// Table is one option through every start day of the season and every weather year.
type Table struct {
	Option  Option
	Climate *Climate

	outcomes []packed // start day by start day, the weather years of each together
	growing  *sums
	needs    float64 // the Requirement
}

// packed is an outcome in ten bytes. Days count from the start day.
type packed struct {
	emerge, first, last int16 // −1 when it never came up
	yield               uint8 // share × 255
	cause               cause
	waited              uint8 // days from the start day to the day it goes in
}

// Tabulate runs every option from every day of the season through every weather year.
func Tabulate(c *Climate, options []Option) []*Table {
	shared := map[coverKey]*preparation{}
	tables := make([]*Table, len(options))
	for k, o := range options {
		t := &Table{Option: o, Climate: c, outcomes: make([]packed, c.Season.Days*len(c.Years))}
		prepared := once(shared, o.cover(), func() *preparation { return prepare(c.under(o.cover())) })
		g := newGrower(o, prepared.of(o), c.days)
		t.growing, t.needs = &sums{all: g.curves.growing}, g.needs
		for y := range c.Years {
			g.year(y)
			for start := range c.Season.Days {
				t.outcomes[start*len(c.Years)+y] = g.one(Lead + start)
			}
			t.wait(y)
		}
		tables[k] = t
	}
	return tables
}

// later is the outcome counted from a start some days before the day it goes in.
func (p packed) later(days int) packed {
	d := int16(days)
	p.waited = uint8(days)
	if p.emerge >= 0 {
		p.emerge += d
	}
	if p.cause == ready {
		p.first, p.last = p.first+d, p.last+d
	}
	return p
}

// wait lets a planting that finds the ground or the nights unfit on its day go in when they are fit, up to
// patientDays later: in a late spring a gardener waits.
func (t *Table) wait(y int) {
	years := len(t.Climate.Years)
	waited := patientDays
	for start := t.Climate.Season.Days - 1; start >= 0; start-- {
		p := &t.outcomes[start*years+y]
		if !p.cause.unfit() {
			waited = 0
			continue
		}
		if waited++; waited > patientDays || start+waited >= t.Climate.Season.Days {
			continue
		}
		*p = t.outcomes[(start+waited)*years+y].later(waited)
	}
}

// pointsKey is a comparable form of an emergence table.
func pointsKey(points []crop.EmergencePoint) string {
	var b []byte
	for _, p := range points {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(float64(p.Soil)))
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p.Days))
	}
	return string(b)
}

// Outcome is the fate of a start day (a day of the season) in the i-th weather year. A day outside the
// season or a year that is not there is OutOfTime.
func (t *Table) Outcome(start civil.Date, i int) Outcome {
	years := t.of(start)
	if i < 0 || i >= len(years) {
		return Outcome{Fate: OutOfTime}
	}
	p := years[i]
	out := Outcome{Fate: fates[p.cause], In: start.Add(int(p.waited))}
	if p.emerge >= 0 {
		out.Emerge = start.Add(int(p.emerge))
	}
	if out.Fate == Ready {
		out.First, out.Last = start.Add(int(p.first)), start.Add(int(p.last))
		out.Yield = float64(p.yield) / 255
	}
	return out
}

// of is the outcomes of a start day in all weather years, nil outside the season.
func (t *Table) of(start civil.Date) []packed {
	s, n := start.Since(t.Climate.Season.Start), len(t.Climate.Years)
	if s < 0 || s >= t.Climate.Season.Days {
		return nil
	}
	return t.outcomes[s*n : (s+1)*n]
}
