package garden

import (
	"strconv"
	"strings"
)

func (s *scribe) lie(l Lie) {
	s.some("slope", l.Slope)
	s.some("aspect", l.Aspect)
	s.some("north", l.North)
	if len(l.Horizon) == 0 {
		return
	}
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	pairs := make([]string, len(l.Horizon))
	for i, sight := range l.Horizon {
		pairs[i] = "[" + number(sight.Bearing) + ", " + number(sight.Altitude) + "]"
	}
	s.put("horizon", "["+strings.Join(pairs, ", ")+"]")
}

func (s *scribe) shade(of Shade) {
	s.head("[[shade]]")
	s.text("name", of.Name)
	s.text("kind", string(of.Kind))
	s.length("x", of.X)
	s.length("y", of.Y)
	s.someLength("length", of.Length)
	s.someLength("width", of.Width)
	s.some("bearing", of.Bearing)
	s.length("height", of.Height)
	s.someLength("ridge", of.Ridge)
	s.text("crown", string(of.Crown))
	s.someLength("spread", of.Spread)
	s.someLength("crown_base", of.CrownBase)
	s.someLength("trunk", of.Trunk)
	s.text("leaf_on", of.LeafOn.String())
	s.text("leaf_off", of.LeafOff.String())
	s.figure("bare_percent", of.Bare)
	s.figure("gaps_percent", of.Gaps)
	s.text("note", of.Note)
}

func (s *scribe) sunSeen(all []SunSeen) {
	for _, seen := range all {
		s.head("[[bed.sun_seen]]")
		s.text("month", seen.Month.String())
		s.text("from", clock(seen.From))
		s.text("to", clock(seen.To))
	}
}
