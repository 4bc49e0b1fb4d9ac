package fetch

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// Keeper is what a runner works from: years as they arrive, and what was asked for. The garden book
// is one.
type Keeper interface {
	Shelf
	Errand(ctx context.Context) (*weather.Errand, error) // nil: there is none
	KeepErrand(ctx context.Context, e *weather.Errand) error
	Reserve(service, name string) (release func(), err error)
}

// Runner runs one errand at a time beside whatever else the program does. The errand is kept until it
// is settled, so that it goes on after a stop of the program, however that came about.
type Runner struct {
	life   context.Context // ends with the program
	how    Fetcher
	keeper Keeper
	today  func() civil.Date

	mu   sync.Mutex
	run  *run // the one at work; nil: none
	last *run // the one before it, and how it ended
	err  error
}

// run is one errand at work.
type run struct {
	stop    context.CancelFunc
	ended   chan struct{}
	told    []Progress
	waiting *Progress
}

// State is how an errand stands.
type State struct {
	Errand  *weather.Errand // nil: nothing is asked for
	Service Service
	Where   string     // the place in words
	Place   string     // as pieces are kept under
	First   int        // the first year wanted
	Last    int        // the last year wanted
	Kept    int        // how many of them are in the book
	Running bool       // it is at work
	Told    []Progress // the years that this run, or the last one, brought
	Waiting *Progress  // a pause longer than the usual one; nil: none
	Err     error      // how the last run ended; nil: well, or the program ended before it did
}

// NewRunner makes a runner whose errands end with a context. How services are asked comes from a
// fetcher, whose Shelf, Today and Tell are not used.
func NewRunner(life context.Context, how Fetcher, keeper Keeper, today func() civil.Date) *Runner {
	return &Runner{life: life, how: how, keeper: keeper, today: today}
}

// RequestOf is what is wanted of a service for an errand.
func RequestOf(e weather.Errand) Request {
	s, _ := ServiceOf(e.Service)
	return Request{Service: s, Latitude: e.Latitude, Longitude: e.Longitude, Station: e.Station, Years: e.Years, Until: e.Until}
}

// Services are the services that can be asked.
func (r *Runner) Services() []Service { return Services() }

// Start begins an errand. It is refused while another is at work, here or in another program on the
// same book; one that is not at work gives way, and its years stay.
func (r *Runner) Start(ctx context.Context, e weather.Errand) error {
	e.Asked, e.Brought = r.today(), false
	request := RequestOf(e)
	if err := request.check(e.Asked); err != nil {
		return err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.run != nil {
		return &Error{Kind: UnderWay, Says: "weather is being fetched already, and one fetch is made at a time", Remedy: "wait until it is done, or stop it: the years that arrived stay"}
	}
	release, err := r.keeper.Reserve(request.Service.ID, request.Service.Name)
	if err != nil {
		return err
	}
	if err := r.keeper.KeepErrand(ctx, &e); err != nil {
		release()
		return err
	}
	life, stop := context.WithCancel(r.life)
	r.run = &run{stop: stop, ended: make(chan struct{})}
	go r.work(life, r.run, e, release)
	return nil
}

// GoOn begins the kept errand again, where it stopped.
func (r *Runner) GoOn(ctx context.Context) error {
	e, err := r.kept(ctx)
	if err != nil {
		return err
	}
	return r.Start(ctx, *e)
}

// work asks for what is missing, and writes down that all of it is there.
func (r *Runner) work(ctx context.Context, own *run, e weather.Errand, release func()) {
	f := r.how
	f.Shelf, f.Today = r.keeper, e.Asked
	f.Tell = func(p Progress) { r.tell(own, p) }
	_, err := f.Fetch(ctx, RequestOf(e))
	if err == nil {
		e.Brought = true
		err = r.keeper.KeepErrand(context.WithoutCancel(ctx), &e)
	}
	release()
	own.stop()
	r.mu.Lock()
	r.run, r.last, r.err = nil, own, err
	r.mu.Unlock()
	close(own.ended)
}

func (r *Runner) tell(own *run, p Progress) {
	r.mu.Lock()
	defer r.mu.Unlock()
	own.waiting = nil
	switch {
	case p.Waiting > 0:
		own.waiting = &p
	case p.Year > 0:
		own.told = append(own.told, p)
	}
}

// Stop ends the errand at work and waits until it has. What arrived stays.
func (r *Runner) Stop() {
	r.mu.Lock()
	now := r.run
	r.mu.Unlock()
	if now != nil {
		now.stop()
		<-now.ended
	}
}

// Settle stops the errand and forgets it. The years stay.
func (r *Runner) Settle(ctx context.Context) error {
	r.Stop()
	r.mu.Lock()
	r.last, r.err = nil, nil
	r.mu.Unlock()
	return r.keeper.KeepErrand(ctx, nil)
}

func (r *Runner) kept(ctx context.Context) (*weather.Errand, error) {
	e, err := r.keeper.Errand(ctx)
	if err == nil && e == nil {
		err = &Error{Kind: NothingAsked, Says: "no weather is asked for", Remedy: "choose a service first"}
	}
	return e, err
}

// State is how the errand stands.
func (r *Runner) State(ctx context.Context) (s State, err error) {
	r.mu.Lock() // before the book is read, so that one that ends meanwhile shows as at work
	if now := r.run; now != nil {
		s.Running, s.Waiting, s.Told = true, now.waiting, slices.Clone(now.told)
	} else if r.last != nil {
		s.Told, s.Err = slices.Clone(r.last.told), r.err
	}
	r.mu.Unlock()
	s.Errand, err = r.keeper.Errand(ctx)
	if err != nil || s.Errand == nil {
		return State{}, err
	}
	request := RequestOf(*s.Errand)
	if request.Service.ID == "" {
		return s, fmt.Errorf("the book has an errand to %q, a service this kailyard does not know", s.Errand.Service)
	}
	s.Service, s.Where, s.Place = request.Service, request.where(), request.place()
	years := request.years(s.Errand.Asked)
	if len(years) == 0 {
		return s, nil
	}
	s.First, s.Last = years[len(years)-1], years[0]
	pieces, err := r.keeper.Pieces(ctx, request.Service.ID, request.place())
	for _, p := range pieces {
		if s.First <= p.Year && p.Year <= s.Last {
			s.Kept++
		}
	}
	return s, err
}

// Record is what the book has of the errand's years, as one record. Nobody is asked.
func (r *Runner) Record(ctx context.Context) (*weather.Record, error) {
	e, err := r.kept(ctx)
	if err != nil {
		return nil, err
	}
	f := r.how
	f.Shelf, f.Today, f.Tell = r.keeper, e.Asked, nil
	request := RequestOf(*e)
	request.Offline = true
	return f.Fetch(ctx, request)
}

// WasStopped says whether an error is only that the person, or the program's end, stopped the errand.
func WasStopped(err error) bool {
	return IsKind(err, Stopped) || errors.Is(err, context.Canceled)
}
