package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/season"
	"kailyard/internal/web"
)

type serveCmd struct {
	Address string `help:"Where to listen; loopback unless you say otherwise." default:"127.0.0.1:8463" placeholder:"HOST:PORT"`
}

func (serveCmd) example() string { return "kailyard serve --book garden.kailyard" }

// Run serves the book until stopped.
func (c *serveCmd) Run(ctx context.Context, e *env) error {
	b, err := e.open(ctx, false)
	if err != nil {
		return err
	}
	defer b.Close()
	return e.serve(ctx, b, c.Address)
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
	server := &http.Server{
		Handler: web.New(web.Config{
			Store: b, Season: keeper.current, Replan: keeper.replan,
			Today: func() civil.Date { return e.clock() }, Crops: crop.Default(), Hosts: hosts,
		}),
		ReadHeaderTimeout: 10 * time.Second,
	}
	stopped := make(chan error, 1)
	go func() { stopped <- server.Serve(listener) }()
	e.printf("Open http://%s/ in the browser; stop with Ctrl-C.\n", listener.Addr())
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

// keeper holds the season computed from the book until the book changes.
type keeper struct {
	env  *env
	book *book.Book

	mu       sync.Mutex
	revision int64
	year     int
	result   *season.Result
}

// current is the season around the kept plan, or a first plan where the book has none.
func (k *keeper) current(ctx context.Context) (*season.Result, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	revision, err := k.book.Revision(ctx)
	if err != nil {
		return nil, err
	}
	in, err := input(ctx, k.env, k.book, seasonFlag{})
	if err != nil {
		return nil, err
	}
	if k.result != nil && k.revision == revision && k.year == in.Season.Year() {
		return k.result, nil
	}
	if in.Plan, err = k.book.Plan(ctx, in.Season.Year()); err != nil {
		return nil, err
	}
	if in.Plan == nil {
		return k.plan(ctx, in)
	}
	r, err := season.Compute(in)
	if err != nil {
		return nil, err
	}
	k.result, k.revision, k.year = r, revision, in.Season.Year()
	return r, nil
}

// replan plans the season anew and keeps the plan.
func (k *keeper) replan(ctx context.Context) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	in, err := input(ctx, k.env, k.book, seasonFlag{})
	if err != nil {
		return err
	}
	_, err = k.plan(ctx, in)
	return err
}

func (k *keeper) plan(ctx context.Context, in season.Input) (*season.Result, error) {
	r, err := makePlan(ctx, k.book, in, k.env.clock())
	if err != nil {
		return nil, err
	}
	revision, err := k.book.Revision(ctx)
	if err != nil {
		return nil, err
	}
	k.result, k.revision, k.year = r, revision, in.Season.Year()
	return r, nil
}
