package crop

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"kailyard/internal/quantity"
)

// Variety is a person's own variety of a crop of the catalogue: what its seed packet says, in place of
// the type's own figures. All else (what it bears of cold and heat, its size, its harvest) stays the
// type's. Amounts are text as the packet prints them, with their unit; an empty one leaves the type's.
type Variety struct {
	ID   string // slug, the ID of the crop it becomes
	Name string // what the person calls it
	Base string // ID of the crop it is a variety of

	// Days from sowing (or setting out, or planting: From) to first harvest, "55" or "55–60 d". A packet
	// names no temperature: its days are taken to hold in the weather in which the type's days hold, at
	// the Reference of the type's method. A method of another way takes longer or shorter in the same
	// proportion.
	Days string
	From Way // what Days count from; empty: as the type is usually grown

	InRow, BetweenRows string // "4 in"
	Yield              string // "2 lb/plant", "3 kg/m²"; empty: the type's on the same ground
	Note               string
	Retired            bool // no longer grown; kept because the past names it
}

const longestName = 80

// packetDays are days that need no unit, as packets print them.
var packetDays = func() dimension {
	d := dimension{"a number of days", `"55" or "55–60"`, " d", map[string]func(float64) float64{"": times(1)}}
	for unit, change := range days.units {
		d.units[unit] = change
	}
	return d
}()

// Vary makes the crop of a variety. The error joins a *FileError, without a file, for every field that
// cannot be taken.
func (c *Catalogue) Vary(v Variety) (*Crop, error) {
	r := &reading{crop: &Crop{}, places: map[string]place{}}
	switch name := strings.TrimSpace(v.Name); {
	case name == "":
		r.fault("name", "is missing; write what you call the variety")
	case len([]rune(name)) > longestName || strings.ContainsFunc(name, unicode.IsControl):
		r.fault("name", "is not one line of at most %d letters; write a shorter one, and the rest in the note", longestName)
	}
	if !slug.MatchString(v.ID) {
		r.fault("id", "%q cannot be a crop's ID: use small letters, digits and single hyphens", v.ID)
	}
	base, ok := c.Find(v.Base)
	switch {
	case !ok:
		r.fault("base", "the catalogue has no crop %q; name the crop it is a variety of by its ID", v.Base)
		return nil, r.err()
	case base.Base != "":
		r.fault("base", "%s is itself a variety of your own; name the crop that it is a variety of, %s", base.Name(), base.Base)
		return nil, r.err()
	case v.ID == v.Base:
		r.fault("id", "is that of the crop it is a variety of; give it another")
	}
	own := *base
	own.ID, own.Type, own.Base, own.Own = v.ID, strings.TrimSpace(v.Name), base.ID, true
	own.Note, own.Retired = strings.TrimSpace(v.Note), v.Retired
	own.Methods, own.Figures = slices.Clone(base.Methods), slices.Clone(base.Figures)
	r.packetSpacing(&own, v)
	r.packetYield(&own, v)
	r.packetDays(&own, v)
	if len(r.faults) > 0 {
		return nil, r.err()
	}
	return &own, nil
}

// Admit says what is wrong with a variety that is to be kept: what Vary cannot take, and a figure it would not use. Days to
// a first harvest that comes in a later year steer nothing; a variety that was kept with them stays, without them.
func (c *Catalogue) Admit(v Variety) error {
	_, err := c.Vary(v)
	base, ok := c.Find(v.Base)
	if !ok || !base.BearsLater() || strings.TrimSpace(v.Days) == "" {
		return err
	}
	r := &reading{places: map[string]place{}}
	r.fault("days", "are not counted for %s: it bears from year %d after planting on, each year at its own time; leave them out", base.Kind, base.Harvest.FirstYear)
	return errors.Join(err, r.err())
}

// BearsLater says whether a perennial bears only in a year after the one it is planted in.
func (c *Crop) BearsLater() bool { return c.Perennial && c.Harvest.FirstYear > 1 }

// packet reads one amount of the packet; text is what the crop's figures then show.
func (r *reading) packet(field, text string, dim *dimension, within limits) (value Range, shown string, ok bool) {
	if text = strings.TrimSpace(text); text == "" {
		return Range{}, "", false
	}
	value, ok = r.figure(field, &datum{V: text, Q: Own}, dim, within, false)
	return value, text, ok
}

