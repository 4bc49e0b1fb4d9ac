package web

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
)

// luminance is the relative luminance of a colour (WCAG 2.2, definition of relative luminance).
func luminance(colour string) float64 {
	var part [3]float64
	for i, v := range channels(colour) {
		c := float64(v) / 255
		if c <= 0.04045 {
			part[i] = c / 12.92
		} else {
			part[i] = math.Pow((c+0.055)/1.055, 2.4)
		}
	}
	return 0.2126*part[0] + 0.7152*part[1] + 0.0722*part[2]
}

// contrast is the contrast ratio of two colours (WCAG 2.2, definition of contrast ratio).
func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + .05) / (min(x, y) + .05)
}

func TestContrastFormula(t *testing.T) {
	// Known values: black on white is 21:1; #767676 is the lightest grey that passes 4.5:1 on white
	// (4.54:1), #777777 fails (4.48:1). Tolerance: the printed digits.
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000000", "#ffffff", 21}, {"#767676", "#ffffff", 4.54}, {"#777777", "#ffffff", 4.48}} {
		if got := contrast(c.a, c.b); math.Abs(got-c.want) > .005 {
			t.Errorf("%s on %s: %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
}

// WCAG 2.2 success criterion 1.4.3 asks 4.5:1 of text.
func TestWritingIsReadable(t *testing.T) {
	css, err := staticFS.ReadFile("static/kailyard.css")
	if err != nil {
		t.Fatal(err)
	}
	block := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllSubmatch(css, 2)
	variable := regexp.MustCompile(`--(\w+): (#[0-9a-f]{6});`)
	for i, name := range []string{"light", "dark"} {
		v := map[string]string{}
		for _, m := range variable.FindAllSubmatch(block[i][1], -1) {
			v[string(m[1])] = string(m[2])
		}
		for _, ground := range []string{"paper", "card", "warn"} {
			for _, letters := range []string{"ink", "soft", "link", "accent", "leaf"} {
				if got := contrast(v[letters], v[ground]); got < 4.5 {
					t.Errorf("%s: %s on %s has %.2f:1, want 4.5:1", name, letters, ground, got)
				}
			}
		}
	}
	for _, c := range [][2]string{{ink, paper}, {faintInk, paper}, {todayInk, paper}, {ink, pathGrass}, {soilColour, paper}, {deepColour, paper}, {"#4d7233", paper}, {"#a1460d", paper}, {"#ffffff", "#2f5d3a"}} {
		if got := contrast(c[0], c[1]); got < 4.5 {
			t.Errorf("%s on %s has %.2f:1, want 4.5:1", c[0], c[1], got)
		}
	}
	for _, th := range thresholds {
		if got := contrast(th.colour, paper); got < 4.5 {
			t.Errorf("the curve of %v: its name has %.2f:1, want 4.5:1", th.at, got)
		}
	}
}

func TestEveryFamilyAndSortHasItsOwnLook(t *testing.T) {
	seen := map[string]string{}
	for family, colour := range washes {
		if other, ok := seen[colour]; ok {
			t.Errorf("%s and %s share a colour", family, other)
		}
		seen[colour] = family
	}
	for _, c := range crop.Default().All() {
		if _, ok := washes[c.Family]; !ok {
			t.Logf("%s (%s) is drawn in the grey of unlisted families", c.Name(), c.Family)
		}
		if _, ok := glyphs[c.Group]; !ok {
			t.Errorf("%s has no plant drawn for its sort %q", c.Name(), c.Group)
		}
		if groupTitle(c.Group) == string(c.Group) {
			t.Errorf("the sort %q of %s is not on the crops page", c.Group, c.Name())
		}
	}
}

// Every plant stands in its own place of its bed, whatever way the bed lies.
func TestPlantsStandInTheirPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := garden.Bed{X: 5, Y: 5, Length: 6, Width: 1.2, Bearing: float64(rapid.IntRange(0, 180).Draw(t, "bearing")), RowsAcross: rapid.Bool().Draw(t, "across")}
		p := garden.Planting{
			Place: garden.Place{AlongFrom: metres(rapid.Float64Range(0, 3).Draw(t, "from")), AlongTo: metres(rapid.Float64Range(3.1, 6).Draw(t, "to")), AcrossFrom: .2, AcrossTo: 1},
			Rows:  rapid.IntRange(0, 6).Draw(t, "rows"), Plants: rapid.IntRange(0, 500).Draw(t, "plants"),
			Role: rapid.SampledFrom([]garden.Role{garden.Alone, garden.Slow, garden.Fast, garden.Marker}).Draw(t, "role"),
		}
		slow := p
		slow.Rows = rapid.IntRange(1, 7).Draw(t, "rows of the slow one")
		rows := plantPlaces(b, &p, &slow)
		if len(rows) != max(1, p.Rows) {
			t.Fatalf("%d rows drawn of %d", len(rows), p.Rows)
		}
		sw, along, across := b.On(0, 0), b.On(1, 0), b.On(0, 1)
		for _, row := range rows {
			for _, at := range row {
				e, n := float64(at.East-sw.East), float64(at.North-sw.North)
				l := e*float64(along.East-sw.East) + n*float64(along.North-sw.North)
				w := e*float64(across.East-sw.East) + n*float64(across.North-sw.North)
				if l < float64(p.Place.AlongFrom)-1e-6 || l > float64(p.Place.AlongTo)+1e-6 || w < .2-1e-6 || w > 1+1e-6 {
					t.Fatalf("a plant at %.2f along, %.2f across lies outside %+v", l, w, p.Place)
				}
			}
		}
	})
}

