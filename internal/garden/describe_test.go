package garden_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// invented is a catalogue of three made-up crops, enough to look names and units up.
func invented() *crop.Catalogue {
	method := []crop.Method{{Way: crop.Sow}, {Way: crop.SetOut}}
	spacing := crop.Spacing{InRow: 0.3, BetweenRows: 0.5}
	return crop.New(
		&crop.Crop{ID: "cabbage-early", Kind: "cabbage", Type: "early", Family: "Brassicaceae", Methods: method, Spacing: spacing,
			Harvest: crop.Harvest{Unit: "head", UnitMass: 1.2}},
		&crop.Crop{ID: "cabbage-late", Kind: "cabbage", Type: "late", Family: "Brassicaceae", Methods: method, Spacing: spacing,
			Harvest: crop.Harvest{Unit: "head", UnitMass: 2}},
		&crop.Crop{ID: "carrot", Kind: "carrot", Family: "Apiaceae", Methods: method[:1], Spacing: spacing},
		&crop.Crop{ID: "asparagus", Kind: "asparagus", Family: "Asparagaceae", Perennial: true, Methods: method, Spacing: spacing},
	)
}

const good = `
[site]
name = "Test ground (invented)"
units = "US"
latitude = 42.4
longitude = -76.5

[[bed]]
name = "Long drill"
length = "30 ft"
width = 'four'
sun_hours = 8
`

