package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

type soilPackCmd struct {
	List   soilPackListCmd   `cmd:"" default:"1" help:"List the packages on sale."`
	Add    soilPackAddCmd    `cmd:"" help:"Keep a package; one of the same material and size takes the new price and label."`
	Remove soilPackRemoveCmd `cmd:"" help:"Take a package out of those on sale."`
}

func (soilPackCmd) example() string { return "kailyard soil pack" }

type packJSON struct {
	ID       int64    `json:"id"`
	Material string   `json:"material"`
	Name     string   `json:"name"`
	MassKg   float64  `json:"mass_kg"`
	VolumeL  float64  `json:"volume_l"`
	Price    float64  `json:"price"`
	N        *float64 `json:"n_percent"`
	P2O5     *float64 `json:"p2o5_percent"`
	K2O      *float64 `json:"k2o_percent"`
	CCE      *float64 `json:"cce_percent"`
	Fineness *float64 `json:"fineness_percent"`
}

type soilPackListCmd struct{}

func (soilPackListCmd) example() string { return "kailyard soil pack list --json" }

// Run lists the packages.
func (c *soilPackListCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		list := []packJSON{}
		for _, p := range g.Packages {
			list = append(list, packJSON{p.ID, p.Material, p.Name, float64(p.Mass), float64(p.Volume), p.Price, p.N, p.P2O5, p.K2O, p.CCE, p.Fineness})
		}
		if e.json {
			return e.printJSON(list)
		}
		if len(list) == 0 {
			e.printf("No packages are told. Keep those on sale where you buy with `kailyard soil pack add`; until then the usual ones are reckoned with, without a price.\n")
		}
		for _, p := range g.Packages {
			e.printf("  %3d  %-34s %-9s %s\n", p.ID, packName(p), sizeWords(p, g.Site.Soil.Weighs), packWords(p))
		}
		return nil
	})
}

func packName(p garden.Package) string {
	if p.Name != "" {
		return p.Name
	}
	return materialName(nil, p.Material)
}

func sizeWords(p garden.Package, units quantity.System) string {
	if p.Mass > 0 {
		return units.ExactMass(p.Mass)
	}
	return units.ExactVolume(p.Volume)
}

// packWords is the price and the label of a package.
func packWords(p garden.Package) string {
	var words []string
	if p.Price > 0 {
		words = append(words, money(p.Price))
	}
	if p.N != nil && p.P2O5 != nil && p.K2O != nil {
		words = append(words, "label "+soil.Grade{N: *p.N, P2O5: *p.P2O5, K2O: *p.K2O}.String())
	}
	if p.CCE != nil {
		words = append(words, fmt.Sprintf("CCE %g %%", *p.CCE))
	}
	if p.Fineness != nil {
		words = append(words, fmt.Sprintf("fineness %g %%", *p.Fineness))
	}
	return strings.Join(words, ", ")
}

