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
	return e.withGarden(ctx, readOnly, func(b *book.Book, g garden.Garden) error {
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
	})
}

// Run prints the heaps.
func (c *heapShowCmd) Run(ctx context.Context, e *env) error {
	if c.Name != "" {
		return e.withHeap(ctx, c.Name, true, func(_ *book.Book, g garden.Garden, h garden.Heap) error {
			return e.printHeaps(g, []garden.Heap{h})
		})
	}
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		return e.printHeaps(g, g.Heaps)
	})
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