// Every kind of mistake is told with the line and column where an editor shows it.
func TestFaultsHaveTheirPlace(t *testing.T) {
	site := "[site]\nname = \"A\"\nlatitude = 40\nlongitude = 3\n"
	bed := "[[bed]]\nname = \"B\"\nlength = \"9 m\"\nwidth = \"1 m\"\nsun_hours = 8\n"
	rows := []struct{ name, text, holds string }{
		{"syntax", "[site]\nname = \"A\nlatitude = 40\n", "garden.toml:2:"},
		{"key twice", "[site]\nname = \"A\"\nname = \"B\"\n", "garden.toml:3:1: this is not TOML"},
		{"no site", bed, "garden.toml:1:1: the file has no [site] table"},
		{"latitude", strings.Replace(site, "40", "95", 1), "garden.toml:3:12: site: latitude is 95, which is nowhere on the earth; write degrees"},
		{"not a number", strings.Replace(site, "40", "nan", 1), "garden.toml:3:12: site: latitude is NaN"},
		{"wrong type", strings.Replace(site, "40", `"40 N"`, 1), `garden.toml:3:12: site: latitude is the text "40 N", where a number is wanted`},
		{"unknown key", site + "lattitude = 4\n", `garden.toml:5:1: site: "lattitude" is not known in site; did you mean latitude?`},
		{"unknown table", site + "[[beds]]\n", `garden.toml:5:3: "beds" is not known here; did you mean bed?`},
		{"missing key", site + "[[bed]]\nname = \"B\"\nwidth = \"1 m\"\nsun_hours = 8\n", `garden.toml:5:3: bed "B": length is missing`},
		{"bare length", site + strings.Replace(bed, `"1 m"`, "1", 1), `garden.toml:8:9: bed "B": width is 1, where text in quotes is wanted; write width with its unit`},
		{"zero width", site + strings.Replace(bed, `"1 m"`, `"0 m"`, 1), `garden.toml:8:9: bed "B": width must be more than 0; write the bed's width`},
		{"negative width", site + strings.Replace(bed, `"1 m"`, `"-1 m"`, 1), `garden.toml:8:9: bed "B": width must be more than 0`},
		{"unit of another quantity", site + strings.Replace(bed, `"1 m"`, `"1 kg"`, 1), `garden.toml:8:9: bed "B": width: "1 kg" is not a length: "kg" is not a unit of it`},
		{"sun", site + strings.Replace(bed, "= 8", "= 17", 1), `garden.toml:9:13: bed "B": hours of sun are 17`},
		{"one bed table", site + strings.Replace(bed, "[[bed]]", "[bed]", 1), "[bed] is one table, where a list of them is wanted; write [[bed]]"},
		{"same name", site + bed + strings.Replace(bed, "B", "b", 1), `garden.toml:11:8: bed "b": another bed is called "B" too`},
		{"unknown crop", site + bed + "[[want]]\ncrop = \"carrto\"\namount = 4\n", `garden.toml:11:8: want "carrto": the catalogue has no crop "carrto"; did you mean carrot?`},
		{"amount", site + "[[want]]\ncrop = \"carrot\"\namount = -4\n", `garden.toml:7:10: want "carrot": amount must be more than 0`},
		{"unit", site + "[[want]]\ncrop = \"cabbage\"\namount = 4\nunit = \"bushel\"\n", `garden.toml:8:8: want "cabbage": "bushel" is not a unit for cabbage; write kg, g, lb, oz, head`},
		{"basis", site + "[[want]]\ncrop = \"carrot\"\namount = 4\nbasis = \"daily\"\n", `garden.toml:8:9: want "carrot": basis is "daily"`},
		{"dates", site + "[[want]]\ncrop = \"carrot\"\namount = 4\nfrom = 2027-08-01\nto = 2027-07-01\n", "garden.toml:9:6: want \"carrot\": the weeks wanted end on 2027-07-01"},
		{"date", site + "[[want]]\ncrop = \"carrot\"\namount = 4\nfrom = \"soon\"\n", `garden.toml:8:8: want "carrot": from is the text "soon", which is not a date`},
		{"veto of nothing", site + bed + "[[veto]]\nnote = \"x\"\n", `garden.toml:10:3: veto 1: it would forbid everything everywhere; name a crop`},
		{"veto of an unknown bed", site + bed + "[[veto]]\nbed = \"Bb\"\ncrop = \"carrot\"\n", `garden.toml:11:7: veto "carrot": there is no bed "Bb"; did you mean B?`},
		{"bed of history", site + bed + "[[history]]\nbed = \"Bb\"\nyear = 2026\ncrop = \"carrot\"\n", `garden.toml:11:7: history 1: there is no bed "Bb"; did you mean B?`},
		{"history says nothing", site + bed + "[[bed.history]]\nyear = 2026\n", `garden.toml:10:7: history 2026 of bed "B": neither a crop nor a family is given`},
		{"family", site + bed + "[[bed.history]]\nyear = 2026\nfamily = \"Brasicaceae\"\n", "garden.toml:12:10: history 2026 of bed \"B\": no crop of the catalogue is of the family \"Brasicaceae\"; did you mean Brassicaceae?"},
		{"year", site + bed + "[[bed.history]]\nyear = 26\ncrop = \"carrot\"\n", "garden.toml:11:8: history 26 of bed \"B\": year is 26"},
		{"which type", site + bed + "[[standing]]\nbed = \"B\"\ncrop = \"cabbage\"\nstart = 2026-08-01\nclear = 2027-05-01\n", `garden.toml:12:8: standing "cabbage": "cabbage" may be several crops; say which: cabbage-early, cabbage-late`},
		{"place", site + bed + "[[standing]]\nbed = \"B\"\ncrop = \"carrot\"\nstart = 2026-08-01\nclear = 2027-05-01\nalong = [\"0 m\", \"10 m\"]\n", `garden.toml:15:1: standing "carrot": its place is not a rectangle inside the bed`},
		{"clear", site + bed + "[[standing]]\nbed = \"B\"\ncrop = \"carrot\"\nstart = 2026-08-01\n", `garden.toml:10:3: standing "carrot": clear is missing`},
		{"ph", site + "[[soil_test]]\ndate = 2026-10-02\nph = 65\n", `garden.toml:7:6: soil test "2026-10-02": pH is 65, and pH goes from 0 to 14; is a point missing: 6.5?`},
		{"extractor", site + "[[soil_test]]\ndate = 2026-10-02\n[[soil_test.reading]]\nelement = \"P\"\nvalue = 20\nunit = \"ppm\"\nextractor = \"Melich 3\"\n", `garden.toml:11:13: soil test "2026-10-02": extractor is "Melich 3", which is not known; did you mean Mehlich 3`},
		{"bed of a test", site + bed + "[[soil_test]]\ndate = 2026-10-02\nbeds = [\"Bee\"]\nph = 6\n", `garden.toml:12:9: soil test "2026-10-02": there is no bed "Bee"; `},
		{"nothing put on", site + bed + "[[treatment]]\ndate = 2026-10-02\nbed = \"B\"\nmaterial = \"limestone-ground\"\n", `garden.toml:10:3: treatment "limestone-ground": neither an amount nor a volume is given`},
		{"package of nothing", site + "[[package]]\nmaterial = \"limestone-ground\"\nmass = \"0 kg\"\n", `garden.toml:7:8: package "limestone-ground": the package holds nothing`},
		{"heat", site + "[[heap]]\nname = \"H\"\nstarted = 2026-10-02\n[[heap.log]]\ndate = 2026-10-05\nkind = \"heat\"\ntemperature = \"140 °C\"\n", `garden.toml:11:15: heap "H": the heap is 140 °C, which no heap reaches; check the number and whether it is °C or °F`},
		{"heap's unknown key", site + "[[heap]]\nname = \"H\"\nstarted = 2026-10-02\n[[heap.part]]\nfeedstok = \"hay\"\nvolume = \"3 L\"\n", `garden.toml:9:1: heap "H": "feedstok" is not known in part; did you mean feedstock?`},
		{"texture", site + strings.Replace(bed, "sun_hours", "texture = \"sandy\"\nsun_hours", 1), `garden.toml:9:11: bed "B": texture is "sandy", which is not known; did you mean sand?`},
		{"columns are characters", "[site]\nname = \"Café\"; x = 1\n", "garden.toml:2:14: this is not TOML"},
		{"too many", site + strings.Repeat("[[bed]]\n", 2001), "garden.toml:5:3: there are 2001 [[bed]] tables; write at most 2000"},
		{"binary", "PK\x03\x04\x00\x00", "garden.toml:1:1: the file is not UTF-8 text"},
		{"empty", " \n", "garden.toml:1:1: the file is empty"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			_, err := garden.ReadDescription("garden.toml", strings.NewReader(r.text), invented())
			if err == nil {
				t.Fatalf("it was read:\n%s", r.text)
			}
			if !strings.Contains(err.Error(), r.holds) {
				t.Errorf("got  %v\nwant %s", err, r.holds)
			}
		})
	}
}

