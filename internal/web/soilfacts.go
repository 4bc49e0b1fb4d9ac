package web

import (
	"fmt"
	"net/http"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// textureFeels is what each texture feels like.
var textureFeels = map[garden.Texture]string{
	garden.Sand: "gritty, falls apart", garden.SandyLoam: "gritty, just holds a ball", garden.Loam: "soft, neither gritty nor sticky",
	garden.SiltLoam: "smooth as flour", garden.ClayLoam: "sticky, a short ribbon", garden.Clay: "very sticky, a long ribbon", garden.Organic: "peat or muck: dark, light, spongy",
}

// feeling is how texture is told by hand; common practice.
func feeling(u quantity.System) *soilAside {
	short, long := u.Depth(.025), u.Depth(.05)
	return &soilAside{
		Title: "How to feel what soil it is",
		Steps: []string{
			"Take a handful from a spade's depth. Pick out stones and roots, wet it bit by bit and knead it until it is like putty.",
			"Squeeze it. If it makes no ball at all, it is sand.",
			"Press the ball between thumb and finger so that a ribbon comes out over the finger.",
			"No ribbon to speak of, and gritty: sandy loam.",
			"A ribbon that breaks at up to " + short + ": loam, or silt loam where it feels as smooth as flour.",
			"A ribbon of " + short + " to " + long + ": clay loam.",
			"A ribbon longer than " + long + ", that shines where you rub it: clay.",
			"Dark, light in the hand and spongy, and it dirties the fingers without sticking: peat or muck.",
		},
		Note: "Common practice. Do it in two or three places; a laboratory that measures texture is better.",
	}
}

var driftMeans = []choice{
	{Value: string(garden.TowardsAcid), Label: "it turns acid in time"},
	{Value: string(garden.TowardsAlkaline), Label: "it stays or turns alkaline"},
	{Value: string(garden.Neither), Label: "it keeps about where it is"},
}

func driftChoices(chosen garden.Drift) []choice {
	out := []choice{{"", "tell it from the weather record", chosen == ""}}
	for _, c := range driftMeans {
		c.Chosen = c.Value == string(chosen)
		out = append(out, c)
	}
	return out
}

func distanceOrNone(u quantity.System, v quantity.Metre) string {
	if v == 0 {
		return ""
	}
	return u.ExactLength(v)
}

// soilGround is the questions that site and bed share.
func soilGround(v garden.Soil, u quantity.System, none string) []*field {
	example := "“20 cm” or “8 in”."
	return []*field{
		{Name: "texture", Label: "What soil it is", Kind: "choice", Options: wordChoices(none, garden.Textures, v.Texture, textureFeels), Wide: true},
		{Name: "topsoil", Label: "Depth of the dark topsoil", Kind: "text", Value: distanceOrNone(u, v.Topsoil), Hint: "Dig one hole and look where the colour changes. " + example},
		{Name: "dug_to", Label: "How deep you dig", Kind: "text", Value: distanceOrNone(u, v.Tilled), Hint: "A spade's depth when left empty. " + example},
	}
}

// toolChoices are what ground is turned with.
func toolChoices(chosen garden.DiggingTool) []choice {
	return []choice{
		{string(garden.ForkAndSpade), "fork and spade", chosen != garden.Tiller}, {string(garden.Tiller), "tiller", chosen == garden.Tiller},
	}
}

func soilFactGroups(g garden.Garden) []fieldGroup {
	v, u := g.Site.Soil, g.Site.Units
	bucket := ""
	if v.Bucket > 0 {
		bucket = v.Weighs.ExactVolume(v.Bucket)
	}
	ground := soilGround(v, u, "not known")
	ground = append(ground, &field{Name: "drift", Label: "Left alone, the ground here", Kind: "choice", Options: driftChoices(v.Drift), Hint: "Your own word stands before what the weather tells."})
	return []fieldGroup{
		{Title: "The ground", Fields: ground},
		{Title: "How you work", Fields: []*field{
			{Name: "dug_with", Label: "You dig with", Kind: "choice", Options: toolChoices(v.Spit)},
			{Name: "weighs", Label: "You weigh lime and fertiliser in", Kind: "choice", Options: []choice{
				{"metric", "kilograms and litres", v.Weighs == quantity.Metric}, {"us", "pounds, ounces and gallons", v.Weighs == quantity.US},
			}},
			{Name: "bucket", Label: "Your measuring bucket holds", Kind: "text", Value: bucket, Hint: "“10 L” or “2 gal”. Amounts are then told in buckets too."},
		}},
	}
}

func (s *site) soilFactsPage(r *http.Request, g garden.Garden, groups []fieldGroup, whole []string) groupsPage {
	return groupsPage{
		frame: s.gardenFrame("The garden's soil", r, g), Heading: "The garden's soil", Groups: groups, Aside: feeling(g.Site.Units),
		Intro: "What you know without a test. Leave empty what you do not know; a bed that differs is told by itself.",
		Form:  form{Action: "/soil/facts", Submit: "Save", Whole: whole}, Back: navLink{Href: "/soil", Label: "Back to the soil"},
	}
}

func (s *site) soilFacts(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.showGroups(w, s.soilFactsPage(r, g, soilFactGroups(g), nil))
}

func (s *site) soilFactsSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	groups := soilFactGroups(g)
	a := answers{r: r, fields: flat(groups), units: g.Site.Units}
	v := g.Site
	a.ground(&v.Soil)
	v.Soil.Drift = garden.Drift(a.text("drift"))
	v.Soil.Weighs = quantity.Metric
	if a.text("weighs") == "us" {
		v.Soil.Weighs = quantity.US
	}
	a.units = v.Soil.Weighs
	v.Soil.Bucket = a.volume("bucket")
	whole := a.problems(v.Validate(), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.soilFactsPage(r, g, groups, whole))
	}
	if err := s.Store.SaveSite(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/soil?done=told")
}

