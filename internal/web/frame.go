package web

import (
	"errors"
	"net/http"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// frame is what every page carries around its own matter.
type frame struct {
	Title   string
	Garden  string
	Season  string
	Choice  *seasonChoice
	Today   civil.Date
	Nav     []navLink
	Notices []string // what the person must know about everything below
	Flash   string   // what the form before has done
	Refresh int      // seconds after which a browser without the script loads the page again; 0: never
}

type navLink struct {
	Href, Label string
	Current     bool
}

var navigation = []struct {
	href, label string
	also        []string // addresses that belong to it
}{
	{"/", "Today", nil},
	{"/plot", "Plot", nil},
	{"/beds", "Beds", []string{"/bed/", "/planting/"}},
	{"/jobs", "Jobs", []string{"/orders"}},
	{"/soil", "Soil", []string{"/soil/"}},
	{"/water", "Water", []string{"/water/"}},
	{"/weather", "Weather", nil},
	{"/crops", "Crops", []string{"/crop/", "/crops/", "/ready"}},
	{"/journal", "Journal", nil},
	{"/garden", "Garden", []string{"/plan", "/site", "/bed/new", "/want/", "/history", "/settings"}},
}

func navFor(path string) []navLink {
	best, length := -1, 0
	for i, n := range navigation {
		for _, a := range append([]string{n.href}, n.also...) {
			if (path == a || a != "/" && strings.HasPrefix(path, a)) && len(a) > length {
				best, length = i, len(a)
			}
		}
	}
	if strings.HasSuffix(path, "/edit") {
		best = len(navigation) - 1
	}
	links := make([]navLink, len(navigation))
	for i, n := range navigation {
		links[i] = navLink{n.href, n.label, i == best}
	}
	return links
}

// done are the sentences a form leaves for the page after it, by the word in the address.
var done = map[string]string{
	"saved":      "Saved. The plan follows at the next replanning.",
	"removed":    "Removed.",
	"noted":      "Written in the journal.",
	"tested":     "Kept. What the beds are given goes by this test now.",
	"taken-back": "Withdrawn. It counts no more; the book keeps it.",
	"put":        "Written in the journal and in the bed's record.",
	"told":       "Saved. The soil pages go by it now.",
	"watered":    "Saved. Amounts are told by it now.",
	"logged":     "Written in the heap's log.",
	"varied":     "Kept. Name it in wants and in the history as you name any crop.",
	"weather":    "The garden has this weather now. Plan anew to go by it.",
	"dropped":    "Dropped. The record in use is as it was.",
	"left":       "Given up. The years that arrived stay in the book.",
	"taken":      "Taken in. Name it in wants and in the history as you name any crop.",
	"planned":    "The season has been planned anew.",
	"chosen":     "That is the season's plan now, and its settings count from here on.",
	"pinned":     "Kept: every new plan takes it exactly so.",
	"grown":      "Kept: its days, chance and jobs are those of growing it so.",
	"freed":      "The planner may move it again at the next planning.",
}

// bareFrame is the frame of a page that needs no season.
func (s *site) bareFrame(title string, r *http.Request) frame {
	f := frame{
		Title: title, Garden: "Kailyard", Today: s.Today(), Nav: navFor(r.URL.Path),
		Flash: done[r.URL.Query().Get("done")],
	}
	f.Choice, _ = s.seasonChoice(r)
	return f
}

// gardenFrame is the frame of a page that needs the garden but no season.
func (s *site) gardenFrame(title string, r *http.Request, g garden.Garden) frame {
	f := s.bareFrame(title, r)
	if g.Site.Name != "" {
		f.Garden = g.Site.Name
	}
	if g.Site.Invented {
		f.Notices = append(f.Notices, "An invented garden: no real place, no real household.")
	}
	return f
}

// seasonFrame is the frame of a page that rests on the weather years.
func (s *site) seasonFrame(title string, r *http.Request, now *season.Result) frame {
	f := s.gardenFrame(title, r, now.Garden)
	f.Season = now.Season.String()
	f.Notices = append(f.Notices, now.Aside...)
	if now.Generated() {
		f.Notices = append(f.Notices, "Weather years generated from monthly figures, not measured: not for real dates.")
	}
	return f
}

// unplannedSays names the season that has no plan yet.
func (s *site) unplannedSays(r *http.Request) string {
	if _, shown := s.seasonChoice(r); shown.Days > 0 {
		return "There is no plan for season " + shown.String() + " yet."
	}
	return "There is no plan for this season yet."
}

// current is the season as it stands, or the reason there is none in words for the person.
func (s *site) current(r *http.Request) (*season.Result, error) {
	now, err := s.Season(r.Context())
	var store told
	if errors.As(err, &store) {
		return nil, err
	}
	if noPlan(err) {
		return nil, problem{kind: unplanned, says: s.unplannedSays(r), remedy: "Planning takes a few seconds; a plan once made is kept until you plan anew."}
	}
	if err != nil {
		return nil, problem{notReady, "There is no season plan yet: " + err.Error() + ".", "Tell the garden's place, at least one bed and one want, and a weather record; then this page fills."}
	}
	return now, nil
}
