package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"kailyard/internal/garden"
)

// storyShades are what throws shade on the invented garden, in the store only: the plan of the storybook knows nothing of it.
func storyShades() []garden.Shade {
	gaps := 20.0
	return []garden.Shade{
		{ID: 1, Name: "House", Kind: garden.House, X: -1.5, Y: -3.4, Length: 11, Width: 6, Bearing: 90, Height: 4.5, Ridge: 7.5},
		{ID: 2, Name: "Maple", Kind: garden.Tree, X: .6, Y: 7.2, Height: 9, Crown: garden.RoundCrown, Spread: 5, CrownBase: 2.5, LeafOn: garden.DayOfYear{Month: 5, Day: 5}, LeafOff: garden.DayOfYear{Month: 10, Day: 20}},
		{ID: 3, Name: "Board fence", Kind: garden.Fence, X: 15.8, Y: 5, Length: 10, Width: .1, Height: 1.8, Gaps: &gaps},
		{ID: 4, Name: "Shed", Kind: garden.Shed, X: 13.2, Y: .9, Length: 2.5, Width: 2, Bearing: 90, Height: 2.4},
		{ID: 5, Name: "Yew hedge", Kind: garden.Hedge, X: 8, Y: 11.4, Length: 14, Width: .8, Bearing: 90, Height: 1.6},
		{ID: 6, Name: "Fir next door", Kind: garden.Tree, X: 18, Y: 8, Height: 12, Crown: garden.ConeCrown, Spread: 4, CrownBase: .5},
	}
}

func storyLight(g *garden.Garden) {
	if len(g.Beds) < 9 { // another garden in the same pages
		return
	}
	g.Shades = storyShades()
	g.Site.Lie = garden.Lie{Slope: 3, Aspect: 170, North: 12, Horizon: []garden.Sight{{Bearing: 90, Altitude: 4}, {Bearing: 270, Altitude: 7}}}
	g.Beds = slices.Clone(g.Beds)
	g.Beds[5].Observed = []garden.SunSeen{{Month: time.June, From: 10, To: 14}}
}

func storyLightPaths() []string {
	return []string{"/plot/light", "/plot/light?month=1", "/plot/light?month=december", "/plot/shade/new?kind=tree", "/plot/shade/new?kind=house", "/plot/shade/new?kind=fence", "/plot/shade/2", "/plot/shade/3", "/plot/lie", "/bed/1/light", "/bed/6/light"}
}

func (s *shelf) AddShade(_ context.Context, v garden.Shade) (int64, error) {
	v.ID = s.id()
	s.g.Shades = append(slices.Clone(s.g.Shades), v)
	return v.ID, s.broken
}

func (s *shelf) SaveShade(_ context.Context, v garden.Shade) error {
	i := slices.IndexFunc(s.g.Shades, func(o garden.Shade) bool { return o.ID == v.ID })
	if i < 0 {
		return fmt.Errorf("no shade %d", v.ID)
	}
	s.g.Shades = slices.Clone(s.g.Shades)
	s.g.Shades[i] = v
	return s.broken
}

func (s *shelf) RemoveShade(_ context.Context, id int64) error {
	s.g.Shades = slices.DeleteFunc(slices.Clone(s.g.Shades), func(o garden.Shade) bool { return o.ID == id })
	return s.broken
}

