// Package work is jobs and orders that follow from a plan: when, how much, with what, how long, in what weather.
package work

import (
	"cmp"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
	"kailyard/internal/water"
	"kailyard/internal/weather"
)

// Kind is what sort of job it is.
type Kind string

// The kinds of job, in the order they come for one planting.
const (
	OrderSeed Kind = "order"
	Raise     Kind = "sow under cover"
	HardenOff Kind = "harden off"
	Dress     Kind = "dress the ground" // lime, sulfur, organic matter
	Break     Kind = "break new ground"
	Prepare   Kind = "prepare the ground"
	DigHoles  Kind = "dig holes" // of perennials
	Sow       Kind = "sow"
	SetOut    Kind = "set out"
	Plant     Kind = "plant" // sets, tubers, cloves, crowns
	Protect   Kind = "protect"
	Thin      Kind = "thin"
	FillIn    Kind = "fill in" // a trench, as the plants grow
	EarthUp   Kind = "earth up"
	Support   Kind = "support"
	Feed      Kind = "feed"
	Harvest   Kind = "harvest"
	Clear     Kind = "clear"
)

// Kinds are all kinds in their order.
func Kinds() []Kind {
	return []Kind{
		OrderSeed, Raise, HardenOff, Dress, Break, Prepare, DigHoles, Sow, SetOut, Plant, Protect, Thin, FillIn, EarthUp, Support, Feed, Harvest, Clear,
	}
}

// Job is one thing to do, with the days it may be done on.
type Job struct {
	Key      string // stable: planting key and kind, "2027-07/sow"
	Kind     Kind
	Window   civil.Span // from the best day on; To is the last day it still serves
	BedID    int64      // 0: no bed
	Planting string     // planting key, the first when the job serves several; empty for orders
	// Serves are all plantings the job is for, Planting included: ground is prepared for several at
	// once, plants of one crop are sown together, all that go out on a day are hardened off together.
	Serves     []string
	CropID     string
	Title      string        // "Sow carrot, main crop, in Long drill: two drills of 9 m"
	How        []string      // steps and measures, in order, in the person's units
	Weather    string        // what day suits: "soil dry enough to crumble"
	Hours      quantity.Hour // a fair guess of the time it takes; 0 when not guessed
	Why        []garden.Reason
	Cautions   []string
	Conditions []garden.Reason // how the date spreads over the weather years
	Puts       []Put           // what it puts on the ground, bed by bed
	Given      civil.Date      // the day on which the book had all of Puts as given; 0: not yet
}

// Order is one line of the shopping list.
type Order struct {
	CropID string        // empty for supplies: compost, stakes, netting
	What   string        // "carrot, main crop: seed", "compost, ripe"
	Count  int           // seeds, sets, tubers or plants
	Mass   quantity.Gram // of seed or sets; 0 when sold by count
	Spare  float64       // share added for germination and losses
	// Packets is usual seed packets, where seed is too little to weigh or the trade knows what a packet
	// does; 0 when sold by mass or count.
	Packets int
	// Supplies are measured by one of these, or by Count.
	Volume quantity.Litre
	Length quantity.Metre
	Area   quantity.SquareMetre
	// What is bought for the ground in packages has these, and what they hold together; Cost is 0 where a price is missing.
	Bags   []soil.Bags
	Cost   float64
	By     civil.Date // when it must be in the house
	For    []string   // planting keys
	Why    []garden.Reason
	ground bool // for the ground: lime, plant food, organic matter
}

// Input is what jobs are made from.
type Input struct {
	Plan   *plan.Plan
	Garden garden.Garden
	Crops  *crop.Catalogue
	Tables []*growth.Table
	// Frost counts the season's last spring and first autumn days at or below a threshold over
	// the weather years. Nil: no job speaks of frost.
	Frost func(threshold quantity.Celsius) weather.Frost
	// From is the day a season planned again goes on from: what is begun before it, under cover or in
	// the ground, is bought already. Nil: nothing is begun but what is in the ground.
	From *civil.Date
	Soil *SoilBook // nil: none is kept, so the general rules stand
	// Water is how plantings find the ground when they go in, by their keys. Nil: no job speaks of it.
	Water map[string]water.GoingIn
}

// Jobs are all jobs of the plan, by first day, then kind, then key.
//
// Some come before the season's first day (seed ordered and plants raised for an early start) and
// some after its last (what is sown in autumn is eaten in spring); none lies more than Before days
// before the season or growth.Tail days past it.
func Jobs(in Input) []Job {
	d := newDesk(in)
	var jobs []Job
	for _, b := range batches(d.orders()) {
		jobs = append(jobs, d.orderJob(b))
	}
	for _, patch := range d.patches() {
		jobs = append(jobs, d.prepare(patch))
	}
	for _, a := range d.sowings() {
		jobs = append(jobs, d.raise(a))
	}
	for _, a := range d.hardenings() {
		jobs = append(jobs, d.hardenOff(a))
	}
	jobs = append(jobs, d.feeds()...)
	jobs = append(jobs, d.dressings()...)
	jobs = append(jobs, d.breakings()...)
	jobs = append(jobs, d.holes()...)
	for i := range d.plantings {
		jobs = append(jobs, d.jobsOf(&d.plantings[i])...)
	}
	return d.finish(jobs)
}

// Before is how many days before the season a job may lie: the longest raising under cover (16
// weeks), and four weeks to order for it.
const Before = 16*7 + 28

// Orders is the shopping list, by date, then crop.
func Orders(in Input) []Order { return newDesk(in).orders() }

// Between picks the jobs whose window meets a span, in order.
func Between(jobs []Job, span civil.Span) []Job {
	var picked []Job
	for _, j := range jobs {
		if j.Window.Meets(span) {
			picked = append(picked, j)
		}
	}
	return picked
}

// finish keeps the jobs inside the season, its lead and its tail, and sorts them.
func (d *desk) finish(jobs []Job) []Job {
	first := d.season.Start.Add(-Before)
	last := d.season.End().Add(growth.Tail)
	kept := jobs[:0]
	for _, j := range jobs {
		if j.Window.From > last || j.Window.To < first {
			continue
		}
		j.Window.From = max(j.Window.From, first)
		j.Window.To = min(j.Window.To, last)
		kept = append(kept, j)
	}
	rank := map[Kind]int{}
	for i, k := range Kinds() {
		rank[k] = i
	}
	slices.SortFunc(kept, func(a, b Job) int {
		return cmp.Or(cmp.Compare(a.Window.From, b.Window.From), cmp.Compare(rank[a.Kind], rank[b.Kind]), cmp.Compare(a.Key, b.Key))
	})
	d.given(kept)
	d.stop(kept)
	d.call(kept)
	return kept
}
