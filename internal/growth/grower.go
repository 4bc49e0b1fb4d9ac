package growth

import (
	"math"

	"kailyard/internal/crop"
)

// grower runs one option through the start days of one weather year after another. The pointers move
// forward with the start day, so that a year costs little more than one walk through its days.
type grower struct {
	curves curves
	days   int // of a year of the climate

	needs    float64 // Requirement
	possible bool
	speed    float64 // development of a day in kind weather
	sown     bool    // comes up by itself
	giveUp   int
	checked  float32 // AirAtLeast
	patience int
	span     int     // d, harvest in kind weather
	least    float64 // d of picking without which a crop picked many times is not worth growing
	ripens   bool    // what is picked comes only as the plant grows; leaves and heads stand
	manner   crop.Manner
	years    int // perennial: the harvest begins in this year
	crown    bool
	blooms   float64 // progress at which it flowers
	lifts    bool    // underground
	tender   float64 // progress from which it dies of as little cold as its flowers and pods, hardened or not; 0 when it does not
	eased    float64 // °C by which hardening lowers what it stands
	winter   bool    // NeedsWinter
	spoils   float64 // °C·d of heat that spoil it

	now                                                                                  view
	up, established, grown, bulbs, flowers, tenders, mature, first, picked, chilled, hot int
}

// view is the curves of one year.
type view struct {
	ground                       []cause
	emerging, growing, chill     []float64
	heat, warmth                 []float64
	seedling, growers, harvested toll
	setting, settled, freezes    []int16
	hardening                    []float32
	lowest                       []float32
	crowns                       toll
}

func newGrower(o Option, v curves, days int) *grower {
	m := o.method()
	g := &grower{
		curves: v, days: days,
		sown:     m.Way != crop.SetOut,
		giveUp:   math.MaxInt,
		patience: math.MaxInt,
		speed:    referenceSpeed(o),
		span:     max(int(math.Round(o.Crop.Harvest.Span.Mid())), 1),
		ripens:   ripens(o.Crop),
		manner:   o.Crop.Harvest.Manner,
		winter:   NeedsWinter(o),
		spoils:   float64(Spoils(o.Crop.Heat)),
	}
	g.least = LeastPicked(o.Crop)
	g.needs, g.possible = Requirement(o)
	if days := o.Crop.Emergence.GiveUp; days > 0 {
		g.giveUp = int(days)
	}
	if m.AirAtLeast != nil {
		g.checked = float32(*m.AirAtLeast)
	}
	h := o.Crop.Hardiness
	g.blooms, g.tender, g.lifts = flowering(o), tenderAt(o), underground(o.Crop)
	g.eased = eases(h)
	if !o.Crop.Perennial {
		g.patience = Patience(o.Crop, m)
	}
	if o.Crop.Perennial {
		g.years, g.crown = o.Crop.Harvest.FirstYear, m.Way == crop.Set
	}
	return g
}

// year turns to the y-th year.
func (g *grower) year(y int) {
	from, to := y*g.days, (y+1)*g.days
	v := &g.curves
	g.now = view{
		ground:   v.ground[from:to],
		growing:  v.growing[y*(g.days+1) : (y+1)*(g.days+1)],
		seedling: v.seedling.year(y, g.days), growers: v.growers.year(y, g.days), harvested: v.harvested.year(y, g.days),
	}
	sums := func(all []float64) []float64 {
		if all == nil {
			return nil
		}
		return all[y*(g.days+1) : (y+1)*(g.days+1)]
	}
	g.now.emerging, g.now.chill = sums(v.emerging), sums(v.chill)
	g.now.heat, g.now.warmth = sums(v.heat), sums(v.warmth)
	if v.crowns.kill != nil {
		g.now.crowns = v.crowns.year(y, g.days)
	}
	if v.setting != nil {
		g.now.setting, g.now.settled = v.setting[from:to], v.settingIn[from:to]
	}
	if v.lowest != nil {
		g.now.lowest, g.now.hardening = v.lowest[from:to], v.hardening[from:to]
	}
	if v.freezes != nil {
		g.now.freezes = v.freezes[from:to]
	}
	g.up, g.established, g.grown, g.bulbs, g.flowers, g.tenders = 0, 0, 0, 0, 0, 0
	g.mature, g.first, g.picked, g.chilled, g.hot = 0, 0, 0, 0, 0
}