// packetDays puts the packet's days in the place of the type's.
func (r *reading) packetDays(own *Crop, v Variety) {
	told, shown, ok := r.packet("days", v.Days, &packetDays, limits{10, 1500})
	from := v.From
	if from == "" && len(own.Methods) > 0 {
		from = own.Methods[0].Way
	}
	at := slices.IndexFunc(own.Methods, func(m Method) bool { return m.Way == from })
	if at < 0 {
		if ok || v.From != "" {
			r.fault("days_from", "%s is not grown so here; its days can count from %s", own.Kind, strings.Join(begins(own.Methods), " or "))
		}
		return
	}
	if !ok || own.BearsLater() {
		return
	}
	if _, err := strconv.ParseFloat(shown[len(shown)-1:], 64); err == nil {
		shown += " d"
	}
	kind := own.Methods[at].Days.Mid()
	for i := range own.Methods {
		m := &own.Methods[i]
		field := fmt.Sprintf("method.%d.days", i+1)
		if m.Way == from {
			m.Days = told
			own.state(Figure{field, shown, "", Own, "from the packet, counted from " + from.Begins() + "; taken to hold in the weather in which the type's days hold"})
			continue
		}
		if kind <= 0 {
			continue
		}
		share := told.Mid() / kind
		m.Days = Range{max(1, math.Round(m.Days.Low*share)), max(1, math.Round(m.Days.High*share))}
		own.state(Figure{field, dayText(m.Days), "", Own, fmt.Sprintf("the type's days times %.2f, as the packet's days from %s stand to the type's", share, from.Begins())})
	}
}

func dayText(r Range) string {
	if r.Low == r.High {
		return plain(r.Low) + " d"
	}
	return plain(r.Low) + "–" + plain(r.High) + " d"
}

// packetSpacing puts the packet's distances in the place of the type's. The ground gives what it gave;
// a plant's share of it follows its ground.
func (r *reading) packetSpacing(own *Crop, v Variety) {
	s, placed := &own.Spacing, own.Spacing.SowApart == own.Spacing.InRow
	if _, shown, ok := r.packet("in_row", v.InRow, &length, limits{0.005, 5}); ok {
		s.InRow = r.metres("in_row", &datum{V: shown, Q: Own}, limits{0.005, 5}, true)
		if placed || s.SowApart > s.InRow {
			s.SowApart = s.InRow
		}
		own.state(Figure{"spacing.in_row", shown, "", Own, "from the packet"})
	}
	if _, shown, ok := r.packet("between_rows", v.BetweenRows, &length, limits{0.01, 5}); ok {
		s.BetweenRows = r.metres("between_rows", &datum{V: shown, Q: Own}, limits{0.01, 5}, true)
		own.state(Figure{"spacing.between_rows", shown, "", Own, "from the packet"})
	}
	own.Harvest.PerPlant = quantity.Kilogram(tidy(float64(own.Harvest.Yield) * float64(s.InRow*s.BetweenRows)))
}

// packetYield puts the packet's yield, or the person's own experience, in the place of the type's.
func (r *reading) packetYield(own *Crop, v Variety) {
	text := strings.TrimSpace(v.Yield)
	if text == "" {
		return
	}
	r.crop.Harvest, r.crop.Spacing = own.Harvest, own.Spacing
	before := len(r.faults)
	r.yield(&datum{V: text, Q: Own})
	for _, fault := range r.faults[before:] {
		fault.Field = "yield"
	}
	own.Harvest = r.crop.Harvest
	own.state(Figure{"harvest.yield", text, "", Own, "from the packet or your own harvests"})
}

// state puts a figure in the place of the one its field had.
func (c *Crop) state(f Figure) {
	for i := range c.Figures {
		if c.Figures[i].Field == f.Field {
			c.Figures[i] = f
			return
		}
	}
	c.Figures = append(c.Figures, f)
}

// Begins is what days of this way count from: "sowing", "setting out" or "planting".
func (w Way) Begins() string {
	switch w {
	case Sow:
		return "sowing"
	case SetOut:
		return "setting out"
	case Set:
		return "planting"
	}
	return string(w)
}

// WayFrom is the way whose days count from what a word names, as packets have it; ok is false for other
// words.
func WayFrom(word string) (way Way, ok bool) {
	word = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(word), "-", " "))
	if word == "transplanting" {
		return SetOut, true
	}
	for _, w := range []Way{Sow, SetOut, Set} {
		if word == w.Begins() {
			return w, true
		}
	}
	return "", false
}

// begins are what the days of a crop's methods count from.
func begins(methods []Method) []string {
	var words []string
	for _, m := range methods {
		if word := m.Way.Begins(); !slices.Contains(words, word) {
			words = append(words, word)
		}
	}
	return words
}
