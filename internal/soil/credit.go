package soil

import (
	"cmp"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Credit is plant food that a bed has already, or will have from what was done there before.
type Credit struct {
	What    string     // "composted horse manure, 12 Oct 2026"
	Date    civil.Date // of the treatment; 0: none
	Coming  bool       // it is still to be given
	Mass    Mass       // on the whole bed
	Reasons []garden.Reason
}

// Days by which a treatment counts as of the season before: what went on within so many days before the season's first
// planting feeds it as the first, what went on a year earlier as the second.
const firstSeason = 300

// Shares of what organic materials hold that the crops of the season find, in per cent. An extension service counts the whole phosphate of
// compost, so that no more is brought than leaves; in twenty gardens fed on compost alone, phosphorus was very high in every one.
//
// Source: MANURE-UMN (P and K 70–90 in the first year); PSU-COMPOST; UMN-COMPOST; nitrogen of the second and third year from memory
const (
	organicPK     = 80.0
	nitrogenYear2 = 12.0
	nitrogenYear3 = 5.0
)

// Nitrogen from crops before, in pounds an acre.
//
// Source: GREENMAN (tops of a full stand and the part the next crop uses); residues of peas and beans from memory
var (
	inTops        = map[string]float64{"hairy-vetch": 110, "crimson-clover": 100, "field-pea": 90}
	usableInTops  = 0.5  // 40–60 per cent
	otherLegume   = 70.  // a legume grown as green manure of which no figure is told
	afterLegume   = 30.  // 20–40 from the residues of peas and beans
	lessOnSand    = 50.  // late-summer legumes on sand: as much less
	organicPer    = 20.  // for each per cent of organic matter above the usual; 10–40
	usualOrganic  = 3.   // per cent: what the tables' rates reckon with already
	mostByOrganic = 80.0 // and not more than this
)

// CreditsOf is what a bed's need may be lessened by: manure, compost and fertiliser put on (with their days), legumes
// and green manures before, legumes earlier in the season, and a store of organic matter above the usual. Phosphate and
// potash put on before the soil test are in the test already and count no more.
func CreditsOf(g Ground, need Need) []Credit {
	var all []Credit
	start := g.firstPlanting()
	for _, t := range g.Treatments {
		if c, ok := g.treated(t, start, need); ok {
			all = append(all, c)
		}
	}
	for _, t := range g.Coming {
		if c, ok := g.coming(t, start, need); ok {
			all = append(all, c)
		}
	}
	all = append(all, g.cropsBefore()...)
	all = append(all, g.legumesFirst()...)
	if c, ok := g.organicMatter(); ok {
		all = append(all, c)
	}
	slices.SortStableFunc(all, func(a, b Credit) int { return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.What, b.What)) })
	return all
}

// SumOf adds credits up.
func SumOf(credits []Credit) (total Mass) {
	for _, c := range credits {
		total = total.Plus(c.Mass)
	}
	return total
}

func (g Ground) firstPlanting() civil.Date {
	start := g.To
	for _, p := range g.Plantings {
		start = min(start, max(p.Start, g.From))
	}
	if len(g.Plantings) == 0 {
		start = g.From
	}
	return start
}

// treated is the credit of one treatment.
func (g Ground) treated(t garden.Treatment, start civil.Date, need Need) (Credit, bool) {
	m, ok := Find(t.Material)
	mass := weightOf(t, m)
	if !ok || t.BedID != g.Bed.ID || t.Date > g.To || !(mass > 0) {
		return Credit{}, false
	}
	holds := m.grade().Holds(mass)
	season := max(0, 1+(start.Since(t.Date)-firstSeason+364)/365) // 1: feeds this season first
	if t.Date > start {
		season = 1
	}
	c := Credit{What: fmt.Sprintf("%s, %s", m.Name, dated(t.Date)), Date: t.Date}
	shareN, why := m.nitrogenShare(season)
	if m.Family != Organic && m.First == nil && start.Since(t.Date) > 60 {
		shareN, why = 0, "its nitrogen, put on more than two months before planting, is counted as washed out or used"
	}
	shareP, shareK := pkShare(m, season), pkShare(m, season)
	if need.Phosphorus.Tested && t.Date <= need.Phosphorus.Date {
		shareP = 0
	}
	if need.Potash.Tested && t.Date <= need.Potash.Date {
		shareK = 0
	}
	c.Mass = Mass{N: holds.N * quantity.Kilogram(shareN/100), P2O5: holds.P2O5 * quantity.Kilogram(shareP/100), K2O: holds.K2O * quantity.Kilogram(shareK/100)}
	if c.Mass.N <= 0 && c.Mass.P2O5 <= 0 && c.Mass.K2O <= 0 {
		return Credit{}, false
	}
	source := ""
	if m.Family == Organic {
		source = "MANURE-UMN"
		why += pkWords(shareP, shareK)
	}
	c.Reasons = []garden.Reason{{Says: fmt.Sprintf("%s of %s: %s.", title(m.Name), dated(t.Date), why), Rule: "credit of a treatment", Source: source}}
	return c, true
}

