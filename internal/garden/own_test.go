package garden_test

import (
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

const ownSite = "[site]\nname = \"A\"\nlatitude = 40\nlongitude = 3\n"

// Mistakes in own crops are told with the line they stand on, also inside a crop's text.
func TestFaultsOfOwnCropsHaveTheirPlace(t *testing.T) {
	text, ok := crop.FileText("carrot")
	if !ok {
		t.Fatal("no file of the carrot")
	}
	file := func(text string) string {
		return ownSite + "[[crop_file]]\nid = \"root\"\ntext = '''\n" + text + "'''\n"
	}
	bad := strings.Replace(text, "between_rows = { v = \"", "between_rows = { v = \"-", 1)
	line := 7 + strings.Count(bad[:strings.Index(bad, "between_rows")], "\n") + 1
	rows := []struct{ name, text, holds string }{
		{"days", ownSite + "[[variety]]\nname = \"early\"\nbase = \"carrot\"\ndays = \"soon\"\n", `garden.toml:8:8: variety "early": days: "soon" does not begin with a number`},
		{"base", ownSite + "[[variety]]\nname = \"early\"\nbase = \"carrto\"\n", `garden.toml:7:8: variety "early": the catalogue has no crop "carrto"; did you mean carrot?`},
		{"several", ownSite + "[[variety]]\nname = \"early\"\nbase = \"cabbage\"\n", `garden.toml:7:8: variety "early": "cabbage" may be several crops; say which: cabbage-early, cabbage-late`},
		{"from", ownSite + "[[variety]]\nname = \"early\"\nbase = \"carrot\"\ndays_from = \"noon\"\n", `garden.toml:8:13: variety "early": days_from is "noon"; write "sowing"`},
		{"another way", ownSite + "[[variety]]\nname = \"early\"\nbase = \"carrot\"\ndays = 60\ndays_from = \"setting out\"\n", `garden.toml:9:13: variety "early": days_from: carrot is not grown so here`},
		{"no name", ownSite + "[[variety]]\nbase = \"carrot\"\n", `garden.toml:5:3: variety 1: name is missing`},
		{"unknown key", ownSite + "[[variety]]\nname = \"a\"\nbase = \"carrot\"\nday = 4\n", `garden.toml:8:1: variety "a": "day" is not known in variety; did you mean days?`},
		{"twice", ownSite + strings.Repeat("[[variety]]\nid = \"a\"\nname = \"a\"\nbase = \"carrot\"\n", 2), `garden.toml:10:6: variety "a": id: "a" is used by two of your own crops`},
		{"inside a text", file(bad), "garden.toml:" + strconv.Itoa(line) + `:1: crop_file "root": spacing.between_rows: "-`},
		{"a text that is none", ownSite + "[[crop_file]]\nid = \"root\"\ntext = \"kind = 3\"\n", `garden.toml:7:8: crop_file "root": `},
		{"an ID that is none", ownSite + "[[crop_file]]\nid = \"My root\"\ntext = \"kind = 3\"\n", `garden.toml:6:6: crop_file "My root": the file's name is the crop's ID`},
		{"too many", ownSite + strings.Repeat("[[variety]]\n", 501), "there are 501 [[variety]] tables"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			_, err := garden.ReadDescription("garden.toml", strings.NewReader(r.text), invented())
			if err == nil || !strings.Contains(err.Error(), r.holds) {
				t.Errorf("got  %v\nwant %s", err, r.holds)
			}
		})
	}
	g, err := garden.ReadDescription("garden.toml", strings.NewReader(file(text)), invented())
	if err != nil || g.Own.Files[0].Text != text {
		t.Errorf("the good text is not read as it stands: %v", err)
	}
}

// An own crop may be named in every table after, in whatever order the tables stand.
func TestOwnCropsAreNamed(t *testing.T) {
	text := ownSite + `
[[want]]
crop = "the old red one"
amount = 3
[[bed]]
name = "B"
length = "9 m"
width = "1 m"
sun_hours = 8
[[bed.history]]
year = 2026
crop = "gone"
[[standing]]
bed = "B"
crop = "The Old Red One"
start = 2026-08-01
clear = 2027-05-01
[[variety]]
name = "The old red one"
base = "carrot"
[[variety]]
name = "Gone"
base = "carrot"
retired = true
`
	g, err := garden.ReadDescription("g", strings.NewReader(text), invented())
	if err != nil {
		t.Fatal(err)
	}
	if g.Standing[0].CropID != "the-old-red-one" || g.History[0].CropID != "gone" || g.Own.Varieties[1].ID != "gone" {
		t.Errorf("got %+v", g)
	}
	if ps := g.Validate(invented()); len(ps) != 0 {
		t.Errorf("it is doubted: %v", ps)
	}
}
