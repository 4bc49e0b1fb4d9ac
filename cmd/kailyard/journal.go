package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

type noteCmd struct {
	Kind     string    `arg:"" help:"What happened: sowed, set-out, came-up, harvested, cleared, failed, dug, fed, watered, frost, noted." enum:"sowed,set-out,came-up,harvested,cleared,failed,dug,fed,watered,frost,noted"`
	Text     []string  `arg:"" optional:"" help:"In your own words."`
	On       civilFlag `help:"The day; default: today." placeholder:"DATE"`
	Bed      string    `help:"The bed's name." placeholder:"BED"`
	Planting string    `help:"The planting's key, from the plan." placeholder:"KEY"`
	Amount   string    `help:"How much, with its unit." placeholder:"MASS"`
}

func (noteCmd) example() string {
	return "kailyard note harvested --planting 2027-04 --amount '3 lb' 'first picking, sweet'"
}

// Run appends a journal entry.
func (c *noteCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, false)
	if err != nil {
		return err
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	entry := garden.Entry{
		Date: e.Today, Kind: garden.EntryKind(strings.ReplaceAll(c.Kind, "-", " ")),
		Planting: c.Planting, Text: strings.Join(c.Text, " "),
	}
	if c.On.set {
		entry.Date = c.On.date
	}
	if c.Amount != "" {
		if entry.Amount, err = quantity.ParseMass(c.Amount, g.Site.Units); err != nil {
			return usageError{"--amount: " + err.Error()}
		}
	}
	if c.Bed != "" {
		var names []string
		for _, bed := range g.Beds {
			names = append(names, bed.Name)
			if strings.EqualFold(bed.Name, c.Bed) {
				entry.BedID = bed.ID
			}
		}
		if entry.BedID == 0 {
			return fmt.Errorf("there is no bed %q; the beds are %s", c.Bed, strings.Join(names, ", "))
		}
	}
	if _, err := b.Append(ctx, entry); err != nil {
		return err
	}
	e.printf("Written: %s, %s.\n", entry.Date.Long(), entry.Kind)
	return nil
}

type journalCmd struct {
	From civilFlag `help:"The first day; default: a year ago." placeholder:"DATE"`
	To   civilFlag `help:"The last day; default: today." placeholder:"DATE"`
}

func (journalCmd) example() string { return "kailyard journal --from 2027-03-01" }

type entryJSON struct {
	Date     civil.Date `json:"date"`
	Kind     string     `json:"kind"`
	Bed      string     `json:"bed,omitempty"`
	Planting string     `json:"planting,omitempty"`
	AmountKg float64    `json:"amount_kg"`
	Text     string     `json:"text"`
	Material string     `json:"material,omitempty"`
	VolumeL  float64    `json:"volume_l,omitempty"`
	DepthM   float64    `json:"depth_m,omitempty"`
}

// Run prints the journal.
func (c *journalCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	span := civil.Span{From: e.Today - 365, To: e.Today}
	if c.From.set {
		span.From = c.From.date
	}
	if c.To.set {
		span.To = c.To.date
	}
	entries, err := b.Journal(ctx, span)
	if err != nil {
		return err
	}
	beds := map[int64]string{}
	for _, bed := range g.Beds {
		beds[bed.ID] = bed.Name
	}
	if e.json {
		list := []entryJSON{}
		for _, one := range entries {
			list = append(list, entryJSON{one.Date, string(one.Kind), beds[one.BedID], one.Planting, float64(one.Amount), one.Text, one.Material, float64(one.Volume), float64(one.Depth)})
		}
		return e.printJSON(list)
	}
	if len(entries) == 0 {
		e.printf("Nothing written down from %s to %s.\n", span.From, span.To)
	}
	for _, one := range entries {
		amount := ""
		if one.Amount > 0 || one.Volume > 0 {
			amount = amountWords(one.Amount, one.Volume, g.Site.Units)
		}
		if one.Material != "" {
			one.Text = strings.TrimSpace(materialName(one.Material) + " " + one.Text)
		}
		e.printf("%s  %-10s %-18s %-9s %-8s %s\n", one.Date, one.Kind, beds[one.BedID], one.Planting, amount, one.Text)
	}
	return nil
}
