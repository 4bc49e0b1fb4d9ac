package work

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
	"kailyard/internal/weather"
)

// desk holds what every job is written from: the plantings with jobs to come, and the crops, beds
// and tables they name.
type desk struct {
	measures
	season    civil.Season
	plantings []garden.Planting // to be worked on: of the plan and standing, over and lost left out
	beds      map[int64]*garden.Bed
	crops     map[string]*crop.Crop
	byKey     map[string]*garden.Planting
	inBed     map[int64][]*garden.Planting
	ended     map[int64][]garden.Planting // over and lost: they have no jobs, but the ground was theirs
	from      civil.Date
	sharing   map[string][]*garden.Planting // by key: those it shares ground with
	tables    map[option]*growth.Table
	windows   map[option][]growth.Window
	frost     func(quantity.Celsius) weather.Frost
	frosts    map[quantity.Celsius]weather.Frost
	success   float64

	water      watered
	soil       *SoilBook
	ground     map[int64]*BedGround
	fed        map[string][]Put // by the first planting of a patch, or what stands: its share of what its bed is given
	treatments []garden.Treatment
	packages   []garden.Package
	weighs     quantity.System
	bucket     quantity.Litre
}

// material is one of the list, or the person's own by the label of its package.
func (d *desk) material(id string) (soil.Material, bool) { return soil.MaterialOf(id, d.packages) }

type option struct {
	crop   string
	method int
	cover  string
}

func newDesk(in Input) *desk {
	d := &desk{
		measures: measures{in.Garden.Site.Units},
		beds:     map[int64]*garden.Bed{}, crops: map[string]*crop.Crop{},
		byKey: map[string]*garden.Planting{}, inBed: map[int64][]*garden.Planting{}, sharing: map[string][]*garden.Planting{},
		ended: map[int64][]garden.Planting{}, from: -1 << 30,
		tables: map[option]*growth.Table{}, windows: map[option][]growth.Window{},
		frost: in.Frost, frosts: map[quantity.Celsius]weather.Frost{},
	}
	d.water = watered{in.Water, in.Garden}
	for i := range in.Garden.Beds {
		d.beds[in.Garden.Beds[i].ID] = &in.Garden.Beds[i]
	}
	if in.Crops != nil {
		for _, c := range in.Crops.All() {
			d.crops[c.ID] = c
		}
	}
	for _, t := range in.Tables {
		if t == nil || t.Option.Crop == nil {
			continue
		}
		if d.crops[t.Option.Crop.ID] == nil {
			d.crops[t.Option.Crop.ID] = t.Option.Crop
		}
		key := option{crop: t.Option.Crop.ID, method: t.Option.Method}
		if t.Option.Protection != nil {
			key.cover = t.Option.Protection.ID
		}
		d.tables[key] = t
	}
	if in.Plan == nil {
		return d
	}
	if in.From != nil {
		d.from = *in.From
	}
	d.season, d.success = in.Plan.Season, in.Plan.Settings.Share
	seen := map[string]bool{}
	for _, list := range [][]garden.Planting{in.Plan.Plantings, in.Garden.Standing} {
		for _, p := range list {
			if d.crops[p.CropID] == nil || seen[p.Key] {
				continue
			}
			seen[p.Key] = true
			if p.Status == garden.Over || p.Status == garden.Lost {
				d.ended[p.BedID] = append(d.ended[p.BedID], p)
				continue
			}
			d.plantings = append(d.plantings, p)
		}
	}
	for i := range d.plantings {
		p := &d.plantings[i]
		d.byKey[p.Key] = p
		d.inBed[p.BedID] = append(d.inBed[p.BedID], p)
	}
	for i := range d.plantings {
		p := &d.plantings[i]
		if o := d.partner(p); o != nil && o != p {
			d.join(p, o)
			d.join(o, p)
		}
	}
	d.grounds(in)
	return d
}

// toCome says whether the planting has still to go into the ground.
func toCome(p *garden.Planting) bool { return p.Status != garden.InGround }

// toBuy says whether its seed, sets or plants have still to be bought: not in the ground, nor begun
// under cover before the day the season goes on from.
func (d *desk) toBuy(p *garden.Planting) bool { return toCome(p) && d.firstUse(p) >= d.from }

func (d *desk) crop(p *garden.Planting) *crop.Crop { return d.crops[p.CropID] }

// method is the way the planting is grown; a planting that names none of the crop's methods is
// taken as grown by the first with its way.
func (d *desk) method(p *garden.Planting) crop.Method {
	c := d.crop(p)
	if p.Method >= 0 && p.Method < len(c.Methods) && c.Methods[p.Method].Way == p.Way {
		return c.Methods[p.Method]
	}
	for _, m := range c.Methods {
		if m.Way == p.Way {
			return m
		}
	}
	return crop.Method{Way: p.Way}
}