// A mistake on line 37 is told as line 37, and all mistakes are told together.
func TestAllFaultsAtOnce(t *testing.T) {
	text := "[site]\nname = \"A\"\nlatitude = 95\nlongitude = 3\n"
	for len(strings.Split(text, "\n")) < 30 {
		text += "# a remark\n"
	}
	text += "\n\n\n[[bed]]\nname = \"Long drill\"\nlength = \"9 m\"\n\nwidth = \"0 cm\"\nsun_hours = 20\n"
	text += "[[want]]\ncrop = \"carot\"\namount = 0\nwieght = 2\n"
	_, err := garden.ReadDescription("garden.toml", strings.NewReader(text), invented())
	var faults garden.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("got %v", err)
	}
	var lines []int
	for _, f := range faults {
		lines = append(lines, f.Line)
	}
	if diff := cmp.Diff([]int{3, 37, 38, 40, 41, 42}, lines); diff != "" {
		t.Errorf("lines (-want +got):\n%s\n%v", diff, err)
	}
	if want := `garden.toml:37:9: bed "Long drill": width must be more than 0; write the bed's width with its unit, for example "1.2 m" or "4 ft"`; !strings.Contains(err.Error(), want) {
		t.Errorf("got %v\nwant %s", err, want)
	}
}

// The example in the document is read, and says what the document says it says.
func TestDocumentedExample(t *testing.T) {
	doc, err := os.ReadFile("../../doc/garden-file.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(doc), "```toml\n")
	example, _, found := strings.Cut(rest, "```")
	if !found {
		t.Fatal("the document has no example")
	}
	g, err := garden.ReadDescription("example", strings.NewReader(example), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Beds) != 2 || g.Beds[0].Length != 9.144 || g.Beds[1].Width != 1.0668 || !g.Beds[1].Perennial {
		t.Errorf("beds: %+v", g.Beds)
	}
	if len(g.History) != 2 || g.History[0].BedID != 1 || g.History[1].Family != "Brassicaceae" {
		t.Errorf("history: %+v", g.History)
	}
	if len(g.Wants) != 3 || g.Wants[2].Crop != "early orange" || g.Wants[0].Basis != garden.Total || g.Wants[1].Weight != 3 || *g.Wants[1].To != civil.Of(2027, 11, 30) {
		t.Errorf("wants: %+v", g.Wants)
	}
	if len(g.Vetoes) != 1 || g.Vetoes[0].BedID != 1 || g.VetoSays(g.Vetoes[0]) != "nothing of Solanaceae in Long drill" {
		t.Errorf("vetoes: %+v", g.Vetoes)
	}
	if len(g.Standing) != 1 || g.Standing[0].BedID != 2 || g.Standing[0].Status != garden.InGround || g.Standing[0].Rows < 1 ||
		g.Standing[0].Place.AcrossTo != g.Beds[1].Width || g.Standing[0].Place.AlongTo != 1.8288 {
		t.Errorf("standing: %+v", g.Standing)
	}
	if g.Site.Soil.Texture != garden.SiltLoam || g.Site.Soil.Bucket != 2*quantity.LitresPerGallon || g.Site.Soil.Weighs != quantity.US {
		t.Errorf("soil: %+v", g.Site.Soil)
	}
	if len(g.Tests) != 1 || *g.Tests[0].PH != 5.6 || g.Tests[0].Beds[0] != 1 || g.Tests[0].Depth != 0.1524 || g.Tests[0].Elements[0].Extractor != garden.Mehlich3 ||
		len(g.Treatments) != 1 || g.Treatments[0].Amount != 6*quantity.KilogramsPerPound || len(g.Packages) != 1 || *g.Packages[0].CCE != 95 ||
		len(g.Heaps) != 1 || len(g.Heaps[0].Put) != 1 || math.Abs(float64(*g.Heaps[0].Log[0].Celsius)-57.8) > 0.05 {
		t.Errorf("ground: %+v %+v %+v %+v", g.Tests, g.Treatments, g.Packages, g.Heaps)
	}
	if len(g.Shades) != 2 || g.Shades[0].Crown != garden.RoundCrown || g.Shades[1].Ridge != 26*quantity.MetresPerFoot || len(g.Site.Lie.Horizon) != 3 || len(g.Beds[1].Observed) != 1 {
		t.Errorf("light: %+v %+v %+v", g.Shades, g.Site.Lie, g.Beds[1].Observed)
	}
	crops, aside := g.Catalogue(crop.Default())
	if own, ok := crops.Find("early-orange"); !ok || len(aside) != 0 || own.Base != "carrot" || own.Methods[0].Days != (crop.Range{Low: 55, High: 60}) {
		t.Errorf("own crops: %+v, %v", g.Own, aside)
	}
	if ps := g.Validate(crop.Default()); len(ps) != 0 {
		t.Errorf("the example is doubted: %v", ps)
	}
	for _, key := range []string{"name", "units", "latitude", "longitude", "elevation", "household", "width", "depth", "invented", "note",
		"x", "y", "length", "bearing", "rows_across", "sun_hours", "perennial", "year", "crop", "family", "basis", "amount", "unit", "weight",
		"from", "to", "bed", "key", "way", "method", "along", "across", "rows", "plants", "start", "clear", "raise_on", "emerge", "first", "last",
		"season", "role", "partner", "status", "pinned", "success_years", "weather_years", "expect_kg",
		"id", "base", "days", "days_from", "in_row", "between_rows", "yield", "retired", "text",
		"texture", "topsoil", "dug_to", "dug_with", "drift", "bucket", "weighs", "natural", "lime", "organic", "state", "date", "beds", "kit", "ph", "ph_in", "buffer_ph", "buffer_method",
		"acidity_meq", "organic_percent", "cec_meq", "salts_ds_m", "salts_in", "lead_mg_kg", "free_lime", "lab", "element", "value", "class", "extractor",
		"material", "volume", "mass", "price", "n", "p2o5", "k2o", "cce", "fineness", "started", "emptied", "feedstock", "moisture", "kind", "temperature",
		"before", "hours_a_week", "trays", "slope", "aspect", "north", "horizon", "height", "ridge", "crown", "spread", "crown_base", "trunk", "leaf_on", "leaf_off", "bare_percent", "gaps_percent", "month"} {
		if !strings.Contains(string(doc), "`"+key+"`") {
			t.Errorf("the document does not tell of %s", key)
		}
	}
}

// Inline tables and dotted keys are the same TOML.
func TestOtherSpellings(t *testing.T) {
	text := "site.name = 'A'\nsite.latitude = 4_0.0\nsite.longitude = 3\nbed = [{name = 'B', length = '9 m', width = '1 m', sun_hours = 8, history = [{year = 2026, crop = 'Carrots'}]}]\r\n"
	g, err := garden.ReadDescription("g", strings.NewReader("\ufeff"+text), invented())
	if err != nil {
		t.Fatal(err)
	}
	if g.Site.Latitude != 40 || len(g.Beds) != 1 || len(g.History) != 1 || g.History[0].CropID != "carrot" {
		t.Errorf("got %+v", g)
	}
}

func drawText(t *rapid.T, name string) string {
	return rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("\"\\\n\t\x01\x7f #[]=é")))).
		Filter(func(s string) bool { return !strings.ContainsRune(s, 0) && !strings.ContainsRune(s, '\ufffd') }).Draw(t, name)
}

