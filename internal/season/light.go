package season

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"sync"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/light"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/water"
	"kailyard/internal/weather"
)

// LightKnown says whether a garden tells more of its light than the hours of each bed's season.
func LightKnown(g garden.Garden) bool {
	if len(g.Shades) > 0 || !g.Site.Lie.Level() {
		return true
	}
	for _, b := range g.Beds {
		if len(b.Observed) > 0 {
			return true
		}
	}
	return false
}

// LightYear is the light on the garden's ground through the year, reckoned when it is first asked for.
func (r *Result) LightYear() light.Year { return LightYearOf(r.Garden, r.Record) }

// LightYearOf is the light on a garden's ground through the year, by the record's sunshine (nil: by a clear sky's). What was
// reckoned last is kept: it is reckoned anew when anything of the ground, the shade or the sunshine is another.
func LightYearOf(g garden.Garden, r *weather.Record) light.Year {
	key := groundKey(g)
	lately.Lock()
	defer lately.Unlock()
	i := slices.IndexFunc(lately.years, func(k keptYear) bool { return k.record == r && k.of == key })
	if i < 0 { // a record read anew from the book is another one with the same sunshine
		s := light.SunshineOf(g.Site, water.Believed(water.PlaceOf(g.Site.Latitude, g.Site.Elevation, nil), r))
		i = slices.IndexFunc(lately.years, func(k keptYear) bool { return k.of == key && k.year.Sunshine == s })
		if i < 0 {
			if len(lately.years) == yearsKept {
				lately.years = lately.years[:yearsKept-1]
			}
			lately.years = append(lately.years, keptYear{of: key, year: light.Reckon(g, s)})
			i = len(lately.years) - 1
		}
		lately.years[i].record = r
	}
	last := lately.years[i]
	copy(lately.years[1:i+1], lately.years[:i]) // the one asked for last stands first
	lately.years[0] = last
	y := last.year
	y.Garden = g
	return y
}

// SunOf is the direct sun of a bed on a clear day over the growing season, by whatever is known of it.
func SunOf(g garden.Garden, r *weather.Record, b garden.Bed) quantity.Hour {
	if !byMonth(g, b) {
		return b.Sun
	}
	return light.InSeason(g.Site.Latitude, LightYearOf(g, r).Bed(b)).Hours
}

// lately are the years reckoned last, the one asked for last first: one garden is looked at from many pages.
var lately struct {
	sync.Mutex
	years []keptYear
}

// yearsKept is how many are kept: with a record and without, before and after a change.
const yearsKept = 4

type keptYear struct {
	record *weather.Record
	of     string
	year   light.Year
}

// groundKey is all of a garden that its light hangs on.
func groundKey(g garden.Garden) string {
	type spot struct{ X, Y, Length, Width, Bearing float64 }
	var beds []spot
	for _, b := range g.Beds { // the plot reaches as far as its beds
		beds = append(beds, spot{float64(b.X), float64(b.Y), float64(b.Length), float64(b.Width), b.Bearing})
	}
	text, err := json.Marshal(struct {
		Latitude, Longitude, Elevation, Width, Depth float64
		Lie                                          garden.Lie
		Shades                                       []garden.Shade
		Beds                                         []spot
	}{g.Site.Latitude, g.Site.Longitude, float64(g.Site.Elevation), float64(g.Site.Width), float64(g.Site.Depth), g.Site.Lie, g.Shades, beds})
	if err != nil { // a figure that is no number: nothing is like it
		return ""
	}
	return string(text)
}

// Sunlit is the garden with the hours that count for each bed in the place of those told, for paper.
func (r *Result) Sunlit() garden.Garden {
	g := r.Garden
	g.Beds = slices.Clone(g.Beds)
	for i, b := range g.Beds {
		g.Beds[i].Sun = SunOf(r.Garden, r.Record, b)
	}
	return g
}

// lightOf is what a plan needs to know of the light: nil where only the hours of the beds' season are told. Where nothing throws
// shade, only beds whose sun was seen are known by month.
func lightOf(g garden.Garden, record *weather.Record, tables []*growth.Table) *plan.Light {
	if !LightKnown(g) {
		return nil
	}
	y := LightYearOf(g, record)
	even := y.Even()
	l := &plan.Light{Beds: map[int64]plan.BedLight{}, Grows: growsBy(g.Site.Latitude)}
	for _, b := range g.Beds {
		if byMonth(g, b) {
			l.Beds[b.ID] = bedLight(y, b, even)
		}
	}
	l.Rows = rowShades(g, tables, even)
	return l
}

// growsBy is how much of its growth a crop makes in a day of each month, by the light of the open sky.
func growsBy(latitude float64) (share [12]float64) {
	for m := range share {
		share[m] = growth.LightFactor(growth.SkyLight(latitude, civil.Of(2027, m+1, 15)))
	}
	return share
}

