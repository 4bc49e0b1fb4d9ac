package garden_test

import (
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

func TestStatusAfterAnEntry(t *testing.T) {
	rows := []struct {
		before garden.Status
		kind   garden.EntryKind
		way    crop.Way
		want   garden.Status
	}{
		{garden.Planned, garden.Sowed, crop.Sow, garden.InGround},
		{garden.Planned, garden.Sowed, crop.Set, garden.InGround},
		{garden.Planned, garden.Sowed, crop.SetOut, garden.Planned},
		{garden.Planned, garden.CameUp, crop.SetOut, garden.Planned},
		{garden.Planned, garden.SetOut, crop.SetOut, garden.InGround},
		{garden.Planned, garden.Watered, crop.Sow, garden.Planned},
		{garden.InGround, garden.Harvested, crop.Sow, garden.InGround},
		{garden.InGround, garden.Cleared, crop.Sow, garden.Over},
		{garden.InGround, garden.Failed, crop.Sow, garden.Lost},
		{garden.Lost, garden.Cleared, crop.Sow, garden.Lost},
		{garden.Over, garden.Sowed, crop.Sow, garden.Over},
	}
	for _, r := range rows {
		if got := r.before.After(r.kind, r.way); got != r.want {
			t.Errorf("%s after %s (%s): got %s, want %s", r.before, r.kind, r.way, got, r.want)
		}
	}
}
