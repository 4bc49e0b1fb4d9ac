package main

import (
	"context"
	"slices"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

type soilWithdrawCmd struct {
	Entry int64 `arg:"" optional:"" help:"The number of what was put on; default: list what counts, with its numbers."`
}

func (soilWithdrawCmd) example() string { return "kailyard soil withdraw 12" }

type treatmentJSON struct {
	Entry    int64      `json:"entry"`
	Date     civil.Date `json:"date"`
	Bed      string     `json:"bed"`
	Material string     `json:"material"`
	MassKg   float64    `json:"mass_kg"`
	VolumeL  float64    `json:"volume_l"`
	DepthM   float64    `json:"depth_m"`
	Note     string     `json:"note"`
}

// Run withdraws what was put on a bed, or lists what counts.
func (c *soilWithdrawCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, c.Entry == 0, func(b *book.Book, g garden.Garden) error {
		if c.Entry == 0 {
			return c.list(e, g)
		}
		if err := b.WithdrawTreatment(ctx, c.Entry); err != nil {
			return err
		}
		i := slices.IndexFunc(g.Treatments, func(t garden.Treatment) bool { return t.EntryID == c.Entry })
		t := g.Treatments[i]
		e.printf("Counts no more: %s of %s on %s, %s. The journal keeps it, marked.\n", amountWords(t.Amount, t.Volume, g.Site.Soil.Weighs), materialName(g.Packages, t.Material), bedTold(g, t.BedID), t.Date.Long())
		return nil
	})
}

func (c *soilWithdrawCmd) list(e *env, g garden.Garden) error {
	if e.json {
		list := []treatmentJSON{}
		for _, t := range g.Treatments {
			list = append(list, treatmentJSON{t.EntryID, t.Date, bedTold(g, t.BedID), t.Material, float64(t.Amount), float64(t.Volume), float64(t.Depth), t.Note})
		}
		return e.printJSON(list)
	}
	if len(g.Treatments) == 0 {
		e.printf("Nothing is on record as put on. Write it down: kailyard soil put MATERIAL AMOUNT BED.\n")
	}
	for _, t := range g.Treatments {
		e.printf("  %d  %s  %s: %s of %s\n", t.EntryID, t.Date.Long(), bedTold(g, t.BedID), amountWords(t.Amount, t.Volume, g.Site.Soil.Weighs), materialName(g.Packages, t.Material))
	}
	return nil
}

// bedTold is a bed's name by its ID.
func bedTold(g garden.Garden, id int64) string {
	b, _ := g.Bed(id)
	return b.Name
}
