package web

import (
	"context"
	"net/http/httptest"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// dragged drags the maple three metres' worth of pixels east and waits for the picture of it in its new place.
const dragged = `new Promise(function (done) {
  var svg = document.querySelector("svg.lightpicture");
  var crown = svg.querySelector('a[href="/plot/shade/2"] path');
  var box = crown.getBoundingClientRect();
  var x = box.left + box.width / 2, y = box.top + box.height / 4;
  var metre = svg.getScreenCTM().a * 100;
  function fire(name, to) {
    crown.dispatchEvent(new PointerEvent(name, { bubbles: true, cancelable: true, button: 0, pointerId: 1, clientX: to, clientY: y }));
  }
  Element.prototype.setPointerCapture = function () {};
  fire("pointerdown", x);
  fire("pointermove", x + metre);
  fire("pointermove", x + 3 * metre);
  fire("pointerup", x + 3 * metre);
  var tries = 0;
  (function look() {
    var told = document.querySelector('[data-shade="2"]').dataset.x;
    if (told !== "0.600" || ++tries > 100) done(told); else setTimeout(look, 50);
  })();
})`

func TestATreeIsDragged(t *testing.T) {
	path, err := exec.LookPath("chromium")
	if err != nil || testing.Short() {
		t.Skip("no browser to try the pages with")
	}
	handler, store := storySite(t, mustStory(t), storyToday)
	server := httptest.NewServer(handler)
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
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+"/plot/light?month=6")); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[string](`(window.told = "", `+dragged+`.then(function (x) { window.told = x; }), "")`)); err != nil {
		t.Fatal(err)
	}
	told := ""
	for range 60 {
		if told, err = chromedp.Run(ctx, chromedp.Evaluate[string](`window.told`)); err != nil {
			t.Fatal(err)
		}
		if told != "" {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if x := float64(store.g.Shades[1].X); x < 3.5 || x > 3.7 || told == "0.600" {
		t.Errorf("the tree was dragged three metres east of 0.6 m; it stands at %.2f m, the page says %q", x, told)
	}
}
