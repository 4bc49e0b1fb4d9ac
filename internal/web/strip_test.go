package web

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// Laws of the picture: plantings that never share ground never share the axis, and a patch takes the
// share of the axis that its ground is of the bed.
func TestPatchesKeepApartAndInProportion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bed := garden.Bed{ID: 1, Name: "Bed", Length: 6, Width: 1.8}
		var list []*garden.Planting
		for i := range rapid.IntRange(1, 9).Draw(t, "plantings") {
			a := rapid.IntRange(0, 11).Draw(t, "from")
			b := rapid.IntRange(a+1, 12).Draw(t, "to")
			c := rapid.IntRange(0, 2).Draw(t, "lane from")
			d := rapid.IntRange(c+1, 3).Draw(t, "lane to")
			start := civil.Of(2027, 3, 1).Add(rapid.IntRange(0, 150).Draw(t, "start"))
			p := &garden.Planting{
				Key: fmt.Sprint(i), BedID: 1, Start: start, Clear: start.Add(rapid.IntRange(20, 120).Draw(t, "days")),
				Place: garden.Place{AlongFrom: metres(.5 * float64(a)), AlongTo: metres(.5 * float64(b)), AcrossFrom: metres(.6 * float64(c)), AcrossTo: metres(.6 * float64(d))},
			}
			free := true
			for _, o := range list {
				free = free && !(o.Place.Meets(p.Place) && o.Span().Meets(p.Span()))
			}
			if free {
				list = append(list, p)
			}
		}
		s := layStrip(bed, list)
		for i, q := range s.patches {
			long := 0.0
			for _, a := range q.parts {
				long += a.long()
				if a.from < -1e-9 || a.to > s.length+1e-9 {
					t.Fatalf("a part %v lies off the axis of %v m", a, s.length)
				}
			}
			if math.Abs(long/s.length-float64(q.p.Place.Area()/bed.Area())) > 1e-6 {
				t.Fatalf("planting %s takes %.4f of the axis and %.4f of the bed", q.p.Key, long/s.length, q.p.Place.Area()/bed.Area())
			}
			for _, o := range s.patches[i+1:] {
				if !q.p.Span().Meets(o.p.Span()) {
					continue
				}
				for _, a := range q.parts {
					for _, b := range o.parts {
						if a.meets(b) {
							t.Fatalf("plantings %s %v and %s %v lie over one another", q.p.Key, q.p.Place, o.p.Key, o.p.Place)
						}
					}
				}
			}
		}
	})
}