func drawLength(low, high float64) *rapid.Generator[quantity.Metre] {
	return rapid.Map(rapid.OneOf(
		rapid.Float64Range(low, high),
		rapid.Map(rapid.IntRange(int(low/quantity.MetresPerInch)+1, int(high/quantity.MetresPerInch)), func(n int) float64 { return float64(n) * quantity.MetresPerInch }),
		rapid.Map(rapid.IntRange(int(low*100)+1, int(high*100)), func(n int) float64 { return float64(n) / 100 }),
	), func(x float64) quantity.Metre { return quantity.Metre(x) })
}

func drawDay(t *rapid.T, name string) civil.Date {
	return civil.Date(rapid.Int32Range(int32(civil.Of(2000, 1, 1)), int32(civil.Of(2100, 1, 1))).Draw(t, name))
}

func drawDays(t *rapid.T, name string) *civil.Date {
	if rapid.Bool().Draw(t, name+" given") {
		d := drawDay(t, name)
		return &d
	}
	return nil
}

func drawSpread(t *rapid.T, name string) garden.Spread {
	d := drawDay(t, name)
	return rapid.SampledFrom([]garden.Spread{{}, {P10: d, P50: d, P90: d}, {P10: d, P50: d + 3, P90: d + 9}}).Draw(t, name)
}

