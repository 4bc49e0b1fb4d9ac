package garden

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"kailyard/internal/quantity"
)

// The limits of what ground and its treatment can be. They catch a slip of the unit.
const (
	deepestTopsoil  quantity.Metre = 3
	deepestDigging  quantity.Metre = 1
	largestBucket   quantity.Litre = 200
	largestVolume   quantity.Litre = 1e6
	largestDressing                = 100.0 // kilograms on a square metre: a quarter of a metre of wet manure
)

// ofSite tells what is wrong with the soil told of the whole garden.
func (s Soil) ofSite() Problems {
	ps := s.problems()
	if s.State != "" {
		ps.add("state", "tell it of each bed that is not dug yet", "whether the ground is broken is told of a bed, not of the whole garden")
	}
	if s.Drift != "" {
		oneOf(&ps, "drift", s.Drift, []Drift{TowardsAcid, TowardsAlkaline, Neither})
	}
	if !within(s.Bucket, 0, largestBucket) {
		ps.add("bucket", "write what the bucket holds, for example \"10 L\" or \"2 gal\"", "the bucket holds %v L", float64(s.Bucket))
	}
	if s.Weighs != quantity.Metric && s.Weighs != quantity.US {
		ps.add("weighs", `write "metric" or "US"`, "what soil materials are weighed in is not known")
	}
	return ps
}

// ofBed tells what is wrong with the soil told of a bed.
func (s Soil) ofBed() Problems {
	ps := s.problems()
	if s.State != "" {
		oneOf(&ps, "state", s.State, []GroundState{Cultivated, Sod, Neglected})
	}
	if s.Drift != "" || s.Bucket != 0 || s.Weighs != quantity.Metric || s.Natural || s.Lime != "" || s.Organic != "" {
		ps.add("", "tell it of the site", "drift, bucket, weighing and what is put on are of the whole garden, not of a bed")
	}
	return ps
}

func (s Soil) problems() Problems {
	var ps Problems
	if s.Texture != "" {
		oneOf(&ps, "texture", s.Texture, Textures)
	}
	if !within(s.Topsoil, 0, deepestTopsoil) {
		ps.add("topsoil", "write how deep the dark soil reaches, for example \"20 cm\" or \"8 in\"", "the topsoil is %v m deep", float64(s.Topsoil))
	}
	if !within(s.Tilled, 0, deepestDigging) {
		ps.add("dug_to", "write how deep it is dug, for example \"25 cm\" or \"10 in\"", "the ground is dug %v m deep", float64(s.Tilled))
	}
	if s.Spit != "" {
		oneOf(&ps, "dug_with", s.Spit, []DiggingTool{ForkAndSpade, Tiller})
	}
	return ps
}

// SoilOf is what is known of a bed's ground without a test: what is told of the bed, and of the whole garden
// where the bed's own is not told.
func (g Garden) SoilOf(b Bed) Soil {
	s, site := b.Soil, g.Site.Soil
	s.Texture = cmp.Or(s.Texture, site.Texture)
	s.Topsoil = cmp.Or(s.Topsoil, site.Topsoil)
	s.Tilled = cmp.Or(s.Tilled, site.Tilled)
	s.Spit = cmp.Or(s.Spit, site.Spit)
	s.State = cmp.Or(s.State, Cultivated)
	s.Drift, s.Bucket, s.Weighs = site.Drift, site.Bucket, site.Weighs
	s.Natural, s.Lime, s.Organic = site.Natural, site.Lime, site.Organic
	return s
}

// oneOf refuses a word that is none of those known.
func oneOf[T ~string](ps *Problems, field string, word T, known []T) {
	names, shown := make([]string, len(known)), make([]string, len(known))
	for i, k := range known {
		if k == word {
			return
		}
		names[i], shown[i] = string(k), quoted(string(k))
	}
	ps.add(field, didYouMean(nearest(string(word), names), "write "+strings.Join(shown, ", ")), "%s is %q, which is not known", field, word)
}

// Entry is the treatment as the journal tells it.
func (t Treatment) Entry() Entry {
	return Entry{ID: t.EntryID, Date: t.Date, Kind: Fed, BedID: t.BedID, Amount: t.Amount, Text: t.Note, Material: t.Material, Volume: t.Volume, Depth: t.Depth}
}

