package plan

import (
	"cmp"
	"maps"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// Change is a thing that a person can do about a garden, to see what it would bring.
type Change struct {
	Kind  ChangeKind
	Bed   garden.Bed       // the bed more, or the one with more sun as it is now
	Cover *crop.Protection // the cover more
	Want  garden.Want      // the want dropped
	input Input
}

// ChangeKind is what sort of thing it is.
type ChangeKind string

// The kinds of change. A shorter rotation is none: it would be paid for in later years.
const (
	MoreGround ChangeKind = "bed"
	MoreSun    ChangeKind = "sun"
	MoreCover  ChangeKind = "cover"
	FewerWants ChangeKind = "drop"
)

// What is tried: how many hours more sun, up to how many a bed can have and in how many beds, how many of the wants that hold most
// ground for what they are worth, and what is full sun (what no crop of the catalogue needs more than).
const (
	moreSun    quantity.Hour = 2
	mostSun    quantity.Hour = 16
	fullSun    quantity.Hour = 8
	shadyBeds                = 3
	greedyOnes               = 4
)

// changes are the changes worth a look, in the order in which they are told of.
func changes(in Input, p *Plan, covered []*growth.Table) []Change {
	out := moreGround(in)
	out = append(out, sunnier(in)...)
	out = append(out, coverings(in, covered)...)
	return append(out, fewer(in, p)...)
}

// moreGround is another bed of the size that most of them have, in full sun.
func moreGround(in Input) []Change {
	type size struct{ length, width quantity.Metre }
	count := map[size]int{}
	var most garden.Bed
	id := int64(0)
	for _, b := range in.Garden.Beds {
		id = max(id, b.ID)
		if b.Perennial {
			continue
		}
		s := size{b.Length, b.Width}
		if count[s]++; count[s] > count[size{most.Length, most.Width}] || most.Length == 0 {
			most = b
		}
	}
	if most.Length == 0 {
		return nil
	}
	bed := garden.Bed{ID: id + 1, Name: "Another bed", Length: most.Length, Width: most.Width, RowsAcross: most.RowsAcross, Bearing: most.Bearing, Sun: fullSun}
	in.Garden.Beds = append(slices.Clone(in.Garden.Beds), bed)
	return []Change{{Kind: MoreGround, Bed: bed, input: in}}
}

// sunnier is two hours more sun on each of the beds that lack most of it.
func sunnier(in Input) []Change {
	type shady struct {
		at   int
		lack float64
	}
	var list []shady
	for i, b := range in.Garden.Beds {
		if sun := in.sunOver(b); sun < fullSun && sun+moreSun <= mostSun {
			list = append(list, shady{i, float64(min(moreSun, fullSun-sun)) * float64(b.Area())})
		}
	}
	slices.SortStableFunc(list, func(a, b shady) int { return cmp.Compare(b.lack, a.lack) })
	var out []Change
	for _, s := range list[:min(len(list), shadyBeds)] {
		out = append(out, Change{Kind: MoreSun, Bed: in.Garden.Beds[s.at], input: in.brightened(s.at)})
	}
	return out
}

// sunOver is the sun of a bed over the year, each month counting by how much grows in it.
func (in Input) sunOver(b garden.Bed) quantity.Hour {
	if in.Light == nil {
		return b.Sun
	}
	if of, ok := in.Light.Beds[b.ID]; ok {
		return in.Light.meanLight(of.Hours, in.Season.Start, in.Season.End()+1)
	}
	return b.Sun
}

// brightened is the input with moreSun on a bed.
func (in Input) brightened(bed int) Input {
	in.Garden.Beds = slices.Clone(in.Garden.Beds)
	b := &in.Garden.Beds[bed]
	b.Sun = min(mostSun, b.Sun+moreSun)
	if in.Light != nil {
		light := *in.Light
		light.Beds = maps.Clone(light.Beds)
		if of, ok := light.Beds[b.ID]; ok {
			for m := range of.Hours {
				of.Hours[m] = min(mostSun, of.Hours[m]+moreSun)
			}
			light.Beds[b.ID] = of
		}
		in.Light = &light
	}
	return in
}

// coverings is each cover that the garden lacks, with the tables of what can grow under it.
func coverings(in Input, covered []*growth.Table) []Change {
	var out []Change
	for _, cover := range crop.Protections() {
		if in.Garden.Site.Has(cover.ID) {
			continue
		}
		with := in
		with.Tables = slices.Clone(in.Tables)
		for _, t := range covered {
			if t == nil || t.Option.Protection == nil || t.Option.Protection.ID != cover.ID {
				continue
			}
			if !slices.ContainsFunc(in.Tables, func(had *growth.Table) bool { return sameOption(had.Option, t.Option) }) {
				with.Tables = append(with.Tables, t)
			}
		}
		if len(with.Tables) > len(in.Tables) {
			with.Garden.Site.Covers = append(slices.Clone(in.Garden.Site.Covers), cover.ID)
			out = append(out, Change{Kind: MoreCover, Cover: cover, input: with})
		}
	}
	return out
}

func sameOption(a, b growth.Option) bool {
	return a.Crop.ID == b.Crop.ID && a.Method == b.Method && a.Protection != nil && b.Protection != nil && a.Protection.ID == b.Protection.ID
}

// fewer is to do without each of the wants that hold most ground for what they are worth.
func fewer(in Input, p *Plan) []Change {
	if len(in.Garden.Wants) < 2 {
		return nil
	}
	held := map[string]float64{} // square metres × days, by key
	for _, x := range p.Plantings {
		if x.Status == garden.Planned && (x.Role == garden.Alone || x.Role == garden.Slow) {
			held[x.Key] = float64(x.Place.Area()) * float64(min(x.Clear, in.Season.End())-x.Start)
		}
	}
	type greedy struct {
		at int
		of float64
	}
	var list []greedy
	for i, w := range in.Garden.Wants {
		for _, s := range p.Supply {
			if !sameWant(s.Want, w) {
				continue
			}
			ground := 0.0
			for _, key := range s.Keys {
				ground += held[key]
			}
			if ground > 0 {
				list = append(list, greedy{i, ground / (float64(w.Weight) * max(0.1, s.Share()))})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b greedy) int { return cmp.Compare(b.of, a.of) })
	var out []Change
	for _, g := range list[:min(len(list), greedyOnes)] {
		without := in
		without.Garden.Wants = slices.Delete(slices.Clone(in.Garden.Wants), g.at, g.at+1)
		out = append(out, Change{Kind: FewerWants, Want: in.Garden.Wants[g.at], input: without})
	}
	return out
}
