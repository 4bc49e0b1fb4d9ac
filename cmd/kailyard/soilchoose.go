package main

import (
	"cmp"
	"context"

	"kailyard/internal/book"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

type soilChooseCmd struct {
	Natural bool   `help:"From now on only plant foods from plants, animals or rock." xor:"foods"`
	Any     bool   `help:"From now on plant foods of any kind." xor:"foods"`
	Lime    string `help:"The liming material; 'usual': by the magnesium test." placeholder:"MATERIAL"`
	Organic string `help:"The organic matter; 'usual': compost." placeholder:"MATERIAL"`
}

func (soilChooseCmd) example() string {
	return "kailyard soil choose --natural --organic leaf-mould"
}

type soilChoiceJSON struct {
	Natural bool   `json:"natural"`
	Lime    string `json:"lime"`
	Organic string `json:"organic"`
}

// usualWord takes a choice back.
const usualWord = "usual"

// Run keeps what is put on the ground, or tells what is kept.
func (c *soilChooseCmd) Run(ctx context.Context, e *env) error {
	changes := c.Natural || c.Any || c.Lime != "" || c.Organic != ""
	return e.withGarden(ctx, !changes, func(b *book.Book, g garden.Garden) error {
		if changes {
			if err := c.take(&g.Site.Soil, g.Packages); err != nil {
				return err
			}
			if err := b.SaveSite(ctx, g.Site); err != nil {
				return err
			}
		}
		s := g.Site.Soil
		if e.json {
			return e.printJSON(soilChoiceJSON{s.Natural, s.Lime, s.Organic})
		}
		foods, lime := "of any kind", "by the magnesium test"
		if s.Natural {
			foods = "from plants, animals or rock only"
		}
		if m, ok := soil.LimeOf(s.Lime, g.Packages); ok {
			lime = m.Name
		}
		organic, _ := soil.Find(cmp.Or(s.Organic, "compost"))
		e.printf("Plant foods: %s.\nLime: %s.\nOrganic matter: %s.\n", foods, lime, organic.Name)
		return nil
	})
}

// take puts what the flags say to what is kept.
func (c *soilChooseCmd) take(s *garden.Soil, onSale []garden.Package) error {
	said := choiceFlags{Natural: c.Natural, Lime: c.Lime, Organic: c.Organic}
	if c.Lime == usualWord {
		said.Lime = ""
	}
	if c.Organic == usualWord {
		said.Organic = ""
	}
	chosen, err := said.choice(onSale)
	if err != nil {
		return err
	}
	if c.Natural || c.Any {
		s.Natural = c.Natural
	}
	if c.Lime != "" {
		s.Lime = chosen.Lime
	}
	if c.Organic != "" {
		s.Organic = chosen.Organic
	}
	return nil
}

// measures are the units of the book's person, where there is a book; without one, texts tell both.
func (e *env) measures(ctx context.Context) (u quantity.System, known bool) {
	b, err := e.open(ctx, true)
	if err != nil {
		return u, false
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	return g.Site.Units, err == nil
}
