package garden

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/quantity"
)

// Laws of a strip: each place takes the share of the line that its ground is of the bed, on the line,
// and two that share no ground share no part of it.
func TestLawsOfTheStrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) quantity.Metre { return quantity.Metre(rapid.IntRange(3, 120).Draw(t, name)) / 10 }
		b := Bed{ID: 1, Name: "Bed", Length: side("length"), Width: side("width"), Bearing: float64(rapid.IntRange(0, 179).Draw(t, "bearing"))}
		var list []Place
		tenth := rapid.IntRange(0, 9)
		for range rapid.IntRange(1, 8).Draw(t, "places") {
			a, c := tenth.Draw(t, "along"), tenth.Draw(t, "across")
			at := func(whole quantity.Metre, n int) quantity.Metre { return whole * quantity.Metre(n) / 10 }
			list = append(list, Place{
				AlongFrom: at(b.Length, a), AlongTo: at(b.Length, rapid.IntRange(a+1, 10).Draw(t, "to")),
				AcrossFrom: at(b.Width, c), AcrossTo: at(b.Width, rapid.IntRange(c+1, 10).Draw(t, "to")),
			})
		}
		s := LayStrip(b, list)
		for i, p := range list {
			sum := 0.0
			for _, on := range s.Parts(p) {
				sum += on.Long() / s.Length
				if on.From < -1e-9 || on.To > s.Length+1e-9 {
					t.Fatalf("%v lies off the line of %v m", on, s.Length)
				}
				for _, o := range list[:i] {
					for _, other := range s.Parts(o) {
						if on.Meets(other) && !p.Meets(o) {
							t.Fatalf("%+v and %+v meet on the line and not on the ground", p, o)
						}
					}
				}
			}
			slack := SameEdge * 4 / float64(min(b.Length, b.Width)) // edges nearer than that are one
			if want := float64(p.Area() / b.Area()); math.Abs(sum-want) > slack {
				t.Fatalf("%+v of %g × %g takes %.3f of the line, want %.3f", p, b.Length, b.Width, sum, want)
			}
		}
	})
}

// The words for a bed's ends are those of the compass.
func TestTheEndsOfABed(t *testing.T) {
	for _, c := range []struct {
		bearing     float64
		width       bool
		first, last string
	}{{90, false, "west", "east"}, {90, true, "south", "north"}, {0, false, "south", "north"}, {0, true, "west", "east"}, {30, false, "south", "north"}, {150, true, "west", "east"}} {
		first, last := Bed{Length: 4, Width: 1, Bearing: c.bearing}.Compass(c.width)
		if first != c.first || last != c.last {
			t.Errorf("bearing %g, width %v: %s to %s, want %s to %s", c.bearing, c.width, first, last, c.first, c.last)
		}
	}
}