// one is the outcome of going in on day i.
func (g *grower) one(i int) packed {
	now := &g.now
	failed := packed{emerge: -1, cause: now.ground[i]}
	if failed.cause != ready {
		return failed
	}
	if !g.possible {
		failed.cause = stoodStill
		return failed
	}
	up := i
	if g.sown {
		g.up = seek(now.emerging, g.up, now.emerging[i]+1)
		if up = g.up; up >= g.days || up-i > g.giveUp {
			failed.cause = notUp
			return failed
		}
	}
	failed.emerge = int16(up - i)
	if g.curves.freezes != nil && int(now.freezes[i]) < i+rooting {
		failed.cause = heaved
		return failed
	}
	if now.lowest != nil && float64(now.lowest[up]) < float64(g.checked)-g.eased*float64(now.hardening[up]) {
		failed.cause = nightsCold
		return failed
	}
	if g.years > 1 {
		return g.perennial(i, up, failed)
	}
	plan := g.develop(up)
	end, why := g.beforeHarvest(i, up, plan)
	if eve := end - 1; why == frozenYoung && g.lifts && eve > up {
		if progress := (now.growing[eve] - now.growing[up]) / g.needs; progress >= liftedAt-1e-9 {
			plan.first, plan.worth, why = eve, plan.worth*lifted(progress), ready
		}
	}
	if why != ready {
		failed.cause = why
		return failed
	}
	return g.harvest(i, up, end, plan, failed)
}

// course is when a planting's stages come, and what its set or bulb is worth.
type course struct {
	established, grown, mature, first int // days; grown: no longer juvenile
	tender                            int // from when what kills its harvest kills it: mature, or in flower
	worth                             float64
	noSet                             int  // the day its flowering is given up, or never
	small                             bool // day length set it bulbing before it was of any size
}

// develop is the course of a plant that is up (or set out) on a day.
func (g *grower) develop(up int) course {
	sums, n := g.now.growing, g.days
	from := sums[up]
	target := from + g.needs
	p := course{established: up, worth: 1, noSet: int(never)}
	if g.curves.bulbing != nil {
		g.bulbs = seek(sums, g.bulbs, from+bulbsAt*g.needs)
		if wait := g.wait(g.bulbs, g.curves.bulbing); wait <= bulbsAt*g.needs+1e-9 {
			target += wait
		} else {
			target = math.Inf(1) // outgrown
		}
		p.worth = g.bulbSize(up)
		p.small = p.worth < smallestBulb
	}
	if g.now.setting != nil {
		g.flowers = seek(sums, g.flowers, from+g.blooms*g.needs)
		if f := g.flowers; f < n {
			if int(g.now.setting[f])-f > setPatience {
				p.noSet, target = f+setPatience, math.Inf(1)
			} else {
				target += g.wait(f, g.now.setting)
			}
		}
	}
	g.first = seek(sums, g.first, target)
	g.mature = seek(sums, g.mature, target-(1-matureAt)*g.needs)
	g.grown = seek(sums, g.grown, from+juvenileUntil*g.needs)
	if g.sown {
		g.established = seek(sums, g.established, from+establishedAt*g.needs)
		p.established = g.established
	}
	p.first, p.mature, p.grown, p.tender = g.first, g.mature, g.grown, g.mature
	if g.tender > 0 {
		g.tenders = seek(sums, g.tenders, from+g.tender*g.needs)
		p.tender = g.tenders
	}
	return p
}

// wait is the development let pass between a day and the next on which what it waits for holds.
func (g *grower) wait(from int, next []int16) float64 {
	if from >= g.days || next[from] == never {
		return math.Inf(1)
	}
	return g.now.growing[next[from]] - g.now.growing[from]
}

// bulbSize is the size of the plant when long days force it to bulb, as a share of the size at which a full
// bulb begins: its growth up to forcedAfter days past the day on which the days became long enough, whether
// it stood by then or not. Planted late, it bulbs small.
func (g *grower) bulbSize(up int) float64 {
	forced := int(g.curves.forced[up])
	if forced >= g.days {
		return 1 // it is never forced
	}
	grown := g.now.growing[forced] - g.now.growing[min(up, forced)]
	return min(grown/(bulbsAt*g.needs), 1)
}

// killed is the day by which cold has killed it, from the day it is up.
func (g *grower) killed(up int, p course) int {
	v := &g.now
	life := stages{{v.seedling, up}, {v.growers, p.established}, {v.harvested, p.tender}}
	day := life[0].kills()
	for k := 1; k < len(life) && day >= life[k].from; k++ {
		day = min(life[k].kills(), life[:k+1].carried())
	}
	return day
}

