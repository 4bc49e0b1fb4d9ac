package garden

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// WriteDescription writes a garden as ReadDescription reads it, in the site's own units and to the
// last digit: reading it back gives the same garden, its beds numbered anew and its history
// standing under its beds. A garden that would be refused is not written.
func WriteDescription(w io.Writer, g Garden) error {
	for _, p := range g.Examine(nil) {
		if !p.Doubt {
			return fmt.Errorf("the garden cannot be written down: %w", p)
		}
	}
	out := &scribe{w: bufio.NewWriter(w), units: g.Site.Units}
	out.line("# A garden description; doc/garden-file.md tells how it is written.")
	out.site(g.Site)
	out.own(g.Own)
	for _, s := range g.Shades {
		out.shade(s)
	}
	for _, b := range g.Beds {
		out.bed(b)
		for _, p := range g.History {
			if p.BedID == b.ID {
				out.past(p)
			}
		}
	}
	for _, want := range g.Wants {
		out.want(want)
	}
	for _, v := range g.Vetoes {
		out.veto(v, g)
	}
	for _, p := range g.Standing {
		b, _ := g.Bed(p.BedID)
		out.standing(p, b, g.Site)
	}
	out.ground(g)
	return out.w.Flush()
}

// scribe writes TOML lines; the first error stays with its writer.
type scribe struct {
	w     *bufio.Writer
	units quantity.System
}

func (s *scribe) line(text string) { s.w.WriteString(text + "\n") }

func (s *scribe) head(name string) { s.line("\n" + name) }

func (s *scribe) put(key, value string) { s.line(key + " = " + value) }

// text writes a text unless it is empty.
func (s *scribe) text(key, value string) {
	if value != "" {
		s.put(key, quoted(value))
	}
}

// texts writes a list of texts unless it is empty.
func (s *scribe) texts(key string, values []string) {
	if len(values) == 0 {
		return
	}
	list := make([]string, len(values))
	for i, v := range values {
		list[i] = quoted(v)
	}
	s.put(key, "["+strings.Join(list, ", ")+"]")
}

func (s *scribe) number(key string, value float64) {
	s.put(key, strconv.FormatFloat(value, 'f', -1, 64))
}

// some writes a number unless it is 0, which is what its absence means.
func (s *scribe) some(key string, value float64) {
	if value != 0 {
		s.number(key, value)
	}
}

func (s *scribe) length(key string, m quantity.Metre) { s.put(key, quoted(s.units.ExactLength(m))) }

func (s *scribe) someLength(key string, m quantity.Metre) {
	if m != 0 {
		s.length(key, m)
	}
}

func (s *scribe) truth(key string, value bool) {
	if value {
		s.put(key, "true")
	}
}

func (s *scribe) date(key string, d *civil.Date) {
	if d != nil {
		s.put(key, d.String())
	}
}

func (s *scribe) spread(key string, d Spread) {
	switch {
	case d == Spread{}:
	case d.P10 == d.P50 && d.P50 == d.P90:
		s.put(key, d.P50.String())
	default:
		s.put(key, fmt.Sprintf("[%s, %s, %s]", d.P10, d.P50, d.P90))
	}
}

func (s *scribe) reach(key string, from, to quantity.Metre) {
	s.put(key, fmt.Sprintf("[%s, %s]", quoted(s.units.ExactLength(from)), quoted(s.units.ExactLength(to))))
}

func (s *scribe) site(site Site) {
	s.head("[site]")
	s.text("name", site.Name)
	s.text("units", site.Units.String())
	s.number("latitude", site.Latitude)
	s.number("longitude", site.Longitude)
	s.someLength("elevation", site.Elevation)
	s.some("household", float64(site.Household))
	s.someLength("width", site.Width)
	s.someLength("depth", site.Depth)
	s.texts("covers", coverNames(site.Covers))
	s.siteSoil(site.Soil)
	s.lie(site.Lie)
	s.supply(site.Supply)
	s.watering(site.Watering)
	s.some("hours_a_week", float64(site.HoursAWeek))
	s.some("trays", site.Trays)
	s.truth("invented", site.Invented)
	s.text("note", site.Note)
}

func (s *scribe) bed(b Bed) {
	s.head("[[bed]]")
	s.text("name", b.Name)
	s.someLength("x", b.X)
	s.someLength("y", b.Y)
	s.length("length", b.Length)
	s.length("width", b.Width)
	s.some("bearing", b.Bearing)
	s.truth("rows_across", b.RowsAcross)
	s.number("sun_hours", float64(b.Sun))
	s.truth("perennial", b.Perennial)
	s.soil(b.Soil)
	s.text("state", string(b.Soil.State))
	s.watering(b.Watering)
	s.text("note", b.Note)
	s.sunSeen(b.Observed)
}

func (s *scribe) past(p Past) {
	s.head("[[bed.history]]")
	s.number("year", float64(p.Year))
	s.text("crop", p.CropID)
	s.text("family", p.Family)
	s.text("note", p.Note)
}

func (s *scribe) want(w Want) {
	s.head("[[want]]")
	s.text("crop", w.Crop)
	s.text("basis", string(w.Basis))
	s.number("amount", w.Amount)
	s.text("unit", cmp.Or(w.Unit, "kg")) // none is kilograms, whatever the units of the garden
	s.number("weight", float64(w.Weight))
	s.date("from", w.From)
	s.date("to", w.To)
	s.text("under", strings.Join(coverNames([]string{w.Under}), ""))
	s.text("note", w.Note)
}

func (s *scribe) standing(p Planting, b Bed, site Site) {
	s.head("[[standing]]")
	s.text("key", p.Key)
	s.text("bed", b.Name)
	s.text("crop", p.CropID)
	s.text("way", string(p.Way))
	s.number("method", float64(p.Method+1))
	s.text("under", strings.Join(coverNames([]string{p.Protection}), ""))
	if p.Place != b.Whole() {
		s.reach("along", p.Place.AlongFrom, p.Place.AlongTo)
		s.reach("across", p.Place.AcrossFrom, p.Place.AcrossTo)
	}
	s.number("rows", float64(p.Rows))
	s.number("plants", float64(p.Plants))
	s.date("raise_on", p.RaiseOn)
	s.date("start", &p.Start)
	if p.Season != civil.SeasonHolding(p.Start, site.Latitude).Year() {
		s.number("season", float64(p.Season))
	}
	s.spread("emerge", p.Emerge)
	s.spread("first", p.First)
	s.spread("last", p.Last)
	s.date("clear", &p.Clear)
	if p.Role != Alone {
		s.text("role", string(p.Role))
	}
	s.text("partner", p.Partner)
	if p.Status != InGround {
		s.text("status", string(p.Status))
	}
	s.truth("pinned", p.Pinned)
	s.some("success_years", float64(p.Success))
	s.some("weather_years", float64(p.Years))
	s.some("expect_kg", float64(p.Expect))
	for _, r := range p.Reasons {
		s.head("[[standing.reason]]")
		s.put("says", quoted(r.Says))
		s.text("rule", r.Rule)
		s.text("source", r.Source)
	}
}

// quoted writes a TOML basic string.
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