// drawGarden draws any garden that the rules allow, with its beds numbered from 1 and its history by bed.
func drawGarden(t *rapid.T) garden.Garden {
	count := func(name string) int { return rapid.IntRange(0, 3).Draw(t, name) }
	g := garden.Garden{Site: garden.Site{
		Name: "A" + drawText(t, "name"), Note: drawText(t, "note"),
		Latitude: rapid.Float64Range(-90, 90).Draw(t, "latitude"), Longitude: rapid.Float64Range(-180, 180).Draw(t, "longitude"),
		Elevation: drawLength(-400, 5000).Draw(t, "elevation"), Units: rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "units"),
		Household: rapid.IntRange(0, 9).Draw(t, "household"), Invented: rapid.Bool().Draw(t, "invented"),
		Width: drawLength(0, 100).Draw(t, "plot width"), Depth: drawLength(0, 100).Draw(t, "plot depth"),
	}}
	for i := range count("beds") {
		b := garden.Bed{
			ID: int64(i + 1), Name: string(rune('A'+i)) + drawText(t, "bed"), X: drawLength(-50, 50).Draw(t, "x"), Y: drawLength(-50, 50).Draw(t, "y"),
			Length: drawLength(0.1, 90).Draw(t, "length"), Width: drawLength(0.1, 9).Draw(t, "width"), Bearing: rapid.Float64Range(0, 180).Draw(t, "bearing"),
			RowsAcross: rapid.Bool().Draw(t, "across"), Sun: quantity.Hour(rapid.Float64Range(0, 16).Draw(t, "sun")), Perennial: rapid.Bool().Draw(t, "perennial"), Note: drawText(t, "note"),
		}
		g.Beds = append(g.Beds, b)
		for range count("pasts") {
			past := garden.Past{BedID: b.ID, Year: rapid.IntRange(1990, 2030).Draw(t, "year"), Note: drawText(t, "note")}
			if rapid.Bool().Draw(t, "by family") {
				past.Family = rapid.SampledFrom([]string{"Brassicaceae", "Apiaceae"}).Draw(t, "family")
			} else {
				past.CropID = rapid.SampledFrom([]string{"carrot", "cabbage-late"}).Draw(t, "crop")
			}
			g.History = append(g.History, past)
		}
		for range count("standing") {
			start := drawDay(t, "start")
			c := rapid.SampledFrom(invented().All()).Draw(t, "crop")
			method := rapid.IntRange(0, len(c.Methods)-1).Draw(t, "method")
			p := garden.Planting{
				Key: string(rune('a'+len(g.Standing))) + drawText(t, "key"), BedID: b.ID, CropID: c.ID, Method: method, Way: c.Methods[method].Way,
				Place: b.Whole(), Rows: rapid.IntRange(0, 9).Draw(t, "rows"), Plants: rapid.IntRange(0, 900).Draw(t, "plants"), RaiseOn: drawDays(t, "raise"),
				Start: start, Season: rapid.SampledFrom([]int{start.Year(), start.Year() - 1}).Draw(t, "season"), Clear: start + civil.Date(rapid.Int32Range(1, 9999).Draw(t, "days")),
				Emerge: drawSpread(t, "emerge"), First: drawSpread(t, "first"), Last: drawSpread(t, "last"),
				Role: rapid.SampledFrom([]garden.Role{garden.Alone, garden.Slow, garden.Marker}).Draw(t, "role"), Partner: drawText(t, "partner"),
				Status: rapid.SampledFrom([]garden.Status{garden.InGround, garden.Planned}).Draw(t, "status"), Pinned: rapid.Bool().Draw(t, "pinned"),
				Success: rapid.IntRange(0, 30).Draw(t, "success"), Years: rapid.IntRange(0, 30).Draw(t, "years"), Expect: quantity.Kilogram(rapid.Float64Range(0, 99).Draw(t, "expect")),
			}
			if rapid.Bool().Draw(t, "part") {
				p.Place.AlongFrom, p.Place.AcrossTo = b.Length/3, b.Width*0.7
			}
			for range rapid.IntRange(0, 2).Draw(t, "reasons") {
				p.Reasons = append(p.Reasons, garden.Reason{Says: drawText(t, "says"), Rule: drawText(t, "rule"), Source: drawText(t, "source")})
			}
			g.Standing = append(g.Standing, p)
		}
	}
	if rapid.Bool().Draw(t, "light") {
		drawShades(t, &g)
	}
	if rapid.Bool().Draw(t, "ground") {
		drawGround(t, &g)
	} else {
		g.Site.Soil.Weighs = g.Site.Units
	}
	if rapid.Bool().Draw(t, "own crops") {
		g.Own = drawOwn(t)
		g.Wants = append(g.Wants, garden.Want{Crop: g.Own.Varieties[0].ID, Basis: garden.Total, Amount: 1, Unit: "kg", Weight: 3})
	}
	for range count("wants") {
		g.Wants = append(g.Wants, garden.Want{
			Crop: rapid.SampledFrom([]string{"carrot", "cabbage", "Carrots"}).Draw(t, "crop"), Basis: rapid.SampledFrom([]garden.Basis{garden.Total, garden.Weekly}).Draw(t, "basis"),
			Amount: rapid.Float64Range(0.001, 999).Draw(t, "amount"), Unit: rapid.SampledFrom([]string{"kg", "lb", "oz"}).Draw(t, "unit"), Weight: rapid.IntRange(1, 5).Draw(t, "weight"), Note: drawText(t, "note"),
			Under: rapid.SampledFrom([]string{"", garden.InTheOpen, "cloche", "row-cover-heavy"}).Draw(t, "under"),
		})
	}
	for range count("vetoes") {
		v := garden.Veto{Crop: rapid.SampledFrom([]string{"carrot", "cabbage", ""}).Draw(t, "not"), Way: rapid.SampledFrom([]crop.Way{crop.Sow, crop.SetOut, crop.Set}).Draw(t, "not so"), Before: drawDays(t, "not before"), Note: drawText(t, "note")}
		if v.Crop == "" {
			v.Family = "Apiaceae"
		}
		if len(g.Beds) > 0 && rapid.Bool().Draw(t, "not here") {
			v.BedID = g.Beds[0].ID
		}
		g.Vetoes = append(g.Vetoes, v)
	}
	g.Site.HoursAWeek, g.Site.Trays = quantity.Hour(rapid.Float64Range(0, 90).Draw(t, "hours")), rapid.Float64Range(0, 90).Draw(t, "trays")
	return g
}

