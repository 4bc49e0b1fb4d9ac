package main

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

type soilCmd struct {
	Show      soilShowCmd      `cmd:"" default:"withargs" help:"What the ground is, what each bed asks for and why."`
	Test      soilTestCmd      `cmd:"" help:"Keep a home kit's or a laboratory's result, list them, withdraw one."`
	Put       soilPutCmd       `cmd:"" help:"Write down what was put on beds: lime, sulfur, fertiliser, manure, compost."`
	Withdraw  soilWithdrawCmd  `cmd:"" help:"Let what was put on and written wrongly count no more; without a number, list what counts."`
	Buy       soilBuyCmd       `cmd:"" help:"What to buy for all beds, in whole packages."`
	Choose    soilChooseCmd    `cmd:"" help:"Keep what is put on the ground: natural plant foods only, which lime, which organic matter."`
	Pack      soilPackCmd      `cmd:"" help:"Keep the package sizes and prices that are on sale."`
	Materials soilMaterialsCmd `cmd:"" help:"The materials there are, with their figures and sources."`
}

func (soilCmd) example() string { return "kailyard soil 'South bed'" }

// choiceFlags are what the person will have on their ground.
type choiceFlags struct {
	Natural bool   `help:"This once, plant foods from plants, animals or rock only."`
	Lime    string `help:"The liming material, this once; default: as kept, else by the magnesium test." placeholder:"MATERIAL"`
	Organic string `help:"The organic matter, this once; default: as kept, else compost." placeholder:"MATERIAL"`
}

// choice is what the flags say; onSale are the packages of the book, among them a lime of the person's own.
func (f choiceFlags) choice(onSale []garden.Package) (season.GroundChoice, error) {
	c := season.GroundChoice{Natural: f.Natural}
	for _, one := range []struct {
		flag, word string
		family     soil.Family
		id         *string
	}{{"--lime", f.Lime, soil.Liming, &c.Lime}, {"--organic", f.Organic, soil.Organic, &c.Organic}} {
		if one.word == "" {
			continue
		}
		if m, ok := ownLimeNamed(one.word, onSale); ok && one.family == soil.Liming {
			*one.id = m.ID
			continue
		}
		m, err := materialNamed(one.word)
		if err != nil {
			return c, usageError{one.flag + ": " + err.Error()}
		}
		if m.Family != one.family {
			return c, usageError{fmt.Sprintf("%s: %s is %s, not %s; `kailyard soil materials` lists them by what they are for", one.flag, m.Name, familyWord(m.Family), familyWord(one.family))}
		}
		if why := soil.NotForFood(m); why != "" {
			return c, usageError{one.flag + ": " + why}
		}
		*one.id = m.ID
	}
	return c, nil
}

// ownLimeNamed is a lime of the person's own by the material or the name that its package was kept under.
func ownLimeNamed(word string, onSale []garden.Package) (soil.Material, bool) {
	for _, m := range soil.OwnLimes(onSale) {
		if strings.EqualFold(m.ID, word) || strings.EqualFold(m.Name, word) {
			return m, true
		}
	}
	return soil.Material{}, false
}

func familyWord(f soil.Family) string {
	switch f {
	case soil.Liming:
		return "a liming material"
	case soil.Acidifying:
		return "an acidifying material"
	case soil.Fertiliser:
		return "a fertiliser"
	}
	return "organic matter"
}

// materialNamed is a material by its ID or name.
func materialNamed(word string) (soil.Material, error) {
	all, err := soil.Materials()
	if err != nil {
		return soil.Material{}, err
	}
	id := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(word)), " ", "-")
	for _, m := range all {
		if m.ID == id || strings.EqualFold(m.Name, strings.TrimSpace(word)) {
			return m, nil
		}
	}
	return soil.Material{}, soil.CheckMaterial(id, nil).Err()
}