// money is a price in the person's own money, whose name the program does not know.
func money(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

type soilPackAddCmd struct {
	Material string     `arg:"" help:"The material, by ID or name; or an ID of your own for a product that no material fits, with its label."`
	Size     string     `arg:"" help:"What is in it: '10 kg', '40 lb', '50 L', '2 cu ft'."`
	Price    figureFlag `help:"What it costs, in your money." placeholder:"PRICE"`
	Name     string     `help:"What you call it." placeholder:"NAME"`
	Label    string     `help:"The three numbers of its label: nitrogen-phosphate-potash, '5-10-10'." placeholder:"N-P-K"`
	CCE      figureFlag `name:"cce" help:"Of lime: the neutralising value the label prints, per cent." placeholder:"PERCENT"`
	Fineness figureFlag `help:"Of lime: the per cent that acts, by its sieves." placeholder:"PERCENT"`
	Sieves   string     `help:"Of lime: what passes the meshes, in their place: '20:95 60:70 100:55'." placeholder:"SIEVES"`
}

func (soilPackAddCmd) example() string {
	return "kailyard soil pack add blend-5-10-10 '10 kg' --price 18.50\nkailyard soil pack add limestone-ground '20 kg' --price 7 --cce 92 --sieves '20:95 60:70 100:55'"
}

// Run keeps a package.
func (c *soilPackAddCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, changing, func(b *book.Book, g garden.Garden) error {
		p, err := c.pack(g)
		if err != nil {
			return err
		}
		for _, k := range g.Packages {
			if k.Material == p.Material && k.Mass == p.Mass && k.Volume == p.Volume && (k.Name == p.Name || p.Name == "") {
				p.ID = k.ID
				if p.Name == "" {
					p.Name = k.Name
				}
				if p.N == nil {
					p.N, p.P2O5, p.K2O = k.N, k.P2O5, k.K2O
				}
				if !c.Price.set {
					p.Price = k.Price
				}
				if p.CCE == nil {
					p.CCE = k.CCE
				}
				if p.Fineness == nil {
					p.Fineness = k.Fineness
				}
			}
		}
		if p.ID != 0 {
			err = b.SavePackage(ctx, p)
		} else {
			p.ID, err = b.AddPackage(ctx, p)
		}
		if err != nil {
			return err
		}
		e.printf("Kept as package %d: %s, %s. %s\n", p.ID, packName(p), sizeWords(p, g.Site.Soil.Weighs), packWords(p))
		return nil
	})
}

func (c *soilPackAddCmd) pack(g garden.Garden) (garden.Package, error) {
	p := garden.Package{Material: c.Material, Name: c.Name, Price: c.Price.value, CCE: c.CCE.pointer(), Fineness: c.Fineness.pointer()}
	if m, err := materialNamed(c.Material); err == nil {
		p.Material = m.ID
	}
	var err error
	if p.Mass, p.Volume, err = amountOf(c.Size, garden.Soil{Weighs: g.Site.Soil.Weighs}); err != nil {
		return p, usageError{err.Error()}
	}
	if c.Label != "" {
		parts := strings.Split(strings.NewReplacer("–", "-", "−", "-", " ", "").Replace(c.Label), "-")
		if len(parts) != 3 {
			return p, usageError{fmt.Sprintf("--label %s: write all three numbers as the bag prints them, like 5-10-10; 0 where there is none", c.Label)}
		}
		for i, to := range []**float64{&p.N, &p.P2O5, &p.K2O} {
			v, err := plainNumber(parts[i])
			if err != nil {
				return p, usageError{fmt.Sprintf("--label %s: %q is not a number; write three like 5-10-10", c.Label, parts[i])}
			}
			*to = &v
		}
		if err := (soil.Grade{N: *p.N, P2O5: *p.P2O5, K2O: *p.K2O}).Validate(); err != nil {
			return p, usageError{"--label: " + err.Error()}
		}
	}
	if c.Sieves != "" {
		s, err := sievesOf(c.Sieves)
		if err != nil {
			return p, usageError{"--sieves: " + err.Error()}
		}
		fine, _, _, err := s.FinenessOf()
		if err != nil {
			return p, usageError{"--sieves: " + err.Error()}
		}
		p.Fineness = &fine
	}
	return p, nil
}

// sievesOf reads "20:95 60:70 100:55".
func sievesOf(text string) (soil.Sieves, error) {
	s := soil.NoSieves
	for _, one := range strings.Fields(strings.ReplaceAll(text, ",", " ")) {
		mesh, passes, ok := strings.Cut(one, ":")
		v, err := plainNumber(strings.TrimSuffix(passes, "%"))
		if !ok || err != nil {
			return s, fmt.Errorf("%q is not of the form MESH:PERCENT, like 60:70", one)
		}
		to, known := map[string]*float64{"8": &s.Pass8, "20": &s.Pass20, "30": &s.Pass30, "60": &s.Pass60, "100": &s.Pass100}[mesh]
		if !known {
			return s, fmt.Errorf("the rules know 8, 20, 30, 60 and 100 mesh, not %s", mesh)
		}
		*to = v
	}
	return s, nil
}

