package crop

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kailyard/internal/quantity"
)

// good is a whole file of an invented crop, the ground for the bad ones.
const good = `kind = "testroot"
type = "early"
group = "root"
botanical = "Radix inventa"
family = "Apiaceae"
aliases = ["proof root"]
[emergence]
soil = { v = [50, 68], unit = "°F", src = "KEY", q = "published" }
days = { v = [20, 8.5], unit = "d", src = "KEY", q = "published" }
least = { v = "40 °F", q = "from memory" }
most = { v = "95 °F", q = "from memory" }
give_up = { v = "30 d", q = "from memory" }
[cardinal]
base = { v = "3 °C", q = "from memory" }
optimum = { v = "15–24 °C", q = "from memory" }
max = { v = "35 °C", q = "from memory" }
[[method]]
way = "sow"
days = { v = "60–85 d", src = "KEY", q = "published", note = "said so" }
reference = { v = "17 °C", q = "from memory" }
depth = { v = "0.25–0.75 in", q = "common practice" }
soil_at_least = { v = "45 °F", q = "from memory" }
[[method]]
way = "set out"
days = { v = "40 d", q = "from memory" }
reference = { v = "17 °C", q = "from memory" }
weeks_indoors = { v = "5–7 wk", q = "from memory" }
hardening = { v = "7 d", q = "from memory" }
soil_at_least = { v = "45 °F", q = "from memory" }
air_at_least = { v = "-2 °C", q = "from memory" }
[spacing]
in_row = { v = "2–4 in", q = "from memory" }
between_rows = { v = "15 in", q = "from memory" }
sow_apart = { v = "1 in", q = "from memory" }
[plant]
spread = { v = "6–9 in", q = "from memory" }
height = { v = "12 in", q = "from memory" }
root = { v = "0.5–1.0 m", q = "from memory" }
[hardiness]
class = "half-hardy"
seedling = { v = "25 °F", q = "from memory" }
established = { v = "20 °F", q = "from memory" }
mature = { v = "−11 °C", q = "from memory" }
[heat]
bolt_above = { v = "24 °C", q = "from memory" }
bolt_days = { v = "7 d", q = "from memory" }
[light]
needs = { v = "5–7 h", q = "from memory" }
least = { v = "4 h", q = "from memory" }
[water]
kc_initial = { v = 0.7, q = "from memory" }
kc_mid = { v = 1.05, q = "from memory" }
kc_end = { v = 0.95, q = "from memory" }
[harvest]
manner = "keeps"
part = "root"
span = { v = "4–10 wk", q = "from memory" }
yield = { v = "100 lb/100 ft", q = "from memory" }
store = { v = "120 d", q = "from memory" }
unit = "root"
unit_mass = { v = "80 g", q = "from memory" }
[seed]
count = { v = "25000 /oz", q = "from memory" }
keeps = { v = "3 yr", q = "from memory" }
germination = { v = "55 %", q = "from memory" }
[ph]
range = { v = "5.5–6.8", q = "from memory" }
[rotation]
years = { v = "3 yr", q = "common practice" }
[practice]
sowing = "drill"
thin = true
jobs = ["Sow it."]
cautions = []
`

// near takes two quantities for equal when they agree to 1e-8.
func near[T ~float64]() cmp.Option {
	return cmp.Comparer(func(a, b T) bool { return math.Abs(float64(a-b)) < 1e-8 })
}

