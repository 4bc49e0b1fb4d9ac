package plan

import (
	"math/rand/v2"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// coveredTrial is one invented salad that bears at once, wanted every week, whose window opens on day 100 in the
// open and twenty days earlier under a cover.
func coveredTrial(covers ...string) *trial {
	t := newTrial()
	c := plainCrop("salad", "A", 0.3, 0.3, 2)
	c.Plant.Height = 0.25
	t.grow(c, steadyTimes{from: 100, to: 150, days: 40, span: 7, good: 10})
	cover, _ := crop.FindProtection("row cover")
	under := steadyTimes{season: t.season, from: 80, to: 150, days: 40, span: 7, good: 9, spread: 0.3}
	t.options = append(t.options, option{crop: c, times: under, cover: cover})
	t.garden.Site.Covers = covers
	t.bed(8, 1.2) // two beds: a crop does not follow its own family in one
	t.bed(4, 1.2)
	t.want("salad", garden.Weekly, 1, 4)
	return t
}

// Covers are used on the days the open ground fails, and on no other; without one in the garden, on none.
func TestCoversOnlyWhereTheyBringSomething(t *testing.T) {
	with := coveredTrial("row-cover")
	out, err := with.plan()
	if err != nil {
		t.Fatal(err)
	}
	covered := 0
	for _, p := range out.Plantings {
		day := p.Start.Since(with.season.Start)
		if (p.Protection != "") != (day < 100) {
			t.Errorf("on day %d under %q", day, p.Protection)
		}
		if p.Protection == "" {
			continue
		}
		covered++
		said := ""
		for _, r := range p.Reasons {
			said += r.Says + "\n"
		}
		for _, words := range []string{"in the open the same day succeeds in 0 years of 10", "opens 20 days earlier than in the open"} {
			if !strings.Contains(said, words) {
				t.Errorf("%s: no word of %q in\n%s", p.Key, words, said)
			}
		}
	}
	if covered == 0 {
		t.Error("no planting is covered, though the salad is wanted every week")
	}
	noted := false
	for _, n := range out.Notes {
		noted = noted || n.Rule == "cover" && strings.Contains(n.Says, "at most")
	}
	if !noted {
		t.Errorf("no note of the cover needed: %v", out.Notes)
	}
	without := coveredTrial()
	out, err = without.plan()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range out.Plantings {
		if p.Protection != "" {
			t.Errorf("%s stands under %s, which the garden has not", p.Key, p.Protection)
		}
	}
}

// A cover that would hardly be repaid is left on its peg: the work counts.
func TestCoversAreWork(t *testing.T) {
	tr := coveredTrial("row-cover")
	tr.garden.Wants = nil
	tr.want("salad", garden.Total, 2, 1) // the open ground gives it all, a little later
	out, err := tr.plan()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range out.Plantings {
		if p.Protection != "" {
			t.Errorf("%s stands under %s for a want that the open ground meets three weeks later", p.Key, p.Protection)
		}
	}
}

// The checker refuses covers that the garden has not, that shelter nothing, or that are shared.
func TestCheckerKnowsCovers(t *testing.T) {
	tr := coveredTrial("row-cover")
	out, err := tr.plan()
	if err != nil {
		t.Fatal(err)
	}
	spoil := func(says string, change func(p *problem, x *garden.Planting)) {
		t.Helper()
		p, bad := tr.problem, *out
		bad.Plantings = append([]garden.Planting(nil), out.Plantings...)
		for i := range bad.Plantings {
			if bad.Plantings[i].Protection != "" {
				change(&p, &bad.Plantings[i])
				break
			}
		}
		var all []string
		for _, fault := range p.check(&bad) {
			all = append(all, fault.Error())
		}
		if !strings.Contains(strings.Join(all, "\n"), says) {
			t.Errorf("no fault %q in %q", says, all)
		}
	}
	spoil("does not have: row-cover", func(p *problem, _ *garden.Planting) { p.garden.Site.Covers = nil })
	spoil("covered for nothing", func(p *problem, x *garden.Planting) { x.Start = p.season.Start.Add(110) })
	spoil("shares its cover", func(_ *problem, x *garden.Planting) { x.Partner = "other" })
	spoil("no growth table", func(_ *problem, x *garden.Planting) { x.Protection = "cloche" })
}

// Random gardens with covers keep every rule: make holds the plan to the checker, which knows them too.
func TestRandomGardensUnderCovers(t *testing.T) {
	cover, _ := crop.FindProtection("cloche")
	covered := 0
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 11))
		tr := randomTrial(r)
		tr.garden.Site.Covers = []string{"cloche"}
		for _, o := range tr.options {
			times := o.times.(steadyTimes)
			times.from = max(0, times.from-10-r.IntN(20))
			times.to += r.IntN(10)
			tr.options = append(tr.options, option{crop: o.crop, times: times, cover: cover})
		}
		out, err := tr.plan()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, p := range out.Plantings {
			if p.Protection != "" {
				covered++
			}
		}
		tr.garden.Standing = nil
		for i := range tr.garden.Wants { // the same garden with wants that ask for something
			tr.garden.Wants[i].Under = []string{"", garden.InTheOpen, "cloche"}[r.IntN(3)]
		}
		if _, err := tr.plan(); err != nil {
			t.Fatalf("seed %d, asked: %v", seed, err)
		}
	}
	if covered == 0 {
		t.Error("no planting of forty gardens is covered")
	}
	t.Logf("%d plantings under cloches in forty gardens", covered)
}

