package book

import (
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// Vetoes and what the garden can be given are kept, come through an import, and go with their bed.
func TestVetoesAreKept(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	g := ground()
	g.Site.HoursAWeek, g.Site.Trays = 6.5, 2.5
	g.Vetoes = []garden.Veto{{BedID: g.Beds[0].ID, Crop: "carrot", Note: "stones"}, {Family: "Apiaceae", Way: crop.Sow}}
	check(t, b.Import(ctx, g))
	now := mustGarden(t, b)
	if now.Site.HoursAWeek != 6.5 || now.Site.Trays != 2.5 || len(now.Vetoes) != 2 || now.Vetoes[0].BedID != now.Beds[0].ID || now.Vetoes[0].Note != "stones" || now.Vetoes[1].Way != crop.Sow {
		t.Fatalf("kept: %+v %+v", now.Site, now.Vetoes)
	}
	id, err := b.AddVeto(ctx, garden.Veto{Crop: "carrot", Before: g.Wants[1].To})
	check(t, err)
	check(t, b.RemoveVeto(ctx, now.Vetoes[1].ID))
	if err := b.RemoveVeto(ctx, now.Vetoes[1].ID); err == nil {
		t.Error("a veto is taken back twice")
	}
	if _, err := b.AddVeto(ctx, garden.Veto{}); err == nil || !strings.Contains(err.Error(), "forbid everything") {
		t.Errorf("everything is forbidden: %v", err)
	}
	if _, err := b.AddVeto(ctx, garden.Veto{BedID: 99, Crop: "carrot"}); err == nil {
		t.Error("a veto for a bed that is none is kept")
	}
	again := mustGarden(t, b)
	if len(again.Vetoes) != 2 || again.Vetoes[1].ID != id || again.Vetoes[1].Before == nil {
		t.Fatalf("after: %+v", again.Vetoes)
	}
	check(t, b.Import(ctx, again)) // the same garden again: nothing moves
	if same := mustGarden(t, b); len(same.Vetoes) != 2 || same.Vetoes[0].ID != again.Vetoes[0].ID || same.Vetoes[1].ID != id {
		t.Errorf("imported again: %+v", same.Vetoes)
	}
	check(t, b.RemoveBed(ctx, again.Vetoes[0].BedID))
	if left := mustGarden(t, b).Vetoes; len(left) != 1 || left[0].ID != id {
		t.Errorf("without its bed: %+v", left)
	}
}
