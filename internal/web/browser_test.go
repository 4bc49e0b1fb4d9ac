package web

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// chromium is the path of a browser, or skips the test.
func chromium(t *testing.T) string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			return p
		}
	}
	t.Skip("no chromium on this machine: the pages were not opened in a browser")
	return ""
}

// Every page opens at the width of a desk and of two phones without errors on the console and without
// running out of the window. With KAILYARD_SHOTS=folder it leaves a picture of each; KAILYARD_URL
// opens a garden that is being served instead, KAILYARD_ONLY chosen addresses.
func TestPagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("short: the pages were not opened in a browser")
	}
	path := chromium(t)
	now := mustStory(t)
	today := storyToday
	if d := os.Getenv("KAILYARD_TODAY"); d != "" {
		today = d
	}
	handler, _ := storySite(t, now, today)
	server := httptest.NewServer(handler)
	defer server.Close()
	address, paths := server.URL, storyPaths(now)
	if running := os.Getenv("KAILYARD_URL"); running != "" {
		address, paths = running, strings.Fields("/ /plot /beds /jobs /orders /weather /crops /journal /garden")
	}
	if only := os.Getenv("KAILYARD_ONLY"); only != "" {
		paths = strings.Fields(only)
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true), chromedp.Flag("no-first-run", true))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stop()
	ctx, quit := chromedp.NewContext(alloc)
	defer quit()
	ctx, late := context.WithTimeout(ctx, 4*time.Minute)
	defer late()

	var mu sync.Mutex
	var said []string
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if m.Type == chromedp.ConsoleError || m.Type == chromedp.ConsoleException {
				mu.Lock()
				said = append(said, m.String())
				mu.Unlock()
			}
		}
	}()
	for _, width := range []int64{1280, 390, 360} {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900)); err != nil {
			t.Fatal(err)
		}
		for _, p := range paths {
			if err := chromedp.Do(ctx, chromedp.Navigate(address+p)); err != nil {
				t.Fatalf("%s: %v", p, err)
			}
			wide, err := chromedp.Run(ctx, chromedp.Evaluate[string](overflowing))
			if err != nil {
				t.Fatalf("%s: %v", p, err)
			}
			if wide != "" {
				t.Errorf("%s at %d px runs out of the window: %s", p, width, wide)
			}
			mu.Lock()
			for _, m := range said {
				if p != "/nowhere" || !strings.Contains(m, "404") {
					t.Errorf("%s at %d px: the console says %s", p, width, m)
				}
			}
			said = nil
			mu.Unlock()
			if dir := os.Getenv("KAILYARD_SHOTS"); dir != "" && width != 360 {
				shot, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
				if err != nil {
					t.Fatalf("%s: %v", p, err)
				}
				name := fmt.Sprintf("%d%s.png", width, strings.Map(fileRune, p))
				if err := os.WriteFile(filepath.Join(dir, name), shot, 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// overflowing names the first elements that reach beyond the window, unless a box of their own scrolls.
const overflowing = `(() => {
  const root = document.documentElement;
  if (root.scrollWidth <= root.clientWidth) return "";
  const out = [];
  for (const e of document.querySelectorAll("body *")) {
    if (e.closest(".tablebox") && !e.classList.contains("tablebox")) continue;
    if (e.closest("svg") && e.tagName !== "svg") continue;
    if (e.getBoundingClientRect().right > root.clientWidth + 1) out.push(e.tagName + "." + e.getAttribute("class"));
  }
  return root.scrollWidth + " px wide; " + out.slice(0, 5).join(", ");
})()`