func TestLoad(t *testing.T) {
	got, err := Load("folder/test-root.toml", strings.NewReader(good))
	if err != nil {
		t.Fatal(err)
	}
	bolt, air := quantity.Celsius(24), quantity.Celsius(-2)
	want := &Crop{
		ID: "test-root", Kind: "testroot", Type: "early", Group: Root, Botanical: "Radix inventa", Family: "Apiaceae", Aliases: []string{"proof root"},
		Emergence: Emergence{Points: []EmergencePoint{{10, 20}, {20, 8.5}}, Least: 40.0 / 9, Most: 35, GiveUp: 30},
		Cardinal:  Cardinal{3, 15, 24, 35},
		Methods: []Method{
			{Way: Sow, Days: Range{60, 85}, Reference: 17, Depth: 0.0127, SoilAtLeast: 65.0 / 9},
			{Way: SetOut, Days: Range{40, 40}, Reference: 17, WeeksIndoors: Range{5, 7}, Hardening: 7, Depth: 0.0127, SoilAtLeast: 65.0 / 9, AirAtLeast: &air},
		},
		Spacing:   Spacing{InRow: 0.0762, BetweenRows: 0.381, SowApart: 0.0254},
		Plant:     Plant{Spread: 0.1905, Height: 0.3048, Root: 0.75},
		Hardiness: Hardiness{Class: "half-hardy", Seedling: -35.0 / 9, Established: -60.0 / 9, Mature: -11, Hardened: -60.0 / 9},
		Heat:      Heat{BoltAbove: &bolt, BoltDays: 7},
		Light:     Light{6, 4}, Water: Water{0.7, 1.05, 0.95},
		Harvest: Harvest{Manner: Keeps, Part: "root", Span: Range{28, 70}, Yield: 3.905942109, PerPlant: 0.11339809, StoreDays: 120, Unit: "root", UnitMass: 0.08},
		Seed:    Seed{PerGram: 881.849048738, Keeps: 3, Germination: 0.55},
		PH:      Range{5.5, 6.8}, Rotation: 3,
		Practice: Practice{Sowing: "drill", Thin: true, Jobs: []string{"Sow it."}, Cautions: []string{}},
	}
	if diff := cmp.Diff(want, got, near[float64](), near[quantity.Celsius](), near[quantity.Metre](), near[quantity.Kilogram](),
		near[quantity.KilogramPerSquareMetre](), cmpopts.IgnoreFields(Crop{}, "Figures")); diff != "" {
		t.Error(diff)
	}
	if n := strings.Count(good, "{ v ="); len(got.Figures) != n {
		t.Errorf("%d figures kept of %d in the file", len(got.Figures), n)
	}
	first, _ := got.Figure("emergence.soil")
	days, _ := got.Figure("method.1.days")
	if diff := cmp.Diff(Figure{"emergence.soil", "50, 68 °F", "KEY", Published, ""}, first); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(Figure{"method.1.days", "60–85 d", "KEY", Published, "said so"}, days); diff != "" {
		t.Error(diff)
	}
	if last := got.Figures[len(got.Figures)-1]; got.Figures[0] != first || last.Field != "rotation.years" {
		t.Errorf("figures are not in file order: first %v, last %v", got.Figures[0], last)
	}
	if w := got.Weakest(); w[0].Quality != FromMemory || w[len(w)-1].Quality != Published {
		t.Errorf("weakest first: %v … %v", w[0], w[len(w)-1])
	}
}

// lineOf is the place of the line that begins with a text: its number and the column of its key.
func lineOf(t *testing.T, text, start string) string {
	t.Helper()
	for i, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, start) {
			column := 1 + strings.Count(start, "[")
			return fmt.Sprintf("test-root.toml:%d:%d: ", i+1, column)
		}
	}
	t.Fatalf("no line begins with %q", start)
	return ""
}