// partner is the planting it shares ground with; nil when it is alone.
func (d *desk) partner(p *garden.Planting) *garden.Planting {
	if p.Partner == "" {
		return nil
	}
	return d.byKey[p.Partner]
}

// shares are the plantings that name this one as partner, and its own partner.
func (d *desk) shares(p *garden.Planting) []*garden.Planting { return d.sharing[p.Key] }

func (d *desk) join(p, o *garden.Planting) {
	if !slices.Contains(d.sharing[p.Key], o) {
		d.sharing[p.Key] = append(d.sharing[p.Key], o)
	}
}

func (d *desk) bedName(p *garden.Planting) string {
	if b := d.beds[p.BedID]; b != nil && b.Name != "" {
		return b.Name
	}
	return fmt.Sprintf("bed %d", p.BedID)
}

// across says whether the planting's rows run across its bed.
func (d *desk) across(p *garden.Planting) bool {
	b := d.beds[p.BedID]
	return b != nil && b.RowsAcross
}

// rowLength is the length of one row.
func (d *desk) rowLength(p *garden.Planting) quantity.Metre {
	if d.across(p) {
		return p.Place.AcrossTo - p.Place.AcrossFrom
	}
	return p.Place.AlongTo - p.Place.AlongFrom
}

// apart is from row to row, as the place divides among the rows.
func (d *desk) apart(p *garden.Planting) quantity.Metre {
	if o := d.partner(p); o != nil && o != p && (p.Role == garden.Fast || p.Role == garden.Marker) {
		p = o // its rows lie as far apart as those of the slow one it stands among
	}
	if p.Rows < 1 {
		return d.crop(p).Spacing.BetweenRows
	}
	side := p.Place.AcrossTo - p.Place.AcrossFrom
	if d.across(p) {
		side = p.Place.AlongTo - p.Place.AlongFrom
	}
	return side / quantity.Metre(p.Rows)
}

// where is the planting's part of its bed; empty when it has the whole of it.
func (d *desk) where(p *garden.Planting) string {
	b := d.beds[p.BedID]
	if b == nil {
		return ""
	}
	const slack = 0.05
	var parts []string
	if p.Place.AlongFrom > slack || p.Place.AlongTo < b.Length-slack {
		parts = append(parts, fmt.Sprintf("from %s to %s along the bed", d.mark(p.Place.AlongFrom), d.mark(p.Place.AlongTo)))
	}
	if p.Place.AcrossFrom > slack || p.Place.AcrossTo < b.Width-slack {
		parts = append(parts, fmt.Sprintf("from %s to %s across it", d.mark(p.Place.AcrossFrom), d.mark(p.Place.AcrossTo)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Where: " + strings.Join(parts, ", ") + ", measured from its " + corner(b.Bearing) + " corner."
}

// mark is a point along a line laid on the bed: "0", "1.2 m", "4 ft".
func (d *desk) mark(v quantity.Metre) string {
	if v < 0.01 {
		return "0"
	}
	return d.system.Length(v)
}

// corner names the corner that places are measured from: the end of the bed the bearing starts at.
func corner(bearing float64) string {
	if bearing > 90 {
		return "north-west"
	}
	return "south-west"
}

// title is the first line of a job on one planting.
func (d *desk) title(verb string, p *garden.Planting, tail string) string {
	text := fmt.Sprintf("%s %s in %s", verb, comma(d.crop(p).Name()), d.bedName(p))
	if tail != "" {
		text += ": " + tail
	}
	return text
}

// comma closes a name that has its type behind a comma: "carrot, main crop," but "pea".
func comma(name string) string {
	if strings.Contains(name, ",") {
		return name + ","
	}
	return name
}

// job begins a job on one planting.
func (d *desk) job(p *garden.Planting, k Kind, from, to civil.Date) Job {
	return Job{
		Key: p.Key + "/" + strings.ReplaceAll(string(k), " ", "-"), Kind: k,
		Window: civil.Span{From: from, To: max(from, to)},
		BedID:  p.BedID, Planting: p.Key, Serves: []string{p.Key}, CropID: p.CropID,
	}
}

// jobsOf are the jobs on one planting alone: those that may serve several (ordering, raising,
// hardening off, preparing the ground) are made apart.
func (d *desk) jobsOf(p *garden.Planting) []Job {
	if d.standsYears(p) {
		return d.yearly(p)
	}
	var jobs []Job
	if toCome(p) {
		jobs = append(jobs, d.goIn(p))
	}
	jobs = append(jobs, d.tend(p)...)
	jobs = append(jobs, d.protect(p)...)
	jobs = append(jobs, d.harvest(p)...)
	return jobs
}
