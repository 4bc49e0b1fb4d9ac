package crop_test

import (
	"testing"

	"kailyard/internal/crop"
)

// Each way of counting counts every figure once, and the list holds each once, worst first.
func TestTalliesAgree(t *testing.T) {
	c := crop.Default()
	whole, figures := c.Tally(), 0
	for _, each := range c.All() {
		figures += len(each.Figures)
	}
	if whole.All != figures {
		t.Errorf("%d figures are counted, the crops have %d", whole.All, figures)
	}
	for name, list := range map[string][]crop.Tally{"fields": c.FieldTallies(), "crops": c.CropTallies()} {
		sum := map[crop.Quality]int{}
		for i, each := range list {
			n := 0
			for q, count := range each.Count {
				sum[q] += count
				n += count
			}
			if n != each.All {
				t.Errorf("%s: %s has %d figures and counts %d", name, each.Name, each.All, n)
			}
			if i > 0 && list[i-1].Moves == each.Moves && list[i-1].Share(crop.FromMemory) < each.Share(crop.FromMemory) {
				t.Errorf("%s: %s stands behind %s", name, each.Name, list[i-1].Name)
			}
		}
		for _, q := range crop.Qualities() {
			if sum[q] != whole.Count[q] {
				t.Errorf("%s: %d %s, the whole has %d", name, sum[q], q, whole.Count[q])
			}
		}
	}
	order := map[crop.Quality]int{}
	for i, q := range crop.Qualities() {
		order[q] = i
	}
	list, seen := c.Weakest(), map[[2]string]bool{}
	if len(list) != figures {
		t.Errorf("the list has %d figures", len(list))
	}
	for i, f := range list {
		key := [2]string{f.Crop.ID, f.Field}
		if seen[key] {
			t.Errorf("%s of %s stands there twice", f.Field, f.Crop.ID)
		}
		seen[key] = true
		if i > 0 && order[f.Quality] > order[list[i-1].Quality] {
			t.Errorf("%s of %s stands behind a better one", f.Field, f.Crop.ID)
		}
	}
}

func TestWhatAFigureMoves(t *testing.T) {
	for field, want := range map[string]string{
		"method.1.days": "dates", "hardiness.seedling": "dates", "harvest.span": "dates", "harvest.yield": "amounts",
		"seed.count": "amounts", "plant.spread": "room", "ph.range": "advice", "method.2.depth": "advice",
	} {
		if got := crop.Moves(field); got != want {
			t.Errorf("%s moves %s, want %s", field, got, want)
		}
	}
}