func TestShadeIsAddedMovedAndTakenAway(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Shades)
	w := post(t, h, "/plot/shade/new?kind=tree", url.Values{"name": {"Pear"}, "x": {"12 m"}, "y": {"6.9 m"}, "height": {"5 m"}, "spread": {"3 m"}, "crown_base": {"1.5 m"}, "crown": {"round"}, "leaf_on": {"25 April"}, "leaf_off": {"11-01"}})
	if w.Code != http.StatusSeeOther || len(store.g.Shades) != n+1 {
		t.Fatalf("adding a tree: status %d, %d shades", w.Code, len(store.g.Shades))
	}
	pear := store.g.Shades[n]
	if pear.Kind != garden.Tree || pear.LeafOn != (garden.DayOfYear{Month: time.April, Day: 25}) || pear.Spread != 3 {
		t.Errorf("kept as %+v", pear)
	}
	move := fmt.Sprintf("/plot/shade/%d/move", pear.ID)
	if w := post(t, h, move, url.Values{"x": {"13.25"}, "y": {"7"}, "month": {"6"}}); w.Code != http.StatusSeeOther || store.g.Shades[n].X != 13.25 {
		t.Errorf("moving: status %d, at %v", w.Code, store.g.Shades[n].X)
	}
	if w := post(t, h, move, url.Values{"x": {"1e9"}, "y": {"7"}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "It cannot stand there") {
		t.Errorf("moved beyond everything: status %d", w.Code)
	}
	for _, bad := range []url.Values{{"x": {"NaN"}, "y": {"7"}}, {"x": {"east"}, "y": {"7"}}, {"x": {"Inf"}, "y": {"7"}}, {}} {
		if w := post(t, h, move, bad); w.Code != http.StatusBadRequest {
			t.Errorf("moved to %v: status %d", bad, w.Code)
		}
	}
	if w := post(t, h, "/plot/shade/4/move", url.Values{"x": {"5.2"}, "y": {"1.4"}, "month": {"6"}}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "<h1>It cannot stand there") ||
		!strings.Contains(w.Body.String(), `<p class="lead">Shed cannot stand there: it would stand on the bed &#34;Long drills&#34;`) {
		t.Errorf("a shed moved onto a bed: status %d: %s", w.Code, words(parse(t, w)))
	}
	// A house of 11 × 6 m in the middle of the plot covers seven beds, and all are named.
	w = post(t, h, "/plot/shade/1/move", url.Values{"x": {"9.6"}, "y": {"4.4"}, "month": {"6"}})
	if says := words(parse(t, w)); w.Code != http.StatusUnprocessableEntity || !strings.Contains(says, `the beds "Long drills", "East bed", "Middle bed", "West bed", "Old cabbage bed", "Square" and "Fence strip"`) {
		t.Errorf("a house moved onto beds: status %d: %s", w.Code, says)
	}
	// The maple's leaves the wrong way round are asked about, at 43.5° north.
	swapped := url.Values{"name": {"Maple"}, "x": {"0.6 m"}, "y": {"7.2 m"}, "height": {"9 m"}, "spread": {"5 m"}, "crown_base": {"2.5 m"}, "crown": {"round"}, "leaf_on": {"10-20"}, "leaf_off": {"05-05"}}
	if w := post(t, h, "/plot/shade/2", swapped); w.Code != http.StatusUnprocessableEntity || !strings.Contains(words(parse(t, w)), "bare at midsummer and in leaf at midwinter") {
		t.Errorf("leaves in winter: status %d", w.Code)
	}
	if w := post(t, h, fmt.Sprintf("/plot/shade/%d/remove", pear.ID), nil); w.Code != http.StatusSeeOther || len(store.g.Shades) != n {
		t.Errorf("removing: status %d", w.Code)
	}
	w = post(t, h, "/plot/shade/new?kind=tree", url.Values{"name": {"Pear"}, "x": {"12 m"}, "y": {"6 m"}, "height": {"-5 m"}, "spread": {"3 m"}})
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "must be more than 0") {
		t.Errorf("a tree of negative height: status %d", w.Code)
	}
}

func TestSunSeenOnABedIsUsed(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	w := post(t, h, "/bed/2/light", url.Values{"month": {"6"}, "from": {"10"}, "to": {"2"}})
	if w.Code != http.StatusSeeOther || len(store.g.Beds[1].Observed) != 1 || store.g.Beds[1].Observed[0].To != 14 {
		t.Fatalf("status %d, kept %+v", w.Code, store.g.Beds[1].Observed)
	}
	page := words(parse(t, get(t, h, "/bed/2/light")))
	if !strings.Contains(page, "June4.0") || !strings.Contains(page, "seen") {
		t.Error("the bed's page does not use what was seen")
	}
	for _, bad := range []url.Values{{"month": {"6"}, "from": {"ten"}, "to": {"2"}}, {"month": {"13"}, "from": {"10"}, "to": {"2"}}, {"month": {"12"}, "from": {"4"}, "to": {"21"}}, {"month": {"6"}}} {
		if w := post(t, h, "/bed/2/light", bad); w.Code != http.StatusUnprocessableEntity || len(store.g.Beds[1].Observed) != 1 {
			t.Errorf("%v: status %d", bad, w.Code)
		}
	}
	if w := post(t, h, "/bed/2/light/1/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Beds[1].Observed) != 0 {
		t.Errorf("taking it back: status %d", w.Code)
	}
}

func TestLieIsKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	w := post(t, h, "/plot/lie", url.Values{"slope": {"5"}, "aspect": {"200"}, "north": {"-10"}, "horizon": {"90 5\r\n180 2.5\r\n"}})
	if l := store.g.Site.Lie; w.Code != http.StatusSeeOther || l.Slope != 5 || l.North != -10 || len(l.Horizon) != 2 || l.Horizon[1].Altitude != 2.5 {
		t.Fatalf("status %d, kept %+v", w.Code, l)
	}
	for _, bad := range []url.Values{{"slope": {"80"}}, {"horizon": {"north five"}}, {"horizon": {"90"}}, {"horizon": {"90 95"}}, {"north": {"400"}}} {
		if w := post(t, h, "/plot/lie", bad); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%v: status %d", bad, w.Code)
		}
	}
}

// BenchmarkLightRedraw is a redraw of the light after a tree was moved: the whole year reckoned anew and the page written.
func BenchmarkLightRedraw(b *testing.B) {
	h, store := storySite(b, mustStory(b), storyToday)
	x := 0.0
	for b.Loop() {
		x += .01
		store.g.Shades = slices.Clone(store.g.Shades)
		store.g.Shades[1].X = metres(.6 + x)
		if w := get(b, h, "/plot/light?month=6"); w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}