// pkWords are the shares of phosphate and potash in a clause; empty where a test since has counted both.
func pkWords(p, k float64) string {
	switch {
	case p > 0 && k > 0:
		return fmt.Sprintf(", and %.0f per cent of its phosphate and potash", p)
	case p > 0:
		return fmt.Sprintf(", and %.0f per cent of its phosphate", p)
	case k > 0:
		return fmt.Sprintf(", and %.0f per cent of its potash", k)
	}
	return ""
}

// coming is the credit of organic matter still to be given: as what was given, but as a poor one, since nobody knows yet what it holds.
func (g Ground) coming(t garden.Treatment, start civil.Date, need Need) (Credit, bool) {
	m, ok := Find(t.Material)
	mass := weightOf(t, m)
	if !ok || m.Family != Organic || t.BedID != g.Bed.ID || !(mass > 0) {
		return Credit{}, false
	}
	holds, poor := m.poorest().Holds(mass), m.poorest()
	shareN, _ := m.nitrogenShare(1)
	pk := pkShare(m, 1)
	c := Credit{What: m.Name + ", still to come", Date: t.Date, Coming: true}
	c.Mass = Mass{N: holds.N * quantity.Kilogram(shareN/100), P2O5: holds.P2O5 * quantity.Kilogram(pk/100), K2O: holds.K2O * quantity.Kilogram(pk/100)}
	c.Reasons = []garden.Reason{{
		Says: fmt.Sprintf("%s is still to come, before the first planting of %s. %.0f per cent of its nitrogen is counted%s, of a poor one (%g-%g-%g): what it holds is not known.",
			title(m.Name), dated(start), shareN, pkWords(pk, pk), poor.N, poor.P2O5, poor.K2O),
		Rule: "credit of what is to come", Source: "MANURE-UMN; PSU-COMPOST; UMN-COMPOST",
	}}
	if need.Total != (Mass{}) && need.Planted > 0 {
		gone := Mass{N: min(c.Mass.N, need.Total.N), P2O5: min(c.Mass.P2O5, need.Total.P2O5), K2O: min(c.Mass.K2O, need.Total.K2O)}.On(need.Planted)
		c.Reasons = append(c.Reasons, garden.Reason{
			Says: fmt.Sprintf("If none is given after all, %s of nitrogen, %s of phosphate and %s of potash more are wanted here.", g.Units.Rate(gone.N), g.Units.Rate(gone.P2O5), g.Units.Rate(gone.K2O)),
			Rule: "credit of what is to come",
		})
	}
	return c, true
}

// weightOf is what a treatment weighed: as weighed, else by volume and the material's loose density; 0 where neither tells.
func weightOf(t garden.Treatment, m Material) quantity.Kilogram {
	if t.Amount > 0 || m.Density == nil {
		return t.Amount
	}
	return quantity.Kilogram(float64(t.Volume) * m.Density.Value)
}

// Weighed is what a treatment weighed, reckoned from its volume where it was not weighed; 0 where the material is not known.
func Weighed(t garden.Treatment) quantity.Kilogram {
	m, _ := Find(t.Material)
	return weightOf(t, m)
}

// nitrogenShare is the per cent of a material's nitrogen that crops find in the first, second or third season after.
func (m Material) nitrogenShare(season int) (share float64, why string) {
	first := 100.0
	if m.First != nil {
		first = m.First.Value
	}
	switch {
	case season <= 1:
		return first, fmt.Sprintf("%.0f per cent of its nitrogen is counted in the first season", first)
	case m.Family == Organic && season == 2:
		share = min(nitrogenYear2, (100-first)/2)
		return share, fmt.Sprintf("%.0f per cent of its nitrogen is counted in the second season", share)
	case m.Family == Organic && season == 3:
		share = min(nitrogenYear3, (100-first)/4)
		return share, fmt.Sprintf("%.0f per cent of its nitrogen is counted in the third season", share)
	}
	return 0, "its nitrogen is used up"
}

// pkShare is the per cent of a material's phosphate and potash counted in a season.
func pkShare(m Material, season int) float64 {
	switch {
	case season > 1:
		return 0
	case m.Family == Organic:
		return organicPK
	}
	return 100
}

// poorest is what a material holds by the low end of what is met with.
func (m Material) poorest() Grade {
	of := func(f *Figure) float64 {
		switch {
		case f == nil:
			return 0
		case f.Low < f.High:
			return f.Low
		}
		return f.Value
	}
	return Grade{of(m.N), of(m.P2O5), of(m.K2O)}
}

