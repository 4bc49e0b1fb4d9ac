package garden

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// The most that is read: ten times the largest garden the program is made for, and more.
const (
	largestDescription = 4 << 20 // bytes
	mostBeds           = 2000
	mostRows           = 20000 // of any other table
)

// ReadDescription reads a garden description (doc/garden-file.md): TOML with tables site, bed,
// bed.sun_seen, bed.history, shade, history, want, veto, standing, soil_test, treatment, package, heap, variety and crop_file. Crops are looked up in the catalogue and
// among the description's own. Every fault is told with its line and column, as many
// at once as are found; the error is then Faults. name is used in messages only. Without a
// catalogue crops are not looked up. Beds are numbered from 1 in their order.
func ReadDescription(name string, r io.Reader, crops *crop.Catalogue) (Garden, error) {
	data, err := io.ReadAll(io.LimitReader(r, largestDescription+1))
	if err != nil {
		return Garden{}, fmt.Errorf("%s cannot be read to its end: %w", name, err)
	}
	d := &describer{file: name, crops: crops, spots: map[string]spot{}, wrong: map[string]bool{}}
	if !d.isText(data) {
		return Garden{}, d.faults
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	d.lines = strings.Split(string(data), "\n")
	root, err := outline(data)
	if err != nil {
		var syntax *syntaxError
		errors.As(err, &syntax)
		d.fault(syntax.at, "", Problem{Says: "this is not TOML: " + syntax.says, Remedy: "see doc/garden-file.md for how a garden is written"})
		return Garden{}, d.faults
	}
	g := d.garden(root)
	d.examine(g)
	if len(d.faults) > 0 {
		d.faults.sort()
		return Garden{}, d.faults
	}
	g.byDay()
	return g, nil
}

// describer reads the tables of one description and gathers its faults.
type describer struct {
	shaded bool // something is told that throws shade, or the plot does not lie level
	file   string
	crops  *crop.Catalogue
	units  quantity.System
	site   Site
	beds   []Bed
	lines  []string        // of the text
	spots  map[string]spot // "bed/2/width" and "bed/2": where fields and tables stand
	wrong  map[string]bool // fields already told of
	faults Faults
}

func (d *describer) fault(at spot, part string, p Problem) {
	d.faults = append(d.faults, Fault{File: d.file, Line: at.line, Column: at.column, Part: part, Problem: p})
}

// isText refuses what no editor has written.
func (d *describer) isText(data []byte) bool {
	says := ""
	switch {
	case len(data) > largestDescription:
		says = "the file is larger than 4 MB"
	case bytes.IndexByte(data, 0) >= 0 || !utf8.Valid(data):
		says = "the file is not UTF-8 text"
	case len(bytes.TrimSpace(data)) == 0:
		says = "the file is empty"
	default:
		return true
	}
	d.fault(spot{1, 1}, "", Problem{Says: says, Remedy: "give a garden description (doc/garden-file.md)"})
	return false
}

// garden reads the whole.
func (d *describer) garden(root *table) Garden {
	f := d.fields("", 0, root)
	if v, ok := f.take("site"); ok && v.kind == tableKind {
		d.readSite(v.table)
	} else {
		f.complain("site", root.at, Problem{Says: "the file has no [site] table", Remedy: "begin with [site] and its name, latitude and longitude"})
	}
	g := Garden{Site: d.site, Own: d.readOwn(f)}
	_, d.shaded = root.values["shade"]
	d.shaded = d.shaded || !d.site.Lie.Level()
	for i, t := range f.some("bed", mostBeds) {
		var history []*table
		g.Beds = append(g.Beds, d.readBed(i, t, &history))
		d.beds = g.Beds
		for _, h := range history {
			g.History = append(g.History, d.readPast(len(g.History), h, g.Beds[i].ID))
		}
	}
	for i, t := range f.some("shade", mostShades) {
		g.Shades = append(g.Shades, d.readShade(i, t))
	}
	for _, t := range f.some("history", mostRows) {
		g.History = append(g.History, d.readPast(len(g.History), t, 0))
	}
	for i, t := range f.some("want", mostRows) {
		g.Wants = append(g.Wants, d.readWant(i, t))
	}
	for i, t := range f.some("veto", mostRows) {
		g.Vetoes = append(g.Vetoes, d.readVeto(i, t))
	}
	for i, t := range f.some("standing", mostRows) {
		g.Standing = append(g.Standing, d.readStanding(i, t))
	}
	d.readGround(f, &g)
	f.done()
	return g
}

func (d *describer) readSite(t *table) {
	f := d.fields("site", 0, t)
	s := Site{Name: f.text("name", required)}
	if name := f.text("units", optional); name != "" {
		units, err := quantity.ParseSystem(name)
		f.refused("units", err)
		s.Units = units
	}
	d.units = s.Units
	s.Latitude = f.number("latitude", required)
	s.Longitude = f.number("longitude", required)
	s.Elevation = f.length("elevation", optional)
	s.Household = f.whole("household", optional, 0)
	s.Invented = f.truth("invented")
	s.Width = f.length("width", optional)
	s.Depth = f.length("depth", optional)
	s.Covers = f.covers("covers")
	s.Soil = f.siteSoil()
	s.Lie = f.lie()
	s.Supply, s.Watering = f.supply(), f.watering()
	s.HoursAWeek = quantity.Hour(f.number("hours_a_week", optional))
	s.Trays = f.number("trays", optional)
	s.Note = f.text("note", optional)
	f.done()
	d.site = s
}

func (d *describer) readBed(i int, t *table, history *[]*table) Bed {
	f := d.fields("bed", i, t)
	b := Bed{ID: int64(i + 1), Name: f.text("name", required)}
	f.part = partName("bed", b.Name, i)
	b.X = f.length("x", optional)
	b.Y = f.length("y", optional)
	b.Length = f.length("length", required)
	b.Width = f.length("width", required)
	b.Bearing = f.number("bearing", optional)
	b.RowsAcross = f.truth("rows_across")
	b.Observed = f.sunSeen()
	hours := required
	if d.shaded || len(b.Observed) > 0 {
		hours = optional // reckoned, or seen
	}
	b.Sun = quantity.Hour(f.number("sun_hours", hours))
	b.Perennial = f.truth("perennial")
	b.Soil = f.soil()
	b.Soil.State = GroundState(f.text("state", optional))
	b.Watering = f.watering()
	b.Note = f.text("note", optional)
	*history = f.tables("history")
	f.done()
	return b
}

// readPast reads a line of history, of a given bed or of the one it names.
func (d *describer) readPast(i int, t *table, bedID int64) Past {
	f := d.fields("history", i, t)
	p := Past{BedID: bedID}
	if bedID == 0 {
		p.BedID = f.bed("bed")
	}
	p.Year = f.whole("year", required, 0)
	if word := f.text("crop", optional); word != "" {
		p.CropID = word
		if c := f.crop("crop", word, false); c != nil {
			p.CropID = c.ID
		}
	}
	p.Family = f.text("family", optional)
	p.Note = f.text("note", optional)
	f.done()
	return p
}

func (d *describer) readWant(i int, t *table) Want {
	f := d.fields("want", i, t)
	w := Want{Crop: f.text("crop", required)}
	f.part = partName("want", w.Crop, i)
	w.Basis = Total
	if basis := f.text("basis", optional); basis != "" {
		w.Basis = Basis(basis)
	}
	w.Amount = f.number("amount", required)
	w.Unit = cmp.Or(f.text("unit", optional), MassUnit(d.units))
	w.Weight = f.whole("weight", optional, 3)
	w.From = f.date("from")
	w.To = f.date("to")
	if under := f.text("under", optional); IsOpen(under) {
		w.Under = InTheOpen
	} else if under != "" {
		w.Under = f.cover("under", f.spots[f.path+"/under"], under)
	}
	w.Note = f.text("note", optional)
	f.done()
	return w
}

// examine looks at what the tables say, once they could be read.
func (d *describer) examine(g Garden) {
	for _, p := range g.Examine(d.crops) {
		where := fmt.Sprintf("%s/%d", p.Table, p.Index)
		field := where + "/" + p.Field
		if p.Doubt || d.wrong[field] {
			continue
		}
		at, ok := d.spots[field]
		if !ok {
			at, ok = d.spots[where]
		}
		if !ok {
			at = spot{1, 1}
		}
		if p.Table == "site" && d.wrong["/0/site"] {
			continue
		}
		d.fault(at, p.Name, p.Problem)
	}
}

// resolve finds the one crop a word means. Where several types go by it, any will do unless one is wanted.
func (d *describer) resolve(word string, one bool) (*crop.Crop, *Problem) {
	if d.crops == nil {
		return nil, nil
	}
	found, _ := d.crops.Match(word)
	if len(found) == 0 {
		return nil, nil // Examine tells of it
	}
	if one && d.crops.One(word) == nil {
		var ids []string
		for _, c := range found {
			ids = append(ids, c.ID)
		}
		return nil, &Problem{Field: "crop", Says: fmt.Sprintf("%q may be several crops", word), Remedy: "say which: " + strings.Join(ids, ", ")}
	}
	return found[0], nil
}

// seasonHolding is the year of the season a day falls in at the site.
func (d *describer) seasonHolding(day civil.Date) int {
	latitude := d.site.Latitude
	if !within(latitude, -90, 90) {
		latitude = 0
	}
	return civil.SeasonHolding(day, latitude).Year()
}

func knownNames(names ...string) []string { slices.Sort(names); return names }
