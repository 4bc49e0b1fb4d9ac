package web

import (
	"fmt"
	"slices"

	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// organicView is organic matter for a bed.
type organicView struct {
	Name, Depth, Loose, Into string
	Loads                    []string
	When, Last               string
	First                    bool
	Nitrogen, Lime           string
	Instead                  string
	Stead                    []string // why it is not what was chosen
	Reasons                  []reasonLine
	Cautions                 []string
	Done                     string
}

func organicViewOf(known soilKnown, b season.BedGround) *organicView {
	o := b.Organic
	if o == nil {
		return nil
	}
	u, length, day := known.ground.Weighs, known.garden.Site.Units, known.ground.Day
	v := organicView{
		Name: o.Name, Depth: soil.Layer(o.Depth, length), Loose: bulk(o.Loose, u), Into: "left on top as a mulch", Loads: loadWords(o.Loads), When: windowSays(o.Due, o.Due, day), First: o.First,
		Reasons: reasons(o.Reasons), Cautions: uppers(o.Cautions),
	}
	into := ""
	if o.Into > 0 {
		into = length.Depth(o.Into)
		v.Into = "worked in " + into + " deep"
	}
	if o.Due <= day {
		v.When = "as soon as the bed is clear"
	}
	v.Stead = o.Stead
	if o.Last != 0 {
		v.Last = "Last given on " + season.Dated(o.Last) + "."
	}
	if o.Nitrogen > 0 {
		v.Nitrogen = weighed(u, o.Nitrogen) + " of nitrogen to go with it, so that its rotting does not rob the crops"
	}
	area := quantity.Kilogram(b.Bed.Area())
	switch {
	case o.Limestone > .005:
		v.Lime = weighed(u, quantity.Kilogram(o.Limestone)*area) + " of fine pure limestone makes up for its acid"
	case o.Limestone < -.005:
		v.Lime = "it sweetens as much as " + weighed(u, -quantity.Kilogram(o.Limestone)*area) + " of limestone"
	}
	var names []string
	for _, id := range o.Instead {
		if m, ok := soil.Find(id); ok {
			names = append(names, m.Name)
		}
	}
	v.Instead = joinWords(names)
	v.Done = putLink(b.Bed.ID, o.Material, bulk(o.Loose, u), into)
	return &v
}

// diggingView is how a bed is dug for its next planting.
type diggingView struct {
	Title, Says string
	Passes      []string
	Hours       string
	Spells      []spellLine
	Left        string
	Topsoil     bool // how deep it is was not told
	Sod         string
	Reasons     []reasonLine
	Cautions    []string
}

type spellLine struct{ Day, Says string }

func diggingViewOf(known soilKnown, b season.BedGround) *diggingView {
	n := b.New
	if n == nil {
		return nil
	}
	u := known.garden.Site.Units
	v := diggingView{Title: "Dig it", Passes: uppers(n.Toil.Passes), Reasons: reasons(n.Reasons), Cautions: n.Cautions, Topsoil: !n.Told && n.Way != soil.DigOver && n.Way != soil.ForkOver}
	switch n.Way {
	case soil.StripAndStack:
		v.Title = "New ground: strip the sod and stack it"
	case soil.TurnUnder:
		v.Title = "New ground: turn the sod under"
	case soil.ForkOver:
		v.Title = "Overgrown ground: fork it over"
	}
	v.Hours = fmt.Sprintf("About %s with %s, between %s and %s (estimated)", u.Hours(roundHours(n.Toil.Hours)), n.Toil.Tool, u.Hours(roundHours(n.Toil.Low)), u.Hours(roundHours(n.Toil.High)))
	if n.Sod > 0 {
		v.Sod = fmt.Sprintf("%s of sod for the heap, about %s", bulk(n.Sod, u), weighed(u, n.Weighs))
	}
	switch {
	case !n.Planned:
		v.Says = "Nothing is planned here yet, so no days are chosen."
	case len(n.Stints) == 0:
		v.Says = "There is no day left to dig before " + n.Plant.Long() + ". Plant later, or get help."
	default:
		v.Says = fmt.Sprintf("%s of about %d minutes on %s, each on the ground that is planted next; the first planting is on %s.", plural(len(n.Stints), "spell", "spells"), n.Stints[0].Minutes, plural(n.Spells(), "day", "days"), n.Plant.Long())
	}
	for _, st := range n.Stints {
		v.Spells = append(v.Spells, spellLine{st.Day.Long(), fmt.Sprintf("%d min, %s", st.Minutes, u.Area(st.Area))})
	}
	if n.Left > .05 && len(n.Stints) > 0 {
		v.Left = u.Area(n.Left) + " cannot be dug in time: begin earlier, plant later, or get help."
	}
	return &v
}

// roundHours is to the half hour, or to the tenth under two.
func roundHours(h quantity.Hour) quantity.Hour {
	step := quantity.Hour(.5)
	if h < 2 {
		step = .1
	}
	return quantity.Hour(int(h/step+.5)) * step
}

// holeView is the holes of a perennial that is still to be planted.
type holeView struct {
	Crop, Href, Size, Says, Level string
	How                           []string
	Mix                           []string
	Reasons                       []reasonLine
}

func holeViews(known soilKnown, b season.BedGround) (views []holeView) {
	u := known.garden.Site.Units
	for _, h := range b.Holes {
		v := holeView{Crop: upper(h.Crop.Name()), Href: "/planting/" + h.Planting, Says: h.Digging.Says, Level: h.Hole.Level, How: h.Hole.How, Reasons: reasons(h.Hole.Reason)}
		v.Size = fmt.Sprintf("%s across and %s deep", u.Distance(h.Hole.Width), u.Distance(h.Hole.Depth))
		if h.Hole.Trench {
			v.Size = "a trench " + fmt.Sprintf("%s wide and %s deep", u.Distance(h.Hole.Width), u.Distance(h.Hole.Depth))
		}
		var ids []string
		for id := range h.Digging.Mix {
			ids = append(ids, id)
		}
		slices.Sort(ids)
		for _, id := range ids {
			v.Mix = append(v.Mix, bulk(h.Digging.Mix[id], u)+" of "+materialName(nil, id))
		}
		views = append(views, v)
	}
	return views
}
