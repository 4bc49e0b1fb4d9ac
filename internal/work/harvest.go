package work

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// harvest is picking, and clearing the ground after it.
func (d *desk) harvest(p *garden.Planting) []Job {
	c, t := d.crop(p), d.days(p)
	if c.Perennial && c.Harvest.FirstYear > 1 && p.Status != garden.InGround {
		return nil
	}
	to := min(t.last.P90, max(t.first.P10, t.clear-1))
	j := d.job(p, Harvest, t.first.P10, to)
	verb := "Pick"
	switch c.Harvest.Part {
	case "root", "tuber", "bulb":
		verb = "Lift"
	case "head", "leaf", "stalk", "spear":
		verb = "Cut"
	}
	if pulled(c, p) {
		verb = "Pull"
	}
	tail := "from about " + t.first.P50.Short()
	if p.Expect > 0 {
		tail += ", " + d.mass(p.Expect) + " in all"
	}
	j.Title = d.title(verb, p, tail)
	j.How = []string{fmt.Sprintf("Begin to look on %s. Ready when %s.", t.first.P10.Short(), ready(c))}
	j.How = append(j.How, d.taking(c, p)...)
	j.Weather = harvestWeather(c)
	if p.Expect > 0 {
		j.Hours = effort(float64(p.Expect), harvestAnHour(c.Harvest.Part))
	}
	if p.Years > 0 {
		j.Why = append(j.Why, garden.Reason{Says: fmt.Sprintf("%s expected, the mean of %d weather years, failures counted as nothing.", sentence(d.mass(p.Expect)), p.Years), Rule: "weather years", Source: sourceOf(c, "harvest.yield")})
	}
	j.Conditions = append(d.firstSpread(p), spread("Last of it", t.last))
	j.Cautions = append([]string{"Keen knives: cut away from the holding hand."}, c.Practice.Cautions...)
	if verb == "Pull" || verb == "Pick" {
		j.Cautions = c.Practice.Cautions
	}
	jobs := []Job{j}
	if !c.Perennial && p.Role != garden.Marker {
		jobs = append(jobs, d.clearing(p, t, j.Window))
	}
	return jobs
}

// pulled says whether it comes up by hand, without a fork.
func pulled(c *crop.Crop, p *garden.Planting) bool {
	return c.Kind == "radish" || c.Kind == "beet" || c.Kind == "turnip" || p.Role == garden.Marker
}

// ready tells by look and feel when the part is fit to take; common practice.
func ready(c *crop.Crop) string {
	switch c.Kind {
	case "potato":
		return "the flowers are open, for new ones; for keeping, two weeks after the tops have died down"
	case "onion", "shallot":
		return "the tops have fallen over; for green onions, as soon as they are pencil thick"
	case "garlic":
		return "the lower third of the leaves is brown"
	case "sweet corn", "corn":
		return "the silks are brown and dry and a pierced grain runs milky"
	case "tomato":
		return "coloured all over and just giving to the thumb"
	case "pumpkin", "winter squash":
		return "the stalk is corky and the skin resists a thumbnail"
	case "cucumber", "summer squash":
		return "young and firm, before the seeds swell"
	case "asparagus":
		return "spears are a hand's length and the tips still tight"
	case "rhubarb":
		return "stalks are as long as a forearm"
	case "radish":
		return "the root is bigger than a marble and smaller than a walnut; they go woolly within the week"
	}
	switch c.Harvest.Part {
	case "root":
		return "the shoulder shows the width you want at the soil"
	case "leaf":
		return "leaves are as long as a hand; before a flower stalk shows"
	case "head":
		return "heads are firm and full under the palm, before they open or split"
	case "bulb":
		return "the tops fall over and begin to dry"
	case "tuber":
		return "the tops yellow and die down"
	case "pod":
		return "pods are full length and snap; before the seeds bulge, unless they are wanted"
	case "seed":
		return "seeds fill the pod but are still soft to the nail"
	case "stalk":
		return "stalks are thick as a thumb and crisp"
	}
	return "full coloured and coming away easily"
}

