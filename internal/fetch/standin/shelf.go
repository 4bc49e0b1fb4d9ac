package standin

import (
	"context"
	"errors"
	"slices"
	"sync"

	"kailyard/internal/weather"
)

// Shelf keeps years and an errand in memory, as the garden book does in its file.
type Shelf struct {
	mu     sync.Mutex
	pieces []weather.Piece
	errand *weather.Errand
	held   map[string]bool
	fail   error
}

// Fail makes every keeping fail from now on; nil makes it work.
func (s *Shelf) Fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fail = err
}

// All is everything kept.
func (s *Shelf) All() []weather.Piece {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.pieces)
}

// Pieces are the years of a service and a place.
func (s *Shelf) Pieces(_ context.Context, service, place string) ([]weather.Piece, error) {
	return slices.DeleteFunc(s.All(), func(p weather.Piece) bool { return p.Service != service || p.Place != place }), nil
}

// KeepPiece keeps a year in the place of the one before.
func (s *Shelf) KeepPiece(ctx context.Context, p weather.Piece) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fail != nil {
		return s.fail
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	s.pieces = slices.DeleteFunc(s.pieces, func(o weather.Piece) bool {
		return o.Service == p.Service && o.Place == p.Place && o.Year == p.Year
	})
	s.pieces = append(s.pieces, p)
	return nil
}

// Errand is the errand kept.
func (s *Shelf) Errand(context.Context) (*weather.Errand, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.errand, nil
}

// KeepErrand keeps an errand, nil for none.
func (s *Shelf) KeepErrand(_ context.Context, e *weather.Errand) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fail != nil {
		return s.fail
	}
	s.errand = e
	return nil
}

// Reserve keeps a service for one fetch.
func (s *Shelf) Reserve(service, name string) (func(), error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.held[service] {
		return nil, errors.New("another program is fetching from " + name)
	}
	if s.held == nil {
		s.held = map[string]bool{}
	}
	s.held[service] = true
	return func() { s.mu.Lock(); defer s.mu.Unlock(); s.held[service] = false }, nil
}
