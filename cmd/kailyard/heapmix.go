package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

type heapMixCmd struct {
	Part []string `arg:"" help:"What there is, each with its volume: 'leaves 200 L', 'grass-clippings 4 cu ft', 'straw 3 buckets'."`
}

func (heapMixCmd) example() string {
	return "kailyard heap mix 'leaves 400 L' 'grass-clippings 200 L' 'kitchen-scraps 40 L'"
}

type mixJSON struct {
	Parts    []mixPartJSON   `json:"parts"`
	Ratio    float64         `json:"carbon_to_nitrogen"`
	Moisture float64         `json:"moisture_percent"`
	WaterL   float64         `json:"water_to_add_l"`
	InL      float64         `json:"in_l"`
	BuiltL   float64         `json:"built_l"`
	OutLowL  float64         `json:"out_low_l"`
	OutHighL float64         `json:"out_high_l"`
	Best     bool            `json:"within_best_bounds"`
	Short    string          `json:"missing"`
	Doubts   []string        `json:"doubts"`
	Reasons  []garden.Reason `json:"reasons"`
	Cautions []string        `json:"cautions"`
}

type mixPartJSON struct {
	Feedstock string  `json:"feedstock"`
	VolumeL   float64 `json:"volume_l"`
	LeftL     float64 `json:"left_l"`
	MassKg    float64 `json:"mass_kg"`
}

// Run prints a recipe.
func (c *heapMixCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		parts, err := heapParts(c.Part, g.Site.Soil)
		if err != nil {
			return err
		}
		h, err := soil.MixHeap(parts, g.Site.Units)
		if err != nil {
			return err
		}
		if e.json {
			v := mixJSON{Parts: []mixPartJSON{}, Ratio: h.Ratio, Moisture: h.Moisture, WaterL: float64(h.Water), InL: float64(h.In), BuiltL: float64(h.Built), OutLowL: float64(h.OutLow), OutHighL: float64(h.OutHigh),
				Best: h.Best, Short: h.Short, Doubts: orEmpty(h.Doubts), Reasons: orEmpty(h.Reasons), Cautions: orEmpty(h.Cautions)}
			for _, p := range h.Parts {
				v.Parts = append(v.Parts, mixPartJSON{p.Feedstock.ID, float64(p.Volume), float64(p.Left), float64(p.Mass)})
			}
			return e.printJSON(v)
		}
		for _, p := range h.Parts {
			left := ""
			if p.Left > 0 {
				left = "  (" + soil.Bulk(p.Left, g.Site.Units) + " left over)"
			}
			e.printf("  %-28s %s%s\n", p.Feedstock.Name, soil.Bulk(p.Volume, g.Site.Units), left)
		}
		if h.Short != "" {
			e.printf("%s\n", wrapped(h.Short, "  ", 92))
		}
		for _, r := range h.Reasons {
			e.printf("%s\n", wrapped("• "+r.Says, "  ", 92))
		}
		for _, says := range h.Doubts {
			e.printf("%s\n", wrapped("• "+says, "  ", 92))
		}
		for _, says := range h.Cautions {
			e.printf("%s\n", wrapped("! "+says, "  ", 92))
		}
		return nil
	})
}

// heapParts reads what goes into a heap: a feedstock and its volume.
func heapParts(texts []string, s garden.Soil) ([]garden.HeapPart, error) {
	var parts []garden.HeapPart
	for _, text := range texts {
		at := strings.IndexAny(text, "0123456789")
		if at <= 0 {
			return nil, usageError{fmt.Sprintf("%q has no volume; write what it is and how much, like 'leaves 200 L' or 'straw 3 buckets'", text)}
		}
		name := strings.TrimSpace(text[:at])
		f, ok := feedstockNamed(name)
		if !ok {
			return nil, fmt.Errorf("%q is not known as something to compost; `kailyard heap stuff` lists what is, take the nearest", name)
		}
		_, volume, err := amountOf(text[at:], s)
		if err != nil {
			return nil, usageError{err.Error()}
		}
		if volume == 0 {
			return nil, usageError{fmt.Sprintf("%q: write its volume, loose: 'leaves 200 L', '4 cu ft' or '3 buckets'", text)}
		}
		parts = append(parts, garden.HeapPart{Feedstock: f.ID, Volume: volume})
	}
	return parts, nil
}

// feedstockNamed is a feedstock by its ID or name.
func feedstockNamed(word string) (soil.Feedstock, bool) {
	if f, ok := soil.FindFeedstock(strings.ReplaceAll(strings.ToLower(word), " ", "-")); ok {
		return f, true
	}
	for _, f := range soil.Feedstocks() {
		if strings.EqualFold(f.Name, word) {
			return f, true
		}
	}
	return soil.Feedstock{}, false
}

type heapStuffCmd struct{}

func (heapStuffCmd) example() string { return "kailyard heap stuff --json" }

type feedstockJSON struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Ratio    float64  `json:"carbon_to_nitrogen"`
	Nitrogen float64  `json:"nitrogen_percent"`
	Moisture float64  `json:"moisture_percent"`
	Density  float64  `json:"kg_per_l"`
	Raw      bool     `json:"raw_manure"`
	Source   string   `json:"source"`
	Quality  string   `json:"quality"`
	Cautions []string `json:"cautions"`
}

// Run lists feedstocks.
func (c *heapStuffCmd) Run(_ context.Context, e *env) error {
	list := []feedstockJSON{}
	for _, f := range soil.Feedstocks() {
		list = append(list, feedstockJSON{f.ID, f.Name, f.Ratio(), f.Nitrogen, f.Moisture, f.Density, f.Raw, f.Source, f.Quality, orEmpty(f.Cautions)})
	}
	if e.json {
		return e.printJSON(list)
	}
	e.printf("  %-28s %8s %7s   %s\n", "", "C to N", "water", "source")
	for _, f := range list {
		from := f.Quality
		if f.Source != "" {
			from += ", " + f.Source
		}
		e.printf("  %-28s %6.0f:1 %5.0f %%   %s\n", f.ID, f.Ratio, f.Moisture, from)
	}
	return nil
}