// ends is the day after which there is nothing more to harvest, and why, when cold, heat or long days end it.
func (g *grower) ends(up int, p course) (day int, why cause) {
	day, why = g.killed(up, p), frozenYoung
	if g.curves.springs != nil {
		if d := g.spring(p); d < day {
			day, why = d, boltedSpring
		}
	}
	if p.grown < g.days {
		if g.now.heat != nil {
			if d := g.spoiled(p); d < day {
				day, why = d, boltedHeat
			}
		}
		if g.curves.longDays != nil {
			if d := g.longDay(p); d < day {
				day, why = d, boltedDays
			}
		}
	}
	return day, why
}

// longDay is the day by which the long days since it was established have brought it to flower: not before it is
// half grown. Seedlings count them already (in CHUN-2001 spinach raised in days of 16 h bolts when it is set out, raised in
// days of 10 h it does not), so that a quick crop cannot outrun them.
//
// Source: CHUN-2001 for the young plants; the number of days is an estimate.
func (g *grower) longDay(p course) int {
	if p.established >= g.days {
		return int(never)
	}
	return max(int(g.curves.longDays[p.established]), p.grown)
}

// spoiled is the day on which the heat since it was half grown has spoiled it.
func (g *grower) spoiled(p course) int {
	g.hot = seek(g.now.heat, g.hot, g.now.heat[p.grown]+g.spoils)
	if g.hot > g.days {
		return int(never)
	}
	return g.hot - 1
}

// spring is the day by which a biennial that has stood a winter since it was established has run to flower.
func (g *grower) spring(p course) int {
	if p.established >= g.days {
		return int(never)
	}
	g.chilled = seek(g.now.chill, g.chilled, g.now.chill[p.established]+chillDays)
	if g.chilled >= g.days {
		return int(never)
	}
	return int(g.curves.springs[g.chilled])
}

// beforeHarvest is what ends the planting before its first harvest; ready when nothing does, with the day
// (perhaps never) that ends the harvest.
func (g *grower) beforeHarvest(i, up int, p course) (end int, why cause) {
	if g.neverBulbs() {
		return 0, daysShort
	}
	end, ending := g.ends(up, p)
	day, why := p.first, ready
	if p.first >= g.days {
		day, why = g.days, outOfYear
	}
	if p.noSet < day {
		day, why = p.noSet, didNotSet
	}
	if end < day {
		day, why = end, ending
	}
	if late := i + g.patience; g.patience < math.MaxInt && late < day {
		why = stoodStill
		switch {
		case g.dark(i, late):
			why = tooDark
		case g.now.heat != nil && g.now.heat[min(late, g.days)]-g.now.heat[i] >= g.spoils:
			why = tooHot
		}
	}
	switch {
	case why != ready:
	case p.small:
		why = smallBulbs
	case g.winter && g.now.chill[p.first]-g.now.chill[i] < winterDays:
		why = noWinter
	}
	return end, why
}

// dark says whether the light of short days left it less than half of its growth, from one day up to another.
func (g *grower) dark(from, to int) bool {
	sum, to := 0.0, min(to, g.days)
	for i := from; i < to; i++ {
		sum += g.curves.light[i]
	}
	return 2*sum < float64(to-from)
}

// neverBulbs says whether a bulb crop waits for days so long as never come at this latitude.
func (g *grower) neverBulbs() bool { return g.curves.bulbing != nil && g.curves.bulbing[0] == never }

// perennial is the outcome of one whose harvest begins in a later year: it succeeds when cold does not
// kill it in its first twelve months. Raised or sown, it is tender as a seedling for the first month; crowns, roots
// and sets are not, and an established plant that loses its leaves to frost comes again, so that only its
// Dormant temperature kills it.
func (g *grower) perennial(i, up int, failed packed) packed {
	settled := up
	if !g.crown {
		settled = min(up+establishing, g.days-1)
	}
	young, grown := stage{g.now.seedling, up}, stage{g.now.crowns, settled}
	if up < settled && young.kills() < settled || min(grown.kills(), stages{young, grown}.carried()) < min(i+365, g.days) {
		failed.cause = frozenYoung
		return failed
	}
	later := int16(365 * (min(g.years, 80) - 1))
	failed.cause, failed.first, failed.last = ready, later, later
	return failed
}
