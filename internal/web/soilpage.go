package web

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// soilPage is the ground of the whole garden: how the beds stand and what they ask for.
type soilPage struct {
	frame
	Lead    string
	Alarms  []alarmView
	Scale   figure
	Some    string // where not every bed is drawn
	Beds    []soilBedRow
	Seasons []soilSeason
	Advice  []string
	Drift   driftView
	Heaps   []heapLine
	Links   []navLink
	PutOn   choiceView
}

type alarmView struct {
	Stop    bool
	Says    string
	Sources string
	Beds    []navLink
}

// alarmViews are alarms with the beds they stand for.
func alarmViews(g garden.Garden, alarms []season.GroundAlarm) (all []alarmView) {
	for _, a := range alarms {
		v := alarmView{Stop: a.Stop, Says: a.Says, Sources: a.Sources}
		for _, id := range a.Beds {
			v.Beds = append(v.Beds, bedLink(g, id))
		}
		all = append(all, v)
	}
	return all
}

// soilBedRow is a bed in a line.
type soilBedRow struct {
	Href, Name, PH, Word, Asks string
	Colour                     string // class of its mark
}

// soilSeason is what there is to do in a part of the year.
type soilSeason struct {
	Title string
	Tasks []soilTask
}

// soilTask is one kind of work, with the beds it is for.
type soilTask struct {
	What, When string
	Beds       []bedShare
	Picture    template.HTML
	first      civil.Date
	last       civil.Date
}

type driftView struct {
	Says    string
	Facts   []fact
	Reasons []reasonLine
}

func (s *site) soil(w http.ResponseWriter, r *http.Request) error {
	known, err := s.groundOf(r)
	if err != nil {
		return err
	}
	g := known.ground
	p := soilPage{frame: known.frame("The soil"), Lead: soilLead(g), Advice: g.Advice, Drift: driftViewOf(g.Drift, known.garden.Site.Units), Links: soilLinks()}
	p.Alarms = alarmViews(known.garden, g.Alarms)
	p.PutOn = choiceView{choiceSays(known.garden), choiceForm(known.garden, "soil")}
	var beds []scaleBed
	var fits []season.CropFit
	for _, b := range g.Beds {
		beds = append(beds, scaleBed{b.Bed.Name, soilHref(b.Bed.ID), b.Reaction, b.Stopped != ""})
		p.Beds = append(p.Beds, soilBedRowOf(b, g))
		for _, f := range b.Fits {
			f.Planned = true // somewhere in the garden
			fits = append(fits, f)
		}
	}
	if len(beds) > scaleAtMost {
		beds = slices.DeleteFunc(beds, func(b scaleBed) bool {
			return !b.stopped && (b.reaction.PH == 0 || reactionInk(b.reaction) == rightInk)
		})
		beds = beds[:min(len(beds), scaleAtMost)]
		p.Some = "Of so many beds only tested ones outside what is wanted are drawn."
	}
	if len(beds)+len(fits) > 0 {
		if p.Scale, err = soilScale("soil-scale", scaleTitle(g), beds, cropRanges(fits)); err != nil {
			return err
		}
	}
	p.Seasons = soilSeasons(g)
	for _, h := range g.Heaps {
		if h.State.Stage != soil.Gone {
			p.Heaps = append(p.Heaps, heapLine{Href: heapHref(h.Heap.ID), Name: h.Heap.Name, Stage: string(h.State.Stage), Says: h.State.Next, Fit: h.State.Fit})
		}
	}
	return s.render(w, http.StatusOK, "soil", p)
}

// scaleAtMost is how many beds one scale can hold and still be read.
const scaleAtMost = 40

func soilLinks() []navLink {
	return []navLink{{Href: "/soil/tests", Label: "Soil tests"}, {Href: "/soil/shopping", Label: "Shopping list"}, {Href: "/soil/heaps", Label: "Compost"}, {Href: "/soil/dig", Label: "Dry enough to dig"}, {Href: "/soil/facts", Label: "What soil it is"}}
}