// Treatment is what the entry tells was put on the ground, if it tells that.
func (e Entry) Treatment() (Treatment, bool) {
	if e.Kind != Fed || e.Material == "" {
		return Treatment{}, false
	}
	return Treatment{EntryID: e.ID, Date: e.Date, BedID: e.BedID, Material: e.Material, Amount: e.Amount, Volume: e.Volume, Depth: e.Depth, Note: e.Text}, true
}

// fedProblems tells what is wrong with the material of a journal entry.
func (e Entry) fedProblems() Problems {
	var ps Problems
	if e.Material == "" && (e.Kind == Watered || e.Kind == Rained) {
		return e.waterProblems()
	}
	if e.Material == "" {
		if e.Volume != 0 || e.Depth != 0 {
			ps.add("material", "name what was put on", "a volume or a depth is given, but no material")
		}
		return ps
	}
	idProblem(&ps, "material", e.Material)
	if e.Kind != Fed {
		ps.add("kind", `write "fed"`, "a material is put on by an entry of kind %q, not %q", Fed, e.Kind)
	}
	if e.BedID == 0 {
		ps.add("bed", "name the bed it was put on", "no bed is given for what was put on")
	}
	switch {
	case !(e.Volume >= 0) || e.Volume > largestVolume:
		ps.add("volume", "check the volume and its unit", "volume is %v L", float64(e.Volume))
	case e.Volume == 0 && e.Amount == 0:
		ps.add("amount", "write how much was put on, by weight or by volume", "neither an amount nor a volume is given")
	}
	if !within(e.Depth, 0, deepestDigging) {
		ps.add("depth", "write how deep it was worked in, or leave it out where it lies on top", "it was worked in %v m deep", float64(e.Depth))
	}
	return ps
}

// Validate tells what is wrong with the treatment by itself.
func (t Treatment) Validate() Problems { return t.Entry().Validate() }

// Withdrawal is the journal's line that tells that the treatment counts no more.
func (t Treatment) Withdrawal() Entry {
	return Entry{Date: t.Date, Kind: Noted, BedID: t.BedID, Text: fmt.Sprintf("Withdrawn, because it was written wrongly: %s of %s (entry %d).", t.Material, t.Date.Long(), t.EntryID)}
}

// Odd tells what is unusual of the treatment on its bed.
func (t Treatment) Odd(b Bed) Problems { return t.on(b) }

// on tells what is wrong with the treatment on its bed.
func (t Treatment) on(b Bed) Problems {
	var ps Problems
	if area := float64(b.Area()); area > 0 && float64(t.Amount)/area > largestDressing {
		ps.doubt("amount", "check the amount and its unit", "%.0f kg on each square metre is more than any soil is given", float64(t.Amount)/area)
	}
	if area := float64(b.Area()); area > 0 && float64(t.Volume)/1000/area > 0.5 {
		ps.doubt("volume", "check the volume and its unit", "it would lie %.1f m deep on the bed", float64(t.Volume)/1000/area)
	}
	return ps
}