// TestLoadRefuses: each bad file is the good one with one change; the message has to say where and
// what to do.
func TestLoadRefuses(t *testing.T) {
	tests := []struct{ name, old, new, line, says string }{
		{"unknown unit", `"2–4 in"`, `"2–4 parsec"`, "in_row", `spacing.in_row: "2–4 parsec" is not a length; write it like "8 cm"`},
		{"no unit", `"2–4 in"`, `"2–4"`, "in_row", `spacing.in_row: "2–4" is not a length`},
		{"no number", `"2–4 in"`, `"a hand"`, "in_row", `does not begin with a number`},
		{"range upside down", `"2–4 in"`, `"4–2 in"`, "in_row", `runs from high to low`},
		{"implausible", `"6–9 in"`, `"60–90 ft"`, "spread", `plant.spread: "60–90 ft" is not plausible: it must lie between 0.01 and 5 m; check the value and its unit`},
		{"negative spacing", `"15 in"`, `"-15 in"`, "between_rows", `spacing.between_rows: "-15 in" is not plausible`},
		{"no quality", `"15 in", q = "from memory"`, `"15 in"`, "between_rows", `does not say how far it can be trusted`},
		{"unknown quality", `"15 in", q = "from memory"`, `"15 in", q = "guess"`, "between_rows", `q = "guess" is not known; it is one of "published"`},
		{"published without source", `"15 in", q = "from memory"`, `"15 in", q = "published"`, "between_rows", `is called published and has no source; name its key with src`},
		{"estimated without source", `"15 in", q = "from memory"`, `"15 in", q = "estimated"`, "between_rows", `is called estimated and has no source`},
		{"no value", `kc_mid = { v = 1.05, `, `kc_mid = { `, "kc_mid", `water.kc_mid: has no value`},
		{"missing field", "between_rows = { v = \"15 in\", q = \"from memory\" }\n", "", "[spacing]", `spacing.between_rows: is missing; write it as "8 cm"`},
		{"weeks indoors missing", "weeks_indoors = { v = \"5–7 wk\", q = \"from memory\" }\n", "", "[[method]]", `method.2.weeks_indoors: is missing`},
		{"weeks indoors for a sowing", `way = "set out"`, `way = "set"`, "weeks_indoors", `method.2.weeks_indoors: belongs to the way "set out" only`},
		{"unknown way", `way = "sow"`, `way = "throw"`, "way", `method.1.way: "throw" is not known; it is one of "sow", "set out", "set"`},
		{"temperatures fall", `[50, 68]`, `[68, 50]`, "soil", `emergence.soil: does not rise: 10 is not above`},
		{"one point", `[50, 68]`, `[50]`, "days", `emergence.days: has 2 values for 1 soil temperatures`},
		{"days not positive", `[20, 8.5]`, `[20, 0]`, "days", `emergence.days: 0 is not plausible`},
		{"words in a list", `[20, 8.5]`, `[20, "eight"]`, "days", `emergence.days: eight is not a number`},
		{"list wanted", `v = [20, 8.5], unit = "d"`, `v = "20 d"`, "days", `emergence.days: is not a list`},
		{"give up too soon", `"30 d"`, `"6 d"`, "give_up", `emergence.give_up: comes before the quickest emergence in the table (8.5 d)`},
		{"cardinal out of order", `"15–24 °C"`, `"15–36 °C"`, "[cardinal]", `cardinal: is not in order: base 3, optimum 15–36, max 35 °C`},
		{"least above most", "least = { v = \"40 °F\", q = \"from memory\" }\nmost = { v = \"95 °F\"", "least = { v = \"70 °F\", q = \"from memory\" }\nmost = { v = \"65 °F\"", "least", `emergence.least: is not below emergence.most`},
		{"reference outside", `base = { v = "3 °C"`, `base = { v = "18 °C"`, "reference", `method.1.reference: lies outside the crop's cardinal temperatures`},
		{"hardier when young", `"20 °F"`, `"28 °F"`, "established", `hardiness.established: dies sooner of cold than hardiness.seedling does; swap the values or say why in a note`},
		{"tender and hardy", `"half-hardy"`, `"tender"`, "established", `for a tender crop`},
		{"softer when hardened", `class = "half-hardy"`, "class = \"half-hardy\"\nhardened = { v = \"30 °F\", q = \"from memory\" }", "hardened", `hardiness.hardened: is warmer than hardiness.established`},
		{"hardened and dormant", `class = "half-hardy"`, "class = \"half-hardy\"\nhardened = { v = \"5 °F\", q = \"from memory\" }\ndormant = { v = \"5 °F\", q = \"from memory\" }", "hardened", `hardiness.hardened: stands beside hardiness.dormant`},
		{"no class", `"half-hardy"`, `"tough"`, "class", `hardiness.class: "tough" is not known`},
		{"bolting without days", "bolt_days = { v = \"7 d\", q = \"from memory\" }\n", "", "[heat]", `heat.bolt_days: is missing`},
		{"light upside down", `"4 h"`, `"9 h"`, "least = { v = \"9", `light.least: is more than light.needs`},
		{"pH", `"5.5–6.8"`, `"5.5–68"`, "range", `ph.range: "5.5–68" is not plausible: it must lie between 3 and 9`},
		{"not a yield", `"100 lb/100 ft"`, `"100 lb"`, "yield", `harvest.yield: "100 lb" is not a yield`},
		{"yield too great", `"100 lb/100 ft"`, `"1000 lb/ft"`, "yield", `which is not plausible (0.02 to 30)`},
		{"sown wider than thinned", `"1 in", q`, `"9 in", q`, "sow_apart", `spacing.sow_apart: is more than in_row`},
		{"biennial and perennial", `group = "root"`, "group = \"root\"\nperennial = true\nbiennial = true", "biennial", `biennial: stands beside perennial`},
		{"group", `group = "root"`, `group = "rot"`, "group", `group: "rot" is not known; it is one of "root", "leaf"`},
		{"family", `"Apiaceae"`, `"parsley"`, "family", `family: "parsley" is not a botanical family`},
		{"no seed count", "count = { v = \"25000 /oz\", q = \"from memory\" }\n", "", "[seed]", `seed.count: is missing; write it as "25000 /oz"`},
		{"job not a sentence", `"Sow it."`, `"Sow it"`, "jobs", `practice.jobs: number 1 ("Sow it") is not a sentence`},
		{"support", `sowing = "drill"`, `sowing = "drill"` + "\nsupport = \"string\"", "support", `practice.support: "string" is not known`},
		{"unknown field", `sowing = "drill"`, `sowing = "drill"` + "\ncollor = true", "collor", `practice.collor: is not a field of a crop's file; did you mean collar?`},
		{"unknown table", "[ph]", "[acid]\nx = 1\n[ph]", "", "is not a field of a crop's file; take it out"},
		{"plain text for a value", `in_row = { v = "2–4 in", q = "from memory" }`, `in_row = "2–4 in"`, "", `is not in the form this field takes`},
		{"broken syntax", `[ph]`, `[ph`, "", "test-root.toml:"},
		{"twice", "[ph]", "[light]\n[ph]", "", "test-root.toml:"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			bad := strings.Replace(good, test.old, test.new, 1)
			if bad == good {
				t.Fatalf("%q is not in the good file", test.old)
			}
			_, err := Load("test-root.toml", strings.NewReader(bad))
			if err == nil {
				t.Fatal("was accepted")
			}
			if !strings.Contains(err.Error(), test.says) {
				t.Errorf("got  %v\nwant %s", err, test.says)
			}
			if test.line != "" {
				where := lineOf(t, bad, test.line)
				if test.line == "[[method]]" { // the second one
					where = "test-root.toml:23:3: "
				}
				if !strings.Contains(err.Error(), where) {
					t.Errorf("got  %v\nwant it at %s", err, where)
				}
			}
			var place *FileError
			if !errors.As(err, &place) || place.Line == 0 {
				t.Errorf("no line in %v", err)
			}
		})
	}
}

