package web

import (
	"cmp"
	"fmt"
	"net/http"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// shoppingPage is what to buy for all beds, and the sizes on sale it is reckoned with.
type shoppingPage struct {
	frame
	Lines    []buyLine
	Total    string
	Told     string // of those that have a price, where some have none
	Unpriced bool
	Bulk     []bulkLine
	Left     []string
	Reasons  []reasonLine
	Stopped  []navLink // beds for which nothing is bought
	Sizes    []sizeLine
	PutOn    choiceView
	Back     navLink
}

type buyLine struct {
	Name, Needed, Buy, Left, Cost string
	Beds                          []bedShare
	Usual                         string // where its sizes and price are told
}

type bedShare struct{ Href, Name, Mass string }

type bulkLine struct {
	Name, Loose string
	Loads       []string
	Beds        []navLink
	Add         string
}

type sizeLine struct{ Href, Name, Holds, Price, Label string }

func (s *site) shopping(w http.ResponseWriter, r *http.Request) error {
	known, err := s.groundOf(r)
	if err != nil {
		return err
	}
	p := shoppingPage{frame: known.frame("Shopping for the soil"), Back: navLink{Href: "/soil", Label: "Back to the soil"}}
	p.PutOn = choiceView{choiceSays(known.garden), choiceForm(known.garden, "shopping")}
	g, u := known.garden, known.ground.Weighs
	buy := known.ground.Buy
	for _, one := range buy.Purchases {
		p.Lines = append(p.Lines, buyLineOf(g, buy, one, u))
	}
	p.Unpriced = !buy.Priced && len(p.Lines) > 0
	told := 0.0
	for _, one := range buy.Purchases {
		told += one.Cost
	}
	if p.Unpriced && told > 0 {
		p.Told = money(told)
	}
	if buy.Priced && len(p.Lines) > 0 {
		p.Total = money(buy.Cost)
	}
	for _, b := range buy.Bulk {
		line := bulkLine{Name: upper(b.Name), Loose: bulk(b.Loose, u), Loads: loadWords(b.Loads), Add: "/soil/package/new?material=" + b.Material}
		for _, id := range b.Beds {
			line.Beds = append(line.Beds, bedLink(g, id))
		}
		p.Bulk = append(p.Bulk, line)
	}
	p.Left, p.Reasons = buy.Left, reasons(buy.Reasons)
	for _, b := range known.ground.Beds {
		if b.Stopped != "" {
			p.Stopped = append(p.Stopped, navLink{Href: soilHref(b.Bed.ID), Label: b.Bed.Name})
		}
	}
	for _, one := range g.Packages {
		p.Sizes = append(p.Sizes, sizeLineOf(one, u))
	}
	return s.render(w, http.StatusOK, "shopping", p)
}

func buyLineOf(g garden.Garden, buy season.BuyingList, one soil.Purchase, u quantity.System) buyLine {
	line := buyLine{Name: upper(one.Offer.Name), Needed: weighed(u, one.Needed)}
	var bags []string
	for _, b := range one.Bags {
		bags = append(bags, fmt.Sprintf("%d × %s", b.Count, cmp.Or(sizeName(b.Size.Name, one.Offer.Name), u.ExactMass(b.Size.Mass))))
	}
	line.Buy = strings.Join(bags, " and ")
	if left := one.Left(); left > one.Bought/200 {
		line.Left = weighed(u, left)
	}
	if one.Cost > 0 {
		line.Cost = money(one.Cost)
	}
	if one.Offer.Usual {
		line.Usual = "/soil/package/new?material=" + one.Offer.Material.ID
	}
	for _, f := range buy.Beds(one.Offer.Material.ID) {
		l := bedLink(g, f.Bed)
		line.Beds = append(line.Beds, bedShare{l.Href, l.Label, weighed(u, f.Mass)})
	}
	return line
}

// sizeName is a package's own name where it says more than the material's does.
func sizeName(name, material string) string {
	if name == material {
		return ""
	}
	return name
}

func bedLink(g garden.Garden, id int64) navLink {
	b, _ := g.Bed(id)
	return navLink{Href: soilHref(id), Label: b.Name}
}

// loadWords are the ways to count a volume, each in words.
func loadWords(loads []soil.Load) (says []string) {
	for _, l := range loads {
		if l.Exact < .4 {
			continue // a cubic yard is no way to count a bag
		}
		unit := l.Unit
		if l.Whole != 1 {
			unit = manyLoads(unit)
		}
		says = append(says, fmt.Sprintf("%d %s", l.Whole, unit))
	}
	return says
}

// manyLoads is "bags of 2 cu ft" for "bag of 2 cu ft".
func manyLoads(unit string) string {
	if head, rest, ok := strings.Cut(unit, " of "); ok {
		return quantity.Noun(false, head) + " of " + rest
	}
	return quantity.Noun(false, unit)
}

func sizeLineOf(p garden.Package, u quantity.System) sizeLine {
	line := sizeLine{Href: fmt.Sprintf("/soil/package/%d", p.ID), Name: upper(packageName(p)), Holds: u.ExactMass(p.Mass), Price: "not told"}
	if p.Mass == 0 {
		line.Holds = u.ExactVolume(p.Volume)
	}
	if p.Price > 0 {
		line.Price = money(p.Price)
	}
	var label []string
	if p.N != nil && p.P2O5 != nil && p.K2O != nil {
		label = append(label, fmt.Sprintf("%s-%s-%s", plain(*p.N), plain(*p.P2O5), plain(*p.K2O)))
	}
	if p.CCE != nil {
		label = append(label, "neutralising value "+plain(*p.CCE)+" %")
	}
	if p.Fineness != nil {
		label = append(label, "fineness "+plain(*p.Fineness)+" %")
	}
	line.Label = strings.Join(label, ", ")
	return line
}
