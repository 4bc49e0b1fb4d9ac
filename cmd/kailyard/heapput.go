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
	return e.withGarden(ctx, changing, func(b *book.Book, g garden.Garden) error {
		for _, h := range g.Heaps {
			if strings.EqualFold(h.Name, c.Name) {
				return fmt.Errorf("there is a heap %q already; put more on it with `kailyard heap put`, or choose another name", h.Name)
			}
		}
		put, err := heapParts(c.Part, g.Site.Soil)
		if err != nil {
			return err
		}
		h := garden.Heap{Name: c.Name, Started: dayOf(e, c.On), Note: c.Note, Put: put}
		if _, err := b.AddHeap(ctx, h); err != nil {
			return err
		}
		e.printf("Begun: %s, on %s.\n", h.Name, h.Started.Long())
		return nil
	})
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
			e.printf("Written: %s, emptied on %s. Say where it went with `kailyard soil put compost AMOUNT BED --heap '%s'`.\n", h.Name, day.Long(), h.Name)
			if soil.HeapOn(h, day, g.Site.Units).Raw {
				e.printf("%s\n", wrapped(fmt.Sprintf("! There was manure in it and it was not hot for long enough: what came out counts as raw manure, %d days before the harvest of what touches the soil and %d of anything else.", soil.DaysTouching, soil.DaysClear), "  ", 92))
			}
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
