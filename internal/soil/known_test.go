package soil

import (
	"strings"
	"testing"

	"kailyard/internal/garden"
)

func TestUnknownMaterials(t *testing.T) {
	if CheckMaterial("limestone-ground", nil) != nil || CheckPackage(garden.Package{Material: "compost", Volume: 40}) != nil {
		t.Error("a known material is refused")
	}
	ps := CheckMaterial("ground-limestone", nil)
	if len(ps) != 1 || !strings.Contains(ps[0].Remedy, "limestone-ground") {
		t.Errorf("%v", ps)
	}
	five, ten := 5.0, 10.0
	own := garden.Package{Material: "my-blend", Mass: 10, N: &five, P2O5: &ten, K2O: &five}
	if CheckPackage(own) != nil || CheckMaterial("my-blend", []garden.Package{own}) != nil {
		t.Error("a labelled product is refused")
	}
	own.N = nil
	if ps := CheckPackage(own); len(ps) != 1 || !strings.Contains(ps[0].Says, "no label analysis") {
		t.Errorf("%v", ps)
	}
	heap := garden.Heap{Put: []garden.HeapPart{{Feedstock: "leaves"}, {Feedstock: "gold"}}}
	if ps := CheckHeap(heap); len(ps) != 1 || ps[0].Field != "feedstock" {
		t.Errorf("%v", ps)
	}
}
