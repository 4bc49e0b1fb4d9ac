package soil

import (
	"strings"
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// A heap wants 45 to 60 per cent of water (CORNELL-CN; COOPERBAND): one of wet stuff alone is said to be too wet, not to need no more.
func TestAWetHeapIsSaidToBeTooWet(t *testing.T) {
	h, err := MixHeap([]garden.HeapPart{{Feedstock: "kitchen-scraps", Volume: 400}, {Feedstock: "grass-clippings", Volume: 400}}, quantity.Metric)
	if err != nil || h.Moisture < 64 {
		t.Fatalf("%v %% water: %v", h.Moisture, err)
	}
	for _, r := range h.Reasons {
		if r.Rule == "moisture" && (!strings.Contains(r.Says, "too wet") || strings.Contains(r.Says, "no more is needed")) {
			t.Error(r.Says)
		}
	}
}
