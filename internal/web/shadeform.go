package web

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// lightRoutes are the addresses of light and shade.
func (s *site) lightRoutes() map[string]action {
	return map[string]action{
		"GET /plot/light":                 s.light,
		"GET /plot/shade/new":             s.shadeForm,
		"POST /plot/shade/new":            s.shadeSave,
		"GET /plot/shade/{id}":            s.shadeForm,
		"POST /plot/shade/{id}":           s.shadeSave,
		"POST /plot/shade/{id}/move":      s.shadeMove,
		"POST /plot/shade/{id}/remove":    s.shadeRemove,
		"GET /plot/lie":                   s.lieForm,
		"POST /plot/lie":                  s.lieSave,
		"GET /bed/{id}/light":             s.bedLight,
		"POST /bed/{id}/light":            s.bedSeen,
		"POST /bed/{id}/light/{n}/remove": s.bedSeenRemove,
	}
}

// shadeWord is a kind of shade with its article.
func shadeWord(k garden.ShadeKind) string {
	if k == garden.Roof {
		return "a neighbour's roof"
	}
	return "a " + string(k)
}

func percentOrNone(v *float64) string {
	if v == nil {
		return ""
	}
	return degrees(*v)
}

func shadeFields(v garden.Shade, u quantity.System) []*field {
	f := []*field{
		{Name: "name", Label: "Name", Kind: "text", Value: v.Name, Required: true, Wide: true},
		{Name: "x", Label: "Middle, from the west edge", Kind: "text", Value: u.ExactLength(v.X), Hint: "How far east of the plot's south-west corner its middle stands. West of it is negative: it may stand beyond the plot.", Required: true},
		{Name: "y", Label: "Middle, from the south edge", Kind: "text", Value: u.ExactLength(v.Y), Required: true},
		{Name: "height", Label: "Height", Kind: "text", Value: lengthOrNone(u, v.Height), Hint: "To the top; of what has a ridge, to the eaves. “6 m” or “20 ft”.", Required: true},
	}
	if v.Kind == garden.Tree {
		f = append(f,
			&field{Name: "spread", Label: "Crown, width", Kind: "text", Value: lengthOrNone(u, v.Spread), Required: true},
			&field{Name: "crown_base", Label: "Lowest branches, height", Kind: "text", Value: lengthOrNone(u, v.CrownBase), Hint: "Under them the low sun comes through."},
			&field{Name: "crown", Label: "Shape of the crown", Kind: "choice", Options: []choice{{"round", "round", v.Crown != garden.ConeCrown}, {"cone", "a cone, as of firs", v.Crown == garden.ConeCrown}}},
			&field{Name: "trunk", Label: "Trunk, thickness", Kind: "text", Value: lengthOrNone(u, v.Trunk), Hint: "May be left empty."})
	} else {
		f = append(f,
			&field{Name: "length", Label: "Length", Kind: "text", Value: lengthOrNone(u, v.Length), Required: true},
			&field{Name: "width", Label: "Width", Kind: "text", Value: lengthOrNone(u, v.Width), Required: v.Kind != garden.Wall && v.Kind != garden.Fence},
			&field{Name: "bearing", Label: "Bearing of the length", Kind: "text", Value: degrees(v.Bearing), Hint: "Degrees clockwise from the plot's north: 0 runs north and south, 90 east and west."})
	}
	if v.Kind.Roofed() {
		f = append(f, &field{Name: "ridge", Label: "Height of the ridge", Kind: "text", Value: lengthOrNone(u, v.Ridge), Hint: "Along its length. Empty for a flat roof."})
	}
	if v.Kind.Grows() {
		f = append(f,
			&field{Name: "leaf_on", Label: "Comes into leaf", Kind: "text", Value: v.LeafOn.String(), Hint: "Month and day, “04-25” or “25 April”. Both empty: it keeps its leaves."},
			&field{Name: "leaf_off", Label: "Leaves fall", Kind: "text", Value: v.LeafOff.String()},
			&field{Name: "bare_percent", Label: "Sun that comes through without leaves, %", Kind: "text", Value: percentOrNone(v.Bare), Hint: "Empty: as usual, 45."})
	}
	if v.Kind.Grows() || v.Kind == garden.Fence {
		f = append(f, &field{Name: "gaps_percent", Label: "Sun that comes through its gaps, %", Kind: "text", Value: percentOrNone(v.Gaps), Hint: "Of a fence of slats, or of a crown in leaf. Empty: as usual."})
	}
	return append(f, &field{Name: "note", Label: "Note", Kind: "lines", Value: v.Note, Wide: true})
}

