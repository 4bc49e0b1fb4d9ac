package garden

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/quantity"
)

// A bed of 4 m × 1 m turned through a right angle about its own middle shares the square metre
// in the middle with itself; half a metre east of it the further part of that.
func TestTheGroundTwoBedsShare(t *testing.T) {
	along := Bed{Length: 4, Width: 1, X: 10, Y: 10, Bearing: 0}
	for _, c := range []struct {
		name  string
		other Bed
		place Place
		want  Place
		ok    bool
	}{
		{"itself", along, Place{}, along.Whole(), true},
		{"a part of itself", along, Place{AlongFrom: 1, AlongTo: 2, AcrossTo: 0.5}, Place{AlongFrom: 1, AlongTo: 2, AcrossTo: 0.5}, true},
		{"crossed", Bed{Length: 4, Width: 1, X: 10, Y: 10, Bearing: 90}, Place{}, Place{AlongFrom: 1.5, AlongTo: 2.5, AcrossTo: 1}, true},
		{"half a metre east", Bed{Length: 4, Width: 1, X: 10.5, Y: 10}, Place{}, Place{AlongTo: 4, AcrossFrom: 0.5, AcrossTo: 1}, true},
		{"beside it", Bed{Length: 4, Width: 1, X: 11, Y: 10}, Place{}, Place{}, false},
		{"placed nowhere", Bed{Length: 400, Width: 400}, Place{}, Place{}, false},
	} {
		got, ok := along.Under(c.other, c.place)
		off := max(math.Abs(float64(got.AlongFrom-c.want.AlongFrom)), math.Abs(float64(got.AlongTo-c.want.AlongTo)),
			math.Abs(float64(got.AcrossFrom-c.want.AcrossFrom)), math.Abs(float64(got.AcrossTo-c.want.AcrossTo)))
		if ok != c.ok || (ok && off > 1e-9) {
			t.Errorf("%s: %+v, %v; want %+v, %v", c.name, got, ok, c.want, c.ok)
		}
	}
}

// Beds share ground through Under just when they overlap by more than a sliver.
func TestSharedGroundMeansOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bed := func(name string) Bed {
			n := func(what string, low, high int) quantity.Metre {
				return quantity.Metre(rapid.IntRange(low, high).Draw(t, name+" "+what)) / 10
			}
			return Bed{Length: n("length", 3, 80), Width: n("width", 3, 30), X: n("x", 1, 100), Y: n("y", 1, 100), Bearing: float64(rapid.IntRange(0, 179).Draw(t, name+" bearing"))}
		}
		a, b := bed("one"), bed("other")
		if at, ok := a.Under(b, Place{}); ok && (!a.Overlaps(b) || !a.Holds(at)) {
			t.Fatalf("%+v of %+v under %+v", at, a, b)
		}
		if a.Overlaps(b) != b.Overlaps(a) {
			t.Fatal("one overlaps the other and not the other way round")
		}
	})
}
