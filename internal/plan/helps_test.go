package plan

import (
	"testing"

	"kailyard/internal/garden"
)

// crowded is the household with a few of its beds, two of them in half shade, so that much would help.
func crowded(t *testing.T, climate string) (Input, *Plan) {
	in := inClimate(t, climate)
	in.Settings.Rounds = 12000
	in.Garden.Beds = append([]garden.Bed(nil), in.Garden.Beds[:5]...)
	in.Garden.Beds[1].Sun, in.Garden.Beds[3].Sun = 5, 4.5
	in.Garden.History = nil
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	return in, p
}

// Whatever of ground and light there is more: the plan that goes on is worth no less, but for what its changes must bring (more light
// bears more than is eaten, and sooner, so that weeks which had enough have too much and later ones too little; a fiftieth at most).
// Without a want the rest of the plan is worth no less.
func TestNoChangeLowersThePlan(t *testing.T) {
	for _, climate := range []string{"cold"} {
		in, p := crowded(t, climate)
		in.Kept = p
		kinds := map[ChangeKind]int{}
		for _, c := range changes(in, p, nil) {
			h, err := try(c, p)
			if err != nil {
				t.Fatal(err)
			}
			kinds[c.Kind]++
			least := 0.0
			if c.Kind == MoreSun {
				least = -p.Value / 50
			}
			if h.Gain < least-1e-6 {
				t.Errorf("%s: %s %s%s takes %.2f from the plan", climate, c.Kind, c.Bed.Name, c.Want.Crop, -h.Gain)
			}
			if faults := Check(c.input, h.After); len(faults) > 0 {
				t.Errorf("%s: %s: %v", climate, c.Kind, faults)
			}
		}
		if kinds[MoreGround] != 1 || kinds[MoreSun] < 2 || kinds[FewerWants] == 0 {
			t.Errorf("%s: tried were %v", climate, kinds)
		}
	}
}

// In a garden far too small for its wants another bed helps, by what can be looked up in the two plans; the best help is told first and
// none that brings less than a hundredth.
func TestAnotherBedHelpsACrowdedGarden(t *testing.T) {
	in, p := crowded(t, "cold")
	list, err := Helps(in, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	bed := -1
	for i, h := range list {
		if h.Share < worthTelling || i > 0 && h.Gain > list[i-1].Gain {
			t.Errorf("%s: %.1f, %.3f of the plan", h.Kind, h.Gain, h.Share)
		}
		if h.Kind == MoreGround {
			bed = i
		}
	}
	if bed < 0 {
		t.Fatalf("another bed does not help: %d things do", len(list))
	}
	h := list[bed]
	if h.Bed.Length != 6 || h.Bed.Width != 1.2 {
		t.Errorf("the bed is %v × %v; most are 6 m × 1.2 m", h.Bed.Length, h.Bed.Width)
	}
	there := 0
	for _, x := range h.After.Plantings {
		if x.BedID == h.Bed.ID {
			there++
		}
	}
	more := 0.0
	for _, w := range h.Wants {
		more += float64(w.More)
	}
	t.Logf("another bed: %.0f points, %.1f %%, %d plantings in it, %.1f kg more in all", h.Gain, 100*h.Share, there, more)
	if there == 0 || more <= 0 {
		t.Errorf("%d plantings in the new bed bring %.2f kg", there, more)
	}
}

// A garden whose wants are met by half its ground is helped by nothing.
func TestNothingHelpsWhoHasAll(t *testing.T) {
	in := inClimate(t, "cold")
	in.Settings.Rounds = 6000
	in.Garden.Wants = append([]garden.Want(nil), in.Garden.Wants[3])
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	list, err := Helps(in, p, nil)
	if err != nil || len(list) > 0 {
		t.Errorf("%d things help, %v", len(list), err)
	}
}
