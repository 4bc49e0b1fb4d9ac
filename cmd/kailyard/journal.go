package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
)

type noteCmd struct {
	Kind     string    `arg:"" help:"What happened: sowed, set-out, came-up, harvested, cleared, failed, dug, fed, watered, rained, frost, noted." enum:"sowed,set-out,came-up,harvested,cleared,failed,dug,fed,watered,rained,frost,noted"`
	Text     []string  `arg:"" optional:"" help:"In your own words; after rained first what the gauge held: 12 mm."`
	On       civilFlag `help:"The day; default: today." placeholder:"DATE"`
	Bed      string    `help:"The bed's name." placeholder:"BED"`
	Planting string    `help:"The planting's key, from the plan." placeholder:"KEY"`
	Amount   string    `help:"How much, with its unit; of water a volume, a depth, minutes or cans: '30 L', '12 mm', '25 min', '4 cans'." placeholder:"AMOUNT"`
}

func (noteCmd) example() string {
	return "kailyard note harvested --planting 2027-04 --amount '3 lb' 'first picking, sweet'\nkailyard note rained 12 mm\nkailyard note watered --bed 'Long drills' --amount '25 min'"
}

// Run appends a journal entry.
func (c *noteCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, changing, func(b *book.Book, g garden.Garden) error {
		entry := garden.Entry{
			Date: e.Today, Kind: garden.EntryKind(strings.ReplaceAll(c.Kind, "-", " ")),
			Planting: c.Planting, Text: strings.Join(c.Text, " "),
		}
		if c.On.set {
			entry.Date = c.On.date
		}
		wet := entry.Kind == garden.Watered || entry.Kind == garden.Rained
		if c.Amount != "" && !wet {
			var err error
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
		if wet {
			if err := c.water(&entry, g); err != nil {
				return err
			}
			if err := entry.Validate().Err(); err != nil {
				return err
			}
		}
		if _, err := b.Append(ctx, entry); err != nil {
			return err
		}
		if wet {
			e.oddButKept(entry.Validate())
		}
		e.printf("Written: %s, %s%s.\n", entry.Date.Long(), entry.Kind, came(entry, g.Site.Units))
		return nil
	})
}

// water reads what fell, or what a bed was given, from --amount or the first words.
func (c *noteCmd) water(entry *garden.Entry, g garden.Garden) error {
	text, flag := c.Amount, "--amount: "
	if text == "" {
		flag = ""
		text, entry.Text = leadingAmount(c.Text)
	}
	if text == "" {
		if entry.Kind == garden.Rained {
			return usageError{"write what the gauge held, for example: kailyard note rained 12 mm"}
		}
		return nil
	}
	if entry.Kind == garden.Rained {
		depth, err := quantity.ParseRain(text, g.Site.Units)
		if err != nil {
			return usageError{flag + err.Error()}
		}
		entry.Depth = quantity.Metre(depth / 1000)
		return believed(flag, *entry, 0, g.Site.Units)
	}
	bed, ok := g.Bed(entry.BedID)
	if !ok {
		return usageError{"an amount of water needs the bed that it was given to: --bed BED"}
	}
	var err error
	if entry.Volume, entry.Depth, err = water.ParseGiven(text, g.WateredBy(bed), g.Site.Supply, g.Site.Units); err != nil {
		return usageError{flag + err.Error()}
	}
	return believed(flag, *entry, bed.Area(), g.Site.Units)
}

// believed asks an amount of water back that cannot be meant.
func believed(flag string, entry garden.Entry, area quantity.SquareMetre, units quantity.System) error {
	if err := water.Believable(entry, area, units); err != nil {
		return usageError{flag + err.Error()}
	}
	return nil
}

// leadingAmount parts an amount, "12 mm" or "12mm", from the words after it; words that begin with no figure have none.
func leadingAmount(words []string) (amount, rest string) {
	words = strings.Fields(strings.Join(words, " "))
	if len(words) == 0 || !strings.ContainsAny(string([]rune(words[0])[:1]), "0123456789.½-−") {
		return "", strings.Join(words, " ")
	}
	n := 1
	if len(words) > 1 && strings.Trim(words[0], "0123456789.,½-−") == "" {
		n = 2
	}
	return strings.Join(words[:n], " "), strings.Join(words[n:], " ")
}

// came is the water of an entry, ": 12 mm"; empty where it has none.
func came(e garden.Entry, units quantity.System) string {
	switch {
	case e.Kind != garden.Rained && e.Kind != garden.Watered:
		return ""
	case e.Depth > 0:
		return ": " + units.Rain(quantity.Millimetre(1000*e.Depth))
	case e.Volume > 0:
		return ": " + units.Volume(e.Volume)
	}
	return ""
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
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
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
			if says := came(one, g.Site.Units); says != "" {
				amount = strings.TrimPrefix(says, ": ")
			}
			if one.Material != "" {
				one.Text = strings.TrimSpace(materialName(g.Packages, one.Material) + " " + one.Text)
			}
			e.printf("%s  %-10s %-18s %-9s %-8s %s\n", one.Date, one.Kind, beds[one.BedID], one.Planting, amount, one.Text)
		}
		return nil
	})
}
