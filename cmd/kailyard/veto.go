package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

type vetoCmd struct {
	Crop   string    `arg:"" optional:"" help:"Not this crop, or no type of this kind. Without any other word: list the vetoes."`
	Family string    `help:"Nothing of this family." placeholder:"FAMILY"`
	Bed    string    `help:"Not in this bed; with nothing else, nothing in it." placeholder:"BED"`
	Way    string    `help:"Not sown where it is to stand, raised and set out, or planted as sets." enum:"sow,set-out,set," default:"" placeholder:"sow|set-out|set"`
	Before civilFlag `help:"Not in the ground before this day." placeholder:"DATE"`
	Note   string    `help:"Why, in your own words."`
	Drop   int64     `help:"Take the veto of this number back." placeholder:"N"`
}

func (vetoCmd) example() string {
	return "kailyard veto tomato --bed 'North bed'\nkailyard veto --family Solanaceae --bed 'North bed'\nkailyard veto bean --before 2027-05-20\nkailyard veto --drop 2"
}

type vetoJSON struct {
	ID     int64       `json:"id"`
	Bed    string      `json:"bed"`
	Crop   string      `json:"crop"`
	Family string      `json:"family"`
	Way    crop.Way    `json:"way"`
	Before *civil.Date `json:"before"`
	Note   string      `json:"note"`
	Says   string      `json:"says"`
}

// Run lists what the person will not have, adds to it or takes one back.
func (c *vetoCmd) Run(ctx context.Context, e *env) error {
	v := garden.Veto{Crop: strings.TrimSpace(c.Crop), Family: strings.TrimSpace(c.Family), Way: crop.Way(strings.ReplaceAll(c.Way, "-", " ")), Note: c.Note}
	if c.Before.set {
		v.Before = &c.Before.date
	}
	told := v != garden.Veto{} || c.Bed != ""
	if told && c.Drop != 0 {
		return usageError{"--drop takes a veto back; give it alone"}
	}
	return e.withGarden(ctx, !told && c.Drop == 0, func(b *book.Book, g garden.Garden) error {
		switch {
		case c.Drop != 0:
			if err := b.RemoveVeto(ctx, c.Drop); err != nil {
				return err
			}
			e.printf("Taken back. The next plan goes by it: `kailyard plan`.\n")
			return nil
		case told:
			return c.add(ctx, e, b, g, v)
		}
		return listVetoes(e, g)
	})
}

func (c *vetoCmd) add(ctx context.Context, e *env, b *book.Book, g garden.Garden, v garden.Veto) error {
	if c.Bed != "" {
		bed, ok := g.BedNamed(c.Bed)
		if !ok {
			var names []string
			for _, one := range g.Beds {
				names = append(names, one.Name)
			}
			return fmt.Errorf("there is no bed %q; the beds are %s", c.Bed, strings.Join(names, ", "))
		}
		v.BedID = bed.ID
	}
	crops, _ := g.Catalogue(crop.Default())
	if err := v.Validate(crops).Err(); err != nil {
		return err
	}
	id, err := b.AddVeto(ctx, v)
	if err != nil {
		return err
	}
	v.ID = id
	if e.json {
		return e.printJSON(vetoOf(g, v))
	}
	e.printf("%s  (%d)\nThe next plan goes by it: `kailyard plan`.\n", sentenceCase(g.VetoSays(v))+".", id)
	return nil
}

func vetoOf(g garden.Garden, v garden.Veto) vetoJSON {
	b, _ := g.Bed(v.BedID)
	return vetoJSON{v.ID, b.Name, v.Crop, v.Family, v.Way, v.Before, v.Note, g.VetoSays(v)}
}

func listVetoes(e *env, g garden.Garden) error {
	list := []vetoJSON{}
	for _, v := range g.Vetoes {
		list = append(list, vetoOf(g, v))
	}
	if e.json {
		return e.printJSON(list)
	}
	if len(list) == 0 {
		e.printf("Nothing is ruled out. For example: kailyard veto tomato --bed 'North bed'.\n")
	}
	for _, v := range list {
		note := ""
		if v.Note != "" {
			note = "  (" + v.Note + ")"
		}
		e.printf("%4d  %s%s\n", v.ID, sentenceCase(v.Says), note)
	}
	return nil
}

// sentenceCase begins a sentence.
func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