// soilLead is the ground in a sentence or two.
func soilLead(g *season.Ground) string {
	count := map[soil.Verdict]int{}
	tested := 0
	for _, b := range g.Beds {
		if b.Reaction.Tested != 0 {
			tested++
		}
		count[b.Reaction.Verdict]++
	}
	switch {
	case len(g.Beds) == 0:
		return "There are no beds yet."
	case tested == 0:
		return "No bed was tested yet, so every one goes by the cautious rule of the region."
	}
	says := fmt.Sprintf("%d of %s tested.", tested, plural(len(g.Beds), "bed is", "beds are"))
	var asks []string
	for _, v := range []struct {
		verdict   soil.Verdict
		one, many string
	}{{soil.GiveLime, "asks for lime", "ask for lime"}, {soil.GiveSulfur, "for sulfur", "for sulfur"}, {soil.LiveWithIt, "is best lived with as it is", "are best lived with as they are"}, {soil.AskFirst, "must not be planted before someone was asked", "must not be planted before someone was asked"}} {
		if n := count[v.verdict]; n > 0 {
			asks = append(asks, plural(n, v.one, v.many))
		}
	}
	if len(asks) == 0 {
		return says + " No bed asks for lime or sulfur."
	}
	return says + " " + upper(joinWords(asks)) + "."
}

func scaleTitle(g *season.Ground) string {
	out, tested := 0, 0
	for _, b := range g.Beds {
		if b.Reaction.PH > 0 {
			tested++
			out += count(reactionInk(b.Reaction) != rightInk)
		}
	}
	switch {
	case tested == 0:
		return "What each crop wants; no bed was tested"
	case out == 0:
		return "Every bed tested lies where its crops want it"
	}
	return fmt.Sprintf("%d of %s outside what its crops want", out, plural(tested, "tested bed lies", "tested beds lie"))
}

func soilBedRowOf(b season.BedGround, g *season.Ground) soilBedRow {
	r := b.Reaction
	row := soilBedRow{Href: soilHref(b.Bed.ID), Name: b.Bed.Name, PH: "–", Word: "never tested", Asks: verdictSays(b, g.Weighs), Colour: "unknown"}
	if r.PH > 0 {
		row.PH, row.Word = fmt.Sprintf("%.1f", r.PH), soil.PHWord(r.PH)
		row.Colour = map[string]string{sourInk: "sour", rightInk: "right", limyInk: "limy"}[reactionInk(r)]
	}
	return row
}

// verdictSays is what a bed asks for in few words.
func verdictSays(b season.BedGround, u quantity.System) string {
	r := b.Reaction
	switch {
	case r.Verdict == soil.AskFirst:
		return "stop, and ask first"
	case r.Dose != nil && r.PH == 0:
		return fmt.Sprintf("by the cautious rule, %s of %s", weighed(u, r.Dose.Mass), r.Dose.Material.Name)
	case r.Dose != nil:
		return fmt.Sprintf("%s of %s", weighed(u, r.Dose.Mass), r.Dose.Material.Name)
	case r.Verdict == soil.LiveWithIt:
		return "best lived with as it is"
	case r.PH == 0:
		return "nothing before it is tested"
	}
	switch reactionInk(r) {
	case sourInk:
		return "sourer than its crops want; nothing is given"
	case limyInk:
		return "limier than its crops want; nothing is given"
	}
	return "neither lime nor sulfur"
}

var driftSays = map[garden.Drift]string{
	garden.TowardsAcid:     "Left alone, this ground turns acid in time.",
	garden.TowardsAlkaline: "Left alone, this ground stays or turns alkaline.",
	garden.Neither:         "Left alone, this ground keeps about where it is.",
}

func driftViewOf(d season.DriftFound, u quantity.System) driftView {
	v := driftView{Says: cmp.Or(driftSays[d.Drift], "Which way the ground goes when it is left alone is not known yet."), Reasons: reasons(d.Reasons)}
	if l := d.Leaching; l != nil {
		v.Facts = []fact{{"Rain in a year", u.Rain(l.Rain)}, {"Could evaporate", u.Rain(l.Evaporation)}, {"Over in wet months", u.Rain(l.Surplus)}}
	}
	return v
}

