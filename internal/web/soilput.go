package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// barrow is what a garden barrow holds, level; common practice (3 cu ft).
const barrow = 3 * 1728. / 231 * quantity.LitresPerGallon

// familyTitles are the families of soil materials as pages name them.
var familyTitles = []struct {
	family soil.Family
	title  string
}{
	{soil.Liming, "Lime and ash"}, {soil.Acidifying, "To make it sourer"}, {soil.Organic, "Manure, compost and the like"}, {soil.Fertiliser, "Fertiliser"},
}

// materialGroups are all soil materials to choose from, and the person's own products before them.
func materialGroups(packages []garden.Package, chosen string) []choiceGroup {
	var out []choiceGroup
	own := choiceGroup{Label: "Your own products"}
	for _, p := range packages {
		_, known := soil.Find(p.Material)
		listed := slices.ContainsFunc(own.Options, func(c choice) bool { return c.Value == p.Material })
		if !known && !listed && p.Labelled() {
			own.Options = append(own.Options, choice{p.Material, packageName(p), p.Material == chosen})
		}
	}
	if len(own.Options) > 0 {
		out = append(out, own)
	}
	for _, f := range familyTitles {
		g := choiceGroup{Label: f.title}
		for _, m := range soil.OfFamily(f.family) {
			g.Options = append(g.Options, choice{m.ID, m.Name, m.ID == chosen})
		}
		out = append(out, g)
	}
	return out
}

// materialName is a material as the person or the list calls it.
func materialName(packages []garden.Package, id string) string {
	if m, ok := soil.Find(id); ok {
		return m.Name
	}
	for _, p := range packages {
		if p.Material == id {
			return packageName(p)
		}
	}
	return id
}

func packageName(p garden.Package) string {
	if p.Name != "" {
		return p.Name
	}
	if m, ok := soil.Find(p.Material); ok {
		return m.Name
	}
	return p.Material
}

// amount takes a weight, a volume, or so many buckets or barrows; a bare number is a weight.
func (a *answers) amount(name string, bucket quantity.Litre) (mass quantity.Kilogram, volume quantity.Litre) {
	text := a.text(name)
	if text == "" {
		return 0, 0
	}
	if n, holds, ok, says := vessels(text, bucket); ok {
		a.field(name).Error = says
		return 0, quantity.Litre(n) * holds
	}
	mass, err := quantity.ParseMass(text, a.units)
	if err == nil {
		return mass, 0
	}
	volume, wrong := quantity.ParseVolume(text, a.units)
	if wrong != nil {
		a.fault(name, err)
		a.field(name).Error += " Or write a volume, as “40 L” or “2 cu ft”, or “3 buckets”."
	}
	return 0, volume
}

// vessels reads "3 buckets" and "2 barrows"; ok where it is one of them, with what is wrong with it.
func vessels(text string, bucket quantity.Litre) (n float64, holds quantity.Litre, ok bool, says string) {
	lower := strings.ToLower(strings.TrimSpace(text))
	for _, v := range []struct {
		word  string
		holds quantity.Litre
	}{{"bucket", bucket}, {"wheelbarrow", barrow}, {"barrow", barrow}} {
		number, cut := strings.CutSuffix(strings.TrimSuffix(lower, "s"), v.word)
		if !cut {
			continue
		}
		n, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(number), ",", "."), 64)
		switch {
		case err != nil || !(n > 0) || n > 1e5:
			return 0, 0, true, "Write how many, in digits: “3 buckets” or “2 barrows”."
		case v.holds == 0:
			return 0, 0, true, "What your bucket holds is not told yet. Write a weight or a volume, or tell it among the facts of the garden's soil."
		}
		return n, v.holds, true, ""
	}
	return 0, 0, false, ""
}

// putGroups asks what was put on a bed; the address may bring the answers of a prescription.
func (s *site) putGroups(r *http.Request, g garden.Garden) []fieldGroup {
	q := r.URL.Query()
	date := s.Today().String()
	groups := []fieldGroup{{Title: "What you put on", Fields: []*field{
		{Name: "material", Label: "I put on", Kind: "choice", Options: []choice{{"", "choose", q.Get("put") == ""}}, Groups: materialGroups(g.Packages, q.Get("put")), Required: true, Wide: true},
		{Name: "amount", Label: "How much, on the whole bed", Kind: "text", Value: q.Get("amount"), Required: true, Hint: "“2 kg”, “5 lb”, “40 L”, “3 buckets” or “2 barrows”."},
		{Name: "date", Label: "Day", Kind: "date", Value: date, Required: true},
		{Name: "depth", Label: "Worked in to", Kind: "text", Value: q.Get("depth"), Hint: "“15 cm” or “6 in”. Empty: left on top."},
		{Name: "note", Label: "Note", Kind: "text"},
	}}}
	if len(g.Heaps) > 0 {
		from := []choice{{"", "choose, where it is compost", true}, {boughtOrigin, "bought, or from no heap of mine", false}}
		for _, h := range g.Heaps {
			from = append(from, choice{heapOrigin + h.Name, "my heap: " + h.Name, false})
		}
		groups[0].Fields = append(groups[0].Fields, &field{Name: "heap", Label: "Compost came from", Kind: "choice", Options: from, Hint: "From a heap with manure that was not hot for long enough it counts as raw manure, with its days before harvest."})
	}
	return groups
}