// drawOwn draws own crops: a file of its own text, and varieties of it and of the catalogue.
func drawOwn(t *rapid.T) (own crop.OwnCrops) {
	text, _ := crop.FileText("carrot")
	text += "# " + rapid.SampledFrom([]string{"", "it's", "\t", "'''", "\r\n# é", "\""}).Draw(t, "remark") + rapid.SampledFrom([]string{"", "\n", "'"}).Draw(t, "end")
	own.Files = []crop.File{{ID: "own-root", Text: text, Retired: rapid.Bool().Draw(t, "file retired")}}
	for i, base := range []string{"carrot", "own-root"}[:rapid.IntRange(1, 2).Draw(t, "varieties")] {
		own.Varieties = append(own.Varieties, crop.Variety{
			ID: "own-" + string(rune('a'+i)), Name: "A" + rapid.StringMatching(`[a-zé" \\]{0,20}`).Draw(t, "name") + "z", Base: base,
			Days: rapid.SampledFrom([]string{"", "55", "50–60 d"}).Draw(t, "days"), From: rapid.SampledFrom([]crop.Way{"", crop.Sow}).Draw(t, "from"),
			InRow: rapid.SampledFrom([]string{"", "2 in"}).Draw(t, "in row"), BetweenRows: rapid.SampledFrom([]string{"", "30 cm"}).Draw(t, "between"),
			Yield: rapid.SampledFrom([]string{"", "3 kg/m²"}).Draw(t, "yield"), Note: drawText(t, "note"), Retired: i > 0 && rapid.Bool().Draw(t, "retired"),
		})
	}
	return own
}

