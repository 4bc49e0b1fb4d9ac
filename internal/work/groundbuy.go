package work

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// putJobs are the jobs that put anything on the ground, in order of day, with what was given of it.
func (d *desk) putJobs() []Job {
	var jobs []Job
	for _, a := range d.patches() {
		jobs = append(jobs, d.prepare(a))
	}
	jobs = append(jobs, d.feeds()...)
	jobs = append(jobs, d.dressings()...)
	for i := range d.plantings {
		if p := &d.plantings[i]; d.standsYears(p) {
			jobs = append(jobs, d.yearly(p)...)
		}
	}
	jobs = slices.DeleteFunc(jobs, func(j Job) bool { return len(j.Puts) == 0 })
	slices.SortStableFunc(jobs, func(a, b Job) int { return int(a.Window.From - b.Window.From) })
	d.given(jobs)
	return jobs
}

// lot is what the season's jobs still take of one material.
type lot struct {
	material string
	mass     quantity.Kilogram
	volume   quantity.Litre
	by       civil.Date
	beds     []int64
	of       map[int64]Put
	keys     []string
}

// lots gathers what the jobs to come take, by material, in order of need.
func (d *desk) lots() []lot {
	var all []lot
	for _, j := range d.putJobs() {
		for _, p := range j.Puts {
			if p.Full() || p.Left() <= 0 && p.Volume <= 0 || j.Window.To < d.from {
				continue
			}
			i := slices.IndexFunc(all, func(l lot) bool { return l.material == p.Material })
			if i < 0 {
				i = len(all)
				all = append(all, lot{material: p.Material, by: j.Window.From, of: map[int64]Put{}})
			}
			l := &all[i]
			share := 1.0
			if p.Mass > 0 {
				share = float64(p.Left() / p.Mass)
			}
			volume := p.Volume * quantity.Litre(share)
			l.mass, l.volume = l.mass+p.Left(), l.volume+volume
			if _, ok := l.of[p.BedID]; !ok {
				l.beds = append(l.beds, p.BedID)
			}
			was := l.of[p.BedID]
			l.of[p.BedID] = Put{BedID: p.BedID, Material: p.Material, Mass: was.Mass + p.Left(), Volume: was.Volume + volume}
			l.keys = append(l.keys, j.Serves...)
		}
	}
	return all
}

// groundSupplies are the lines of the shopping list for the ground: in the cheapest packages that hold enough, or loose.
func (d *desk) groundSupplies() []Order {
	if d.soil == nil {
		return nil
	}
	var out []Order
	for _, l := range d.lots() {
		m, ok := d.material(l.material)
		if !ok {
			continue
		}
		o := Order{What: m.Name, By: max(l.by.Add(-inHouse), d.from), For: l.keys, ground: true}
		slices.Sort(o.For)
		o.For = slices.Compact(o.For)
		for _, id := range l.beds {
			o.Why = append(o.Why, garden.Reason{Says: fmt.Sprintf("%s: %s.", d.beds[id].Name, d.putWords(l.of[id])), Rule: "the ground's need"})
		}
		packaged := slices.ContainsFunc(d.packages, func(p garden.Package) bool { return p.Material == l.material })
		switch {
		case m.Family == soil.Organic && !packaged:
			d.loose(&o, m, l.volume)
		default:
			d.inBags(&o, l)
		}
		out = append(out, o)
	}
	return out
}

// loose is organic matter by the load.
func (d *desk) loose(o *Order, m soil.Material, volume quantity.Litre) {
	o.Volume = volume
	var loads []string
	for _, l := range soil.Loads(volume, m, d.packages, d.weighs, d.bucket) {
		if l.Whole < 200 {
			loads = append(loads, fmt.Sprintf("%d × %s", l.Whole, l.Unit))
		}
	}
	o.Why = append(o.Why, garden.Reason{Says: "That is " + strings.Join(loads, ", or ") + ".", Rule: "loads"})
	if m.ID == "compost" {
		o.What = ripeCompost
		o.Why = append(o.Why, garden.Reason{Says: "Your own heap counts towards it.", Rule: "common practice"})
	}
}

// inBags buys the cheapest packages that hold enough.
func (d *desk) inBags(o *Order, l lot) {
	o.Mass = quantity.Gram(l.mass * 1000)
	offer, ok := d.offered(l.material)
	if !ok {
		var err error
		if offer, err = soil.OfferFor(l.material, d.packages, d.weighs); err != nil {
			o.Why = append(o.Why, garden.Reason{Says: sentence(err.Error()) + "."})
			return
		}
	}
	o.What = offer.Name
	p, err := soil.Buy(offer, l.mass)
	if err != nil {
		o.Why = append(o.Why, garden.Reason{Says: sentence(err.Error()) + "."})
		return
	}
	o.Bags, o.Cost = p.Bags, p.Cost
	says := fmt.Sprintf("%s needed", d.weighs.Mass(p.Needed))
	if over := p.Left(); over > 0.02*p.Needed {
		says += fmt.Sprintf(", %s left over: dry and closed, it keeps", d.weighs.Mass(over))
	}
	switch {
	case p.Cost > 0:
		says += fmt.Sprintf("; these packages are the cheapest that hold enough, %.2f together", p.Cost)
	case offer.Usual:
		says += "; in usual sizes, for none was told as on sale"
	}
	o.Why = append(o.Why, garden.Reason{Says: says + ".", Rule: "shopping list"})
}

// offered is the offer by which a bed's plant foods were reckoned.
func (d *desk) offered(material string) (soil.Offer, bool) {
	for _, id := range d.groundIDs() {
		if g := d.ground[id]; g.Feeding != nil {
			for _, p := range g.Feeding.Mix.Parts {
				if p.Offer.Material.ID == material {
					return p.Offer, true
				}
			}
		}
	}
	return soil.Offer{}, false
}

// bagWords is a number of packages: "two packages of 10 kg and one of 2 kg".
func bagWords(o Order, m measures) string {
	var words []string
	for i, b := range o.Bags {
		name := m.system.ExactMass(b.Size.Mass)
		if b.Size.Name != "" && !strings.EqualFold(b.Size.Name, o.What) {
			name += ", " + b.Size.Name
		}
		if i == 0 {
			words = append(words, count(b.Count, "package", "packages")+" of "+name)
		} else {
			words = append(words, number(b.Count)+" of "+name)
		}
	}
	return list(words)
}
