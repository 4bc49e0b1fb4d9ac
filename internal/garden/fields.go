package garden

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// need says whether a field may be left out.
type need bool

const (
	required need = true
	optional need = false
)

// fields reads the keys of one table, remembers where they stand and which were asked for.
type fields struct {
	*describer
	kind  string // "bed"
	path  string // "bed/2"
	part  string // `bed "Long drill"`
	table *table
	known []string
}

func (d *describer) fields(kind string, index int, t *table) *fields {
	f := &fields{describer: d, kind: kind, path: fmt.Sprintf("%s/%d", kind, index), table: t}
	if kind != "" {
		f.part = fmt.Sprintf("%s %d", kind, index+1)
	}
	if kind == "site" {
		f.part = kind
	}
	d.spots[f.path] = t.at
	return f
}

// take is the value of a key, if it is there.
func (f *fields) take(key string) (*value, bool) {
	f.known = append(f.known, key)
	f.table.taken[key] = true
	v, ok := f.table.values[key]
	if ok {
		f.spots[f.path+"/"+key] = v.at
	}
	return v, ok
}

// complain tells of a field once.
func (f *fields) complain(key string, at spot, p Problem) {
	if f.wrong[f.path+"/"+key] {
		return
	}
	f.wrong[f.path+"/"+key] = true
	p.Field = key
	f.fault(at, f.part, p)
}

// want is the value of a key where it is of a right kind; else it tells of it.
func (f *fields) want(key string, n need, write string, kinds ...kind) (*value, bool) {
	v, ok := f.take(key)
	if !ok {
		if n == required {
			f.complain(key, f.table.at, Problem{Says: key + " is missing", Remedy: "write " + write})
		}
		return nil, false
	}
	for _, k := range kinds {
		if v.kind == k {
			return v, true
		}
	}
	f.complain(key, v.at, Problem{Says: fmt.Sprintf("%s is %s, where %s is wanted", key, v.words(), kinds[0]), Remedy: "write " + write})
	return nil, false
}

func (f *fields) text(key string, n need) string {
	v, ok := f.want(key, n, key+` = "…"`, textKind)
	if !ok {
		return ""
	}
	return v.text
}

func (f *fields) truth(key string) bool {
	v, ok := f.want(key, optional, key+" = true", truthKind)
	return ok && v.truth
}

func (f *fields) number(key string, n need) float64 {
	v, ok := f.want(key, n, key+" = a number without quotes or unit", realKind, wholeKind)
	if !ok {
		return 0
	}
	return v.real
}

func (f *fields) whole(key string, n need, otherwise int) int {
	v, ok := f.want(key, n, key+" = a whole number without quotes", wholeKind)
	if !ok {
		return otherwise
	}
	if v.whole != int64(int32(v.whole)) {
		f.complain(key, v.at, Problem{Says: fmt.Sprintf("%s is %d, which is far too large", key, v.whole), Remedy: "write a smaller number"})
		return otherwise
	}
	return int(v.whole)
}

// length reads a length as text with its unit.
func (f *fields) length(key string, n need) quantity.Metre {
	v, ok := f.want(key, n, key+` with its unit in quotes, for example "1.2 m" or "4 ft"`, textKind)
	if !ok {
		return 0
	}
	return f.lengthOf(key, v)
}

func (f *fields) lengthOf(key string, v *value) quantity.Metre {
	m, err := quantity.ParseLength(v.text, f.units)
	if err != nil {
		f.refusedAt(key, v.at, err)
	}
	return m
}

// refused tells of a field whose text could not be read.
func (f *fields) refused(key string, err error) {
	if err != nil {
		f.refusedAt(key, f.spots[f.path+"/"+key], err)
	}
}

func (f *fields) refusedAt(key string, at spot, err error) {
	p := Problem{Says: key + ": " + err.Error()}
	var parse *quantity.ParseError
	if errors.As(err, &parse) {
		p = Problem{Says: key + ": " + parse.Says, Remedy: parse.Remedy}
	}
	f.complain(key, at, p)
}

// date reads a date, bare or in quotes; nil where there is none.
func (f *fields) date(key string) *civil.Date {
	v, ok := f.want(key, optional, key+" = year-month-day, for example 2027-04-15", dateKind, textKind)
	if !ok {
		return nil
	}
	return f.dateOf(key, v)
}

func (f *fields) dateOf(key string, v *value) *civil.Date {
	d, err := civil.Parse(v.text)
	if err != nil {
		f.complain(key, v.at, Problem{Says: fmt.Sprintf("%s is %s, which is not a date", key, v.words()), Remedy: "write it as year-month-day, for example 2027-04-15"})
		return nil
	}
	return &d
}

