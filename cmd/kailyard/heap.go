package main

import (
	"context"
	"fmt"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

type heapCmd struct {
	Show  heapShowCmd  `cmd:"" default:"withargs" help:"How the heaps stand and what to do next."`
	Mix   heapMixCmd   `cmd:"" help:"A recipe from what there is: carbon to nitrogen, water, how much comes out."`
	Stuff heapStuffCmd `cmd:"" help:"What can go into a heap, with its carbon, nitrogen and water."`
	Start heapStartCmd `cmd:"" help:"Begin a heap."`
	Put   heapPutCmd   `cmd:"" help:"Write down what more went in."`
	Heat  heapHeatCmd  `cmd:"" help:"Write down what the thermometer showed."`
	Log   heapLogCmd   `cmd:"" help:"Write down that it was turned, wetted, looked at, or emptied."`
}

func (heapCmd) example() string { return "kailyard heap" }

type heapJSON struct {
	Name     string          `json:"name"`
	Started  civil.Date      `json:"started"`
	Emptied  *civil.Date     `json:"emptied"`
	Put      []heapPartJSON  `json:"put"`
	Log      []heapLogJSON   `json:"log"`
	Stage    string          `json:"stage"`
	Days     int             `json:"days"`
	Turnings int             `json:"turnings"`
	LatestC  *float64        `json:"latest_c"`
	HottestC *float64        `json:"hottest_c"`
	KillDays int             `json:"days_hot_enough"`
	Killed   bool            `json:"germs_and_seeds_killed"`
	Raw      bool            `json:"counts_as_raw_manure"`
	Fit      bool            `json:"fit_to_use"`
	Next     string          `json:"next"`
	Reasons  []garden.Reason `json:"reasons"`
}

type heapPartJSON struct {
	Feedstock string   `json:"feedstock"`
	VolumeL   float64  `json:"volume_l"`
	Moisture  *float64 `json:"moisture_percent"`
}

type heapLogJSON struct {
	Date     civil.Date `json:"date"`
	Kind     string     `json:"kind"`
	CelsiusC *float64   `json:"temperature_c"`
	Text     string     `json:"text"`
}

type heapShowCmd struct {
	Name string `arg:"" optional:"" help:"A heap's name; default: all."`
}

func (heapShowCmd) example() string { return "kailyard heap 'by the fence'" }

// withHeap opens the book and finds a heap by its name; the only one where no name is given.
func (e *env) withHeap(ctx context.Context, name string, readOnly bool, do func(*book.Book, garden.Garden, garden.Heap) error) error {
	b, err := e.open(ctx, readOnly)
	if err != nil {
		return err
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	var names []string
	for _, h := range g.Heaps {
		if strings.EqualFold(strings.TrimSpace(h.Name), strings.TrimSpace(name)) {
			return do(b, g, h)
		}
		names = append(names, h.Name)
	}
	if len(names) == 0 {
		return fmt.Errorf("there is no heap yet; begin one with `kailyard heap start NAME`")
	}
	return fmt.Errorf("there is no heap %q; the heaps are %s", name, strings.Join(names, ", "))
}

// Run prints the heaps.
func (c *heapShowCmd) Run(ctx context.Context, e *env) error {
	if c.Name != "" {
		return e.withHeap(ctx, c.Name, true, func(_ *book.Book, g garden.Garden, h garden.Heap) error {
			return e.printHeaps(g, []garden.Heap{h})
		})
	}
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	return e.printHeaps(g, g.Heaps)
}

func (e *env) printHeaps(g garden.Garden, heaps []garden.Heap) error {
	list := []heapJSON{}
	for _, h := range heaps {
		list = append(list, heapOf(h, soil.HeapOn(h, e.clock(), g.Site.Units)))
	}
	if e.json {
		return e.printJSON(list)
	}
	if len(list) == 0 {
		e.printf("No heap yet. See what makes a good one with `kailyard heap mix`, and begin it with `kailyard heap start`.\n")
	}
	for i, v := range list {
		e.printf("%s · %s · begun %s, %s, turned %s\n", v.Name, v.Stage, v.Started.Long(), counted(v.Days, "day"), counted(v.Turnings, "time"))
		for _, p := range heaps[i].Put {
			name := p.Feedstock
			if f, ok := soil.FindFeedstock(p.Feedstock); ok {
				name = f.Name
			}
			e.printf("    %-28s %s\n", name, soil.Bulk(p.Volume, g.Site.Units))
		}
		for _, l := range heaps[i].Log {
			heat := ""
			if l.Celsius != nil {
				heat = g.Site.Units.Temperature(*l.Celsius)
			}
			e.printf("%s\n", strings.TrimRight(fmt.Sprintf("    %-15s  %-8s %-8s %s", l.Date.Long(), l.Kind, heat, l.Text), " "))
		}
		if v.Next != "" {
			e.printf("%s\n", wrapped(v.Next, "  ", 92))
		}
		for _, r := range v.Reasons {
			e.printf("%s\n", wrapped("• "+r.Says, "  ", 92))
		}
	}
	return nil
}

func heapOf(h garden.Heap, s soil.HeapState) heapJSON {
	v := heapJSON{Name: h.Name, Started: h.Started, Emptied: h.Emptied, Put: []heapPartJSON{}, Log: []heapLogJSON{}, Stage: string(s.Stage), Days: s.Days, Turnings: s.Turnings,
		KillDays: s.KillDays, Killed: s.Killed, Raw: s.Raw, Fit: s.Fit, Next: s.Next, Reasons: orEmpty(s.Reasons), LatestC: celsius(s.Latest), HottestC: celsius(s.Hottest)}
	for _, p := range h.Put {
		v.Put = append(v.Put, heapPartJSON{p.Feedstock, float64(p.Volume), p.Moisture})
	}
	for _, l := range h.Log {
		v.Log = append(v.Log, heapLogJSON{l.Date, string(l.Kind), celsius(l.Celsius), l.Text})
	}
	return v
}

func celsius(c *quantity.Celsius) *float64 {
	if c == nil {
		return nil
	}
	v := float64(*c)
	return &v
}

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
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
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

type heapStartCmd struct {
	Name string    `arg:"" help:"What you call it."`
	Part []string  `arg:"" optional:"" help:"What went in, each with its volume: 'leaves 200 L'."`
	On   civilFlag `help:"The day; default: today." placeholder:"DATE"`
	Note string    `help:"In your own words." placeholder:"TEXT"`
}

func (heapStartCmd) example() string {
	return "kailyard heap start 'by the fence' 'leaves 400 L' 'grass-clippings 200 L'"
}

// Run begins a heap.
func (c *heapStartCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, false)
	if err != nil {
		return err
	}
	defer b.Close()
	g, err := b.Garden(ctx)
	if err != nil {
		return err
	}
	for _, h := range g.Heaps {
		if strings.EqualFold(h.Name, c.Name) {
			return fmt.Errorf("there is a heap %q already; put more on it with `kailyard heap put`, or choose another name", h.Name)
		}
	}
	h := garden.Heap{Name: c.Name, Started: dayOf(e, c.On), Note: c.Note}
	if h.Put, err = heapParts(c.Part, g.Site.Soil); err != nil {
		return err
	}
	if _, err := b.AddHeap(ctx, h); err != nil {
		return err
	}
	e.printf("Begun: %s, on %s.\n", h.Name, h.Started.Long())
	return nil
}

// dayOf is the day a flag names, else today.
func dayOf(e *env, f civilFlag) civil.Date {
	if f.set {
		return f.date
	}
	return e.clock()
}

type heapPutCmd struct {
	Name string    `arg:"" help:"The heap's name."`
	Part []string  `arg:"" help:"What went in, each with its volume: 'leaves 200 L'."`
	On   civilFlag `help:"The day; default: today." placeholder:"DATE"`
}

func (heapPutCmd) example() string { return "kailyard heap put 'by the fence' 'kitchen-scraps 10 L'" }

// Run puts more on a heap.
func (c *heapPutCmd) Run(ctx context.Context, e *env) error {
	return e.withHeap(ctx, c.Name, false, func(b *book.Book, g garden.Garden, h garden.Heap) error {
		parts, err := heapParts(c.Part, g.Site.Soil)
		if err != nil {
			return err
		}
		var said []string
		for _, p := range parts {
			said = append(said, soil.Bulk(p.Volume, g.Site.Units)+" of "+p.Feedstock)
			h.Put = append(h.Put, p)
		}
		entry := garden.HeapEntry{Date: dayOf(e, c.On), Kind: garden.HeapAdded, Text: strings.Join(said, ", ")}
		if entry.Date < h.Started {
			return fmt.Errorf("%s is before the heap was begun, on %s; check both days", entry.Date.Long(), h.Started.Long())
		}
		if err := b.SaveHeap(ctx, h); err != nil {
			return err
		}
		if err := b.AppendHeap(ctx, h.ID, entry); err != nil {
			return err
		}
		e.printf("Put on %s: %s.\n", h.Name, entry.Text)
		return nil
	})
}

type heapHeatCmd struct {
	Name        string    `arg:"" help:"The heap's name."`
	Temperature string    `arg:"" help:"What the thermometer in its middle showed, with its unit: '58 °C', '136 F'."`
	On          civilFlag `help:"The day; default: today." placeholder:"DATE"`
	Note        string    `help:"In your own words." placeholder:"TEXT"`
}

func (heapHeatCmd) example() string { return "kailyard heap heat 'by the fence' '136 °F'" }

// Run writes a reading of heat.
func (c *heapHeatCmd) Run(ctx context.Context, e *env) error {
	return e.withHeap(ctx, c.Name, false, func(b *book.Book, g garden.Garden, h garden.Heap) error {
		warm, err := quantity.ParseTemperature(c.Temperature, g.Site.Units)
		if err != nil {
			return usageError{err.Error()}
		}
		return e.appendHeap(ctx, b, g, h, garden.HeapEntry{Date: dayOf(e, c.On), Kind: garden.HeapHeat, Celsius: &warm, Text: c.Note})
	})
}

type heapLogCmd struct {
	Name string    `arg:"" help:"The heap's name."`
	Kind string    `arg:"" help:"turned, wetted, checked or emptied." enum:"turned,wetted,checked,emptied"`
	On   civilFlag `help:"The day; default: today." placeholder:"DATE"`
	Note string    `help:"In your own words." placeholder:"TEXT"`
}

func (heapLogCmd) example() string { return "kailyard heap log 'by the fence' turned" }

// Run writes what was done to a heap.
func (c *heapLogCmd) Run(ctx context.Context, e *env) error {
	return e.withHeap(ctx, c.Name, false, func(b *book.Book, g garden.Garden, h garden.Heap) error {
		day := dayOf(e, c.On)
		if c.Kind == "emptied" {
			h.Emptied = &day
			if err := b.SaveHeap(ctx, h); err != nil {
				return err
			}
			e.printf("Written: %s, emptied on %s. Say where it went with `kailyard soil put compost AMOUNT BED`.\n", h.Name, day.Long())
			return nil
		}
		return e.appendHeap(ctx, b, g, h, garden.HeapEntry{Date: day, Kind: garden.HeapKind(c.Kind), Text: c.Note})
	})
}

// appendHeap writes into a heap's log and says how the heap stands.
func (e *env) appendHeap(ctx context.Context, b *book.Book, g garden.Garden, h garden.Heap, entry garden.HeapEntry) error {
	if entry.Date > e.clock() {
		return usageError{fmt.Sprintf("--on %s: the day is still to come; the log tells what has happened", entry.Date)}
	}
	if err := b.AppendHeap(ctx, h.ID, entry); err != nil {
		return err
	}
	h.Log = append(h.Log, entry)
	s := soil.HeapOn(h, e.clock(), g.Site.Units)
	e.printf("Written: %s, %s on %s. It is %s.\n", h.Name, entry.Kind, entry.Date.Long(), s.Stage)
	if s.Next != "" {
		e.printf("%s\n", wrapped(s.Next, "  ", 92))
	}
	return nil
}
