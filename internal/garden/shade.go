package garden

import (
	"math"
	"slices"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Lie is how the plot lies under the sky.
type Lie struct {
	Slope  float64 // degrees from level, 0–45
	Aspect float64 // degrees clockwise from true north that the slope falls to, 0–360
	North  float64 // degrees clockwise from true north that the plot's own north points to (up on the picture), −180–180
	// Horizon is the skyline of hills and woods far off; empty: level.
	Horizon []Sight
}

// Level says whether nothing is told of the lie.
func (l Lie) Level() bool { return l.Slope == 0 && len(l.Horizon) == 0 }

// Sight is a height of the skyline.
type Sight struct {
	Bearing  float64 // degrees clockwise from true north, 0–360
	Altitude float64 // degrees above the level, 0–80
}

// ShadeKind is what throws shade.
type ShadeKind string

// The kinds of shade.
const (
	House ShadeKind = "house"
	Shed  ShadeKind = "shed"
	Roof  ShadeKind = "roof" // a neighbour's, told by its ridge and eaves
	Wall  ShadeKind = "wall"
	Fence ShadeKind = "fence"
	Hedge ShadeKind = "hedge"
	Tree  ShadeKind = "tree"
)

// ShadeKinds are all of them.
var ShadeKinds = []ShadeKind{House, Shed, Roof, Wall, Fence, Hedge, Tree}

// Grows says whether it has leaves and may be pruned.
func (k ShadeKind) Grows() bool { return k == Tree || k == Hedge }

// Roofed says whether it may have a ridge.
func (k ShadeKind) Roofed() bool { return k == House || k == Shed || k == Roof }

// CrownShape is how a tree's crown is shaped.
type CrownShape string

// The crowns.
const (
	RoundCrown CrownShape = "round" // an egg, upright
	ConeCrown  CrownShape = "cone"  // a tip on a broad bottom, as of firs
)

// Shade is something that keeps the sun off the ground. All but trees are boxes, their length in the direction of the
// bearing as a bed's is, with a level top or a ridge along the length.
type Shade struct {
	ID            int64
	Name          string
	Kind          ShadeKind
	X, Y          quantity.Metre // of its middle, east and north of the plot's south-west corner; it may stand beyond the plot
	Length, Width quantity.Metre // of a box; a wall or fence without width is thin
	Bearing       float64        // of a box's length, degrees clockwise from the plot's north, 0–180
	Height        quantity.Metre // to the top; of what has a ridge, to the eaves
	Ridge         quantity.Metre // height of the ridge; 0: the top is level

	Crown     CrownShape     // of a tree
	Spread    quantity.Metre // the crown's diameter
	CrownBase quantity.Metre // height of the crown's lower edge
	Trunk     quantity.Metre // the trunk's diameter; 0: as thick as usual

	// In leaf from the one day to the day before the other; neither told: all year.
	LeafOn, LeafOff DayOfYear
	// Bare is the per cent of direct light that comes through without leaves; nil: the usual.
	Bare *float64
	// Gaps is the per cent that comes through in leaf, or through a fence; nil: the usual.
	Gaps *float64
	Note string
}

// What comes through where the person tells nothing, in per cent. Crowns of single trees in a town let 1.3–5.3 % of direct
// sunshine through in leaf and 40.2–51.9 % bare.
//
// Source: KONARSKA-2014
const (
	UsualGaps = 3.0
	UsualBare = 45.0
)

// Thickness is the width of what is told without one.
const Thickness quantity.Metre = 0.1

// usualTrunk is a trunk's diameter as a share of the crown's: common practice.
const usualTrunk = 1.0 / 15

// TrunkThick is the trunk's diameter, as told or as usual.
func (s Shade) TrunkThick() quantity.Metre {
	if s.Trunk > 0 {
		return s.Trunk
	}
	return s.Spread * usualTrunk
}

// Footprint is a box's ground as a bed would have it; of a tree the ground under its trunk.
func (s Shade) Footprint() Bed {
	b := Bed{X: s.X, Y: s.Y, Length: s.Length, Width: max(s.Width, Thickness), Bearing: s.Bearing}
	if s.Kind == Tree {
		b.Length, b.Width = s.TrunkThick(), s.TrunkThick()
	}
	return b
}

// Deciduous says whether it stands bare for a part of the year.
func (s Shade) Deciduous() bool { return s.Kind.Grows() && s.LeafOn.Told() && s.LeafOff.Told() }

// InLeaf says whether it has its leaves on a day.
func (s Shade) InLeaf(d civil.Date) bool {
	if !s.Deciduous() {
		return true
	}
	on, off := s.LeafOn.In(d.Year()), s.LeafOff.In(d.Year())
	if on <= off {
		return d >= on && d < off
	}
	return d >= on || d < off // the south's summer goes over the New Year
}

// Through is the share of direct light, 0 to 1, that it lets through on the whole in a month.
func (s Shade) Through(m time.Month) float64 {
	in, days := 0, 0
	for d := civil.Of(2027, int(m), 1); d.Month() == m; d++ {
		days++
		if s.InLeaf(d) {
			in++
		}
	}
	leafy := float64(in) / float64(days)
	return leafy*s.gaps() + (1-leafy)*s.bare()
}

func (s Shade) gaps() float64 {
	switch {
	case s.Gaps != nil:
		return *s.Gaps / 100
	case s.Kind.Grows():
		return UsualGaps / 100
	}
	return 0
}

func (s Shade) bare() float64 {
	if s.Bare != nil {
		return *s.Bare / 100
	}
	return max(s.gaps(), UsualBare/100)
}

// DayOfYear is a day that comes every year; the zero DayOfYear is none.
type DayOfYear struct {
	Month time.Month
	Day   int
}

// Told says whether there is a day.
func (d DayOfYear) Told() bool { return d.Month != 0 }

// In is the day in a year; 29 February is the 28th where there is none.
func (d DayOfYear) In(year int) civil.Date {
	if d.Month == time.February && d.Day == 29 && !civil.Leap(year) {
		return civil.Of(year, 2, 28)
	}
	return civil.Of(year, int(d.Month), d.Day)
}

// SunSeen is between which hours a person saw direct sun on a bed in a month, by any clock.
type SunSeen struct {
	Month    time.Month
	From, To quantity.Hour // of the day, 0–24
}

// SeenIn is how many hours of direct sun the person saw in a month, if they looked.
func (b Bed) SeenIn(m time.Month) (hours quantity.Hour, ok bool) {
	var seen []SunSeen
	for _, s := range b.Observed {
		if s.Month == m {
			seen = append(seen, s)
		}
	}
	slices.SortFunc(seen, func(a, b SunSeen) int {
		if a.From < b.From {
			return -1
		}
		return 1
	})
	until := quantity.Hour(math.Inf(-1))
	for _, s := range seen { // what is told twice counts once
		hours += max(0, s.To-max(s.From, until))
		until = max(until, s.To)
	}
	return hours, len(seen) > 0
}
