package book

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kailyard/internal/garden"
)

// shaded is the invented garden with all that can be told of its light.
func shaded() garden.Garden {
	g := ground()
	g.Site.Lie = garden.Lie{Slope: 4, Aspect: 170, North: -12, Horizon: []garden.Sight{{Bearing: 90, Altitude: 4}, {Bearing: 270, Altitude: 9.5}}}
	g.Beds[0].Observed = []garden.SunSeen{{Month: time.June, From: 10, To: 14}, {Month: time.June, From: 16.5, To: 18}, {Month: time.March, From: 11, To: 13}}
	g.Shades = []garden.Shade{
		{
			Name: "cherry", Kind: garden.Tree, X: 60, Y: -3, Height: 6, Crown: garden.RoundCrown, Spread: 4, CrownBase: 1.5, Trunk: 0.25,
			LeafOn: garden.DayOfYear{Month: 4, Day: 25}, LeafOff: garden.DayOfYear{Month: 11, Day: 1}, Bare: ptr(40.0), Gaps: ptr(5.0), Note: "n",
		},
		{Name: "next door", Kind: garden.Roof, X: 80, Y: 3, Length: 10, Width: 8, Bearing: 30, Height: 5, Ridge: 8},
		{Name: "slats", Kind: garden.Fence, X: 60, Y: 30, Length: 20, Height: 1.8, Gaps: ptr(20.0)},
	}
	return g
}

var plainLight = cmp.Options{plain, cmpopts.IgnoreFields(garden.Shade{}, "ID")}

func TestTheLightComesBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, shaded()))
	first := mustGarden(t, b)
	if diff := cmp.Diff(shaded(), first, plainLight); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	check(t, b.Import(ctx, shaded()))
	if diff := cmp.Diff(first.Shades, mustGarden(t, b).Shades); diff != "" {
		t.Errorf("importing the same again (-before +after):\n%s", diff)
	}
	fewer := shaded()
	fewer.Shades, fewer.Site.Lie, fewer.Beds[0].Observed = fewer.Shades[1:], garden.Lie{}, nil
	check(t, b.Import(ctx, fewer))
	if diff := cmp.Diff(fewer, mustGarden(t, b), plainLight); diff != "" {
		t.Errorf("with less (-told +kept):\n%s", diff)
	}
	check(t, b.Import(ctx, shaded())) // what was taken away is the same when it comes back
	if diff := cmp.Diff(first.Shades, mustGarden(t, b).Shades); diff != "" {
		t.Errorf("told again (-before +after):\n%s", diff)
	}
}

func TestShadesAreKept(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	bed := mustGarden(t, b).Beds[0]
	tree := shaded().Shades[0]
	id, err := b.AddShade(ctx, tree)
	check(t, err)
	tree.ID, tree.Height = id, 7
	check(t, b.SaveShade(ctx, tree))
	if got := mustGarden(t, b).Shades; len(got) != 1 || got[0].Height != 7 || got[0].ID != id {
		t.Errorf("kept are %+v", got)
	}
	wrong := tree
	wrong.Height = -7
	if err := b.SaveShade(ctx, wrong); err == nil {
		t.Error("a tree of negative height was kept")
	}
	same := shaded().Shades[1]
	same.Name = "CHERRY"
	if _, err := b.AddShade(ctx, same); err == nil {
		t.Error("two things of one name were kept")
	}
	same.Name, same.X, same.Y = "shed", bed.X, bed.Y
	if _, err := b.AddShade(ctx, same); err == nil {
		t.Error("walls on a bed were kept")
	}
	same.X += 100
	_, err = b.AddShade(ctx, same)
	check(t, err)
	bed.X += 100
	if err := b.SaveBed(ctx, bed); err == nil {
		t.Error("a bed was moved under a shed")
	}
	check(t, b.RemoveShade(ctx, id))
	wantTrouble(t, b.RemoveShade(ctx, id), Unknown, "shade")
	wantTrouble(t, b.SaveShade(ctx, tree), Unknown, "shade")
	if n := rows(t, b, "shade"); n != 2 {
		t.Errorf("the book has %d shades, want both", n)
	}
}

// A book of the schema before light: read, and written to by its own schema, it has none; brought up to date it keeps all.
func TestABookOfTheSchemaBeforeLight(t *testing.T) {
	ctx := t.Context()
	b, path := bookOfSchema(t, 6)
	check(t, b.Import(ctx, tilled()))
	check(t, b.Close())
	b, err := Open(ctx, path, Options{now: noon})
	check(t, err)
	defer b.Close()
	if diff := cmp.Diff(tilled(), mustGarden(t, b), plainGround); diff != "" {
		t.Errorf("the garden (-before +after):\n%s", diff)
	}
	_, err = b.AddShade(ctx, shaded().Shades[0])
	check(t, err)
	check(t, sound(ctx, path+".schema-6"))
}