// spread reads three dates, or one that stands for all.
func (f *fields) spread(key string) (s Spread) {
	v, ok := f.want(key, optional, key+" = [three dates: in one, five and nine years of ten], or one date", listKind, dateKind, textKind)
	if !ok {
		return s
	}
	if v.kind != listKind {
		if d := f.dateOf(key, v); d != nil {
			s = Spread{*d, *d, *d}
		}
		return s
	}
	if len(v.items) != 3 {
		f.complain(key, v.at, Problem{Says: fmt.Sprintf("%s has %d dates", key, len(v.items)), Remedy: "write three dates, or one"})
		return s
	}
	for i, into := range []*civil.Date{&s.P10, &s.P50, &s.P90} {
		if d := f.dateOf(key, v.items[i]); d != nil {
			*into = *d
		}
	}
	return s
}

// reach reads two lengths from–to.
func (f *fields) reach(key string, otherwise quantity.Metre) (from, to quantity.Metre) {
	v, ok := f.want(key, optional, key+` = ["0 m", "3 m"]: from and to`, listKind)
	if !ok {
		return 0, otherwise
	}
	if len(v.items) != 2 || v.items[0].kind != textKind || v.items[1].kind != textKind {
		f.complain(key, v.at, Problem{Says: key + " is not two lengths", Remedy: `write from and to with their units, for example ["0 m", "3 m"]`})
		return 0, otherwise
	}
	return f.lengthOf(key, v.items[0]), f.lengthOf(key, v.items[1])
}

// reasons reads a list of tables of says, rule and source.
func (f *fields) reasons(key string) (reasons []Reason) {
	for _, t := range f.tables(key) {
		r := &fields{describer: f.describer, kind: key, path: f.path + "/" + key + strconv.Itoa(len(reasons)), part: f.part, table: t}
		reasons = append(reasons, Reason{Says: r.text("says", required), Rule: r.text("rule", optional), Source: r.text("source", optional)})
		r.done()
	}
	return reasons
}

// bed reads the name of one of the beds.
func (f *fields) bed(key string) int64 {
	name := f.text(key, required)
	if name == "" {
		return 0
	}
	if b, ok := (Garden{Beds: f.beds}).BedNamed(name); ok {
		return b.ID
	}
	names := f.bedNames()
	f.complain(key, f.spots[f.path+"/"+key], Problem{
		Says:   fmt.Sprintf("there is no bed %q", name),
		Remedy: didYouMean(nearest(name, names), "the beds are "+strings.Join(names, ", ")),
	})
	return 0
}

// crop resolves a word to a crop of the catalogue.
func (f *fields) crop(key, word string, one bool) *crop.Crop {
	c, p := f.resolve(word, one)
	if p != nil {
		f.complain(key, f.spots[f.path+"/"+key], *p)
	}
	return c
}

// tables are the tables of a list, as of [[bed]].
func (f *fields) tables(key string) (tables []*table) {
	v, ok := f.take(key)
	if !ok {
		return nil
	}
	if v.kind == tableKind && f.kind != "site" {
		f.complain(key, v.at, Problem{Says: fmt.Sprintf("[%s] is one table, where a list of them is wanted", key), Remedy: fmt.Sprintf("write [[%s]] above each", key)})
		return nil
	}
	for _, item := range v.items {
		if item.kind != tableKind {
			f.complain(key, item.at, Problem{Says: fmt.Sprintf("%s holds %s, where tables are wanted", key, item.words()), Remedy: fmt.Sprintf("write [[%s]] above each", key)})
			continue
		}
		tables = append(tables, item.table)
	}
	if v.kind != listKind {
		f.complain(key, v.at, Problem{Says: fmt.Sprintf("%s is %s, where tables are wanted", key, v.words()), Remedy: fmt.Sprintf("write [[%s]] above each", key)})
	}
	return tables
}

// some are the tables of a list that has a sensible length.
func (f *fields) some(key string, most int) []*table {
	all := f.tables(key)
	if len(all) > most {
		f.complain(key, f.table.keyAt[key], Problem{Says: fmt.Sprintf("there are %d [[%s]] tables", len(all), key), Remedy: fmt.Sprintf("write at most %d; describe several gardens in several files", most)})
		return all[:most]
	}
	return all
}

// done tells of keys nobody asked for.
func (f *fields) done() {
	for _, key := range f.table.keys {
		if f.table.taken[key] {
			continue
		}
		where := "here"
		if f.kind != "" {
			where = "in " + f.kind
		}
		f.fault(f.table.keyAt[key], f.part, Problem{
			Field: key, Says: fmt.Sprintf("%q is not known %s", key, where),
			Remedy: didYouMean(nearest(key, f.known), "known are "+strings.Join(knownNames(f.known...), ", ")),
		})
	}
}
