package garden

import (
	"cmp"
	"fmt"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Catalogue is a catalogue with the garden's own crops, and those of them that are set aside.
func (g Garden) Catalogue(base *crop.Catalogue) (*crop.Catalogue, []crop.Aside) {
	return base.With(g.Own)
}

// ownProblems tells what is wrong with the own crops; without a catalogue only what they say by themselves.
func (g Garden) ownProblems(crops *crop.Catalogue) (all []PartProblem) {
	ids := map[string]bool{}
	put := func(table string, i int, name, id string) {
		var ps Problems
		if crops == nil && strings.TrimSpace(id) == "" {
			ps.add("id", "give it an ID in small letters, digits and hyphens", "it has no ID")
		} else if ids[id] && crops == nil {
			ps.add("id", "give each an ID of its own", "another of your own crops has the ID %q", id)
		}
		ids[id] = true
		for _, p := range ps {
			all = append(all, PartProblem{Part{table, i, partName(table, name, i)}, p})
		}
	}
	for i, f := range g.Own.Files {
		put("crop_file", i, f.ID, f.ID)
	}
	for i, v := range g.Own.Varieties {
		put("variety", i, v.Name, v.ID)
	}
	if crops == nil {
		return all
	}
	_, aside := g.Catalogue(crops)
	for _, a := range aside {
		table := "crop_file"
		if a.Variety {
			table = "variety"
		}
		for _, p := range OwnProblems(a.Err) {
			all = append(all, PartProblem{Part{table, a.Index, partName(table, a.Name, a.Index)}, p})
		}
	}
	return all
}

// OwnProblems are what is wrong with an own crop, fit to stand beside the fields of a form, from the error of
// crop.Load or of Catalogue.Vary.
func OwnProblems(err error) (ps Problems) {
	for _, fault := range crop.Faults(err) {
		p := Problem{Field: fault.Field}
		if fault.File != "" {
			p.Field = "text"
		}
		says, remedy, _ := strings.Cut(fault.Error(), "; ")
		p.Says, p.Remedy = says, remedy
		ps = append(ps, p)
	}
	return ps
}

// readOwn reads the own crops, so that the tables after them may name them.
func (d *describer) readOwn(f *fields) (own crop.OwnCrops) {
	for i, t := range f.some("crop_file", mostOwn) {
		own.Files = append(own.Files, d.readCropFile(i, t))
	}
	crops := d.crops
	if crops != nil {
		crops, _ = d.crops.With(own)
	}
	for i, t := range f.some("variety", mostOwn) {
		v := d.readVariety(i, t, crops)
		if v.ID == "" {
			v.ID = cmp.Or(crops, crop.New()).FreeID(v.Name, v.Base)
		}
		own.Varieties = append(own.Varieties, v)
		if crops != nil {
			crops, _ = crops.With(crop.OwnCrops{Varieties: own.Varieties[i:]})
		}
	}
	if crops != nil {
		d.crops = crops
	}
	return own
}

// mostOwn is the most own crops of a kind that are read.
const mostOwn = 500

func (d *describer) readCropFile(i int, t *table) crop.File {
	f := d.fields("crop_file", i, t)
	one := crop.File{ID: f.text("id", required)}
	f.part = partName("crop_file", one.ID, i)
	one.Text = f.text("text", required)
	one.Retired = f.truth("retired")
	f.done()
	if one.Text == "" || one.ID == "" {
		return one
	}
	_, err := one.Load()
	at := f.spots[f.path+"/text"]
	for _, fault := range crop.Faults(err) {
		field, place := "text", at
		switch {
		case fault.Line > 0:
			place = d.within(at, fault.Line, fault.Column)
		case fault.Field == "":
			field, place = "id", f.spots[f.path+"/id"]
		}
		f.wrong[f.path+"/"+field], f.wrong[f.path+"/text"] = true, true
		says, remedy, _ := strings.Cut(strings.TrimPrefix(fault.Error(), fault.Where()+": "), "; ")
		d.fault(place, f.part, Problem{Field: field, Says: says, Remedy: remedy})
	}
	return one
}

// within is the place of a line of a text that begins on the line after its three quotes; the place of the
// text where it does not.
func (d *describer) within(text spot, line, column int) spot {
	if text.line-1 < len(d.lines) {
		opening := []rune(d.lines[text.line-1])
		if text.column-1 <= len(opening) && strings.TrimSpace(string(opening[text.column-1:])) == "'''" {
			return spot{text.line + line, max(column, 1)}
		}
	}
	return text
}

func (d *describer) readVariety(i int, t *table, crops *crop.Catalogue) crop.Variety {
	f := d.fields("variety", i, t)
	v := crop.Variety{ID: f.text("id", optional), Name: f.text("name", required)}
	f.part = partName("variety", v.Name, i)
	v.Base = f.text("base", required)
	if crops != nil && v.Base != "" {
		if c := crops.One(v.Base); c != nil {
			v.Base = c.ID
		} else if found, near := crops.Match(v.Base); len(found) > 0 {
			var ids []string
			for _, c := range found {
				ids = append(ids, c.ID)
			}
			f.complain("base", f.spots[f.path+"/base"], Problem{Says: fmt.Sprintf("%q may be several crops", v.Base), Remedy: "say which: " + strings.Join(ids, ", ")})
		} else {
			f.complain("base", f.spots[f.path+"/base"], Problem{Says: fmt.Sprintf("the catalogue has no crop %q", v.Base), Remedy: didYouMean(near, "the catalogue lists what there is")})
		}
	}
	v.Days = f.textOrNumber("days")
	if word := f.text("days_from", optional); word != "" {
		way, ok := crop.WayFrom(word)
		if !ok {
			f.complain("days_from", f.spots[f.path+"/days_from"], Problem{Says: fmt.Sprintf("days_from is %q", word), Remedy: `write "sowing", "setting out" or "planting"`})
		}
		v.From = way
	}
	v.InRow, v.BetweenRows = f.text("in_row", optional), f.text("between_rows", optional)
	v.Yield = f.text("yield", optional)
	v.Note = f.text("note", optional)
	v.Retired = f.truth("retired")
	f.done()
	return v
}

// textOrNumber reads words, or a number as its digits.
func (f *fields) textOrNumber(key string) string {
	v, ok := f.want(key, optional, key+` = 55 or "55–60"`, textKind, wholeKind)
	if !ok {
		return ""
	}
	return v.text
}

// own writes the own crops.
func (s *scribe) own(own crop.OwnCrops) {
	for _, f := range own.Files {
		s.head("[[crop_file]]")
		s.text("id", f.ID)
		s.truth("retired", f.Retired)
		s.put("text", longText(f.Text))
	}
	for _, v := range own.Varieties {
		s.head("[[variety]]")
		s.text("id", v.ID)
		s.text("name", v.Name)
		s.text("base", v.Base)
		s.text("days", v.Days)
		s.text("days_from", v.From.Begins())
		s.text("in_row", v.InRow)
		s.text("between_rows", v.BetweenRows)
		s.text("yield", v.Yield)
		s.text("note", v.Note)
		s.truth("retired", v.Retired)
	}
}

// longText writes a text of many lines as it stands where TOML allows it.
func longText(text string) string {
	odd := func(r rune) bool { return r < 0x20 && r != '\n' && r != '\t' || r == 0x7f }
	if text == "" || strings.Contains(text, "'''") || strings.HasSuffix(text, "'") || strings.ContainsFunc(text, odd) {
		return quoted(text)
	}
	return "'''\n" + text + "'''"
}

// NameTaken is what is wrong with a variety's name that a crop goes by already.
func NameTaken(name string, by *crop.Crop) Problem {
	return Problem{Field: "name", Says: fmt.Sprintf("%q already means %s (%s)", name, by.Name(), by.ID), Remedy: "give yours a name of its own"}
}

// PacketLength is a distance as a person types it, with the unit it has in their system where they left it
// out: inches in US units, centimetres else.
func PacketLength(text string, u quantity.System) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.Trim(text, "0123456789.,/–—- ¼½¾") != "" {
		return text
	}
	if u == quantity.US {
		return text + " in"
	}
	return text + " cm"
}