func TestLoadExplained(t *testing.T) {
	text := strings.Replace(good, `"20 °F", q = "from memory"`, `"28 °F", q = "from memory", note = "the leaves soften"`, 1)
	if _, err := Load("test-root.toml", strings.NewReader(text)); err != nil {
		t.Error("a note should explain it:", err)
	}
}

func TestLoadStrangeInput(t *testing.T) {
	for _, name := range []string{"Carrot.toml", "carrot root.toml", ".toml", "", "-.toml"} {
		if _, err := Load(name, strings.NewReader(good)); err == nil || !strings.Contains(err.Error(), "file's name is the crop's ID") {
			t.Errorf("name %q: %v", name, err)
		}
	}
	inputs := map[string]io.Reader{
		"empty":      strings.NewReader(""),
		"binary":     bytes.NewReader([]byte{0, 1, 2, 255, 254}),
		"truncated":  strings.NewReader(good[:len(good)/2]),
		"endless":    io.LimitReader(zeros{}, LargestFile+100),
		"failing":    iotest.ErrReader(errors.New("the disk is gone")),
		"half a row": strings.NewReader(good[:200]),
	}
	for name, input := range inputs {
		if _, err := Load("test-root.toml", input); err == nil || !strings.HasPrefix(err.Error(), "test-root.toml") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

func FuzzLoad(f *testing.F) {
	f.Add(good)
	if carrot, err := os.ReadFile("data/carrot.toml"); err == nil {
		f.Add(string(carrot))
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := Load("test-root.toml", strings.NewReader(text))
		if (c == nil) == (err == nil) {
			t.Errorf("crop %v, error %v", c, err)
		}
	})
}
