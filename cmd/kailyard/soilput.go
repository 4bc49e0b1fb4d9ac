package main

import (
	"context"
	"fmt"

	"kailyard/internal/book"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

type soilPutCmd struct {
	Material string    `arg:"" help:"The material, by ID or name ('kailyard soil materials'), or a product of yours that is kept as a package."`
	Amount   string    `arg:"" help:"How much in all, by weight, volume or in your buckets: '2 kg', '3 cu ft', '2 buckets'."`
	Beds     []string  `arg:"" help:"The beds; over several it is shared out by their ground."`
	On       civilFlag `help:"The day; default: today." placeholder:"DATE"`
	Deep     string    `help:"How deep it was worked in; default: left on top." placeholder:"LENGTH"`
	Heap     string    `help:"The heap of yours that compost came out of: from one with manure that was not hot it counts as raw manure." placeholder:"NAME"`
	Bought   bool      `help:"Compost that was bought, or comes from no heap of yours."`
	Note     string    `help:"In your own words." placeholder:"TEXT"`
	Sure     bool      `help:"Write it down though the amount is unusual."`
}

func (soilPutCmd) example() string {
	return "kailyard soil put limestone-ground '4 kg' 'South bed' 'Middle bed' --on 2026-10-20 --deep '18 cm'"
}

// Run writes a treatment of each bed into the journal.
func (c *soilPutCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, changing, func(b *book.Book, g garden.Garden) error {
		entries, err := c.entries(e, g)
		if err != nil {
			return err
		}
		for _, entry := range entries { // all are looked at before any is written
			if err := entry.Validate().Err(); err != nil {
				return err
			}
			if err := c.unusual(g, entry); err != nil {
				return err
			}
		}
		for i, entry := range entries {
			if entries[i].ID, err = b.Append(ctx, entry); err != nil {
				return err
			}
		}
		c.tell(e, g, entries)
		return nil
	})
}

// unusual refuses an amount that no ground is given, and asks whether one is meant that hardly any is.
func (c *soilPutCmd) unusual(g garden.Garden, entry garden.Entry) error {
	t, _ := entry.Treatment()
	for _, b := range g.Beds {
		if b.ID != t.BedID {
			continue
		}
		if err := soil.TooMuch(t, b).Err(); err != nil {
			return fmt.Errorf("%s: %w; nothing was written", b.Name, err)
		}
		if odd := t.Odd(b).Doubts(); len(odd) > 0 && !c.Sure {
			return usageError{fmt.Sprintf("%s: %s. Nothing was written; if it is so, say it again with --sure", b.Name, odd[0].Error())}
		}
	}
	return nil
}

// entries are the journal's lines, one a bed.
func (c *soilPutCmd) entries(e *env, g garden.Garden) ([]garden.Entry, error) {
	id := c.Material
	if m, err := materialNamed(c.Material); err == nil {
		id = m.ID
	} else if err := soil.CheckMaterial(c.Material, g.Packages).Err(); err != nil {
		return nil, err
	}
	beds, err := bedsNamed(g, c.Beds)
	if err != nil {
		return nil, err
	}
	mass, volume, err := amountOf(c.Amount, g.Site.Soil)
	if err != nil {
		return nil, usageError{err.Error()}
	}
	if mass <= 0 && volume <= 0 {
		return nil, usageError{fmt.Sprintf("%q is nothing; write how much was put on", c.Amount)}
	}
	entry := garden.Entry{Date: e.clock(), Kind: garden.Fed, Material: id, Text: c.Note}
	if c.On.set {
		entry.Date = c.On.date
	}
	if entry.Date > e.clock() {
		return nil, usageError{fmt.Sprintf("--on %s: the day is still to come; the journal tells what has happened", entry.Date)}
	}
	if c.Heap != "" && c.Bought {
		return nil, usageError{"--heap and --bought say two different things; give one of them"}
	}
	as, ps := soil.PutAs(id, soil.Origin{Heap: c.Heap, Bought: c.Bought}, g.Heaps, entry.Date)
	if err := ps.Err(); err != nil {
		return nil, err
	}
	entry.Material = as
	if c.Deep != "" {
		if entry.Depth, err = quantity.ParseDistance(c.Deep, g.Site.Units); err != nil {
			return nil, usageError{"--deep: " + err.Error()}
		}
	}
	var all quantity.SquareMetre
	for _, b := range beds {
		all += b.Area()
	}
	var entries []garden.Entry
	for _, b := range beds {
		if !(b.Area() > 0) {
			return nil, fmt.Errorf("%s has no size; give its length and width first", b.Name)
		}
		share := float64(b.Area() / all)
		entry.BedID, entry.Amount, entry.Volume = b.ID, mass*quantity.Kilogram(share), volume*quantity.Litre(share)
		entries = append(entries, entry)
	}
	return entries, nil
}

// tell says what was written, and what raw manure holds back.
func (c *soilPutCmd) tell(e *env, g garden.Garden, entries []garden.Entry) {
	units := g.Site.Soil.Weighs
	for i, entry := range entries {
		name := entry.Material
		m, known := soil.Find(entry.Material)
		if known {
			name = m.Name
		}
		bed := g.Beds[0]
		for _, b := range g.Beds {
			if b.ID == entry.BedID {
				bed = b
			}
		}
		rate := ""
		if t, ok := entry.Treatment(); ok && known {
			if mass := soil.Weighed(t); mass > 0 {
				rate = ", " + units.Rate(quantity.KilogramPerSquareMetre(float64(mass)/float64(bed.Area())))
			}
		}
		e.printf("Written: %s, %s of %s on %s%s.\n", entry.Date.Long(), amountWords(entry.Amount, entry.Volume, units), name, bed.Name, rate)
		if i == len(entries)-1 {
			e.printf("If it is wrong: kailyard soil withdraw %d.\n", entry.ID)
		}
		if known && m.Most > 0 && i == 0 {
			if t, ok := entry.Treatment(); ok && float64(soil.Weighed(t))/float64(bed.Area()) > 1.2*float64(m.Most) {
				e.printf("%s\n", wrapped(fmt.Sprintf("! That is more than the %s that is given at one time.", units.Rate(m.Most)), "  ", 92))
			}
		}
		if known && m.Raw && i == 0 {
			e.printf("%s\n", wrapped(fmt.Sprintf("! Raw manure: nothing that touches the soil is harvested before %s (%d days), nothing else before %s (%d days). The plan keeps to it from the next `kailyard plan` on.",
				entry.Date.Add(soil.DaysTouching).Long(), soil.DaysTouching, entry.Date.Add(soil.DaysClear).Long(), soil.DaysClear), "  ", 92))
		}
	}
}

// materialName is a material's name by its ID, the ID where it is a product of the person's own.
func materialName(packages []garden.Package, id string) string {
	if m, ok := soil.MaterialOf(id, packages); ok {
		return m.Name
	}
	return id
}
