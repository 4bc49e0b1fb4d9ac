package web

import (
	"context"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The soil of the storybook's shelf.

func (s *shelf) AddTest(_ context.Context, t garden.SoilTest) (int64, error) {
	if err := t.Validate().Err(); err != nil {
		return 0, err
	}
	t.ID = s.id()
	s.g.Tests = append(slices.Clone(s.g.Tests), t)
	return t.ID, s.broken
}

func (s *shelf) WithdrawTest(_ context.Context, id int64) error {
	n := len(s.g.Tests)
	s.g.Tests = slices.DeleteFunc(slices.Clone(s.g.Tests), func(t garden.SoilTest) bool { return t.ID == id })
	if len(s.g.Tests) == n {
		return fmt.Errorf("no test %d", id)
	}
	return s.broken
}

func (s *shelf) WithdrawTreatment(_ context.Context, entry int64) error {
	n := len(s.g.Treatments)
	s.g.Treatments = slices.DeleteFunc(slices.Clone(s.g.Treatments), func(t garden.Treatment) bool { return t.EntryID == entry })
	if len(s.g.Treatments) == n {
		return fmt.Errorf("no treatment %d", entry)
	}
	return s.broken
}

func (s *shelf) AddPackage(_ context.Context, p garden.Package) (int64, error) {
	if err := p.Validate().Err(); err != nil {
		return 0, err
	}
	p.ID = s.id()
	s.g.Packages = append(slices.Clone(s.g.Packages), p)
	return p.ID, s.broken
}

func (s *shelf) SavePackage(_ context.Context, p garden.Package) error {
	s.g.Packages = slices.Clone(s.g.Packages)
	for i := range s.g.Packages {
		if s.g.Packages[i].ID == p.ID {
			s.g.Packages[i] = p
			return s.broken
		}
	}
	return fmt.Errorf("no package %d", p.ID)
}

func (s *shelf) RemovePackage(_ context.Context, id int64) error {
	s.g.Packages = slices.DeleteFunc(slices.Clone(s.g.Packages), func(p garden.Package) bool { return p.ID == id })
	return s.broken
}

func (s *shelf) AddHeap(_ context.Context, h garden.Heap) (int64, error) {
	if err := h.Validate().Err(); err != nil {
		return 0, err
	}
	h.ID = s.id()
	s.g.Heaps = append(slices.Clone(s.g.Heaps), h)
	return h.ID, s.broken
}

func (s *shelf) SaveHeap(_ context.Context, h garden.Heap) error {
	s.g.Heaps = slices.Clone(s.g.Heaps)
	for i := range s.g.Heaps {
		if s.g.Heaps[i].ID == h.ID {
			h.Log = s.g.Heaps[i].Log
			s.g.Heaps[i] = h
			return s.broken
		}
	}
	return fmt.Errorf("no heap %d", h.ID)
}

func (s *shelf) AppendHeap(_ context.Context, id int64, e garden.HeapEntry) error {
	if err := e.Validate().Err(); err != nil {
		return err
	}
	s.g.Heaps = slices.Clone(s.g.Heaps)
	for i := range s.g.Heaps {
		if s.g.Heaps[i].ID == id {
			s.g.Heaps[i].Log = append(slices.Clone(s.g.Heaps[i].Log), e)
			return s.broken
		}
	}
	return fmt.Errorf("no heap %d", id)
}

func (s *shelf) RemoveHeap(_ context.Context, id int64) error {
	s.g.Heaps = slices.DeleteFunc(slices.Clone(s.g.Heaps), func(h garden.Heap) bool { return h.ID == id })
	return s.broken
}

// storySoilPaths show every page about the ground.
func storySoilPaths() []string {
	paths := []string{"/soil", "/soil/facts", "/soil/tests", "/soil/tests?bed=2", "/soil/test/kit", "/soil/test/report?bed=3", "/soil/shopping", "/soil/package/new", "/soil/package/new?material=compost", "/soil/package/2", "/soil/heaps", "/soil/heap/1", "/soil/heap/2", "/soil/heap/3", "/soil/heap/new", "/soil/heap/1/change",
		"/soil/heaps/recipe", "/soil/heaps/recipe?put-leaves=200+L&put-grass-clippings=80+L&put-kitchen-scraps=30+L", "/soil/heaps/recipe?put-leaves=200+L", "/soil/dig", "/soil/bed/3/facts", "/soil/bed/1?put=limestone-ground&amount=2+kg&depth=18+cm"}
	for id := 1; id <= 9; id++ {
		paths = append(paths, fmt.Sprintf("/soil/bed/%d", id))
	}
	return paths
}

// storySoil tells of the ground: a bed that is sour, one that is limy, one with lead, one under grass, some never tested.
func storySoil(g *garden.Garden) {
	figure := func(v float64) *float64 { return &v }
	g.Site.Soil = garden.Soil{Texture: garden.Loam, Topsoil: .25, Bucket: 10}
	g.Beds[0].Soil.Texture = garden.SandyLoam
	g.Beds[6].Soil = garden.Soil{State: garden.Sod, Topsoil: .3}
	g.Beds[7].Soil.Texture = garden.ClayLoam
	day := civil.Of(2027, 4, 12)
	g.Tests = []garden.SoilTest{
		{ID: 1, Date: civil.Of(2022, 3, 30), Beds: []int64{1}, PH: figure(6.4), Lab: "the county's laboratory"},
		{ID: 2, Date: day, Beds: []int64{1, 4}, PH: figure(5.6), Buffer: figure(6.5), Method: garden.SMP, Organic: figure(3.1), CEC: figure(11), Lab: "the county's laboratory", Elements: []garden.Reading{
			{Element: garden.Phosphorus, Value: 52, Unit: garden.PPM, Extractor: garden.Bray1}, {Element: garden.Potassium, Value: 78, Unit: garden.PPM, Extractor: garden.Mehlich3}, {Element: garden.Magnesium, Value: 40, Unit: garden.PoundPerAcre, Extractor: garden.Mehlich3},
		}},
		{ID: 3, Date: day, Beds: []int64{2, 3}, Kit: true, PH: figure(6.5), Note: "the colour was between two fields of the card", Elements: []garden.Reading{{Element: garden.Phosphorus, Class: garden.High, Extractor: garden.HomeKit}, {Element: garden.Potassium, Class: garden.Low, Extractor: garden.HomeKit}}},
		{ID: 4, Date: civil.Of(2026, 9, 20), Beds: []int64{8}, PH: figure(7.9), Lead: figure(340), FreeLime: func() *bool { yes := true; return &yes }(), Lab: "the county's laboratory", Note: "by the old painted fence"},
		{ID: 5, Date: civil.Of(2026, 9, 20), Beds: []int64{5}, PH: figure(7.3), Salts: figure(.9), SaltsBy: garden.OneToTwo},
	}
	put := func(id int64, day civil.Date, bed int64, material string, amount quantity.Kilogram, volume quantity.Litre, depth quantity.Metre) {
		g.Treatments = append(g.Treatments, garden.Treatment{EntryID: id, Date: day, BedID: bed, Material: material, Amount: amount, Volume: volume, Depth: depth})
	}
	put(901, civil.Of(2022, 10, 8), 1, "limestone-ground", 3, 0, .18)
	put(902, civil.Of(2023, 4, 20), 1, "compost", 0, 170, .15)
	put(903, civil.Of(2024, 4, 18), 1, "blend-5-10-10", 1.4, 0, .1)
	put(904, civil.Of(2025, 10, 30), 1, "manure-cattle-composted", 0, 250, .2)
	put(905, civil.Of(2026, 5, 2), 1, "sulfur-ground", .3, 0, .1)
	put(906, civil.Of(2027, 5, 20), 3, "manure-horse-fresh", 0, 120, .2)
	put(907, civil.Of(2026, 10, 12), 2, "compost", 0, 100, 0)
	g.Packages = []garden.Package{
		{ID: 1, Material: "limestone-ground", Mass: 20, Price: 6.5},
		{ID: 2, Material: "limestone-ground", Name: "the small sack of lime", Mass: 5, Price: 2.75, CCE: figure(95), Fineness: figure(80)},
		{ID: 3, Material: "blend-5-10-10", Mass: 10, Price: 14}, {ID: 4, Material: "blood-meal", Mass: 2.5, Price: 11.5}, {ID: 5, Material: "potassium-sulfate", Mass: 5, Price: 16}, {ID: 6, Material: "own-pellets", Name: "pellets of the mill", Mass: 12, Price: 15, N: figure(4), P2O5: figure(3), K2O: figure(3)},
	}
	heat := func(day int, celsius quantity.Celsius) garden.HeapEntry {
		return garden.HeapEntry{Date: civil.Of(2027, 4, 10).Add(day), Kind: garden.HeapHeat, Celsius: &celsius}
	}
	turned := func(day int) garden.HeapEntry {
		return garden.HeapEntry{Date: civil.Of(2027, 4, 10).Add(day), Kind: garden.HeapTurned, Text: "outside in"}
	}
	emptied := civil.Of(2026, 10, 12)
	g.Heaps = []garden.Heap{
		{ID: 1, Name: "By the gate", Started: civil.Of(2027, 4, 10), Put: []garden.HeapPart{{Feedstock: "leaves", Volume: 500}, {Feedstock: "manure-horse-fresh", Volume: 200}, {Feedstock: "kitchen-scraps", Volume: 60}},
			Log: []garden.HeapEntry{heat(3, 41), heat(5, 56), heat(7, 62), heat(9, 64), turned(10), heat(12, 60), heat(15, 61), turned(16), heat(19, 58), turned(23), heat(24, 57), heat(27, 55), turned(30), heat(33, 46), heat(40, 34)}},
		{ID: 2, Name: "Behind the shed", Started: civil.Of(2027, 6, 5), Put: []garden.HeapPart{{Feedstock: "grass-clippings", Volume: 120}}},
		{ID: 3, Name: "Last year's", Started: civil.Of(2025, 10, 1), Emptied: &emptied, Log: []garden.HeapEntry{{Date: civil.Of(2026, 3, 2), Kind: garden.HeapTurned}}},
	}
}