// What the choice of where compost came from sends.
const boughtOrigin, heapOrigin = "bought", "heap "

// originOf is where compost came from, as the form tells it.
func originOf(a *answers, g garden.Garden) (o soil.Origin) {
	if len(g.Heaps) == 0 {
		return o
	}
	text := a.text("heap")
	o.Bought = text == boughtOrigin
	o.Heap, _ = strings.CutPrefix(text, heapOrigin)
	if o.Bought {
		o.Heap = ""
	}
	return o
}

func (s *site) soilPut(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	groups := s.putGroups(r, g)
	a := answers{r: r, fields: flat(groups), units: weighing(g)}
	t := garden.Treatment{BedID: b.ID, Material: a.text("material"), Note: a.text("note")}
	t.Amount, t.Volume = a.amount("amount", g.Site.Soil.Bucket)
	a.units = g.Site.Units
	t.Depth = a.distance("depth")
	if d := a.date("date"); d != nil {
		if t.Date = *d; t.Date > s.Today() {
			a.field("date").Error = "This day has not come yet. Write it down when it is done."
		}
	}
	from := originOf(&a, g)
	var whole []string
	if a.wrong() == 0 && t.Material != "" {
		as, ps := soil.PutAs(t.Material, from, g.Heaps, t.Date)
		t.Material, whole = as, a.problems(ps, nil)
	}
	if a.wrong() == 0 && len(whole) == 0 {
		whole = a.problems(s.treatmentProblems(g, b, t), map[string]string{"volume": "amount", "bed": ""})
	}
	if a.wrong() == 0 && len(whole) == 0 && a.doubted() && r.PostFormValue("sure") == "" {
		return s.bedSoilShown(w, r, append(groups, sureGroup()), nil)
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return s.bedSoilShown(w, r, groups, whole)
	}
	if _, err := s.Store.Append(r.Context(), t.Entry()); err != nil {
		return err
	}
	return seeOther(w, r, soilHref(b.ID)+"?done=put#record")
}

// putWithdraw lets what was put on a bed count no more.
func (s *site) putWithdraw(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	id := idOf(r)
	i := slices.IndexFunc(g.Treatments, func(t garden.Treatment) bool { return t.EntryID == id })
	if i < 0 {
		return missing("such line of what was put on that still counts")
	}
	if err := s.Store.WithdrawTreatment(r.Context(), id); err != nil {
		return err
	}
	return seeOther(w, r, soilHref(g.Treatments[i].BedID)+"?done=taken-back#record")
}

// treatmentProblems is what is wrong with a treatment, or odd on its bed.
func (s *site) treatmentProblems(g garden.Garden, b garden.Bed, t garden.Treatment) garden.Problems {
	ps := append(append(t.Validate(), soil.CheckMaterial(t.Material, g.Packages)...), soil.TooMuch(t, b)...)
	if ps.Err() != nil {
		return ps
	}
	alone := garden.Garden{Site: g.Site, Beds: []garden.Bed{b}, Treatments: []garden.Treatment{t}}
	for _, p := range alone.Examine(s.Crops) {
		if p.Table == "treatment" {
			ps = append(ps, p.Problem)
		}
	}
	return ps
}

// putLink leads to the form with what a prescription says.
func putLink(bed int64, material, amount, depth string) string {
	q := fmt.Sprintf("?put=%s&amount=%s", material, url.QueryEscape(amount))
	if depth != "" {
		q += "&depth=" + url.QueryEscape(depth)
	}
	return soilHref(bed) + q + "#put"
}

// originAsked leads to where a job's compost is written down with where it came from.
func originAsked(p garden.Entry, g garden.Garden) string {
	u := weighing(g)
	amount, depth := weighed(u, p.Amount), ""
	if p.Amount == 0 {
		amount = bulk(p.Volume, u)
	}
	if p.Depth > 0 {
		depth = g.Site.Units.Depth(p.Depth)
	}
	return putLink(p.BedID, p.Material, amount, depth)
}
