package work

import (
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// TestRowsAmongSlowOnes: rows set between a slow crop's rows lie as far apart as those rows do. Two
// rows of radish between three of onions 40 cm apart in a bed 1.2 m wide are 40 cm apart, not 60.
func TestRowsAmongSlowOnes(t *testing.T) {
	place := garden.Place{AlongTo: 3, AcrossTo: 1.2}
	slow := &garden.Planting{Key: "a", BedID: 1, Rows: 3, Place: place, Role: garden.Slow, Partner: "b"}
	fast := &garden.Planting{Key: "b", BedID: 1, Rows: 2, Place: place, Role: garden.Fast, Partner: "a"}
	d := &desk{
		crops: map[string]*crop.Crop{}, beds: map[int64]*garden.Bed{1: {ID: 1, Length: 3, Width: 1.2}},
		byKey: map[string]*garden.Planting{"a": slow, "b": fast},
	}
	for _, p := range []*garden.Planting{slow, fast} {
		if got := float64(d.apart(p)); got < 0.399 || got > 0.401 {
			t.Errorf("%s: rows %.2f m apart, want 0.40", p.Key, got)
		}
	}
}