// A want that asks for the open, or for one cover, gets it, whatever covers the site has and however well the open
// ground would do.
func TestWantsAskForTheirCover(t *testing.T) {
	days := func(tr *trial, out *Plan) (open, covered, late int) {
		for _, p := range out.Plantings {
			day := p.Start.Since(tr.season.Start)
			switch {
			case p.Protection == "":
				open++
			case day >= 100:
				late++
				fallthrough
			default:
				covered++
			}
		}
		return open, covered, late
	}
	open := coveredTrial("row-cover")
	open.garden.Wants[0].Under = garden.InTheOpen
	out, err := open.plan()
	if err != nil {
		t.Fatal(err)
	}
	if n, covered, _ := days(open, out); n == 0 || covered > 0 {
		t.Errorf("asked for in the open: %d there, %d covered", n, covered)
	}
	if r := out.Plantings[0].Reasons; !strings.Contains(said(r), "asks for it in the open") {
		t.Errorf("no word of the want in %s", said(r))
	}

	under := coveredTrial() // the site is not said to have any
	under.garden.Wants[0].Under = "row-cover"
	out, err = under.plan()
	if err != nil {
		t.Fatal(err)
	}
	n, covered, late := days(under, out)
	if n > 0 || covered == 0 || late == 0 {
		t.Errorf("asked for under row cover: %d in the open, %d covered, of them %d on days on which the open ground does", n, covered, late)
	}
	if r := out.Plantings[0].Reasons; !strings.Contains(said(r), "asks for it under row cover") {
		t.Errorf("no word of the want in %s", said(r))
	}
	if !strings.Contains(said(out.Notes), "not among the covers the garden is said to have") {
		t.Errorf("no note that the cover has to be got: %s", said(out.Notes))
	}

	both := coveredTrial("row-cover") // one wants it covered, the other leaves it to the planner
	both.garden.Wants[0].Under = "row-cover"
	both.want("salad", garden.Weekly, 1, 4)
	if out, err = both.plan(); err != nil {
		t.Fatal(err)
	}
	if n, covered, _ := days(both, out); n == 0 || covered == 0 {
		t.Errorf("two wants of a crop: %d in the open, %d covered", n, covered)
	}

	none := coveredTrial("row-cover")
	none.garden.Wants[0].Under = "cloche" // which has no table here: nothing fits
	if out, err = none.plan(); err != nil {
		t.Fatal(err)
	}
	if len(out.Plantings) > 0 || !strings.Contains(said(out.Supply[0].Short), "under a cloche, where it cannot be grown") {
		t.Errorf("%d plantings; short: %s", len(out.Plantings), said(out.Supply[0].Short))
	}
}

func said(reasons []garden.Reason) string {
	var all []string
	for _, r := range reasons {
		all = append(all, r.Says)
	}
	return strings.Join(all, "\n")
}

// The checker holds every planting to what its want asks for.
func TestCheckerKnowsWhatWantsAskFor(t *testing.T) {
	for _, under := range []string{garden.InTheOpen, "cloche"} {
		tr := coveredTrial("row-cover")
		out, err := tr.plan()
		if err != nil {
			t.Fatal(err)
		}
		tr.garden.Wants[0].Under = under
		var all []string
		for _, fault := range tr.check(out) {
			all = append(all, fault.Error())
		}
		if !strings.Contains(strings.Join(all, "\n"), `its want asks for "`+under+`"`) {
			t.Errorf("no fault for a want under %s in %q", under, all)
		}
	}
}