// shadeAsked is what throws shade that the address names, or a fresh one of a kind.
func (s *site) shadeAsked(r *http.Request) (garden.Garden, garden.Shade, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return g, garden.Shade{}, err
	}
	if r.PathValue("id") == "" {
		kind := garden.ShadeKind(r.URL.Query().Get("kind"))
		if !slices.Contains(garden.ShadeKinds, kind) {
			return g, garden.Shade{}, problem{badRequest, fmt.Sprintf("%q is not one of the things that throw shade here.", string(kind)), "Choose one on the page of light."}
		}
		return g, garden.Shade{Kind: kind, X: g.Site.Width / 2, Y: g.Site.Depth / 2}, nil
	}
	i := slices.IndexFunc(g.Shades, func(o garden.Shade) bool { return o.ID == idOf(r) })
	if i < 0 {
		return g, garden.Shade{}, missing("thing of that number that throws shade")
	}
	return g, g.Shades[i], nil
}

func (s *site) shadePage(r *http.Request, g garden.Garden, v garden.Shade, fields []*field, whole []string) formPage {
	p := formPage{
		frame: s.gardenFrame("What throws shade", r, g), Heading: "Add " + shadeWord(v.Kind), Back: navLink{Href: "/plot/light", Label: "Back to the light on the plot"},
		Form: form{Action: "/plot/shade/new?kind=" + string(v.Kind), Submit: "Add it", Fields: fields, Whole: whole},
	}
	if v.ID != 0 {
		p.Heading = "Change " + v.Name
		p.Form.Action, p.Form.Submit = fmt.Sprintf("/plot/shade/%d", v.ID), "Save"
		p.Remove = &removal{fmt.Sprintf("/plot/shade/%d/remove", v.ID), "Take it off the plot.", "Remove " + v.Name}
	}
	return p
}

func (s *site) shadeForm(w http.ResponseWriter, r *http.Request) error {
	g, v, err := s.shadeAsked(r)
	if err != nil {
		return err
	}
	return s.showForm(w, s.shadePage(r, g, v, shadeFields(v, g.Site.Units), nil))
}

// read takes the form's answers into what throws shade.
func (a *answers) shade(v garden.Shade) garden.Shade {
	v.Name, v.X, v.Y, v.Height = a.text("name"), a.length("x"), a.length("y"), a.length("height")
	if v.Kind == garden.Tree {
		v.Spread, v.CrownBase, v.Trunk = a.length("spread"), a.length("crown_base"), a.length("trunk")
		v.Crown = garden.CrownShape(a.text("crown"))
		if v.Crown == "" {
			v.Crown = garden.RoundCrown
		}
	} else {
		v.Length, v.Width, v.Bearing = a.length("length"), a.length("width"), a.number("bearing")
	}
	if v.Kind.Roofed() {
		v.Ridge = a.length("ridge")
	}
	if v.Kind.Grows() {
		v.LeafOn, v.LeafOff, v.Bare = a.dayOfYear("leaf_on"), a.dayOfYear("leaf_off"), a.figure("bare_percent")
	}
	if v.Kind.Grows() || v.Kind == garden.Fence {
		v.Gaps = a.figure("gaps_percent")
	}
	v.Note = a.text("note")
	return v
}

func (a *answers) dayOfYear(name string) garden.DayOfYear {
	text := a.text(name)
	if text == "" {
		return garden.DayOfYear{}
	}
	d, err := garden.ParseDayOfYear(text)
	if err != nil {
		a.fault(name, err)
	}
	return d
}

// shadeFaults are what the rules say of what throws shade, where it is to stand.
func shadeFaults(g garden.Garden, v garden.Shade) garden.Problems {
	ps := v.Validate()
	for _, o := range g.Shades {
		if o.ID != v.ID && strings.EqualFold(strings.TrimSpace(o.Name), strings.TrimSpace(v.Name)) && v.Name != "" {
			ps = append(ps, garden.Problem{Field: "name", Says: fmt.Sprintf("something else that throws shade is called %q too", o.Name), Remedy: "give each a name of its own"})
		}
	}
	return append(append(ps, v.On(g.Beds...)...), v.LeavesAt(g.Site.Latitude)...)
}

func (s *site) shadeSave(w http.ResponseWriter, r *http.Request) error {
	g, was, err := s.shadeAsked(r)
	if err != nil {
		return err
	}
	a := answers{r: r, fields: shadeFields(was, g.Site.Units), units: g.Site.Units}
	v := a.shade(was)
	whole := a.problems(shadeFaults(g, v), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, s.shadePage(r, g, was, a.fields, whole))
	}
	if v.ID == 0 {
		_, err = s.Store.AddShade(r.Context(), v)
	} else {
		err = s.Store.SaveShade(r.Context(), v)
	}
	if err != nil {
		return err
	}
	return seeOther(w, r, "/plot/light?done=saved")
}