type soilPackRemoveCmd struct {
	Package int64 `arg:"" help:"The number of the package, as 'kailyard soil pack' lists it."`
}

func (soilPackRemoveCmd) example() string { return "kailyard soil pack remove 2" }

// Run removes a package.
func (c *soilPackRemoveCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		if err := b.RemovePackage(ctx, c.Package); err != nil {
			return err
		}
		e.printf("Package %d is no longer on sale.\n", c.Package)
		return nil
	})
}

type soilMaterialsCmd struct {
	Material string `arg:"" optional:"" help:"A material, for its figures with their sources; default: all."`
}

func (soilMaterialsCmd) example() string { return "kailyard soil materials limestone-ground" }

type materialJSON struct {
	ID       string       `json:"id"`
	Name     string       `json:"name"`
	Family   string       `json:"family"`
	Raw      bool         `json:"raw_manure"`
	MostKgM2 float64      `json:"most_at_once_kg_per_m2"`
	Figures  []figureJSON `json:"figures"`
	Cautions []string     `json:"cautions"`
	Note     string       `json:"note"`
}

func materialOf(m soil.Material) materialJSON {
	v := materialJSON{ID: m.ID, Name: m.Name, Family: string(m.Family), Raw: m.Raw, MostKgM2: float64(m.Most), Figures: []figureJSON{}, Cautions: orEmpty(m.Cautions), Note: m.Note}
	for _, f := range []struct {
		field, unit string
		figure      *soil.Figure
	}{
		{"nitrogen", " %", m.N}, {"phosphate", " %", m.P2O5}, {"potash", " %", m.K2O}, {"nitrogen found in the first year", " %", m.First},
		{"neutralising value", " %", m.CCE}, {"fine enough to act", " %", m.Fineness}, {"magnesium", " %", m.Magnesium}, {"salt index", "", m.Salt},
		{"loose weight", " kg/L", m.Density}, {"loosened from a bale", " times", m.Expansion}, {"carbon to nitrogen", "", m.CN}, {"water", " %", m.Moisture},
	} {
		if f.figure == nil {
			continue
		}
		value := number(f.figure.Value) + f.unit
		if f.figure.Low != f.figure.High {
			value += fmt.Sprintf(" (%s–%s)", number(f.figure.Low), number(f.figure.High))
		}
		v.Figures = append(v.Figures, figureJSON{f.field, value, f.figure.Source, crop.Quality(f.figure.Quality), f.figure.Note})
	}
	return v
}

// number is a figure to three places.
func number(x float64) string {
	if x >= 100 || x <= -100 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

// Run lists the materials, or one with its figures.
func (c *soilMaterialsCmd) Run(ctx context.Context, e *env) error {
	all, err := soil.Materials()
	if err != nil {
		return err
	}
	if c.Material != "" {
		one, err := materialNamed(c.Material)
		if err != nil {
			return err
		}
		all = []soil.Material{one}
	}
	if e.json {
		list := []materialJSON{}
		for _, m := range all {
			list = append(list, materialOf(m))
		}
		return e.printJSON(list)
	}
	units, known := e.measures(ctx)
	mine := func(says string) string {
		if known {
			return soil.InUnits(says, units)
		}
		return says
	}
	family := soil.Family("")
	for _, m := range all {
		if c.Material == "" && m.Family != family {
			family = m.Family
			e.printf("\n%s\n", strings.ToUpper(string(family)))
		}
		v := materialOf(m)
		if c.Material == "" {
			e.printf("  %-28s %s\n", m.ID, m.Name)
			continue
		}
		e.printf("%s (%s), %s\n", m.Name, m.ID, familyWord(m.Family))
		e.printFigures(v.Figures, nil)
		if m.Note != "" {
			e.printf("%s\n", wrapped(mine(m.Note), "    ", 92))
		}
		for _, says := range m.Cautions {
			e.printf("%s\n", wrapped("! "+mine(says), "  ", 92))
		}
	}
	return nil
}