// taking is how it is taken; common practice.
func (d *desk) taking(c *crop.Crop, p *garden.Planting) []string {
	var how []string
	switch c.Harvest.Manner {
	case crop.Repeated:
		how = append(how, "Go over it every two or three days and take all that is ready: what is left to age stops the rest.")
	case crop.Keeps:
		how = append(how, "It stands in the ground: lift as wanted, the largest first.")
	default:
		how = append(how, "It does not stand long once ready: take it within its week or two.")
	}
	switch c.Harvest.Part {
	case "root", "tuber":
		if !pulled(c, p) {
			how = append(how, "Loosen with a fork a hand's breadth from the row before pulling.")
		}
	case "bulb":
		how = append(how, "Lift on a dry day, dry them in an airy place till the necks rustle.")
	case "head":
		how = append(how, "Cut with a knife low on the stem, a few leaves on.")
	case "pod":
		how = append(how, "Hold the stem with one hand and pick with the other.")
	}
	if p.Role == garden.Fast {
		how = append(how, "Cut at the soil or twist out gently: the roots of its neighbour are among its own.")
	}
	if c.Harvest.StoreDays >= 60 {
		how = append(how, fmt.Sprintf("Sound ones keep about %s; eat the nicked ones first.", monthsWords(c.Harvest.StoreDays)))
	}
	return how
}

func monthsWords(days int) string { return count((days+15)/30, "month", "months") }

func harvestWeather(c *crop.Crop) string {
	switch c.Harvest.Part {
	case "leaf", "head", "stalk", "spear":
		return "the cool of the morning"
	case "bulb", "tuber":
		return "a dry day, dry soil"
	case "pod":
		return "dry leaves: wet ones carry disease from plant to plant"
	}
	return "any dry day"
}

// clearing takes the remains off, in time for what follows.
func (d *desk) clearing(p *garden.Planting, t days, picked civil.Span) Job {
	c := d.crop(p)
	to := max(picked.To, t.clear-1)
	from := min(to, max(picked.From, t.last.P50))
	next, follower := d.groundNext(p)
	if follower == nil {
		to = max(to, from+14)
	} else {
		to = max(picked.To, min(max(to, next-1), t.clear+6))
	}
	j := d.job(p, Clear, from, to)
	j.Title = d.title("Clear", p, "")
	if follower != nil {
		j.Title = d.title("Clear", p, fmt.Sprintf("%s follows on %s", d.crop(follower).Name(), follower.Start.Short()))
	}
	j.How = []string{"Cut or pull what is left and take it to the compost heap; anything diseased goes to the bin or the fire."}
	switch {
	case c.Group == crop.Legume:
		j.How[0] = "Cut the tops off at the soil for the compost heap and leave the roots in: they feed what follows. Anything diseased goes to the bin."
	case c.Group == crop.Brassica:
		j.How = append(j.How, "Dig the stumps out, roots and all; swollen, knobbly roots are clubroot: burn or bin them and write it in the book.")
	case p.Role == garden.Fast:
		j.How[0] = "Cut off what is left at the soil and leave the roots: its neighbour's are among them."
	}
	if c.Practice.Support != "" {
		j.How = append(j.How, "Take down and clean the "+c.Practice.Support+".")
	}
	if follower == nil && p.Role != garden.Fast && p.Place.Area() > 0 {
		j.How = append(j.How, "Nothing follows this season: cover the bare ground with leaves or compost or, if it is early enough to come up, sow a green manure.")
	}
	j.Weather = "any day the soil bears your weight; stand on a board if it is wet"
	j.Hours = effort(float64(p.Place.Area()), clearAnHour)
	if p.Role == garden.Fast {
		j.Hours = quantity.Hour(0.25)
	}
	j.Why = []garden.Reason{{Says: fmt.Sprintf("The plan counts the ground free from %s.", t.clear.Short())}}
	j.Conditions = []garden.Reason{spread("Last of it", t.last)}
	return j
}
