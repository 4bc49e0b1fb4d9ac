package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"kailyard/internal/book"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

type newCmd struct {
	From string `help:"A garden description to begin with (doc/garden-file.md)." placeholder:"FILE"`
}

func (newCmd) example() string { return "kailyard new --book garden.kailyard --from garden.toml" }

// Run makes a book.
func (c *newCmd) Run(ctx context.Context, e *env) error {
	var g *garden.Garden
	if c.From != "" {
		read, err := readDescription(c.From, crop.Default())
		if err != nil {
			return err
		}
		g = &read
	}
	b, err := e.create(ctx)
	if err != nil {
		return err
	}
	defer b.Close()
	if g != nil {
		if err := b.Import(ctx, *g); err != nil {
			return err
		}
	}
	e.printf("Made %s. Next: kailyard import FILE, kailyard weather FILE, kailyard plan.\n", e.book)
	return nil
}

// readDescription reads a garden description whose crops a catalogue knows.
func readDescription(name string, crops *crop.Catalogue) (garden.Garden, error) {
	f, err := os.Open(name)
	if err != nil {
		return garden.Garden{}, fmt.Errorf("cannot read the garden description: %w", err)
	}
	defer f.Close()
	return garden.ReadDescription(name, f, crops)
}

type importCmd struct {
	File string `arg:"" help:"The garden description (doc/garden-file.md)."`
}

func (importCmd) example() string { return "kailyard import garden.toml --book garden.kailyard" }

// Run takes a description into the book.
func (c *importCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		crops, _, err := b.Catalogue(ctx)
		if err != nil {
			return err
		}
		g, err := readDescription(c.File, crops)
		if err != nil {
			return err
		}
		if err := b.Import(ctx, g); err != nil {
			return err
		}
		e.printf("%s: %s, %s, %s of history. Next: kailyard weather FILE, then kailyard plan.\n",
			g.Site.Name, counted(len(g.Beds), "bed"), counted(len(g.Wants), "want"), counted(len(g.History), "line"))
		return nil
	})
}

type exportCmd struct {
	To string `help:"The file to write; default: the screen." placeholder:"FILE"`
}

func (exportCmd) example() string { return "kailyard export --to garden.toml" }

// Run writes the description.
func (c *exportCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		return e.writeTo(c.To, func(w io.Writer) error { return garden.WriteDescription(w, g) })
	})
}

// writeTo writes to a new file, or to the screen when name is empty. It never replaces a file.
func (e *env) writeTo(name string, write func(io.Writer) error) error {
	if name == "" {
		return write(e.Stdout)
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		if os.IsExist(err) {
			return fmt.Errorf("%s is there already; choose another name or move it away", name)
		}
		return err
	}
	if err := write(f); err != nil {
		f.Close()
		os.Remove(name)
		return err
	}
	return f.Close()
}

func climateOf(id string) (weather.Climate, bool) {
	c, err := weather.ClimateByID(id)
	return c, err == nil
}

type placesCmd struct{}

func (placesCmd) example() string { return "kailyard places" }

type placeJSON struct {
	ID        string  `json:"id"`
	Name      string  `json:"name"`
	Latitude  float64 `json:"latitude_deg"`
	Longitude float64 `json:"longitude_deg"`
	Elevation float64 `json:"elevation_m"`
	Source    string  `json:"source"`
	Note      string  `json:"note"`
}

// Run lists the built-in climates.
func (c *placesCmd) Run(ctx context.Context, e *env) error {
	list := []placeJSON{}
	for _, p := range weather.Climates() {
		list = append(list, placeJSON{p.ID, p.Name, p.Latitude, p.Longitude, float64(p.Elevation), p.Source, p.Note})
	}
	if e.json {
		return e.printJSON(list)
	}
	u := e.units(ctx)
	if u == nil {
		u = new(quantity.System)
	}
	for _, p := range list {
		e.printf("%-16s %-40s %6.1f° %7.1f° %8s  %s\n", p.ID, p.Name, p.Latitude, p.Longitude, u.Height(quantity.Metre(p.Elevation)), p.Source)
	}
	e.printf("\nTheir weather is generated from monthly figures: good for a first look, no substitute for a record of your own.\n")
	return nil
}
