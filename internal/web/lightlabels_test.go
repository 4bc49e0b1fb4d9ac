package web

import (
	"strings"
	"testing"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// crowded is an invented plot of strips close below one another, one of them right under a fence, one beside its end.
func crowded() garden.Garden {
	bed := func(id int64, name string, x, y, length, width, bearing float64) garden.Bed {
		return garden.Bed{ID: id, Name: name, X: metres(x), Y: metres(y), Length: metres(length), Width: metres(width), Bearing: bearing, Sun: 8}
	}
	return garden.Garden{
		Site: garden.Site{Name: "Close strips (invented)", Latitude: 52, Longitude: 1, Width: 22, Depth: 16},
		Beds: []garden.Bed{
			bed(1, "Strip by the fence", 5.5, 14.6, 9, .8, 90), bed(2, "Long drills", 5.5, 12.6, 9, 1.2, 90), bed(3, "Old cabbage bed", 4, 10.6, 6, 1.2, 90),
			bed(4, "Perennial strip", 16, 13.9, 10, 1.5, 90), bed(5, "Narrow bed by the path", 11, 5.6, 4, 1.2, 0), bed(6, "Askew", 17, 5, 4, 1.2, 40),
			bed(7, "Doorstep herbs and salads", 2.5, 3.4, 1.5, .8, 90),
		},
		Shades: []garden.Shade{
			{ID: 1, Name: "North fence", Kind: garden.Fence, X: 5.5, Y: 15.4, Length: 11, Width: .1, Bearing: 90, Height: 1.8},
			{ID: 2, Name: "Pear", Kind: garden.Tree, X: 9.2, Y: 5.6, Height: 6, Spread: 5, CrownBase: 1, Crown: garden.RoundCrown},
			{ID: 3, Name: "Garden wall", Kind: garden.Wall, X: 21.8, Y: 8, Length: 14, Width: .3, Bearing: 0, Height: 2},
			{ID: 4, Name: "House", Kind: garden.House, X: -5, Y: 5, Length: 9, Width: 9, Bearing: 0, Height: 4, Ridge: 7},
		},
	}
}

// TestLabelsKeepApart: on a wide screen every bed and everything that throws shade has its name, and every bed its hours; nothing
// written lies on other writing, on a fence or beyond the picture. On a narrow one the letters are at least 11 pixels high and
// the beds have numbers. (Letters are taken to be .58 of their height wide.)
func TestLabelsKeepApart(t *testing.T) {
	g := crowded()
	v := newLightPicture(season.LightYearOf(g, nil), time.June)
	scene := v.draw()
	const telephone = 362 // pixels that a picture has on a screen of 390
	frame := room{scene.MinX, 0, scene.MinX + scene.Width, v.depth}
	for _, c := range []struct {
		class   string
		letters float64
		brief   bool
	}{{"wide", scene.Width / wideLetters, false}, {"narrow", scene.Width / narrowLetters, true}} {
		l := v.lettering(c.class, c.letters, frame, c.brief)
		for i, a := range l.taken {
			for _, b := range l.taken[:i] {
				if share := a.shared(b) / min(a.area(), b.area()); share > .1 {
					t.Errorf("%s: %.0f %% of a label lies on another: %+v, %+v", c.class, 100*share, a, b)
				}
			}
			for _, line := range l.lines {
				if a.shared(line) > .02*a.area() {
					t.Errorf("%s: a label at %+v is struck through", c.class, a)
				}
			}
			if a.shared(frame) < .95*a.area() {
				t.Errorf("%s: a label at %+v runs off the picture", c.class, a)
			}
		}
		if px := c.letters / scene.Width * telephone; c.brief && px < 11 {
			t.Errorf("letters of %.1f pixels on a telephone", px)
		}
	}
	text := string(must(svg(scene)))
	for _, b := range g.Beds {
		if !strings.Contains(text, ">"+b.Name) {
			t.Errorf("%s is not named", b.Name)
		}
	}
	for _, s := range g.Shades {
		if !strings.Contains(text, ">"+s.Name) {
			t.Errorf("%s is not named", s.Name)
		}
	}
	for _, said := range []string{">1 · ", `class="narrow"`, `class="wide"`} {
		if !strings.Contains(text, said) {
			t.Errorf("the picture has no %s", said)
		}
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestTheMonthTableFitsATelephone: the months that are not shown are marked, so that the style sheet can leave them out, and the
// rows have the numbers of the picture.
func TestTheMonthTableFitsATelephone(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	body := get(t, h, "/plot/light?month=8").Body.String()
	for _, said := range []string{`<th scope="col" class="num now">Aug</th>`, `<th scope="col" class="num">Jul</th>`, `<span class="narrow number">3</span>`, `<td class="num now"><strong>`} {
		if !strings.Contains(body, said) {
			t.Errorf("the page has no %s", said)
		}
	}
}
