package work

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// harvest is picking, and clearing the ground after it.
func (d *desk) harvest(p *garden.Planting) []Job {
	c, t := d.crop(p), d.days(p)
	if c.Group == crop.Cover {
		return []Job{d.turnIn(p, t)}
	}
	if c.Perennial && c.Harvest.FirstYear > 1 && toCome(p) {
		return nil
	}
	to := min(t.last.P90, max(t.first.P10, t.clear-1))
	j := d.job(p, Harvest, t.first.P10, to)
	verb := verbOf(c, p)
	tail := "from about " + t.first.P50.Short()
	if p.Expect > 0 {
		tail += ", " + d.mass(p.Expect) + " in all"
	}
	j.Title = d.title(verb, p, tail)
	own := d.told(c, Harvest)
	j.How = []string{fmt.Sprintf("Begin to look on %s.", t.first.P10.Short())}
	if !mentions(own, " when the", " when half", "when most", "as soon as", " while ", " at a ", " at the size", "Pick lower") {
		j.How[0] += " Ready when " + ready(c) + "."
	}
	j.How = append(j.How, own...)
	j.How = append(j.How, d.taking(c, p, own)...)
	j.Weather = harvestWeather(c)
	if p.Expect > 0 {
		j.Hours = effort(float64(p.Expect), harvestAnHour(c.Harvest.Part))
	}
	j.Why = []garden.Reason{{Says: "The plan's day: a first harvest by the weather years from " + p.Start.Short() + ".", Rule: "weather years"}}
	if p.Years > 0 && p.Expect > 0 {
		j.Why = append(j.Why, garden.Reason{
			Says: fmt.Sprintf("%s expected, the mean of %d weather years, failures counted as nothing.", sentence(d.mass(p.Expect)), p.Years),
			Rule: "weather years", Source: sourceOf(c, "harvest.yield"),
		})
	}
	j.Conditions = append(d.firstSpread(p), spread("Last of it", t.last))
	j.Cautions = warned(c, Harvest)
	if verb == "Cut" {
		j.Cautions = append([]string{"Keen knives: cut away from the holding hand."}, j.Cautions...)
	}
	d.heldBack(&j, c)
	jobs := []Job{j}
	if !c.Perennial && p.Role != garden.Marker {
		jobs = append(jobs, d.clearing(p, t, j.Window))
	}
	return jobs
}

// verbOf is what is done to take the crop.
func verbOf(c *crop.Crop, p *garden.Planting) string {
	switch {
	case pulled(c, p):
		return "Pull"
	case slices.Contains([]string{"root", "tuber", "bulb"}, c.Harvest.Part) || c.Kind == "leek":
		return "Lift"
	case slices.Contains([]string{"head", "leaf", "stalk", "spear", "stem"}, c.Harvest.Part):
		return "Cut"
	}
	return "Pick"
}

// pulled says whether it comes up by hand, without a fork.
func pulled(c *crop.Crop, p *garden.Planting) bool {
	return p.Role == garden.Marker || slices.Contains([]string{"radish", "beet", "turnip", "rhubarb", "bunching onion"}, c.Kind)
}

// readyKinds and readyParts tell by look and feel when a crop is fit to take, where its file does
// not; common practice.
var (
	readyKinds = map[string]string{
		"potato":         "the flowers are open, for new ones; for keeping, two weeks after the tops have died down",
		"onion":          "the tops have fallen over",
		"garlic":         "the lower third of the leaves is brown",
		"sweet corn":     "the silks are brown and dry and a pierced grain runs milky",
		"tomato":         "coloured all over and just giving to the thumb",
		"pepper":         "full sized and glossy; left, they colour and sweeten",
		"pumpkin":        "the stalk is corky and the skin resists a thumbnail",
		"winter squash":  "the stalk is corky and the skin resists a thumbnail",
		"cucumber":       "young and firm, before the seeds swell",
		"summer squash":  "young and firm, before the seeds swell",
		"asparagus":      "spears are a hand's length and the tips still tight",
		"rhubarb":        "stalks are as long as a forearm",
		"radish":         "the root is bigger than a marble and smaller than a walnut; they go woolly within the week",
		"bunching onion": "they are pencil thick",
		"leek":           "the shank is thumb thick",
		"kohlrabi":       "the globe is as big as a small apple",
	}
	readyParts = map[string]string{
		"root":   "the shoulder shows the width you want at the soil",
		"leaf":   "leaves are as long as a hand; before a flower stalk shows",
		"head":   "heads are firm and full under the palm, before they open or split",
		"bulb":   "the tops fall over and begin to dry",
		"tuber":  "the tops yellow and die down",
		"pod":    "pods are full length and snap, before the seeds bulge",
		"seed":   "seeds fill the pod but are still soft to the nail",
		"stalk":  "stalks are thick as a thumb and crisp",
		"stem":   "stems are thick enough to be worth it and still tender",
		"spear":  "spears are a hand's length and the tips still tight",
		"sprout": "the lowest sprouts are firm and as big as a walnut",
		"ear":    "the silks are brown and dry and a pierced grain runs milky",
	}
)

