package garden

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// The limits of what throws shade on a garden.
const (
	tallestShade  quantity.Metre = 130 // the tallest trees stand 116 m
	longestShade  quantity.Metre = 1000
	widestCrown   quantity.Metre = 60
	thickestTrunk quantity.Metre = 10
	steepestPlot                 = 45.0
	highestSight                 = 80.0
)

func (l Lie) problems() Problems {
	var ps Problems
	if !within(l.Slope, 0, steepestPlot) {
		ps.add("slope", "write degrees from level, 0 to 45 (a metre's fall on ten is 6 degrees)", "the slope is %v degrees", l.Slope)
	}
	if !within(l.Aspect, 0, 360) {
		ps.add("aspect", "write degrees clockwise from north, 0 to 360: 180 for ground that falls to the south", "the slope falls to %v degrees", l.Aspect)
	}
	if !within(l.North, -180, 180) {
		ps.add("north", "write how many degrees clockwise from true north the plot's own north points, −180 to 180", "the plot's north is %v degrees", l.North)
	}
	seen := map[float64]bool{}
	for _, s := range l.Horizon {
		if !within(s.Bearing, 0, 360) || !within(s.Altitude, 0, highestSight) {
			ps.add("horizon", "write pairs of bearing (0 to 360) and height above the level (0 to 80), both in degrees", "the skyline is %v degrees high at a bearing of %v", s.Altitude, s.Bearing)
		}
		if seen[math.Mod(s.Bearing, 360)] {
			ps.add("horizon", "write one height for each bearing", "the skyline has two heights at a bearing of %v", s.Bearing)
		}
		seen[math.Mod(s.Bearing, 360)] = true
	}
	return ps
}

// Validate tells what is wrong with the shade by itself.
func (s Shade) Validate() Problems {
	var ps Problems
	if strings.TrimSpace(s.Name) == "" {
		ps.add("name", "give it a name of its own: \"cherry\", \"neighbour's house\"", "what throws shade has no name")
	}
	oneOf(&ps, "kind", s.Kind, ShadeKinds)
	if !within(s.X, -largestPlot, largestPlot) {
		ps.add("x", "write how far east of the plot's south-west corner its middle is", "x is %v m", float64(s.X))
	}
	if !within(s.Y, -largestPlot, largestPlot) {
		ps.add("y", "write how far north of the plot's south-west corner its middle is", "y is %v m", float64(s.Y))
	}
	switch {
	case !(s.Height > 0):
		ps.add("height", "write how high it stands, with its unit, for example \"6 m\" or \"20 ft\"", "height is %v m, and must be more than 0", float64(s.Height))
	case s.Height > tallestShade:
		ps.add("height", "check the unit: nothing near a garden is higher than 130 m or 430 ft", "height is %v m", float64(s.Height))
	}
	switch {
	case s.Kind == Tree:
		ps = append(ps, s.treeProblems()...)
	case slices.Contains(ShadeKinds, s.Kind):
		ps = append(ps, s.boxProblems()...)
	default:
		return ps // of what is not known nothing more can be told
	}
	return append(ps, s.leafProblems()...)
}

func (s Shade) boxProblems() Problems {
	var ps Problems
	if !(s.Length > 0) || s.Length > longestShade {
		ps.add("length", "write how long it is, with its unit, for example \"8 m\" or \"25 ft\"", "length is %v m", float64(s.Length))
	}
	thin := s.Kind == Wall || s.Kind == Fence
	if !within(s.Width, 0, longestShade) || s.Width == 0 && !thin {
		ps.add("width", "write how wide it is, with its unit, for example \"3 m\" or \"10 ft\"", "width is %v m", float64(s.Width))
	}
	if !within(s.Bearing, 0, 180) {
		ps.add("bearing", "write degrees clockwise from the plot's north, 0 to 180, of its length", "bearing is %v degrees", s.Bearing)
	}
	switch {
	case s.Ridge == 0:
	case !s.Kind.Roofed():
		ps.add("ridge", "leave it out", "a %s has no ridge", s.Kind)
	case !within(s.Ridge, s.Height, tallestShade):
		ps.add("ridge", "write height for the eaves and ridge for the top of the roof, both above the ground", "the ridge is %v m high, the eaves %v m", float64(s.Ridge), float64(s.Height))
	}
	if s.Crown != "" || s.Spread != 0 || s.CrownBase != 0 || s.Trunk != 0 {
		ps.add("spread", "leave out crown, spread, crown_base and trunk", "a %s has no crown", s.Kind)
	}
	return ps
}