// ground takes what site and bed share.
func (a *answers) ground(v *garden.Soil) {
	v.Texture, v.Topsoil, v.Tilled = garden.Texture(a.text("texture")), a.distance("topsoil"), a.distance("dug_to")
	v.Spit = garden.DiggingTool(a.text("dug_with"))
	if v.Spit == garden.ForkAndSpade {
		v.Spit = "" // what is meant where nothing is told
	}
}

var stateMeans = []choice{
	{Value: string(garden.Cultivated), Label: "dug and planted already"},
	{Value: string(garden.Sod), Label: "under grass or weeds, to be broken"},
	{Value: string(garden.Neglected), Label: "dug once, overgrown since"},
}

func bedSoilGroups(g garden.Garden, b garden.Bed) []fieldGroup {
	v, u := b.Soil, g.Site.Units
	none := "as in the whole garden"
	if t := g.Site.Soil.Texture; t != "" {
		none += " (" + string(t) + ")"
	}
	state := []choice{}
	for _, c := range stateMeans {
		c.Chosen = c.Value == string(v.State) || v.State == "" && c.Value == string(garden.Cultivated)
		state = append(state, c)
	}
	ground := soilGround(v, u, none)
	ground = append(ground,
		&field{Name: "state", Label: "How far it has come", Kind: "choice", Options: state},
		&field{Name: "dug_with", Label: "It is dug with", Kind: "choice", Options: toolChoices(v.Spit)})
	return []fieldGroup{{Title: "The ground of this bed", Hint: "What is left empty is as in the whole garden.", Fields: ground}}
}

func (s *site) bedSoilPage(r *http.Request, g garden.Garden, b garden.Bed, groups []fieldGroup, whole []string) groupsPage {
	return groupsPage{
		frame: s.gardenFrame("The soil of "+b.Name, r, g), Heading: "The soil of " + b.Name, Groups: groups, Aside: feeling(g.Site.Units),
		Form: form{Action: fmt.Sprintf("/soil/bed/%d/facts", b.ID), Submit: "Save", Whole: whole}, Back: navLink{Href: soilHref(b.ID), Label: "Back to the soil of " + b.Name},
	}
}

// soilHref is a bed's soil page.
func soilHref(bed int64) string { return fmt.Sprintf("/soil/bed/%d", bed) }

func (s *site) bedSoilFacts(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	return s.showGroups(w, s.bedSoilPage(r, g, b, bedSoilGroups(g, b), nil))
}

func (s *site) bedSoilFactsSave(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	groups := bedSoilGroups(g, b)
	a := answers{r: r, fields: flat(groups), units: g.Site.Units}
	v := b
	a.ground(&v.Soil)
	v.Soil.State = garden.GroundState(a.text("state"))
	if v.Soil.State == garden.Cultivated {
		v.Soil.State = ""
	}
	whole := a.problems(v.Validate(), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.bedSoilPage(r, g, b, groups, whole))
	}
	if err := s.Store.SaveBed(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, soilHref(b.ID)+"?done=told")
}