// grade is what a material holds by its usual figures.
func (m Material) grade() Grade {
	of := func(f *Figure) float64 {
		if f == nil {
			return 0
		}
		return f.Value
	}
	return Grade{of(m.N), of(m.P2O5), of(m.K2O)}
}

// cropsBefore is the nitrogen left by legumes of the year before and by green manures since.
func (g Ground) cropsBefore() []Credit {
	var all []Credit
	for _, p := range g.History {
		c := g.crop(p.CropID)
		year := g.From.Year()
		if p.BedID != g.Bed.ID || c == nil || p.Year < year-1 || p.Year > year {
			continue
		}
		area := g.Bed.Area()
		if a := p.Place.Area(); a > 0 {
			area = min(area, a)
		}
		switch {
		case c.Group == crop.Cover && c.Family == legumes:
			all = append(all, g.greenManure(c, area))
		case c.Family == legumes && p.Year == year-1:
			all = append(all, nitrogenCredit(c.Name()+" the year before", afterLegume, area, g.residues(), ""))
		}
	}
	return all
}

const legumes = "Fabaceae"

func (g Ground) residues() string {
	return fmt.Sprintf("residues of peas and beans leave %s of nitrogen", rates(g.Units, perAcre(20), perAcre(40)))
}

func (g Ground) greenManure(c *crop.Crop, area quantity.SquareMetre) Credit {
	tops, ok := inTops[c.ID]
	if !ok {
		tops = otherLegume
	}
	pounds, source := tops*usableInTops, "GREENMAN"
	says := fmt.Sprintf("a full stand holds about %s of nitrogen in its tops, of which the next crop finds half", g.Units.Rate(perAcre(tops)))
	if g.Texture == garden.Sand {
		pounds, source = max(0, pounds-lessOnSand), "WISC-LEG"
		says += fmt.Sprintf("; on sand %s less", g.Units.Rate(perAcre(lessOnSand)))
	}
	return nitrogenCredit(c.Name()+" dug in", pounds, area, says, source)
}

func nitrogenCredit(what string, pounds float64, area quantity.SquareMetre, says, source string) Credit {
	return Credit{
		What: what, Mass: Mass{N: quantity.Kilogram(perAcre(pounds)) * quantity.Kilogram(area)},
		Reasons: []garden.Reason{{Says: fmt.Sprintf("%s: %s.", what, says), Rule: "nitrogen of the crop before", Source: source}},
	}
}

// legumesFirst is what peas and beans of this season leave to the crop that follows them on the same ground.
func (g Ground) legumesFirst() []Credit {
	var all []Credit
	for _, p := range g.Plantings {
		c := g.crop(p.CropID)
		if c == nil || c.Family != legumes {
			continue
		}
		if c.Group == crop.Cover {
			if p.Start < g.From { // sown the autumn before, dug in this spring
				all = append(all, g.greenManure(c, p.Place.Area()))
			}
			continue
		}
		var follows quantity.SquareMetre
		for _, q := range g.Plantings {
			if q.Start >= p.Clear && q.Place.Meets(p.Place) {
				follows = max(follows, shared(p.Place, q.Place))
			}
		}
		if follows > 0 {
			all = append(all, nitrogenCredit(c.Name()+" earlier this season", afterLegume, follows, g.residues(), ""))
		}
	}
	return all
}

// shared is the ground that two places have in common.
func shared(a, b garden.Place) quantity.SquareMetre {
	return garden.Place{
		AlongFrom: max(a.AlongFrom, b.AlongFrom), AlongTo: min(a.AlongTo, b.AlongTo),
		AcrossFrom: max(a.AcrossFrom, b.AcrossFrom), AcrossTo: min(a.AcrossTo, b.AcrossTo),
	}.Area()
}

// organicMatter is the nitrogen that a store of organic matter above the usual sets free in a season.
func (g Ground) organicMatter() (Credit, bool) {
	var latest *garden.SoilTest
	for i, t := range g.Tests {
		if t.Organic != nil && t.Date <= g.To && (len(t.Beds) == 0 || slices.Contains(t.Beds, g.Bed.ID)) && (latest == nil || t.Date >= latest.Date) {
			latest = &g.Tests[i]
		}
	}
	if latest == nil || *latest.Organic <= usualOrganic {
		return Credit{}, false
	}
	pounds := min(mostByOrganic, organicPer*(*latest.Organic-usualOrganic))
	says := fmt.Sprintf("%.1f per cent was measured; each per cent above the usual %.0f sets free about %s of nitrogen in a season, and no more than %s in all is counted",
		*latest.Organic, usualOrganic, g.Units.Rate(perAcre(organicPer)), g.Units.Rate(perAcre(mostByOrganic)))
	return nitrogenCredit("organic matter in the soil", pounds, g.Bed.Area(), says, ""), true
}
