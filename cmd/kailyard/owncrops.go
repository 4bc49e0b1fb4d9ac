package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

type cropsOwnCmd struct{}

func (cropsOwnCmd) example() string { return "kailyard crops own --json" }

// Run lists the book's own crops, and says which are set aside and why.
func (c *cropsOwnCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		catalogue, aside := g.Catalogue(crop.Default())
		list := []cropJSON{}
		add := func(id string) {
			if one, ok := catalogue.Find(id); ok && one.Own {
				var own []crop.Figure
				for _, f := range one.Figures {
					if f.Quality == crop.Own {
						own = append(own, f)
					}
				}
				list = append(list, cropOf(one, own))
			}
		}
		for _, f := range g.Own.Files {
			add(f.ID)
		}
		for _, v := range g.Own.Varieties {
			add(v.ID)
		}
		for _, a := range aside {
			fmt.Fprintf(e.Stderr, "kailyard: %s\n", a.Error())
		}
		if e.json {
			return e.printJSON(list)
		}
		if len(list) == 0 {
			e.printf("No crops of your own yet. Add a variety with `kailyard crops vary`, or a whole crop with `kailyard crops add`.\n")
		}
		for _, v := range list {
			if v.Retired {
				v.Name += " (no longer grown)"
			}
			e.printCrop(v, &g.Site.Units)
			if v.Note != "" {
				e.printf("%s\n", wrapped(v.Note, "    ", 92))
			}
		}
		return nil
	})
}

type cropsVaryCmd struct {
	Crop        string  `arg:"" help:"The crop it is a variety of: its ID or name."`
	Name        string  `help:"What you call the variety." required:""`
	Days        string  `help:"Days to the first harvest as the packet prints them: 55 or 55-60." placeholder:"DAYS"`
	From        string  `help:"What the packet's days count from: sowing, setting-out, or planting (of sets, tubers, cloves); default: as the crop is usually grown." placeholder:"FROM"`
	InRow       string  `help:"How far apart in the row, with its unit; without one in cm, or in inches where the garden is in US units." placeholder:"LENGTH"`
	BetweenRows string  `help:"How far apart the rows, likewise." placeholder:"LENGTH"`
	Yield       string  `help:"What it gives: '2 lb/plant', '3 kg/m²', '100 lb/100 ft' of row." placeholder:"YIELD"`
	Note        *string `help:"In your own words." placeholder:"TEXT"`
	Change      string  `help:"The ID of the variety of yours to change to this; default: a new one." placeholder:"ID"`
}

func (cropsVaryCmd) example() string {
	return "kailyard crops vary bean-bush --name \"the neighbour's early bean\" --days 45 --from sowing"
}

// Run keeps a variety.
func (c *cropsVaryCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		catalogue, _, err := b.Catalogue(ctx)
		if err != nil {
			return err
		}
		base := catalogue.One(c.Crop)
		if base == nil {
			found, near := catalogue.Match(c.Crop)
			if len(found) == 0 {
				return season.UnknownCrop(c.Crop, near)
			}
			return fmt.Errorf("%q may be several crops; say which: %s", c.Crop, strings.Join(ids(found), ", "))
		}
		v := crop.Variety{ID: c.Change, Name: c.Name, Base: base.ID, Days: c.Days, Yield: c.Yield}
		g, err := b.Garden(ctx)
		if err != nil {
			return err
		}
		v.InRow, v.BetweenRows = garden.PacketLength(c.InRow, g.Site.Units), garden.PacketLength(c.BetweenRows, g.Site.Units)
		if c.Note != nil {
			v.Note = *c.Note
		}
		if c.From != "" {
			way, ok := crop.WayFrom(c.From)
			if !ok {
				return usageError{fmt.Sprintf("--from %s: write sowing, setting-out or planting", c.From)}
			}
			v.From = way
		}
		if c.Change != "" {
			err = b.SaveVariety(ctx, v)
		} else {
			v.ID, err = b.AddVariety(ctx, v)
		}
		if err != nil {
			return asFlags(err)
		}
		return e.printOwn(ctx, b, v.ID, "Kept")
	})
}

// asFlags names what is wrong with a variety by the flags of its command.
func asFlags(err error) error {
	var ps garden.Problems
	if !errors.As(err, &ps) {
		return err
	}
	flags := map[string]string{
		"name": "--name", "days": "--days", "days_from": "--from", "in_row": "--in-row", "between_rows": "--between-rows", "yield": "--yield",
	}
	var lines []string
	for _, p := range ps {
		says := p.Error()
		if flag := flags[p.Field]; flag != "" {
			says = flag + ": " + strings.TrimPrefix(says, p.Field+": ")
		}
		lines = append(lines, says)
	}
	return errors.New(strings.Join(lines, "\n"))
}

type cropsAddCmd struct {
	File string `arg:"" help:"A crop's file; its name is the crop's ID. It takes the place of the one you had of that ID."`
}

func (cropsAddCmd) example() string { return "kailyard crops add winter-carrot.toml" }

// Run takes a crop's file into the book.
func (c *cropsAddCmd) Run(ctx context.Context, e *env) error {
	file, err := os.Open(c.File)
	if err != nil {
		return fmt.Errorf("cannot read the crop's file: %w", err)
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, crop.LargestFile+1))
	if err != nil {
		return fmt.Errorf("cannot read the crop's file: %w", err)
	}
	f := crop.File{ID: strings.TrimSuffix(filepath.Base(c.File), ".toml"), Text: string(text)}
	if _, err := f.Load(); err != nil {
		return err
	}
	return e.with(ctx, changing, func(b *book.Book) error {
		if err := b.SaveCropFile(ctx, f); err != nil {
			return err
		}
		return e.printOwn(ctx, b, f.ID, "Taken in")
	})
}

// cataloguer tells the catalogue of a book.
type cataloguer interface {
	Catalogue(ctx context.Context) (*crop.Catalogue, []crop.Aside, error)
}

// printOwn says what an own crop has become.
func (e *env) printOwn(ctx context.Context, b cataloguer, id, done string) error {
	catalogue, _, err := b.Catalogue(ctx)
	if err != nil {
		return err
	}
	one, ok := catalogue.Find(id)
	if !ok {
		return fmt.Errorf("the crop %s was kept but is not in the catalogue", id)
	}
	if e.json {
		return e.printJSON(cropOf(one, one.Figures))
	}
	e.printf("%s: %s, under the ID %s.\n", done, one.Name(), one.ID)
	if _, there := crop.Default().Find(id); there {
		e.printf("In this book it stands in the place of the catalogue's own.\n")
	}
	for _, m := range one.Methods {
		e.printf("  days from %s: %s\n", m.Way.Begins(), rangeWords(m.Days))
	}
	e.printf("Name it in wants and questions as you name any crop: kailyard windows %s\n", one.ID)
	return nil
}

func rangeWords(r crop.Range) string {
	if r.Low == r.High {
		return fmt.Sprintf("%g", r.Low)
	}
	return fmt.Sprintf("%g to %g", r.Low, r.High)
}

type cropsRemoveCmd struct {
	ID string `arg:"" help:"The crop's ID."`
}

func (cropsRemoveCmd) example() string { return "kailyard crops remove the-neighbours-early-bean" }

// Run takes an own crop out.
func (c *cropsRemoveCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		retired, err := b.RemoveCrop(ctx, c.ID)
		if err != nil {
			return err
		}
		if retired {
			e.printf("%s is no longer offered. History and plans name it, so the book keeps it.\n", c.ID)
			return nil
		}
		e.printf("%s is taken out.\n", c.ID)
		return nil
	})
}