// ground reads the soil book for the season that pages and jobs are about. A record and a plan are taken where there are any.
func (e *env) ground(ctx context.Context, b *book.Book, f seasonFlag, choice season.GroundChoice) (*season.Ground, error) {
	s, err := shown(ctx, b, f, e.clock())
	if err != nil {
		return nil, err
	}
	in := season.GroundInput{Season: s, Day: e.clock(), Choice: choice}
	if in.Garden, err = b.GardenFor(ctx, s.Year()); err != nil {
		return nil, err
	}
	in.Crops, _ = in.Garden.Catalogue(crop.Default())
	if in.Plan, err = b.Plan(ctx, s.Year()); err != nil {
		return nil, err
	}
	if in.Record, err = b.Record(ctx); err != nil && !book.IsKind(err, book.Unknown) {
		return nil, err
	}
	if in.Journal, err = b.Journal(ctx, civil.Span{From: civil.Of(1, 1, 1), To: e.clock()}); err != nil {
		return nil, err
	}
	return season.GroundOf(in)
}

// groundNamed is the ground of the beds asked for, of all where none is.
func groundNamed(g *season.Ground, asked []garden.Bed) []season.BedGround {
	if len(asked) == 0 {
		return g.Beds
	}
	var beds []season.BedGround
	for _, one := range asked {
		if bed, ok := g.Bed(one.ID); ok {
			beds = append(beds, bed)
		}
	}
	return beds
}

// bedsNamed are beds by their names.
func bedsNamed(g garden.Garden, names []string) ([]garden.Bed, error) {
	var beds []garden.Bed
	for _, name := range names {
		b, ok := g.BedNamed(name)
		if !ok {
			var known []string
			for _, bed := range g.Beds {
				known = append(known, bed.Name)
			}
			return nil, fmt.Errorf("there is no bed %q; the beds are %s", name, strings.Join(known, ", "))
		}
		beds = append(beds, b)
	}
	return beds, nil
}

// plainNumber reads a number that can be reckoned with: the words for infinity and for no number are none.
func plainNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = fmt.Errorf("%q is not a number", text)
	}
	return v, err
}

// figureFlag is a plain number on the command line; a per cent sign may stand behind it.
type figureFlag struct {
	value float64
	set   bool
}

// UnmarshalText reads the flag.
func (f *figureFlag) UnmarshalText(text []byte) error {
	word := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(string(text)), "%"))
	v, err := plainNumber(word)
	if err != nil {
		return fmt.Errorf("%q is not a number; write one like 6.2, with a point", string(text))
	}
	f.value, f.set = v, true
	return nil
}

func (f figureFlag) pointer() *float64 {
	if !f.set {
		return nil
	}
	return &f.value
}

// amountOf reads an amount by weight, by volume or in buckets.
func amountOf(text string, s garden.Soil) (quantity.Kilogram, quantity.Litre, error) {
	number, unit, _ := strings.Cut(strings.TrimSpace(text), " ")
	if strings.HasPrefix(strings.ToLower(unit), "bucket") {
		n, err := plainNumber(number)
		switch {
		case err != nil || !(n > 0):
			return 0, 0, fmt.Errorf("%q is no number of buckets; write one like '2 buckets'", text)
		case s.Bucket <= 0:
			return 0, 0, fmt.Errorf("what your bucket holds is not told; say it in the garden's description (bucket = \"10 L\") or write the volume")
		}
		return 0, quantity.Litre(n) * s.Bucket, nil
	}
	mass, err := quantity.ParseMass(text, s.Weighs)
	if err == nil {
		return mass, 0, nil
	}
	if volume, failed := quantity.ParseVolume(text, s.Weighs); failed == nil {
		return 0, volume, nil
	}
	return 0, 0, fmt.Errorf("%q is neither a weight nor a volume; write how much with its unit, for example '2 kg', '5 lb', '40 L', '2 cu ft' or '3 buckets'", text)
}

// amountWords is what was put on, as the person measures.
func amountWords(mass quantity.Kilogram, volume quantity.Litre, units quantity.System) string {
	if mass > 0 {
		return units.Mass(mass)
	}
	return soil.Bulk(volume, units)
}

// oddButKept tells what is odd of what was kept.
func (e *env) oddButKept(ps garden.Problems) {
	for _, p := range ps.Doubts() {
		fmt.Fprintf(e.Stderr, "kailyard: odd, but kept: %s.\n", p.Error())
	}
}