func (s Shade) treeProblems() Problems {
	var ps Problems
	oneOf(&ps, "crown", s.Crown, []CrownShape{RoundCrown, ConeCrown})
	if !(s.Spread > 0) || s.Spread > widestCrown {
		ps.add("spread", "write how wide the crown is, with its unit, for example \"4 m\" or \"13 ft\"", "the crown is %v m wide", float64(s.Spread))
	}
	if !(s.CrownBase >= 0) || s.CrownBase >= s.Height && s.Height > 0 {
		ps.add("crown_base", "write how high its lowest branches hang, less than the tree's height", "the crown begins %v m above the ground, of a tree %v m high", float64(s.CrownBase), float64(s.Height))
	}
	if !within(s.Trunk, 0, min(thickestTrunk, max(s.Spread, 0))) {
		ps.add("trunk", "write how thick the trunk is, or leave it out", "the trunk is %v m thick", float64(s.Trunk))
	}
	if s.Length != 0 || s.Width != 0 || s.Ridge != 0 || s.Bearing != 0 {
		ps.add("length", "leave out length, width, bearing and ridge; write spread", "a tree is told by its spread, not by length and width")
	}
	return ps
}

func (s Shade) leafProblems() Problems {
	var ps Problems
	for _, d := range []struct {
		field string
		day   DayOfYear
	}{{"leaf_on", s.LeafOn}, {"leaf_off", s.LeafOff}} {
		if d.day.Told() && !d.day.exists() {
			ps.add(d.field, "write month and day, for example \"04-25\"", "%s is not a day of the year", d.field)
		}
	}
	told := s.LeafOn.Told() || s.LeafOff.Told()
	switch {
	case told && !s.Kind.Grows():
		ps.add("leaf_on", "leave leaf_on and leaf_off out", "a %s has no leaves", s.Kind)
	case s.LeafOn.Told() != s.LeafOff.Told():
		ps.add("leaf_on", "write both, or neither for what keeps its leaves all year", "of leaf_on and leaf_off only one is given")
	case told && s.LeafOn == s.LeafOff:
		ps.add("leaf_off", "check both days", "the leaves fall on the day they come out")
	}
	if s.Bare != nil {
		if !within(*s.Bare, 0, 100) {
			ps.add("bare_percent", "write how much of the sun comes through without leaves, 0 to 100", "bare_percent is %v", *s.Bare)
		}
		if !s.Deciduous() {
			ps.add("bare_percent", "write leaf_on and leaf_off too, or leave it out", "it never stands bare")
		}
	}
	if s.Gaps != nil && !within(*s.Gaps, 0, 100) {
		ps.add("gaps_percent", "write how much of the sun comes through, 0 to 100", "gaps_percent is %v", *s.Gaps)
	}
	if s.Deciduous() && s.bare() < s.gaps() {
		ps.doubt("bare_percent", "check both", "it lets less sun through bare than in leaf")
	}
	return ps
}

func (d DayOfYear) exists() bool {
	at := civil.Of(2028, int(d.Month), d.Day) // a leap year
	return d.Month >= time.January && d.Month <= time.December && at.Month() == d.Month && at.Day() == d.Day
}

// shadeAmong tells how the shade stands among those before it and on the beds.
func (g Garden) shadeAmong(i int) Problems {
	var ps Problems
	s := g.Shades[i]
	for _, o := range g.Shades[:i] {
		if strings.TrimSpace(s.Name) != "" && strings.EqualFold(strings.TrimSpace(o.Name), strings.TrimSpace(s.Name)) {
			ps.add("name", "give each a name of its own", "something else that throws shade is called %q too", o.Name)
		}
	}
	return append(append(ps, s.On(g.Beds...)...), s.LeavesAt(g.Site.Latitude)...)
}

// On tells that the shade stands on beds, all of them named. A trunk may; walls may not.
func (s Shade) On(beds ...Bed) Problems {
	var ps Problems
	var names []string
	var first Bed
	foot := s.Footprint()
	for _, b := range beds {
		if b.X == 0 && b.Y == 0 || !(foot.Length > 0) || !(foot.Width > 0) || !(b.Length > 0) || !(b.Width > 0) || !foot.Overlaps(b) {
			continue
		}
		if len(names) == 0 {
			first = b
		}
		names = append(names, fmt.Sprintf("%q", b.Name))
	}
	its := fmt.Sprintf("its middle is %.4g m east and %.4g m north", float64(s.X), float64(s.Y))
	says, remedy := "", ""
	switch n := len(names); n {
	case 0:
		return nil
	case 1:
		says, remedy = "it stands on the bed "+names[0], fmt.Sprintf("move one of them: %s, the bed's %.4g m and %.4g m", its, float64(first.X), float64(first.Y))
	default:
		says = "it stands on the beds " + strings.Join(names[:n-1], ", ") + " and " + names[n-1]
		remedy = "move it off them: " + its
	}
	if s.Kind == Tree {
		ps.doubt("x", remedy, "%s", says)
	} else {
		ps.add("x", remedy, "%s", says)
	}
	return ps
}

