package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"kailyard/internal/fetch/standin"
)

// In a browser the page of a fetch follows it by itself, tells when the server is lost and found again, and
// ends as the page of what was brought. With KAILYARD_SHOTS=folder it leaves pictures of the pages on the way.
func TestTheFetchPageFollowsByItself(t *testing.T) {
	if testing.Short() {
		t.Skip("short: the page was not opened in a browser")
	}
	path := chromium(t)
	w := newWalk(t)
	turn := make(chan bool)
	w.service.Spoil(func(http.ResponseWriter, *http.Request, string) bool { <-turn; return false })
	var lost atomic.Bool
	server := httptest.NewServer(http.HandlerFunc(func(a http.ResponseWriter, r *http.Request) {
		if lost.Load() {
			http.Error(a, "not just now", http.StatusBadGateway)
			return
		}
		w.h.ServeHTTP(a, r)
	}))
	defer server.Close()
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.Flag("no-first-run", true))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stop()
	ctx, quit := chromedp.NewContext(alloc)
	defer quit()
	ctx, late := context.WithTimeout(ctx, time.Minute)
	defer late()

	shown := func(says string) {
		t.Helper()
		text := ""
		for end := time.Now().Add(15 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			text, _ = chromedp.Run(ctx, chromedp.Evaluate[string](`document.body.innerText`)) // fails while a page is loaded
			if strings.Contains(text, says) {
				return
			}
		}
		t.Fatalf("the page does not come to say %q: %s", says, text)
	}
	shot := func(name string) {
		dir := os.Getenv("KAILYARD_SHOTS")
		if dir == "" {
			return
		}
		for _, width := range []int64{1280, 390} {
			if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900)); err != nil {
				t.Fatal(err)
			}
			picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(dir, map[int64]string{1280: "1280_", 390: "390_"}[width]+name+".png")
			if err := os.WriteFile(file, picture, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	doc, _ := w.see(networkAddress)
	w.leads(w.press(doc, "Ask for it", url.Values{"years": {"9"}}), fetchAddress)
	turn <- true
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+fetchAddress)); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[string](`window.same = "yes"`)); err != nil {
		t.Fatal(err)
	}
	shown("1 of 10 years are in the book.")
	turn <- true
	turn <- true
	shown("3 of 10 years are in the book.")
	shown("2025 365 days")
	if same, err := chromedp.Run(ctx, chromedp.Evaluate[string](`window.same || "no"`)); err != nil || same != "yes" {
		t.Errorf("the page was loaded again while the fetch goes on: %v, %v", same, err)
	}
	shot("weather_fetch_running")
	lost.Store(true)
	shown("Kailyard does not answer")
	lost.Store(false)
	turn <- true
	shown("4 of 10 years are in the book.")
	w.service.Spoil(standin.Status(429, "", "Retry-After", "7200"))
	turn <- true
	shown("Go on in 2 hours.")
	shot("weather_fetch_trouble")
	w.service.Spoil(nil)
	if err := w.runner.GoOn(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+fetchAddress)); err != nil {
		t.Fatal(err)
	}
	shown("NASA POWER: all there")
	shot("weather_fetch_brought")
}