func ready(c *crop.Crop) string {
	if s, ok := readyKinds[c.Kind]; ok {
		return s
	}
	if s, ok := readyParts[c.Harvest.Part]; ok {
		return s
	}
	return "full coloured and coming away easily"
}

// taking is how it is taken, where its file has not said; common practice.
func (d *desk) taking(c *crop.Crop, p *garden.Planting, own []string) []string {
	var how []string
	switch c.Harvest.Manner {
	case crop.Repeated:
		if !mentions(own, "every", "day", "first", "again") {
			how = append(how, "Go over it every two or three days and take all that is ready: what is left to age stops the rest.")
		}
	case crop.Keeps:
		how = append(how, "It stands in the ground: lift as wanted, the largest first.")
	default:
		if !mentions(own, " within ", "as wanted") {
			how = append(how, standing(c))
		}
	}
	switch c.Harvest.Part {
	case "root", "tuber":
		if !pulled(c, p) && !mentions(own, "fork") {
			how = append(how, "Loosen with a fork a hand's breadth from the row before pulling.")
		}
	case "bulb":
		if !mentions(own, "dry") {
			how = append(how, "Lift on a dry day, dry them in an airy place till the necks rustle.")
		}
	case "pod":
		how = append(how, "Hold the stem with one hand and pick with the other.")
	}
	if p.Role == garden.Fast {
		if pulled(c, p) {
			how = append(how, "Draw them gently, a hand on the soil: the roots of the neighbour are among theirs.")
		} else {
			how = append(how, "Cut at the soil, do not pull: the roots of its neighbour are among its own.")
		}
	}
	if c.Harvest.StoreDays >= storable {
		if s := d.keeping(c); s != "" {
			how = append(how, s)
		}
		how = append(how, fmt.Sprintf("Sound ones keep about %s; eat the nicked ones first.", count((c.Harvest.StoreDays+15)/30, "month", "months")))
	}
	return how
}

func harvestWeather(c *crop.Crop) string {
	switch c.Harvest.Part {
	case "leaf", "head", "stalk", "spear", "stem":
		return "the cool of the morning"
	case "bulb", "tuber":
		return "a dry day, dry soil"
	case "pod", "seed":
		return "dry leaves: wet ones carry disease from plant to plant"
	}
	return "any dry day"
}

