package growth

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/weather"
)

// Tomatoes flower so long before they ripen that in a hot, dry country they are set out early, or for autumn after midsummer, and not
// between: gardeners of El Paso say the latter part of March or the first week of April, after the last frost (Texas Master Gardeners, El
// Paso, "The secret to growing tomatoes in El Paso" and "Growing tomatoes", read in stored copies: late March to mid-April); autumn crops of
// Texas go out in late June and July. A fortnight on either side, for the place's years are generated.
func TestTomatoesWhereSummersAreHot(t *testing.T) {
	place, err := weather.ClimateByID("el-paso")
	if err != nil {
		t.Fatal(err)
	}
	season := civil.Season{Start: civil.Of(2027, 1, 1), Days: 365}
	years, _, err := weather.Generate(place, 1991, 30, 7).Scenarios(season, Lead, Tail, 30)
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewClimate(season, place.Latitude, years)
	if err != nil {
		t.Fatal(err)
	}
	early, ok := crop.Default().Find("tomato-early")
	if !ok {
		t.Fatal("no early tomato")
	}
	windows := Tabulate(c, []Option{{Crop: early}})[0].Windows(0.8)
	if len(windows) != 2 {
		t.Fatalf("%d windows, not one for summer and one for autumn: %v", len(windows), windows)
	}
	if from := windows[0].From; from < civil.Of(2027, 3, 20) || from > civil.Of(2027, 4, 15) {
		t.Errorf("the first opens on %v", from)
	}
	if to := windows[0].To; to > civil.Of(2027, 5, 20) {
		t.Errorf("it closes on %v, so late that they flower in the heat", to)
	}
	if w := windows[1]; w.From < civil.Of(2027, 6, 5) || !w.Has(civil.Of(2027, 7, 1)) {
		t.Errorf("the second is %v", w.Span)
	}
	for id, least := range map[string]float64{"tomato-staked": 0.2, "pepper-sweet": 0.2, "eggplant": 0.5, "bean-bush": 0.7, "sweet-corn-main": 0.6} {
		k, _ := crop.Default().Find(id)
		if at := flowering(Option{Crop: k}); at < least || at > least+0.25 {
			t.Errorf("%s flowers at %.2f of its growth", id, at)
		}
	}
}