// What is written is read back the same, to the last bit.
func TestWrittenReadsBack(t *testing.T) {
	crops := invented()
	rapid.Check(t, func(t *rapid.T) {
		g := drawGarden(t)
		var text bytes.Buffer
		if err := garden.WriteDescription(&text, g); err != nil {
			t.Fatal(err)
		}
		back, err := garden.ReadDescription("written", bytes.NewReader(text.Bytes()), crops)
		if err != nil {
			t.Fatalf("%v\n%s", err, text.String())
		}
		if diff := cmp.Diff(g, back); diff != "" {
			t.Fatalf("(-told +read):\n%s\n%s", diff, text.String())
		}
	})
}

func TestABadGardenIsNotWritten(t *testing.T) {
	var text bytes.Buffer
	err := garden.WriteDescription(&text, garden.Garden{Site: garden.Site{Name: "A"}, Beds: []garden.Bed{{Name: "B"}}})
	if err == nil || text.Len() > 0 {
		t.Errorf("got %v and %q", err, text.String())
	}
}

func FuzzReadDescription(f *testing.F) {
	f.Add(good)
	f.Add("[site]\nname='A'\nlatitude=1\nlongitude=2\n[[standing]]\nalong=['1 m',2]\nstart=1999-01-01\n")
	f.Add("bed = [{history = [{}]}, 4]\nsite = {name = 'x'}\n[[want]]\n")
	f.Add("[[bed.history]]\n[bed]\n")
	f.Add("[site]\nname='A'\nlatitude=1\nlongitude=2\nweighs='US'\n[[bed]]\nname='B'\nlength='1 m'\nwidth='1 m'\nsun_hours=8\nstate='sod'\n[[soil_test]]\ndate=2026-01-01\nbeds=['B']\nph=6\n[[soil_test.reading]]\nelement='P'\nvalue=3\nunit='ppm'\n[[heap]]\nname='H'\nstarted=2026-01-01\n[[heap.part]]\nfeedstock='hay'\nvolume='3 L'\n[[heap.log]]\ndate=2026-01-02\nkind='heat'\ntemperature='50 °C'\n")
	f.Add("[[soil_test]]\nreading=3\nfree_lime='yes'\n[[treatment]]\nbed=2\nvolume='-1 L'\n[[package]]\nn='x'\n[[heap]]\nlog=[{}, 4]\npart={}\n")
	f.Add("site = []\nbed = 3\n[[standing]]\nreason = [1]\n")
	crops := invented()
	f.Fuzz(func(t *testing.T, text string) {
		g, err := garden.ReadDescription("fuzz", strings.NewReader(text), crops)
		if err != nil {
			var faults garden.Faults
			if !errors.As(err, &faults) || len(faults) == 0 || faults[0].Line < 1 || faults[0].Column < 1 {
				t.Fatalf("an error without a place: %v", err)
			}
			return
		}
		var out bytes.Buffer
		if err := garden.WriteDescription(&out, g); err != nil {
			t.Fatalf("read but not written: %v", err)
		}
		if _, err := garden.ReadDescription("again", &out, crops); err != nil {
			t.Fatalf("written but not read: %v\n%s", err, out.String())
		}
	})
}

// A want that names no unit is weighed as the garden's people weigh: 1 lb = 0.45359237 kg (international yard and pound
// agreement, 1959).
func TestWantWithoutUnit(t *testing.T) {
	for units, want := range map[string]garden.Want{
		"metric": {Amount: 2, Unit: "kg"},
		"US":     {Amount: 2, Unit: "lb"},
	} {
		text := "[site]\nname = \"A\"\nlatitude = 44\nlongitude = -73\nunits = \"" + units + "\"\n[[want]]\ncrop = \"cabbage\"\namount = 2\n"
		g, err := garden.ReadDescription("garden.toml", strings.NewReader(text), nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := g.Wants[0]; got.Unit != want.Unit || got.Amount != want.Amount {
			t.Errorf("%s: %g %q, want %g %q", units, got.Amount, got.Unit, want.Amount, want.Unit)
		}
	}
}