// shadeMove puts it where it was dragged to: metres from the plot's south-west corner.
func (s *site) shadeMove(w http.ResponseWriter, r *http.Request) error {
	g, v, err := s.shadeAsked(r)
	if err != nil {
		return err
	}
	month, err := s.monthAsked(r)
	if err != nil {
		return err
	}
	x, wrongX := strconv.ParseFloat(r.PostFormValue("x"), 64)
	y, wrongY := strconv.ParseFloat(r.PostFormValue("y"), 64)
	if wrongX != nil || wrongY != nil || math.IsNaN(x+y) || math.IsInf(x+y, 0) {
		return problem{badRequest, "Where it is to stand is not told in metres.", "Use the form of what throws shade instead."}
	}
	v.X, v.Y = quantity.Metre(x), quantity.Metre(y)
	for _, p := range shadeFaults(g, v).Refused() {
		if p.Field == "x" || p.Field == "y" { // what else is wrong was so before, and the form tells of it
			says := strings.Replace(p.Says, "it stands", "it would stand", 1)
			return problem{noRoom, fmt.Sprintf("%s cannot stand there: %s.", v.Name, says), "It stays where it was. " + sentence(p.Remedy, "")}
		}
	}
	if err := s.Store.SaveShade(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, lightHref(month)+"&done=saved")
}

func (s *site) shadeRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemoveShade(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/plot/light?done=removed")
}

func lieFields(l garden.Lie) []*field {
	var lines []string
	for _, sight := range l.Horizon {
		lines = append(lines, degrees(sight.Bearing)+" "+degrees(sight.Altitude))
	}
	return []*field{
		{Name: "slope", Label: "Slope", Kind: "text", Value: degrees(l.Slope), Hint: "Degrees from level. A fall of 1 in 10 is about 6."},
		{Name: "aspect", Label: "It falls towards", Kind: "text", Value: degrees(l.Aspect), Hint: "Degrees clockwise from true north: 180 for a slope that faces south."},
		{Name: "north", Label: "Up on the picture, from true north", Kind: "text", Value: degrees(l.North), Hint: "Degrees clockwise, −180 to 180. 0: up is true north. A compass needle points some degrees off: look up by how many where you live."},
		{Name: "horizon", Label: "Skyline", Kind: "lines", Value: strings.Join(lines, "\n"), Hint: "Hills and woods far off: on each line a bearing and the height above the level there, in degrees, for example “90 5”. Empty: level.", Wide: true},
	}
}

func (s *site) liePage(r *http.Request, g garden.Garden, fields []*field, whole []string) formPage {
	return formPage{
		frame: s.gardenFrame("How the plot lies", r, g), Heading: "How the plot lies", Back: navLink{Href: "/plot/light", Label: "Back to the light on the plot"},
		Form: form{Action: "/plot/lie", Submit: "Save", Fields: fields, Whole: whole},
	}
}

func (s *site) lieForm(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.showForm(w, s.liePage(r, g, lieFields(g.Site.Lie), nil))
}

func (s *site) lieSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: lieFields(g.Site.Lie), units: g.Site.Units}
	v := g.Site
	v.Lie = garden.Lie{Slope: a.number("slope"), Aspect: a.number("aspect"), North: a.number("north")}
	for i, line := range strings.Split(a.text("horizon"), "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		parts := strings.FieldsFunc(line, func(c rune) bool { return c == ' ' || c == '\t' || c == ';' || c == '\r' || c == '°' })
		if len(parts) != 2 {
			a.field("horizon").Error = fmt.Sprintf("Line %d does not hold a bearing and a height. Write both in degrees, for example “90 5”.", i+1)
			break
		}
		bearing, wrong := strconv.ParseFloat(parts[0], 64)
		altitude, wrongToo := strconv.ParseFloat(parts[1], 64)
		if wrong != nil || wrongToo != nil {
			a.field("horizon").Error = fmt.Sprintf("Line %d is not two numbers. Write both in degrees, for example “90 5”.", i+1)
			break
		}
		v.Lie.Horizon = append(v.Lie.Horizon, garden.Sight{Bearing: bearing, Altitude: altitude})
	}
	whole := a.problems(v.Validate(), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, s.liePage(r, g, a.fields, whole))
	}
	if err := s.Store.SaveSite(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/plot/light?done=saved")
}
