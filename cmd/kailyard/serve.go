package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strconv"
	"sync"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/fetch"
	"kailyard/internal/season"
	"kailyard/internal/weather"
	"kailyard/internal/web"
)

type serveCmd struct {
	Address string `help:"Where to listen; loopback unless you say otherwise." default:"127.0.0.1:8463" placeholder:"HOST:PORT"`
}

func (serveCmd) example() string { return "kailyard serve --book garden.kailyard" }

// Run serves the book until stopped.
func (c *serveCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		return e.serve(ctx, b, c.Address)
	})
}

// serve shows a book in the browser until the context ends.
func (e *env) serve(ctx context.Context, b *book.Book, address string) error {
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return fmt.Errorf("cannot listen on %s: %w; choose another place with --address 127.0.0.1:PORT (0 picks a free port)", address, err)
	}
	host, _, _ := net.SplitHostPort(listener.Addr().String())
	hosts := []string{"localhost", "127.0.0.1", "::1"}
	if ip := net.ParseIP(host); ip != nil && !ip.IsLoopback() {
		fmt.Fprintf(e.Stderr, "kailyard: listening on %s, beyond this machine: anyone who reaches it can read and change the book\n", host)
		hosts = append(hosts, host)
	}
	keeper := &keeper{env: e, book: b}
	runner := fetch.NewRunner(ctx, e.Services, b, e.clock)
	defer runner.Stop() // before the book is closed
	server := &http.Server{
		Handler: web.New(web.Config{
			Store: b, Season: keeper.current, Replan: keeper.replan, Under: keeper.under, Others: keeper.others, Compare: keeper.compare, Use: keeper.use, Seasons: keeper.seasons, Choose: keeper.choose,
			TakeRecord: keeper.takeRecord, Generate: generated, Fit: keeper.fit, Record: keeper.record, Fetching: runner, Kept: keptWeather{b},
			Today: func() civil.Date { return e.clock() }, Crops: crop.Default(), Hosts: hosts,
		}),
		ReadHeaderTimeout: 10 * time.Second,
	}
	stopped := make(chan error, 1)
	go func() { stopped <- server.Serve(listener) }()
	e.printf("Open http://%s/ in the browser; stop with Ctrl-C.\n", reachable(listener.Addr()))
	select {
	case err = <-stopped:
	case <-ctx.Done():
		end, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
		defer cancel()
		err = server.Shutdown(end)
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// keeper holds the season computed from the book until the book changes, and which season the pages
// show when the person has chosen one.
type keeper struct {
	env  *env
	book *book.Book

	mu       sync.Mutex
	revision int64
	day      civil.Date
	chosen   int // the year of the season chosen; 0: by the day
	result   *season.Result
	beside   compared // other plans beside the season's, when they were asked for
}

// current is the season shown, around its kept plan. It makes no plan: asking for a page changes nothing.
func (k *keeper) current(ctx context.Context) (*season.Result, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	revision, err := k.book.Revision(ctx)
	if err != nil {
		return nil, err
	}
	day := k.env.clock()
	if k.result != nil && k.revision == revision && k.day == day {
		return k.result, nil
	}
	s, err := shown(ctx, k.book, seasonFlag{Season: k.chosen}, day)
	if err != nil {
		return nil, err
	}
	r, err := keptFor(ctx, k.book, s)
	if err != nil {
		return nil, err
	}
	k.keep(r, revision, day)
	return r, nil
}

func (k *keeper) keep(r *season.Result, revision int64, day civil.Date) {
	k.result, k.revision, k.day = r, revision, day
}

// replan plans the season shown anew and keeps the plan.
func (k *keeper) replan(ctx context.Context) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	day := k.env.clock()
	s, err := shown(ctx, k.book, seasonFlag{Season: k.chosen}, day)
	if err != nil {
		return err
	}
	in, err := inputFor(ctx, k.book, s)
	if err != nil {
		return err
	}
	if _, err := makePlan(ctx, k.book, in, day, false); err != nil {
		return err
	}
	k.result = nil
	return nil
}

// under grows a planting of the season shown as a person wants it, and keeps the plan.
func (k *keeper) under(ctx context.Context, key string, how season.Growing) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	day := k.env.clock()
	s, err := shown(ctx, k.book, seasonFlag{Season: k.chosen}, day)
	if err != nil {
		return err
	}
	if _, err := regrow(ctx, k.book, s, day, key, how); err != nil {
		return err
	}
	k.result = nil
	return nil
}

// seasons are those the pages can show, the one a day falls in and the coming one, and the one shown.
func (k *keeper) seasons(ctx context.Context) (list []civil.Season, now civil.Season, err error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	g, err := k.book.Garden(ctx)
	if err != nil {
		return nil, now, err
	}
	day := k.env.clock()
	if now, err = shown(ctx, k.book, seasonFlag{Season: k.chosen}, day); err != nil {
		return nil, now, err
	}
	list = []civil.Season{civil.SeasonHolding(day, g.Site.Latitude)}
	if c := comingSeason(day, g.Site.Latitude); c != list[0] {
		list = append(list, c)
	}
	if !slices.Contains(list, now) {
		list = append(list, now)
	}
	return list, now, nil
}

// choose makes the pages show the season that starts in a year.
func (k *keeper) choose(_ context.Context, year int) error {
	if year < 1900 || year > 2200 {
		return fmt.Errorf("%d is no season; choose a year between 1900 and 2200", year)
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.chosen, k.result = year, nil
	return nil
}

// reachable is an address a browser on this machine can open: loopback where all are listened on.
func reachable(a net.Addr) string {
	tcp, ok := a.(*net.TCPAddr)
	if !ok || !tcp.IP.IsUnspecified() {
		return a.String()
	}
	return net.JoinHostPort("127.0.0.1", strconv.Itoa(tcp.Port))
}

// takeRecord keeps a weather record that can carry a plan.
func (k *keeper) takeRecord(ctx context.Context, r *weather.Record) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	g, err := k.book.Garden(ctx)
	if err != nil {
		return err
	}
	if err := usable(r, comingSeason(k.env.clock(), g.Site.Latitude)); err != nil {
		return err
	}
	k.result = nil
	return k.book.SaveRecord(ctx, r)
}

// record is the weather record in use, nil where there is none.
func (k *keeper) record(ctx context.Context) (*weather.Record, error) {
	r, err := k.book.Record(ctx)
	if book.IsKind(err, book.Unknown) {
		return nil, nil
	}
	return r, err
}

// generated is the weather a built-in climate stands for.
func generated(c weather.Climate) *weather.Record {
	return weather.Generate(c, generatedFirstYear, generatedYears, generatorSeed)
}
