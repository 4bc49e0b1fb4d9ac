package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"kailyard/internal/civil"
)

// The picture of the README, made anew by
//
//	KAILYARD_PICTURE=doc/picture.png go test -run TestPictureOfTheReadme ./internal/web
//
// (the name is taken from the module's root): the storybook's plot in July and its fullest bed.
func TestPictureOfTheReadme(t *testing.T) {
	out := os.Getenv("KAILYARD_PICTURE")
	if out == "" {
		t.Skip("KAILYARD_PICTURE names no file: the picture of the README was not made")
	}
	now := mustStory(t)
	day := civil.Of(2027, 7, 25)
	plot := plotPicture{now: now, day: day}
	left, err := svg(plot.draw(standing(now, day)))
	if err != nil {
		t.Fatal(err)
	}
	by, fullest := inBeds(allPlantings(now)), strip{}
	for _, b := range now.Garden.Beds {
		if st := layStrip(b, by[b.ID]); len(st.Lanes) == 1 && len(st.patches) > len(fullest.patches) {
			fullest = st
		}
	}
	bed := bedtime{now: now, strip: fullest, frost: frostDepths(now), today: day, id: "bed", axis: 312, week: 11, full: true}
	right, err := svg(bed.draw())
	if err != nil {
		t.Fatal(err)
	}
	page := `<!doctype html><meta charset="utf-8"><style>body{margin:0;background:#faf7ee}#both{display:flex;gap:24px;padding:20px;align-items:center;width:1270px;box-sizing:border-box}svg{display:block;height:auto;font-family:"Liberation Sans",sans-serif}.p svg{width:850px}.b svg{width:356px}</style><div id="both"><div class="p">` + string(left) + `</div><div class="b">` + string(right) + `</div></div>`
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte(page))
	}))
	defer server.Close()
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium(t)), chromedp.NoSandbox)
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stop()
	ctx, quit := chromedp.NewContext(alloc)
	defer quit()
	ctx, late := context.WithTimeout(ctx, time.Minute)
	defer late()
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1270, 760), chromedp.Navigate(server.URL)); err != nil {
		t.Fatal(err)
	}
	shot, err := chromedp.Run(ctx, chromedp.Screenshot(chromedp.ID("both")))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("../../"+out, shot, 0o644); err != nil {
		t.Fatal(err)
	}
}
