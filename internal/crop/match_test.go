package crop

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func smallCatalogue() *Catalogue {
	return New(
		&Crop{ID: "carrot", Kind: "carrot", Type: "main crop", Aliases: []string{"storage carrot"}},
		&Crop{ID: "carrot-early", Kind: "carrot", Type: "early", Aliases: []string{"finger carrot"}},
		&Crop{ID: "lettuce-loose-leaf", Kind: "lettuce", Type: "loose-leaf", Aliases: []string{"leaf lettuce"}},
		&Crop{ID: "lettuce-romaine", Kind: "lettuce", Type: "romaine", Aliases: []string{"cos"}},
		&Crop{ID: "corn-salad", Kind: "corn salad", Aliases: []string{"mâche", "lamb's lettuce"}},
		&Crop{ID: "bean-bush", Kind: "bean", Type: "bush", Aliases: []string{"snap bean"}},
		&Crop{ID: "radish", Kind: "radish", Type: "spring"},
		&Crop{ID: "tomato-staked", Kind: "tomato", Type: "staked"},
		&Crop{ID: "brussels-sprouts", Kind: "Brussels sprouts"},
		&Crop{ID: "asparagus", Kind: "asparagus"},
	)
}

func TestMatch(t *testing.T) {
	tests := []struct {
		word        string
		found, near []string
	}{
		{"carrot", []string{"carrot", "carrot-early"}, nil},
		{"Carrots", []string{"carrot", "carrot-early"}, nil},
		{"carrot-early", []string{"carrot-early"}, nil},
		{"early carrots", []string{"carrot-early"}, nil},
		{"Finger Carrots", []string{"carrot-early"}, nil},
		{"carrot, main crop", []string{"carrot"}, nil},
		{"LETTUCE", []string{"lettuce-loose-leaf", "lettuce-romaine"}, nil},
		{"loose leaf lettuce", []string{"lettuce-loose-leaf"}, nil},
		{"romaine", []string{"lettuce-romaine"}, nil},
		{"Cos", []string{"lettuce-romaine"}, nil},
		{"mache", []string{"corn-salad"}, nil},
		{"Lamb’s lettuce", []string{"corn-salad"}, nil},
		{"bush beans", []string{"bean-bush"}, nil},
		{"radishes", []string{"radish"}, nil},
		{"tomatoes", []string{"tomato-staked"}, nil},
		{"brussel sprouts", []string{"brussels-sprouts"}, nil},
		{"Brussels sprout", []string{"brussels-sprouts"}, nil},
		{"asparagus", []string{"asparagus"}, nil},
		{"letuce", nil, []string{"lettuce"}},
		{"carot", nil, []string{"carrot"}},
		{"raddish", nil, []string{"radish"}},
		{"tomatto", nil, []string{"tomato"}},
		{"zzzzzz", nil, nil},
		{"", nil, nil},
		{"  ", nil, nil},
	}
	c := smallCatalogue()
	for _, test := range tests {
		found, near := c.Match(test.word)
		var ids []string
		for _, each := range found {
			ids = append(ids, each.ID)
		}
		if diff := cmp.Diff(test.found, ids); diff != "" {
			t.Errorf("%q found: %s", test.word, diff)
		}
		if diff := cmp.Diff(test.near, near); diff != "" {
			t.Errorf("%q near: %s", test.word, diff)
		}
	}
}

// Worked distances: kitten–sitting 3 (Levenshtein 1966, the textbook pair), a swap of neighbours 1.
func TestDistance(t *testing.T) {
	tests := []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"leek", "leke", 1}, {"", "pea", 3}, {"pea", "pea", 0}, {"bean", "been", 1}}
	for _, test := range tests {
		if got := distance(test.a, test.b); got != test.want {
			t.Errorf("%s–%s: %d, want %d", test.a, test.b, got, test.want)
		}
	}
}

func TestKinds(t *testing.T) {
	want := []string{"Brussels sprouts", "asparagus", "bean", "carrot", "corn salad", "lettuce", "radish", "tomato"}
	if diff := cmp.Diff(want, smallCatalogue().Kinds()); diff != "" {
		t.Error(diff)
	}
}

// Every embedded crop is found first by its own ID, and found by its name and each alias.
func TestMatchEveryName(t *testing.T) {
	for _, each := range Default().All() {
		if found, _ := Default().Match(each.ID); len(found) == 0 || found[0] != each {
			t.Errorf("ID %s does not find its crop first", each.ID)
		}
		for _, name := range names(each) {
			found, _ := Default().Match(name)
			ok := false
			for _, other := range found {
				ok = ok || other == each
			}
			if !ok {
				t.Errorf("%q does not find %s", name, each.ID)
			}
		}
	}
}
