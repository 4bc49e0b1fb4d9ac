package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// soloPlanting is a planned planting of a season's crop, still to go in, that shares its ground with none.
func soloPlanting(t *testing.T) garden.Planting {
	t.Helper()
	for _, p := range mustStory(t).Plan.Plantings {
		if p.Partner == "" && p.Status == garden.Planned && p.CropID != "asparagus" && p.Start.String() > storyToday {
			return p
		}
	}
	t.Fatal("no planting stands alone")
	return garden.Planting{}
}

// underForm is the form of a planting's page, by the values of its buttons.
func underForm(t *testing.T, h http.Handler, key string) map[string]*html.Node {
	t.Helper()
	doc := parse(t, get(t, h, "/planting/"+key))
	buttons := map[string]*html.Node{}
	for _, in := range all(doc, atom.Input) {
		if attr(in, "name") == "under" {
			buttons[attr(in, "value")] = in
		}
	}
	return buttons
}

// A planting's page offers the open and every cover that has room, marks the one it is planned under, and says of each
// what it brings; the choice is handed on with the planting's key, and nothing else is.
func TestAPlantingsCoverIsChosen(t *testing.T) {
	now := mustStory(t)
	h, store := storySite(t, now, storyToday)
	p := soloPlanting(t)
	buttons := underForm(t, h, p.Key)
	today, err := civil.Parse(storyToday)
	if err != nil {
		t.Fatal(err)
	}
	list, _ := now.Shelters(p, today)
	if len(buttons) != len(list) || len(list) < 4 {
		t.Fatalf("%d ways are offered, of %d", len(buttons), len(list))
	}
	planned := p.Protection
	if planned == "" {
		planned = garden.InTheOpen
	}
	for value, b := range buttons {
		if has(b, "checked") != (value == planned) {
			t.Errorf("%s is marked wrongly", value)
		}
	}
	page := words(parse(t, get(t, h, "/planting/"+p.Key)))
	for _, says := range []string{"Grow this one under", "in the open", "not among the garden’s covers", "harvest in ", "first picking about ", " sooner"} {
		if !strings.Contains(page, says) {
			t.Errorf("no %q on the page", says)
		}
	}
	for _, one := range list[1:] {
		if one.Cannot != "" {
			continue
		}
		w := post(t, h, "/planting/"+p.Key+"/under", url.Values{"under": {one.Cover.ID}})
		if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/planting/"+p.Key) {
			t.Errorf("%s: status %d", one.Cover.ID, w.Code)
		}
		if want := p.Key + " " + one.Cover.ID; store.under[len(store.under)-1] != want {
			t.Errorf("kept %q, want %q", store.under, want)
		}
	}
	before := len(store.under)
	if w := post(t, h, "/planting/"+p.Key+"/under", url.Values{"under": {garden.InTheOpen}}); w.Code != http.StatusSeeOther || !slices.Contains(store.under, p.Key+" ") {
		t.Errorf("in the open: status %d, %q", w.Code, store.under)
	}
	later := p.Start + 3
	if w := post(t, h, "/planting/"+p.Key+"/under", url.Values{"under": {garden.InTheOpen}, "day": {later.String()}}); w.Code != http.StatusSeeOther || !slices.Contains(store.under, p.Key+"  "+later.String()) {
		t.Errorf("on another day: status %d, %q", w.Code, store.under)
	}
	if w := post(t, h, "/planting/"+p.Key+"/under", url.Values{"under": {garden.InTheOpen}, "day": {"soon"}}); w.Code != http.StatusBadRequest {
		t.Errorf("on no day: status %d", w.Code)
	}
	if w := post(t, h, "/planting/"+p.Key+"/under", url.Values{"under": {garden.InTheOpen}, "day": {"2020-01-01"}}); w.Code != http.StatusConflict {
		t.Errorf("on a day of another season: status %d", w.Code)
	} else if says := words(parse(t, w)); !strings.Contains(says, "That cannot be done") || !strings.Contains(says, "is not in season") {
		t.Errorf("on a day of another season: %s", says)
	}
	before++
	for _, bad := range []string{"", "glass palace", "row cover"} {
		if w := post(t, h, "/planting/"+p.Key+"/under", url.Values{"under": {bad}}); w.Code != http.StatusBadRequest || len(store.under) != before+1 {
			t.Errorf("%q: status %d, kept %q", bad, w.Code, store.under[before:])
		}
	}
	if w := post(t, h, "/planting/2027-999/under", url.Values{"under": {"cloche"}}); w.Code != http.StatusNotFound {
		t.Errorf("a planting that is none: status %d", w.Code)
	}
}

func has(n *html.Node, name string) bool {
	return slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return a.Key == name })
}

// Where nothing can be chosen the page says why, and the form cannot be forced.
func TestWhereNoCoverCanBeChosen(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	shared := ""
	for _, p := range mustStory(t).Plan.Plantings {
		if p.Partner != "" {
			shared = p.Key
		}
	}
	for key, says := range map[string]string{shared: "shares its ground with"} {
		if len(underForm(t, h, key)) > 0 || !strings.Contains(words(parse(t, get(t, h, "/planting/"+key))), says) {
			t.Errorf("%s: no word of %q", key, says)
		}
		if w := post(t, h, "/planting/"+key+"/under", url.Values{"under": {"cloche"}}); w.Code != http.StatusConflict || len(store.under) > 0 {
			t.Errorf("%s: status %d", key, w.Code)
		}
	}
	if len(underForm(t, h, storyPerennial)) > 0 {
		t.Error("a perennial is offered covers")
	}
}

// A want keeps what it is to be grown under, shows it in the list, and refuses what is no cover.
func TestAWantsCoverIsKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	send := func(under string) url.Values {
		return url.Values{"crop": {"carrot"}, "amount": {"5"}, "unit": {"kg"}, "basis": {"total"}, "weight": {"3"}, "under": {under}}
	}
	for _, under := range []string{"cold-frame", garden.InTheOpen, ""} {
		if w := post(t, h, "/want/2", send(under)); w.Code != http.StatusSeeOther || store.g.Wants[1].Under != under {
			t.Errorf("%q: status %d, kept %q", under, w.Code, store.g.Wants[1].Under)
		}
	}
	if w := post(t, h, "/want/2", send("glass palace")); w.Code == http.StatusSeeOther || store.g.Wants[1].Under != "" {
		t.Errorf("status %d, kept %q", w.Code, store.g.Wants[1].Under)
	}
	post(t, h, "/want/2", send("cold-frame"))
	if page := words(parse(t, get(t, h, "/garden"))); !strings.Contains(page, "5 kg, under a cold frame") {
		t.Error("the list of wants does not say what the carrots are grown under")
	}
	if page := words(parse(t, get(t, h, "/want/2"))); !strings.Contains(page, "Left to the planner, a cover of the garden’s") {
		t.Error("the form does not say what the planner would do")
	}
}
