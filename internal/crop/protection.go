package crop

import (
	"embed"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"kailyard/internal/quantity"
)

// Protection is a cover under which a planting is grown: how much warmer it is there than in the open,
// when it is on, and how it is kept. Its gains are means; on clear, still nights thin covers hold less.
type Protection struct {
	ID      string // slug, the file's name: "row-cover"
	Name    string // "row cover"
	Aliases []string

	Night quantity.Celsius // added to the day's minimum
	Day   quantity.Celsius // added to the day's maximum, as far as the vent limit
	Soil  quantity.Celsius // added to what the soil tends to
	Light float64          // share of the light let through; told to the person, not counted in growth

	// VentCool and VentWarm are the day temperatures under the cover, for crops of cool and of warm weather,
	// at which it is opened so far that it gains no more.
	VentCool, VentWarm quantity.Celsius
	// Off is the mean of a week's minima outside from which the cover is taken off or stays open day and night;
	// nil when it never is.
	Off   *quantity.Celsius
	Stays bool           // it stands where it is, and is opened instead of taken off
	Dry   bool           // it keeps the rain off the ground, which can then be worked as soon as it is thawed
	Room  quantity.Metre // the height of plant it has room for

	PutOn, Vent, TakeOff []string // sentences for the jobs, in order
	Cautions             []string // safety sentences shown with its jobs

	Figures []Figure
}

// Removable says whether the cover comes off when the nights are warm, so that what has grown too tall for it can
// stand there.
func (p *Protection) Removable() bool { return p.Off != nil && !p.Stays }

// Under is the cover's name with what a plant stands under: "a cloche", "row cover".
func (p *Protection) Under() string {
	if strings.HasSuffix(p.Name, "row cover") {
		return p.Name
	}
	return "a " + p.Name
}

// cover is a protection's file; the tags are the file's form.
type cover struct {
	Name    string   `toml:"name"`
	Aliases []string `toml:"aliases"`
	Stays   bool     `toml:"stays"`
	Dry     bool     `toml:"dry"`
	Gain    struct {
		Night *datum `toml:"night"`
		Day   *datum `toml:"day"`
		Soil  *datum `toml:"soil"`
	} `toml:"gain"`
	Light *datum `toml:"light"`
	Vent  struct {
		Cool *datum `toml:"cool"`
		Warm *datum `toml:"warm"`
	} `toml:"vent"`
	Off      *datum `toml:"off"`
	Room     *datum `toml:"room"`
	Practice struct {
		PutOn    []string `toml:"put_on"`
		Vent     []string `toml:"vent"`
		TakeOff  []string `toml:"take_off"`
		Cautions []string `toml:"cautions"`
	} `toml:"practice"`
}

// LoadProtection reads one cover from its file, converts every value and checks it, as Load does a crop.
func LoadProtection(name string, r io.Reader) (*Protection, error) {
	var sheet cover
	reading, err := readSheet(name, r, &sheet)
	if err != nil {
		return nil, err
	}
	p := &Protection{ID: reading.crop.ID, Aliases: sheet.Aliases, Stays: sheet.Stays, Dry: sheet.Dry}
	reading.cover(p, &sheet)
	if len(reading.faults) > 0 {
		return nil, reading.err()
	}
	return p, nil
}

// cover fills a protection from its file.
func (r *reading) cover(p *Protection, sheet *cover) {
	p.Name = r.words("name", sheet.Name, `"row cover"`)
	p.Night = r.difference("gain.night", sheet.Gain.Night, limits{0, 12})
	p.Day = r.difference("gain.day", sheet.Gain.Day, limits{0, 20})
	p.Soil = r.difference("gain.soil", sheet.Gain.Soil, limits{0, 10})
	p.Light = r.scalar("light", sheet.Light, &share, limits{0.2, 1}, true)
	p.VentCool = r.celsius("vent.cool", sheet.Vent.Cool, limits{10, 30}, true)
	p.VentWarm = r.celsius("vent.warm", sheet.Vent.Warm, limits{15, 40}, true)
	p.Off = r.celsiusOrNone("off", sheet.Off, limits{2, 20})
	p.Room = r.metres("room", sheet.Room, limits{0.1, 5}, true)
	for field, sentences := range map[string][]string{
		"practice.put_on": sheet.Practice.PutOn, "practice.vent": sheet.Practice.Vent,
		"practice.take_off": sheet.Practice.TakeOff, "practice.cautions": sheet.Practice.Cautions,
	} {
		for i, sentence := range sentences {
			r.sentence(field, i, sentence)
		}
	}
	p.PutOn, p.Vent, p.TakeOff, p.Cautions = sheet.Practice.PutOn, sheet.Practice.Vent, sheet.Practice.TakeOff, sheet.Practice.Cautions
	if r.read("vent.cool", "vent.warm") && p.VentCool > p.VentWarm {
		r.fault("vent.cool", "is above vent.warm; crops of cool weather are aired sooner")
	}
	if r.read("gain.night", "gain.day") && p.Day < p.Night {
		r.fault("gain.day", "is less than gain.night; the sun warms a closed cover more than the ground does at night")
	}
	r.inFileOrder()
	p.Figures = r.crop.Figures
}

// difference reads a difference of temperatures: 9 °F are 5 °C.
func (r *reading) difference(field string, d *datum, within limits) quantity.Celsius {
	value, _ := r.figure(field, d, &warming, within, true)
	return quantity.Celsius(tidy(value.Mid()))
}

//go:embed covers/*.toml
var coverFiles embed.FS

// Protections are the embedded covers, the least gain at night first. A bad embedded file is a
// programmer's error and panics.
func Protections() []*Protection { return slices.Clone(embeddedCovers()) }

var embeddedCovers = sync.OnceValue(func() []*Protection {
	names, err := fs.Glob(coverFiles, "covers/*.toml")
	var covers []*Protection
	faults := []error{err}
	for _, name := range names {
		file, err := coverFiles.Open(name)
		if err != nil {
			panic("the embedded covers are bad: " + err.Error())
		}
		p, err := LoadProtection(path.Base(name), file)
		file.Close()
		faults = append(faults, err)
		covers = append(covers, p)
	}
	if err := errors.Join(faults...); err != nil {
		panic("the embedded covers are bad: " + err.Error())
	}
	slices.SortStableFunc(covers, func(a, b *Protection) int {
		if a.Night != b.Night {
			return int(1000 * (a.Night - b.Night))
		}
		return strings.Compare(a.ID, b.ID)
	})
	return covers
})

// FindProtection is the cover with an ID, a name or an alias; near are close names when there is none.
func FindProtection(word string) (found *Protection, near []string) {
	wanted := strings.Join(plainWords(word), " ")
	called := map[string]string{} // a name of a cover to the one it goes by
	var known []string
	for _, p := range embeddedCovers() {
		names := append([]string{p.ID, p.Name}, p.Aliases...)
		for _, name := range names {
			if strings.Join(plainWords(name), " ") == wanted {
				return p, nil
			}
		}
		for _, name := range names[1:] {
			called[name] = p.Name
		}
		known = append(known, names[1:]...)
	}
	for _, name := range nearest(word, known, 3) {
		if !slices.Contains(near, called[name]) {
			near = append(near, called[name])
		}
	}
	return nil, near
}

// ProtectionNames are the names of all covers.
func ProtectionNames() []string {
	var names []string
	for _, p := range embeddedCovers() {
		names = append(names, p.Name)
	}
	return names
}
