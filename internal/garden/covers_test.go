package garden

import (
	"slices"
	"strings"
	"testing"
)

const coveredStrip = `[site]
name = "Strip (invented)"
latitude = 43
longitude = -72
covers = ["Cloches", "fleece", "row cover"]

[[bed]]
name = "Strip"
length = "5 m"
width = "1 m"
sun_hours = 8

[[standing]]
bed = "Strip"
crop = "lettuce"
start = 2027-03-20
clear = 2027-06-10
under = "cold frame"
`

// Covers are named as people name them and written by their own names; each counts once.
func TestCoversAreReadAndWritten(t *testing.T) {
	g, err := ReadDescription("strip.toml", strings.NewReader(coveredStrip), nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"cloche", "row-cover"}; !slices.Equal(g.Site.Covers, want) {
		t.Errorf("covers %v, want %v", g.Site.Covers, want)
	}
	if g.Standing[0].Protection != "cold-frame" {
		t.Errorf("standing under %q", g.Standing[0].Protection)
	}
	var text strings.Builder
	if err := WriteDescription(&text, g); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{`covers = ["cloche", "row cover"]`, `under = "cold frame"`} {
		if !strings.Contains(text.String(), line) {
			t.Errorf("%s is not in\n%s", line, text.String())
		}
	}
	again, err := ReadDescription("strip.toml", strings.NewReader(text.String()), nil)
	if err != nil || !slices.Equal(again.Site.Covers, g.Site.Covers) || again.Standing[0].Protection != "cold-frame" {
		t.Errorf("read back: %v, %v", again.Site.Covers, err)
	}
}

func TestUnknownCovers(t *testing.T) {
	for _, row := range []struct{ old, new, says string }{
		{`"fleece"`, `"fleese"`, `there is no cover "fleese"`},
		{`"fleece"`, `7`, "covers holds"},
		{`under = "cold frame"`, `under = "umbrella"`, `there is no cover "umbrella"`},
	} {
		_, err := ReadDescription("strip.toml", strings.NewReader(strings.Replace(coveredStrip, row.old, row.new, 1)), nil)
		if err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: %v, want %q", row.new, err, row.says)
		}
	}
}

// A want says what it is grown under: in the open, or a cover by any of its names.
func TestWantsSayWhatTheyGrowUnder(t *testing.T) {
	want := func(under string) (Garden, error) {
		return ReadDescription("strip.toml", strings.NewReader(coveredStrip+"\n[[want]]\ncrop = \"lettuce\"\namount = 1\n"+under), nil)
	}
	for _, row := range []struct{ under, is string }{
		{"", ""}, {`under = "open"`, InTheOpen}, {`under = "in the open"`, InTheOpen}, {`under = "Cloches"`, "cloche"}, {`under = "fleece"`, "row-cover"},
	} {
		g, err := want(row.under)
		if err != nil {
			t.Fatalf("%s: %v", row.under, err)
		}
		if got := g.Wants[0].Under; got != row.is {
			t.Errorf("%s is read as %q, want %q", row.under, got, row.is)
		}
		var b strings.Builder
		if err := WriteDescription(&b, g); err != nil {
			t.Fatal(err)
		}
		if again, err := ReadDescription("again.toml", strings.NewReader(b.String()), nil); err != nil || again.Wants[0].Under != row.is {
			t.Errorf("%s comes back as %q, %v", row.under, again.Wants[0].Under, err)
		}
	}
	if _, err := want(`under = "clotch"`); err == nil || !strings.Contains(err.Error(), "did you mean cloche?") {
		t.Errorf("a cover that is none: %v", err)
	}
}