// seasonsFrom is from which latitude, north or south, no tree or hedge stands bare at midsummer and in leaf at midwinter. Nearer
// the equator some do, that shed their leaves in the dry season (common practice).
const seasonsFrom = 35

// LeavesAt tells of leaves that come and fall at the wrong time of the year for a latitude: mostly the two days are exchanged.
func (s Shade) LeavesAt(latitude float64) Problems {
	var ps Problems
	if !s.Deciduous() || !s.LeafOn.exists() || !s.LeafOff.exists() || !(math.Abs(latitude) >= seasonsFrom) {
		return nil
	}
	summer, winter := civil.Of(2027, 6, 21), civil.Of(2027, 12, 21)
	if latitude < 0 {
		summer, winter = winter, summer
	}
	if !s.InLeaf(summer) && s.InLeaf(winter) {
		ps.add("leaf_on", "exchange leaf_on, when it comes into leaf, and leaf_off, when the leaves fall; or write neither for what keeps them",
			"it is told to stand bare at midsummer and in leaf at midwinter (leaf_on %s, leaf_off %s)", s.LeafOn, s.LeafOff)
	}
	return ps
}

// seenProblems tells what is wrong with the sun a person saw on the bed.
func (b Bed) seenProblems() Problems {
	var ps Problems
	for _, s := range b.Observed {
		switch {
		case s.Month < time.January || s.Month > time.December:
			ps.add("sun_seen", "write the month it was seen in, for example \"June\"", "the sun was seen in month %d", int(s.Month))
		case !within(s.From, 0, 24) || !within(s.To, 0, 24) || s.To <= s.From:
			ps.add("sun_seen", "write from and to as hours of the day, for example \"10:00\" and \"14:00\"", "the sun was seen from %s till %s in %s", clock(s.From), clock(s.To), s.Month)
		}
	}
	return ps
}

// SeenAt tells of more sun seen than the place has, and of sun seen when it is not up.
func (b Bed) SeenAt(site Site) Problems {
	var ps Problems
	if !within(site.Latitude, -90, 90) || len(b.seenProblems()) > 0 {
		return nil
	}
	for m := time.January; m <= time.December; m++ {
		days := [3]civil.Date{civil.Of(2027, int(m), 1), civil.Of(2027, int(m), 21), civil.Of(2027, int(m)+1, 1) - 1}
		longest, rise, set := quantity.Hour(0), quantity.Hour(24), quantity.Hour(0)
		for _, d := range days {
			longest = max(longest, sun.DayLength(site.Latitude, d))
			if up, from, to := sunUp(site.Latitude, d); up {
				rise, set = min(rise, from), max(set, to)
			}
		}
		if hours, ok := b.SeenIn(m); ok && hours > longest+0.5 {
			ps.add("sun_seen", "check the hours and the month", "%.1f hours of sun were seen in %s, when the day has at most %.1f", float64(hours), m, float64(longest))
			continue
		}
		for _, s := range b.Observed {
			switch {
			case s.Month != m:
			case rise > set:
				ps.add("sun_seen", "check the hours and the month", "the sun was seen in %s, when it does not rise", m)
			case s.From < rise-behind || s.To > set+ahead:
				ps.add("sun_seen", "check the hours and the month", "the sun was seen from %s till %s in %s, when it rises at %s at the earliest and sets at %s at the latest, by the sun's own time", clock(s.From), clock(s.To), m, clock(rise), clock(set))
			}
		}
	}
	return ps
}

// How far a person's clock may run behind the sun's own time, and ahead of it: at the far sides of wide time zones, in summer time.
const (
	behind quantity.Hour = 1
	ahead  quantity.Hour = 3.5
)

// sunUp is from when to when the sun is up on a day, by its own time, noon at 12; not up in the polar night.
func sunUp(latitude float64, d civil.Date) (up bool, from, to quantity.Hour) {
	arc := sun.ArcOf(latitude, 0, d)
	return arc.Up, 12 - quantity.Hour((arc.Noon-arc.Rise)*24), 12 + quantity.Hour((arc.Set-arc.Noon)*24)
}

func clock(h quantity.Hour) string {
	minutes := int(math.Round(float64(h) * 60))
	return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
}