// clearing takes the remains off, in time for what follows.
func (d *desk) clearing(p *garden.Planting, t days, picked civil.Span) Job {
	c := d.crop(p)
	to := max(picked.To, t.clear-1) // from t.clear on the plan gives the ground to what follows
	from := min(to, max(picked.From, t.last.P50))
	follower := d.groundNext(p)
	why := fmt.Sprintf("The plan counts the ground free from %s.", t.clear.Short())
	if follower == nil {
		to = max(to, from+14)
		why += " Nothing follows on it this season, so that a few days more do no harm."
	}
	j := d.job(p, Clear, from, to)
	j.Title = d.title("Clear", p, "")
	if follower != nil {
		j.Title = d.title("Clear", p, fmt.Sprintf("%s follows on %s", d.crop(follower).Name(), follower.Start.Short()))
	}
	j.How = []string{clearingStep(c, p)}
	if c.Group == crop.Brassica {
		j.How = append(j.How, "Dig the stumps out, roots and all; swollen, knobbly roots are clubroot: burn or bin them and write it in the book.")
	}
	if s := c.Practice.Support; s != "" {
		j.How = append(j.How, "Take down and clean the "+s+".")
	}
	if follower == nil && p.Role != garden.Fast && p.Place.Area() > 0 {
		j.How = append(j.How, bareGround(from, d.season))
	}
	j.Weather = "any day the soil bears your weight; stand on a board if it is wet"
	j.Hours = effort(float64(p.Place.Area()), clearAnHour)
	if p.Role == garden.Fast {
		j.Hours = 0.25
	}
	j.Why = []garden.Reason{{Says: why}}
	j.Conditions = []garden.Reason{spread("Last of it", t.last)}
	j.Cautions = warned(c, Clear)
	return j
}

// clearingStep is what becomes of the remains.
func clearingStep(c *crop.Crop, p *garden.Planting) string {
	const sick = " Anything diseased goes to the bin or the fire."
	switch {
	case p.Role == garden.Fast:
		return "Cut off what is left at the soil and leave the roots: its neighbour's are among them."
	case c.Group == crop.Legume:
		return "Cut the tops off at the soil for the compost heap and leave the roots in: they feed what follows." + sick
	case slices.Contains([]string{"root", "bulb", "tuber"}, c.Harvest.Part):
		return "Gather up the tops and lift what was missed; the sound goes to the compost heap." + sick
	}
	return "Cut or pull what is left and take it to the compost heap." + sick
}

// bareGround is what to do where nothing follows: a green manure while there are eight weeks of the
// season's warm half left, else a cover of leaves or compost; common practice.
func bareGround(from civil.Date, season civil.Season) string {
	if season.Days > 0 && from <= season.Start.Add(244) { // the end of August, or of February in the south
		return "Nothing follows this season: sow a green manure, or cover the bare ground with leaves or compost."
	}
	return "Nothing follows this season: cover the bare ground with leaves or compost for the winter."
}

// turnIn is the end of a green manure: it is not eaten.
func (d *desk) turnIn(p *garden.Planting, t days) Job {
	c := d.crop(p)
	from := min(t.first.P50, t.clear-1)
	j := d.job(p, Clear, from, max(from, t.clear-1))
	j.Title = d.title("Cut and turn in", p, "")
	for _, s := range c.Practice.Jobs {
		if strings.HasPrefix(s, "Cut") || strings.HasPrefix(s, "Turn in") || strings.HasPrefix(s, "Wait") {
			j.How = append(j.How, d.inUnits(s))
		}
	}
	j.How = append(j.How, "Chop it with the spade and turn it in shallowly, two or three weeks before anything is sown there.")
	j.Weather = "moist soil, not wet"
	j.Hours = effort(float64(p.Place.Area()), digAnHour)
	j.Why = []garden.Reason{{Says: fmt.Sprintf("The plan counts the ground free from %s.", t.clear.Short())}}
	j.Cautions = []string{"A sharpened spade cuts boots too: feet apart, eyes on the blade."}
	return j
}

// heldBack puts a harvest off till raw manure on its bed lets it be eaten, and says so; manure that goes on while it is picked
// stops the picking.
//
// Source: NOP-203
func (d *desk) heldBack(j *Job, c *crop.Crop) {
	var before []garden.Treatment
	for _, t := range d.treatments {
		if t.Date <= j.Window.To {
			before = append(before, t)
		}
	}
	until, held := soil.FirstHarvest(c, j.BedID, before)
	if held == nil || until <= j.Window.From {
		return
	}
	j.Cautions = append([]string{held.Reason.Says}, j.Cautions...)
	j.Why = append(j.Why, held.Reason)
	if held.Treatment.Date <= j.Window.From {
		j.Window.From = until
		j.Window.To = max(j.Window.To, until)
		if len(j.How) > 0 {
			j.How[0] = fmt.Sprintf("Not before %s. ", until.Short()) + j.How[0]
		}
	}
}