// soilSeasons are the works of the coming year by season, each kind once with its beds.
func soilSeasons(g *season.Ground) (out []soilSeason) {
	south := g.Site.Latitude < 0
	type key struct{ title, what string }
	at := map[key]*soilTask{}
	var order []key
	first := map[string]civil.Date{}
	put := func(what string, from, to civil.Date, b garden.Bed, says string) {
		if to < g.Day && from < g.Day {
			return
		}
		when := max(from, g.Day)
		if when > g.Day+370 {
			return
		}
		k := key{seasonOfYear(when, south), what}
		t, ok := at[k]
		if !ok {
			t = &soilTask{What: what, first: from, last: to}
			at[k], order = t, append(order, k)
		}
		t.first, t.last = min(t.first, from), max(t.last, to)
		t.Beds = append(t.Beds, bedShare{soilHref(b.ID), b.Name, says})
		if d, ok := first[k.title]; !ok || when < d {
			first[k.title] = when
		}
	}
	u := g.Weighs
	for _, b := range g.Beds {
		bedWorks(b, g, u, func(what string, from, to civil.Date, says string) { put(what, from, to, b.Bed, says) })
	}
	slices.SortStableFunc(order, func(a, b key) int {
		return cmp.Or(cmp.Compare(first[a.title], first[b.title]), cmp.Compare(at[a].first, at[b].first))
	})
	for _, k := range order {
		if n := len(out); n == 0 || out[n-1].Title != k.title {
			out = append(out, soilSeason{Title: k.title})
		}
		t := at[k]
		t.When = windowSays(t.first, t.last, g.Day)
		last := &out[len(out)-1]
		last.Tasks = append(last.Tasks, *t)
	}
	return out
}

// bedWorks tells each work of a bed that is not beside growing plants.
func bedWorks(b season.BedGround, g *season.Ground, u quantity.System, tell func(what string, from, to civil.Date, says string)) {
	if d := b.Reaction.Dose; d != nil {
		for _, part := range d.Parts {
			tell(upper(d.Material.Name), part.From, part.To, weighed(u, part.Mass))
		}
	}
	if o := b.Organic; o != nil {
		from := autumnOn(max(o.Due, g.Day), g.Site.Latitude < 0)
		if o.First {
			from = max(o.Due, g.Day)
		}
		to := from + 75
		if by, ok := comingBy(b); ok { // the feeding counts on it
			from = max(o.Due, g.Day)
			to = max(from, by)
		}
		tell(upper(o.Name), from, to, bulk(o.Loose, u))
	}
	if n := b.New; n != nil && len(n.Stints) > 0 {
		what := "Dig"
		if !n.Broken {
			what = "Break new ground"
		}
		tell(what, n.Stints[0].Day, n.Stints[len(n.Stints)-1].Day, plural(len(n.Stints), "short spell", "short spells"))
	}
	if b.Feeding != nil {
		for _, d := range b.Feeding.Dressings {
			if d.Planting != "" || d.Date == 0 {
				continue
			}
			for _, part := range d.Parts {
				tell(upper(part.Offer.Name)+", "+d.Stage, d.Date, d.Date, weighed(u, part.Mass))
			}
		}
	}
	for _, a := range b.Again {
		if a.What == "test" {
			tell("Test the soil", max(a.On, g.Day), max(a.On, g.Day), "")
		}
	}
}

// comingBy is the day by which the feeding of a bed counts on organic matter that is still to come.
func comingBy(b season.BedGround) (by civil.Date, ok bool) {
	if b.Feeding == nil {
		return 0, false
	}
	for _, c := range b.Feeding.Credits {
		if c.Coming {
			return c.Date, true
		}
	}
	return 0, false
}

// autumnOn is a day if it lies in autumn or the time before winter, else the next middle of September, or of March in the south.
func autumnOn(d civil.Date, south bool) civil.Date {
	month := 9
	if south {
		month = 3
	}
	start := civil.Of(d.Year(), month, 15)
	if d > start+75 {
		start = civil.Of(d.Year()+1, month, 15)
	}
	return max(d, start)
}

// seasonOfYear names the part of a year a day falls in: "Autumn 2027".
func seasonOfYear(d civil.Date, south bool) string {
	month := int(d.Month())
	if south {
		month = (month+5)%12 + 1
	}
	year := d.Year()
	names := []string{"Winter", "Spring", "Summer", "Autumn"}
	i := month % 12 / 3
	if name := names[i]; name != "Winter" {
		return fmt.Sprintf("%s %d", name, year)
	}
	if int(d.Month()) == 12 {
		return fmt.Sprintf("Winter %d/%02d", year, (year+1)%100)
	}
	if !south {
		return fmt.Sprintf("Winter %d/%02d", year-1, year%100)
	}
	return fmt.Sprintf("Winter %d", year)
}

// windowSays is a span of days, with the year where it is another than the day's.
func windowSays(from, to, day civil.Date) string {
	if from <= day && to >= day {
		if to == day {
			return "now"
		}
		return "now, until " + dayYear(to, day)
	}
	if from == to || to < from {
		return dayYear(from, day)
	}
	return strings.TrimSpace(dayYear(from, day) + " – " + dayYear(to, day))
}

func dayYear(d, day civil.Date) string {
	if d.Year() == day.Year() {
		return d.Short()
	}
	return season.Dated(d)
}
