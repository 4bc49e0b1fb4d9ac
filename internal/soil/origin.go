package soil

import (
	"fmt"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// RawCompost is what a heap with raw manure gives that was never hot for long enough: it stands in the record as raw manure.
const RawCompost = "compost-raw"

// heapKept is how long what came out of an emptied heap may still lie about, days; common practice.
const heapKept = 366

// RotsAtHome says whether a material may have come out of a heap of the person's own: compost, and manure that was composted.
func RotsAtHome(material string) bool {
	m, ok := Find(material)
	return ok && !m.Raw && m.Family == Organic && (material == "compost" || strings.HasSuffix(material, "-composted"))
}

// rawOn says whether what a heap held on a day counts as raw manure; what was read after it was emptied does not count.
func rawOn(h garden.Heap, day civil.Date) bool {
	if h.Emptied != nil {
		day = min(day, *h.Emptied)
	}
	return HeapOn(h, day, 0).Raw
}

// RawHeaps are the heaps that hold, or gave within a year before the day, what counts as raw manure.
func RawHeaps(heaps []garden.Heap, day civil.Date) []garden.Heap {
	var all []garden.Heap
	for _, h := range heaps {
		if h.Started <= day && (h.Emptied == nil || day.Since(*h.Emptied) <= heapKept) && rawOn(h, day) {
			all = append(all, h)
		}
	}
	return all
}

// Origin is where compost came from, as the person tells it.
type Origin struct {
	Heap   string // name of a heap of their own; empty: not told
	Bought bool
}

// PutAs is the material that a treatment stands as: compost out of a heap that held manure and was not hot for long enough stands as raw manure.
// While such a heap is about, compost whose origin is not told is refused, because the days before harvest hang on it.
//
// Source: NOP-203
func PutAs(material string, o Origin, heaps []garden.Heap, day civil.Date) (string, garden.Problems) {
	if !RotsAtHome(material) {
		if o.Heap != "" && material != RawCompost {
			return material, garden.Problems{{Field: "heap", Says: "only compost and composted manure come out of a heap", Remedy: "leave the heap out"}}
		}
		return material, nil
	}
	if o.Heap != "" {
		var names []string
		for _, h := range heaps {
			if strings.EqualFold(strings.TrimSpace(h.Name), strings.TrimSpace(o.Heap)) {
				if rawOn(h, day) {
					return RawCompost, nil
				}
				return material, nil
			}
			names = append(names, h.Name)
		}
		return material, garden.Problems{{Field: "heap", Says: fmt.Sprintf("there is no heap %q", o.Heap), Remedy: "name one that there is: " + strings.Join(names, ", ")}}
	}
	raw := RawHeaps(heaps, day)
	if len(raw) == 0 || o.Bought {
		return material, nil
	}
	return material, garden.Problems{{
		Field:  "heap",
		Says:   fmt.Sprintf("%s holds manure and was not hot for long enough, so what comes out of it counts as raw manure, and it is not said whether this is from there", raw[0].Name),
		Remedy: "name the heap it came out of, or say that it was bought (in the shell: --heap NAME or --bought)",
	}}
}
