package work

import (
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// A crop's file gives its practice as sentences in the order of the season. Each is shown with the
// job it belongs to; stageOf reads that from how it begins. A sentence about a job the planting has
// not stays with its going in, as something to know.

// openings are the beginnings that give a sentence's job away; the first that fits counts.
var openings = []struct {
	kind  Kind
	words []string
}{
	{Prepare, []string{"Choose ground", "Choose the warmest", "Tread the bed", "Throw up a ridge", "Dig a trench", "Dig a hole", "Clear every root", "Work a ", "Give it "}},
	{OrderSeed, []string{"Buy plants", "Stand the seed potatoes", "Cut large seed potatoes"}},
	{Thin, []string{"Thin", "Leave one plant", "Where sown: thin"}},
	{EarthUp, []string{"Draw soil to the stems", "Earth up", "Hoe shallowly and draw"}},
	{Support, []string{"Put up the", "Drive the stakes", "Run string", "Lead the first shoots", "Tie every hand", "Keep the fruit off the ground", "Push in twiggy", "String two wires", "Set posts"}},
	{Feed, []string{"Stop feeding", "Give no nitrogen", "Feed and water"}},
	{Harvest, []string{
		"Cut ", "Pick ", "Pull", "Lift ", "Dig ", "Begin pulling", "From the third year cut", "Twist off", "Pinch out the tips, ", "Feel for tubers", "Each bulb makes", "Bag the heads", "Keep out of the rows", "After harvest",
	}},
}

// notHarvest are beginnings that only look like harvesting.
var notHarvest = []string{"Cut large", "Cut the flower stems", "Cut or turn in", "Cut and turn", "Cut at first flower", "Cut lightly", "Pull nothing", "Cut nothing", "Pick off all blossom", "Dig a"}

func stageOf(sentence string) (Kind, bool) {
	begins := func(w string) bool { return strings.HasPrefix(sentence, w) }
	for _, o := range openings {
		if o.kind == Harvest && slices.ContainsFunc(notHarvest, begins) {
			continue
		}
		if slices.ContainsFunc(o.words, begins) {
			return o.kind, true
		}
	}
	return "", false
}

// told are the crop's own sentences for one of its jobs.
func (d *desk) told(c *crop.Crop, k Kind) []string {
	var out []string
	for _, s := range c.Practice.Jobs {
		if at, ok := stageOf(s); ok && at == k {
			out = append(out, d.inUnits(s))
		}
	}
	return out
}

// practice are the crop's own sentences for going in. Those plainly about another way, or about a
// marker or a neighbour that the plan settles itself, are left out; so are those of jobs the
// planting has of its own.
func (d *desk) practice(p *garden.Planting) []string {
	c := d.crop(p)
	var now, later []string
	for _, s := range c.Practice.Jobs {
		if !fits(s, p.Way) || settledByPlan(s) || (p.Role == garden.Marker && strings.HasPrefix(s, "Sow ")) {
			continue // a marker is dropped into another's drill
		}
		at, staged := stageOf(s)
		switch {
		case !staged:
			now = append(now, d.inUnits(s))
		case !d.hasJob(p, at):
			later = append(later, d.inUnits(s))
		}
	}
	return append(now, later...)
}

// hasJob says whether the planting has a job of the kind to show a sentence with.
func (d *desk) hasJob(p *garden.Planting, k Kind) bool {
	c := d.crop(p)
	switch k {
	case Thin:
		return d.thinned(p) || p.Way != crop.Sow || p.Role == garden.Marker
	case EarthUp:
		return earthed(c)
	case Support:
		return c.Practice.Support != ""
	case Feed:
		return c.Practice.SideDress != ""
	}
	return true
}

// settled are words of sentences that the plan or the job's own measures have settled: a marker row
// and a crop between are plantings where the plan wants them; drill, trench and furrow are measured out.
var settled = []string{
	"mark it", "mark the row", "between the rows is", "midway between the plants", "Sow again in late summer", "Sow again every",
	"Sow thinly in a drill", "Sow thickly in a drill", "Draw a drill, water it", "Open a flat trench", "Cover with 1 in of soil and firm",
	"in deep in a furrow", "seeds to a hill",
}

func settledByPlan(s string) bool {
	return slices.ContainsFunc(settled, func(w string) bool { return strings.Contains(s, w) })
}

// PracticeWords are the crop's sentences on its practice, in the order of the season, with their
// measures in the person's units.
func PracticeWords(c *crop.Crop, units quantity.System) []string {
	out := make([]string, 0, len(c.Practice.Jobs))
	for _, s := range c.Practice.Jobs {
		out = append(out, measures{units}.inUnits(s))
	}
	return out
}

// aboutPlants and the like are the beginnings that give a sentence's way away.
var (
	aboutPlants = []string{"Set out", "Set each", "Set plants out", "Set the plants", "Water each plant", "Firm each plant", "Set deep", "Put a collar", "Dibble", "Transplant"}
	aboutSeed   = []string{"Sow ", "Soak the seed", "Draw a drill", "Rake the bed fine", "Place the seed", "Crack the", "Where sown"}
	aboutSets   = []string{"Set in autumn", "Break the bulbs", "Set the bulbs", "Set them ", "Set the pieces", "Cut large"}
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

// dressed is the caution on treated seed.
const dressed = "Seed sold dressed with a fungicide is dyed and labelled: wear gloves, wash hands, and never eat it, feed it or throw it on the compost."

// warned are the crop's own cautions that belong to a job: handling seed and sets where it goes in,
// food and poison where it is picked, gloves and points where hands are among the plants.
func warned(c *crop.Crop, k Kind) []string {
	var out []string
	for _, s := range c.Practice.Cautions {
		if slices.Contains(warnedAt(s), k) {
			out = append(out, s)
		}
	}
	return out
}

func warnedAt(s string) []Kind {
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(s, w) })
	}
	switch {
	case has("Seed sold", "certified", "Set no "):
		return []Kind{Sow, SetOut, Plant, OrderSeed}
	case has("Cap the tops", "cap pole", "Prune"):
		return []Kind{Support, Harvest}
	case has("thinning", "handle", "Wear", "sap"):
		return []Kind{Thin, Harvest}
	case has("haulm", "waste", "stock"):
		return []Kind{Harvest, Clear}
	}
	return []Kind{Harvest}
}
