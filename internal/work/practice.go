package work

import (
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// practice are the crop's own sentences that belong to the way this planting goes in. A file's
// sentences are written for the crop's usual way; those plainly about another way, or about a
// marker or a neighbour that the plan settles itself, are left out.
func practice(c *crop.Crop, p *garden.Planting) []string {
	var kept []string
	for _, s := range c.Practice.Jobs {
		if fits(s, p.Way) && !strings.Contains(s, "mark it") && !strings.Contains(s, "between the rows is") {
			kept = append(kept, s)
		}
	}
	return kept
}

// aboutPlants and aboutSeed are the beginnings and words that give a sentence's way away.
var (
	aboutPlants = []string{"Set out", "Set each", "Set the plants", "Water each plant", "Firm each plant", "Put out", "Transplant"}
	aboutSeed   = []string{"Sow ", "Soak the seed", "Draw a drill", "Draw drills", "Thin "}
	aboutSets   = []string{"Plant the cloves", "Plant the sets", "Plant the tubers", "Break the bulb", "Cut the tubers"}
)

func fits(sentence string, way crop.Way) bool {
	others := [][]string{aboutPlants, aboutSets}
	switch way {
	case crop.SetOut:
		others = [][]string{aboutSeed, aboutSets}
	case crop.Set:
		others = [][]string{aboutSeed, {"Water each plant"}}
	}
	for _, words := range others {
		for _, w := range words {
			if strings.HasPrefix(sentence, w) {
				return false
			}
		}
	}
	return true
}

// mentions says whether any step holds any of the words.
func mentions(steps []string, words ...string) bool {
	for _, s := range steps {
		for _, w := range words {
			if strings.Contains(s, w) {
				return true
			}
		}
	}
	return false
}

// unless adds a step where no step yet speaks of it.
func unless(steps []string, word, step string) []string {
	if mentions(steps, word) {
		return steps
	}
	return append(steps, step)
}
