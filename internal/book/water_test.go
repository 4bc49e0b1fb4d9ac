package book

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// watered is the invented garden with all that can be told of its water.
func watered() garden.Garden {
	g := ground()
	g.Site.Supply = garden.Supply{Tap: 720, Can: 9, Roof: 24.5, Tank: 400}
	g.Site.Watering = garden.Watering{By: garden.ByCan, Mulch: garden.OrganicMulch}
	g.Beds[0].Watering = garden.Watering{By: garden.ByDrip, Drip: 36}
	return g
}

func TestTheWaterComesBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, watered()))
	if diff := cmp.Diff(watered(), mustGarden(t, b), plain); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	fewer := watered()
	fewer.Site.Supply, fewer.Beds[0].Watering = garden.Supply{}, garden.Watering{}
	check(t, b.Import(ctx, fewer))
	if diff := cmp.Diff(fewer, mustGarden(t, b), plain); diff != "" {
		t.Errorf("with less (-told +kept):\n%s", diff)
	}
	site := watered().Site
	site.Supply.Tank = -1
	if err := b.SaveSite(ctx, site); err == nil {
		t.Error("a tank of less than nothing was kept")
	}
}

func TestWaterInTheJournal(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, watered()))
	bed := mustGarden(t, b).Beds[0].ID
	day := civil.Of(2027, 7, 3)
	told := []garden.Entry{
		{Date: day, Kind: garden.Watered, BedID: bed, Volume: 45},
		{Date: day, Kind: garden.Rained, Depth: 0.0125},
		{Date: day, Kind: garden.Watered, BedID: bed, Text: "a little"},
	}
	for i := range told {
		id, err := b.Append(ctx, told[i])
		check(t, err)
		told[i].ID = id
	}
	kept, err := b.Journal(ctx, civil.Span{From: day, To: day})
	check(t, err)
	if diff := cmp.Diff(told, kept); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	for name, wrong := range map[string]garden.Entry{
		"rain as a volume":         {Date: day, Kind: garden.Rained, Volume: 3},
		"water of no bed":          {Date: day, Kind: garden.Watered, Volume: 3},
		"more water than there is": {Date: day, Kind: garden.Watered, BedID: bed, Depth: 12},
	} {
		if _, err := b.Append(ctx, wrong); err == nil {
			t.Errorf("%s was kept", name)
		}
	}
	if _, err := b.db.ExecContext(ctx, "UPDATE watering SET volume_l = 1"); err == nil {
		t.Error("a watering was changed")
	}
}

// A book of the schema before water: written to by its own schema it has none; brought up to date it keeps all.
func TestABookOfTheSchemaBeforeWater(t *testing.T) {
	ctx := t.Context()
	b, path := bookOfSchema(t, 7)
	check(t, b.Import(ctx, shaded()))
	check(t, b.Close())
	b, err := Open(ctx, path, Options{now: noon})
	check(t, err)
	defer b.Close()
	if diff := cmp.Diff(shaded(), mustGarden(t, b), plainLight); diff != "" {
		t.Errorf("the garden (-before +after):\n%s", diff)
	}
	check(t, b.SaveSite(ctx, watered().Site))
	if got := mustGarden(t, b).Site.Supply; got != watered().Site.Supply {
		t.Errorf("kept is %+v", got)
	}
	check(t, sound(ctx, path+".schema-7"))
}