// The pictures of a whole year are well-formed and each day's is drawn.
func TestThePlotThroughTheYear(t *testing.T) {
	now := mustStory(t)
	for d := now.Season.Start; d <= now.Season.End(); d += 13 {
		v := plotPicture{now: now, day: d}
		pic, err := v.draw(standing(now, d)).SVG()
		if err != nil {
			t.Fatalf("%s: %v", d, err)
		}
		wellFormed(t, d.String(), pic)
	}
}

func wellFormed(t *testing.T, name string, pic []byte) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(pic))
	for {
		if _, err := dec.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
}

// A fade runs down the year, whatever the spreads are.
func TestFadesRunInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := func(name string) civil.Date { return civil.Of(2027, 1, 1).Add(rapid.IntRange(0, 400).Draw(t, name)) }
		spread := func(name string) garden.Spread {
			return garden.Spread{P10: day(name), P50: day(name), P90: day(name)}
		}
		p := garden.Planting{Way: crop.Sow, Start: day("start"), Emerge: spread("emerge"), First: spread("first"), Last: spread("last"), Clear: day("clear")}
		list := depths(&p, p.Start)
		for i, q := range list {
			if i > 0 && q.d < list[i-1].d || q.share < 0 || q.share > 1 {
				t.Fatalf("the fade %v runs back or out of bounds", list)
			}
		}
	})
}

func TestAnEmptyBedIsDrawn(t *testing.T) {
	b := bedtime{now: mustStory(t), strip: layStrip(storyGarden().Beds[0], nil), id: "empty", axis: 300, week: 11, full: true}
	if pic, err := b.draw().SVG(); err != nil || !bytes.Contains(pic, []byte("stands empty")) {
		t.Errorf("an empty bed: %v", err)
	}
}

// "today" lies on no month's name, whatever the day.
func TestTodayLiesOnNoMonthsName(t *testing.T) {
	now := mustStory(t)
	for d := now.Season.Start; d <= now.Season.End(); d++ {
		b := bedtime{now: now, strip: layStrip(now.Garden.Beds[0], nil), id: "b", axis: 300, week: 11, full: true, today: d}
		var today *drawing.Text
		var months []drawing.Text
		for _, n := range b.draw().Nodes {
			if txt, ok := n.(drawing.Text); ok {
				if txt.Says == "today" {
					today = &txt
				} else if txt.X < b.left-20 && txt.Anchor == drawing.Start {
					months = append(months, txt)
				}
			}
		}
		if today == nil || len(months) < 11 {
			t.Fatalf("%s: today %v, %d months", d, today, len(months))
		}
		if off := today.Y - b.y(d); math.Abs(off) > 14 {
			t.Errorf("%s: the word stands %.1f from its line", d, off)
		}
		for _, m := range months {
			if math.Abs(m.Y-today.Y) < 9.5 { // the height of the letters
				t.Errorf("%s: the word lies on %s", d, m.Says)
			}
		}
	}
}