// idProblem refuses what cannot be the ID of a material or a feedstock.
func idProblem(ps *Problems, field, id string) {
	plain := strings.Trim(id, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
	if id == "" || !plain || len(id) > 60 {
		ps.add(field, "write its ID in small letters, digits and hyphens, for example \"limestone-ground\"", "%s is %q, which is not an ID", field, id)
	}
}

// Validate tells what is wrong with a package on sale.
func (p Package) Validate() Problems {
	var ps Problems
	idProblem(&ps, "material", p.Material)
	if !(p.Mass >= 0) || p.Mass > 1e5 {
		ps.add("mass", "write what is in it with its unit, for example \"20 kg\" or \"40 lb\"", "the package weighs %v kg", float64(p.Mass))
	}
	if !(p.Volume >= 0) || p.Volume > largestVolume {
		ps.add("volume", "write what is in it with its unit, for example \"40 L\" or \"2 cu ft\"", "the package holds %v L", float64(p.Volume))
	}
	if p.Mass == 0 && p.Volume == 0 {
		ps.add("mass", "write the package's weight, or its volume where it is sold by volume", "the package holds nothing: neither mass nor volume is given")
	}
	if !(p.Price >= 0) || math.IsInf(p.Price, 0) {
		ps.add("price", "write what it costs, or leave it out", "the price is %v", p.Price)
	}
	return append(ps, p.labelProblems()...)
}

func (p Package) labelProblems() Problems {
	var ps Problems
	sum, told := 0.0, 0
	for _, l := range []struct {
		field string
		value *float64
		most  float64
	}{{"n", p.N, 100}, {"p2o5", p.P2O5, 100}, {"k2o", p.K2O, 100}, {"cce", p.CCE, 250}, {"fineness", p.Fineness, 100}} {
		if l.value == nil {
			continue
		}
		if !within(*l.value, 0, l.most) {
			ps.add(l.field, "write the per cent that the label prints", "%s is %v per cent", l.field, *l.value)
		}
		if l.field == "n" || l.field == "p2o5" || l.field == "k2o" {
			sum, told = sum+*l.value, told+1
		}
	}
	if told > 0 && told < 3 {
		ps.add("n", "write all three figures of the label, n, p2o5 and k2o; 0 where there is none", "only part of the label's analysis is given")
	}
	if told == 3 && sum > 100 {
		ps.add("n", "check the three figures of the label", "nitrogen, phosphate and potash make %v per cent together", sum)
	}
	if told == 3 && sum == 0 && p.CCE == nil {
		ps.add("n", "write the analysis the label prints, or leave it out to use the material's usual one", "the label's analysis is nothing at all")
	}
	return ps
}

// Labelled says whether the package's own label tells what it is worth, so that it can be reckoned
// with without the material's usual figures.
func (p Package) Labelled() bool { return p.CCE != nil || p.N != nil && p.P2O5 != nil && p.K2O != nil }

// Validate tells what is wrong with a compost heap.
func (h Heap) Validate() Problems {
	var ps Problems
	if strings.TrimSpace(h.Name) == "" {
		ps.add("name", "give the heap a name", "the heap has no name")
	}
	dayProblem(&ps, "started", h.Started)
	for _, part := range h.Put {
		ps = append(ps, part.Validate()...)
	}
	for _, e := range h.Log {
		ps = append(ps, e.Validate()...)
		if e.Date < h.Started {
			ps.add("log", "check both days", "an entry of %s is older than the heap, begun on %s", e.Date.Long(), h.Started.Long())
		}
	}
	if h.Emptied != nil && *h.Emptied < h.Started {
		ps.add("emptied", "check both days", "the heap was emptied on %s, before it was begun on %s", h.Emptied.Long(), h.Started.Long())
	}
	return ps
}

// Validate tells what is wrong with a part of a heap.
func (p HeapPart) Validate() Problems {
	var ps Problems
	idProblem(&ps, "feedstock", p.Feedstock)
	if !(p.Volume > 0) || p.Volume > largestVolume {
		ps.add("volume", "write how much of it went in, for example \"60 L\" or \"2 cu ft\"", "there are %v L of %s", float64(p.Volume), cmp.Or(p.Feedstock, "it"))
	}
	if p.Moisture != nil && !(*p.Moisture >= 0 && *p.Moisture < 100) {
		ps.add("moisture", "write the per cent of its weight that is water, or leave it out", "%s is %v per cent water", p.Feedstock, *p.Moisture)
	}
	return ps
}

// HeapKinds are what a heap's log can tell.
var HeapKinds = []HeapKind{HeapHeat, HeapTurned, HeapWetted, HeapAdded, HeapChecked}

// Validate tells what is wrong with an entry of a heap's log.
func (e HeapEntry) Validate() Problems {
	var ps Problems
	dayProblem(&ps, "date", e.Date)
	oneOf(&ps, "kind", e.Kind, HeapKinds)
	switch {
	case e.Celsius == nil && e.Kind == HeapHeat:
		ps.add("temperature", "write what the thermometer showed, for example \"58 °C\" or \"136 °F\"", "no temperature is given")
	case e.Celsius != nil && !within(*e.Celsius, -30, 90):
		ps.add("temperature", "check the number and whether it is °C or °F", "the heap is %v °C, which no heap reaches", float64(*e.Celsius))
	}
	return ps
}
