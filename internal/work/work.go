// Package work is jobs and orders that follow from a plan: when, how much, with what, how long, in what weather.
package work

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

// Kind is what sort of job it is.
type Kind string

// The kinds of job, in the order they come for one planting.
const (
	OrderSeed Kind = "order"
	Raise     Kind = "sow under cover"
	HardenOff Kind = "harden off"
	Prepare   Kind = "prepare the ground"
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

// Job is one thing to do, with the days it may be done on.
type Job struct {
	Key        string // stable: planting key and kind, "2027-07/sow"
	Kind       Kind
	Window     civil.Span // from the best day on; To is the last day it still serves
	BedID      int64      // 0: no bed
	Planting   string     // planting key; empty for orders
	CropID     string
	Title      string        // "Sow carrot, main crop, in Long drill: two drills of 9 m"
	How        []string      // steps and measures, in order, in the person's units
	Weather    string        // what day suits: "soil dry enough to crumble"
	Hours      quantity.Hour // a fair guess of the time it takes; 0 when not guessed
	Why        []garden.Reason
	Cautions   []string
	Conditions []garden.Reason // how the date spreads over the weather years
}

// Order is one line of the shopping list.
type Order struct {
	CropID string
	What   string        // "carrot, main crop: seed"
	Count  int           // seeds, sets, tubers or plants
	Mass   quantity.Gram // of seed or sets; 0 when sold by count
	Spare  float64       // share added for germination and losses
	By     civil.Date    // when it must be in the house
	For    []string      // planting keys
	Why    []garden.Reason
}

// Input is what jobs are made from.
type Input struct {
	Plan   *plan.Plan
	Garden garden.Garden
	Crops  *crop.Catalogue
	Tables []*growth.Table
}

// Jobs are all jobs of the plan, by first day, then kind, then key.
func Jobs(in Input) []Job { panic("work helper writes this") }

// Orders is the shopping list, by date, then crop.
func Orders(in Input) []Order { panic("work helper writes this") }

// Between picks the jobs whose window meets a span, in order.
func Between(jobs []Job, span civil.Span) []Job { panic("work helper writes this") }
