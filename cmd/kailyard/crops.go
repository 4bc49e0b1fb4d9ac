package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

type cropsCmd struct {
	Show   cropsShowCmd   `cmd:"" default:"withargs" help:"List the catalogue, or a crop's figures with their sources."`
	Own    cropsOwnCmd    `cmd:"" help:"List your own crops."`
	Vary   cropsVaryCmd   `cmd:"" help:"Add a variety of your own, from its seed packet."`
	Add    cropsAddCmd    `cmd:"" help:"Take a whole crop of your own into the book, from a crop's file."`
	File   cropsFileCmd   `cmd:"" help:"Write a crop's file, to begin one of your own from."`
	Remove cropsRemoveCmd `cmd:"" help:"Take one of your own crops out."`
}

func (cropsCmd) example() string { return "kailyard crops lettuce" }

// catalogue is the catalogue with the book's own crops; without them where there is no book.
func (e *env) catalogue(ctx context.Context) (*crop.Catalogue, []crop.Aside, error) {
	b, err := e.open(ctx, true)
	if book.IsKind(err, book.Missing) {
		return crop.Default(), nil, nil
	}
	if err != nil {
		return nil, nil, err
	}
	defer b.Close()
	return b.Catalogue(ctx)
}

// tellAside says on the error output what was left out.
func (e *env) tellAside(sentences []string) {
	for _, says := range sentences {
		fmt.Fprintf(e.Stderr, "kailyard: %s\n", says)
	}
}

type cropsShowCmd struct {
	Word    string `arg:"" optional:"" help:"A crop's name, kind or ID; default: list all."`
	Weakest bool   `help:"Count the figures by how far they can be trusted, and list those from memory."`
}

func (cropsShowCmd) example() string { return "kailyard crops show lettuce" }

type cropJSON struct {
	ID        string       `json:"id"`
	Name      string       `json:"name"`
	Group     crop.Group   `json:"group"`
	Family    string       `json:"family"`
	Botanical string       `json:"botanical"`
	Own       bool         `json:"own,omitempty"`
	Base      string       `json:"base,omitempty"`
	Note      string       `json:"note,omitempty"`
	Retired   bool         `json:"retired,omitempty"`
	Figures   []figureJSON `json:"figures,omitempty"`
}

type figureJSON struct {
	Field   string       `json:"field"`
	Text    string       `json:"value"`
	Source  string       `json:"source,omitempty"`
	Quality crop.Quality `json:"quality"`
	Note    string       `json:"note,omitempty"`
}

// in is a figure's text in a person's units, as its source prints it where they are not told.
func (f figureJSON) in(u *quantity.System) string {
	if u == nil {
		return strings.TrimSpace(f.Text)
	}
	return crop.Figure{Field: f.Field, Text: f.Text}.In(*u)
}

func cropOf(c *crop.Crop, figures []crop.Figure) cropJSON {
	v := cropJSON{
		ID: c.ID, Name: c.Name(), Group: c.Group, Family: c.Family, Botanical: c.Botanical,
		Own: c.Own, Base: c.Base, Note: c.Note, Retired: c.Retired,
	}
	for _, f := range figures {
		v.Figures = append(v.Figures, figureJSON{f.Field, f.Text, f.Source, f.Quality, f.Note})
	}
	return v
}

// Run lists crops or figures.
func (c *cropsShowCmd) Run(ctx context.Context, e *env) error {
	catalogue, _, err := e.catalogue(ctx)
	if err != nil {
		return err
	}
	crops := catalogue.All()
	if c.Word != "" {
		var near []string
		if crops, near = catalogue.Match(c.Word); len(crops) == 0 {
			return season.UnknownCrop(c.Word, near)
		}
	}
	if c.Weakest {
		return e.printWeakest(crop.New(crops...), e.units(ctx))
	}
	list := []cropJSON{}
	for _, one := range crops {
		if c.Word == "" {
			list = append(list, cropOf(one, nil))
		} else {
			list = append(list, cropOf(one, one.Figures))
		}
	}
	if e.json {
		return e.printJSON(list)
	}
	for _, v := range list {
		e.printCrop(v, e.units(ctx))
	}
	return nil
}

// units are those of the book's garden; nil without a book, when figures stand as their sources print them.
func (e *env) units(ctx context.Context) *quantity.System {
	b, err := e.open(ctx, true)
	if err != nil {
		return nil
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return nil
	}
	return &g.Site.Units
}

func (e *env) printCrop(v cropJSON, u *quantity.System) {
	mark := ""
	if v.Own {
		mark = "  (your own)"
	}
	e.printf("%-28s %-38s %-11s %s%s\n", v.ID, v.Name, v.Group, v.Family, mark)
	e.printFigures(v.Figures, u)
}

// printFigures prints figures with their sources, in the person's units where they are told.
func (e *env) printFigures(figures []figureJSON, u *quantity.System) {
	for _, f := range figures {
		from := string(f.Quality)
		if f.Source != "" {
			from += ", " + f.Source
		}
		e.printf("    %-24s %-28s %s\n", f.Field, f.in(u), from)
		if f.Note != "" {
			e.printf("%s\n", wrapped(f.Note, strings.Repeat(" ", 29), 92))
		}
	}
}

type cropsFileCmd struct {
	Crop string `arg:"" help:"A crop's ID or name."`
	To   string `help:"The file to write; it must not exist. Default: the screen." placeholder:"FILE"`
}

func (cropsFileCmd) example() string { return "kailyard crops file carrot --to winter-carrot.toml" }

// Run writes the text of a crop's file: one's own, or the catalogue's.
func (c *cropsFileCmd) Run(ctx context.Context, e *env) error {
	catalogue, _, err := e.catalogue(ctx)
	if err != nil {
		return err
	}
	id, text := c.Crop, ""
	if one := catalogue.One(c.Crop); one != nil {
		id = one.ID
		if one.Base != "" {
			return fmt.Errorf("%s is a variety and has no file of its own; the crop it is a variety of has one: kailyard crops file %s", one.Name(), one.Base)
		}
	}
	if text, err = e.cropText(ctx, id); err != nil {
		return err
	}
	if text == "" {
		if found, near := catalogue.Match(c.Crop); len(found) == 0 {
			return season.UnknownCrop(c.Crop, near)
		} else if len(found) > 1 {
			return fmt.Errorf("%q may be several crops; say which: %s", c.Crop, strings.Join(ids(found), ", "))
		}
	}
	return e.writeTo(c.To, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}

// cropText is the text of a crop's file, the book's own before the catalogue's; empty when there is none.
func (e *env) cropText(ctx context.Context, id string) (string, error) {
	b, err := e.open(ctx, true)
	if err == nil {
		defer b.Close()
		g, err := b.Garden(ctx)
		if err != nil {
			return "", err
		}
		for _, f := range g.Own.Files {
			if f.ID == id && !f.Retired {
				return f.Text, nil
			}
		}
	} else if !book.IsKind(err, book.Missing) {
		return "", err
	}
	text, _ := crop.FileText(id)
	return text, nil
}

func ids(crops []*crop.Crop) (list []string) {
	for _, c := range crops {
		list = append(list, c.ID)
	}
	return list
}