// byMonth says whether the light of a bed is known by month, and not only the hours told for its season.
func byMonth(g garden.Garden, b garden.Bed) bool {
	return len(g.Shades) > 0 || !g.Site.Lie.Level() || len(b.Observed) > 0
}

func bedLight(y light.Year, b garden.Bed, even [12]float64) plan.BedLight {
	months := y.Bed(b)
	of := plan.BedLight{Basis: basisOf(months)}
	for m := range months {
		of.Hours[m] = months[m].Hours * quantity.Hour(even[m])
	}
	return of
}

// basisOf is what the hours of a bed's year rest on, in words.
func basisOf(months [12]light.Month) string {
	var words []string
	for _, m := range months {
		word := string(m.Basis)
		if m.Basis == light.Near {
			word = "as seen in a month near"
		}
		if m.Basis == light.Lowered {
			word = "reckoned and lowered by what was seen"
		}
		if !slices.Contains(words, word) {
			words = append(words, word)
		}
	}
	return strings.Join(words, " or ")
}

// What counts as a row of tall plants, and what of the light comes through it (estimate). How far its shade is followed, in
// heights of the row.
const (
	tallFrom   quantity.Metre = 1.2
	throughRow float64        = 0.3
	shadeReach float64        = 3
)

// rowShades is what each tall crop takes from the beds around when it stands in another, by rows that run along the middle of
// the bed, or across it. Where things are too near or too far for that, nothing.
func rowShades(g garden.Garden, tables []*growth.Table, even [12]float64) []plan.RowShade {
	var rows []plan.RowShade
	cost := rowCosts{latitude: g.Site.Latitude, known: map[rowCase]quantity.Hour{}}
	seen := map[string]bool{}
	for _, t := range tables {
		if t == nil || t.Option.Crop == nil || seen[t.Option.Crop.ID] || t.Option.Crop.Plant.Height < tallFrom {
			continue
		}
		c := t.Option.Crop
		seen[c.ID] = true
		for _, from := range g.Beds {
			for _, on := range g.Beds {
				if from.ID != on.ID {
					if hours, ok := cost.between(c, from, on, g.Site.Lie.North, even); ok {
						rows = append(rows, plan.RowShade{Crop: c.ID, From: from.ID, On: on.ID, Hours: hours})
					}
				}
			}
		}
	}
	return rows
}

// rowCase is a row, a distance and a month, rounded so that like beds are reckoned once.
type rowCase struct {
	height, length, bearing, distance, side int
	month                                   time.Month
}

type rowCosts struct {
	latitude float64
	known    map[rowCase]quantity.Hour
}

// between is what a crop in one bed takes from the middle of another; ok is false where it does not reach, or takes next to nothing.
func (r *rowCosts) between(c *crop.Crop, from, on garden.Bed, north float64, even [12]float64) (hours [12]quantity.Hour, ok bool) {
	east, up := float64(on.X-from.X), float64(on.Y-from.Y)
	if math.Hypot(east, up) > float64(c.Plant.Height)*shadeReach+float64(from.Length)/2 {
		return hours, false
	}
	bearing := from.Bearing
	u := bearing * math.Pi / 180
	along, across := east*math.Sin(u)+up*math.Cos(u), east*math.Cos(u)-up*math.Sin(u)
	distance, side := math.Abs(across), bearing+90
	if across < 0 {
		side = bearing - 90
	}
	if distance > float64(c.Plant.Height)*shadeReach || distance < 0.3 || math.Abs(along) > float64(from.Length+on.Length)/2 {
		return hours, false
	}
	poleward := math.Cos((side + north) * math.Pi / 180) // 1 due north
	if r.latitude < 0 {
		poleward = -poleward
	}
	if poleward <= 0.1 {
		return hours, false
	}
	most := quantity.Hour(0)
	for m := range hours {
		hours[m] = r.of(rowCase{cm(float64(c.Plant.Height)), cm(float64(from.Length)), int(math.Round(bearing + north)), cm(distance), int(math.Round(side + north)), time.Month(m + 1)}) * quantity.Hour(even[m])
		most = max(most, hours[m])
	}
	return hours, most > 0.1
}

func cm(metres float64) int { return 10 * int(math.Round(metres*10)) }

func (r *rowCosts) of(c rowCase) quantity.Hour {
	if h, ok := r.known[c]; ok {
		return h
	}
	row := sun.Row{Height: quantity.Metre(c.height) / 100, Length: quantity.Metre(c.length) / 100, Bearing: float64(c.bearing), Passes: throughRow}
	h := light.RowCost(r.latitude, c.month, row, quantity.Metre(c.distance)/100, float64(c.side))
	r.known[c] = h
	return h
}
