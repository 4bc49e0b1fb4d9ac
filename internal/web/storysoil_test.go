package web

import (
	"context"
	"fmt"
	"slices"

	"kailyard/internal/garden"
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
