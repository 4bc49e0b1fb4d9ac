package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

type soilBuyCmd struct {
	seasonFlag
	choiceFlags
}

func (soilBuyCmd) example() string { return "kailyard soil buy --natural" }

type buyJSON struct {
	Purchases []purchaseJSON  `json:"purchases"`
	Bulk      []bulkJSON      `json:"loose"`
	OwnL      float64         `json:"own_compost_l"`
	Cost      *float64        `json:"cost"`
	Left      []string        `json:"left_out"`
	Reasons   []garden.Reason `json:"reasons"`
}

type purchaseJSON struct {
	Material string       `json:"material"`
	Name     string       `json:"name"`
	NeededKg float64      `json:"needed_kg"`
	BoughtKg float64      `json:"bought_kg"`
	Cost     *float64     `json:"cost"`
	Usual    bool         `json:"usual_sizes"`
	Packages []bagsJSON   `json:"packages"`
	Beds     []buyForJSON `json:"beds"`
}

type bagsJSON struct {
	Name   string  `json:"name"`
	MassKg float64 `json:"mass_kg"`
	Price  float64 `json:"price"`
	Count  int     `json:"count"`
}

type buyForJSON struct {
	Bed    string  `json:"bed"`
	MassKg float64 `json:"mass_kg"`
}

type bulkJSON struct {
	Material string     `json:"material"`
	LooseL   float64    `json:"loose_l"`
	Loads    []loadJSON `json:"loads"`
	Beds     []string   `json:"beds"`
}

func buyOf(g *season.Ground) buyJSON {
	v := buyJSON{OwnL: float64(g.Buy.Own), Purchases: []purchaseJSON{}, Bulk: []bulkJSON{}, Left: orEmpty(g.Buy.Left), Reasons: orEmpty(g.Buy.Reasons)}
	name := func(id int64) string {
		b, _ := g.Bed(id)
		return b.Bed.Name
	}
	if g.Buy.Priced {
		v.Cost = &g.Buy.Cost
	}
	for _, p := range g.Buy.Purchases {
		one := purchaseJSON{Material: p.Offer.Material.ID, Name: p.Offer.Name, NeededKg: float64(p.Needed), BoughtKg: float64(p.Bought), Usual: p.Offer.Usual, Packages: []bagsJSON{}, Beds: []buyForJSON{}}
		if p.Offer.Priced() {
			cost := p.Cost
			one.Cost = &cost
		}
		for _, b := range p.Bags {
			one.Packages = append(one.Packages, bagsJSON{b.Size.Name, float64(b.Size.Mass), b.Size.Price, b.Count})
		}
		for _, f := range g.Buy.Beds(p.Offer.Material.ID) {
			one.Beds = append(one.Beds, buyForJSON{name(f.Bed), float64(f.Mass)})
		}
		v.Purchases = append(v.Purchases, one)
	}
	for _, b := range g.Buy.Bulk {
		one := bulkJSON{Material: b.Material, LooseL: float64(b.Loose), Loads: loadsOf(b.Loads), Beds: []string{}}
		for _, id := range b.Beds {
			one.Beds = append(one.Beds, name(id))
		}
		v.Bulk = append(v.Bulk, one)
	}
	return v
}

// Run prints the shopping list.
func (c *soilBuyCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, told garden.Garden) error {
		choice, err := c.choice(told.Packages)
		if err != nil {
			return err
		}
		g, err := e.ground(ctx, b, c.seasonFlag, choice)
		if err != nil {
			return err
		}
		if e.json {
			return e.printJSON(buyOf(g))
		}
		e.printBuy(g)
		return nil
	})
}

// printBuy prints the shopping list in words.
func (e *env) printBuy(g *season.Ground) {
	v := buyOf(g)
	for _, p := range v.Purchases {
		var bags []string
		for _, b := range p.Packages {
			bags = append(bags, fmt.Sprintf("%d × %s", b.Count, g.Weighs.Mass(quantity.Kilogram(b.MassKg))))
		}
		text := fmt.Sprintf("%s: %s for the %s needed", p.Name, strings.Join(bags, " and "), g.Weighs.RoughMass(quantity.Kilogram(p.NeededKg)))
		if p.Cost != nil {
			text += ", " + money(*p.Cost)
		}
		if p.Usual {
			text += " (usual sizes; none of yours is told)"
		}
		e.printf("%s\n", wrapped(text, "  ", 92))
		for _, f := range p.Beds {
			e.printf("      %-24s %s\n", f.Bed, g.Weighs.RoughMass(quantity.Kilogram(f.MassKg)))
		}
	}
	for i, b := range v.Bulk {
		e.printf("%s\n", wrapped(fmt.Sprintf("%s: %s for %s", g.Buy.Bulk[i].Name, loadWords(g.Buy.Bulk[i].Loads), strings.Join(b.Beds, ", ")), "  ", 92))
	}
	if v.Cost != nil {
		e.printf("  In all %s.\n", money(*v.Cost))
	}
	for _, r := range v.Reasons {
		e.printf("%s\n", wrapped("• "+r.Says, "  ", 92))
	}
	for _, says := range v.Left {
		e.printf("%s\n", wrapped("• "+says, "  ", 92))
	}
}
