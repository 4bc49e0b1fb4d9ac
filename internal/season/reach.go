package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"kailyard/internal/plan"
)

// Reach is how near a plan comes to what no plan could exceed, and where the rest of all that is wanted goes.
type Reach struct {
	Share  float64   // of what any plan could have at most, 0–1
	Says   string    // that, in a sentence
	Parts  []Portion // of all that is wanted, counted as the planner counts it: they add up to 1; empty where Untold says why
	Rest   string    // the parts in a sentence
	Untold string
}

// Portion is a share of all that is wanted.
type Portion struct {
	Name  string  // "season", "ground", "light", "rotation", "work", "search", "had"
	Share float64 // 0–1
	Cent  int     // the same in whole per cent, rounded so that all parts together make 100
	Means string  // in a line
}

// What each portion is, in a line.
var portionMeans = map[string]string{
	"season":   "no day of the season would bring it often enough, or in the weeks it is wanted",
	"ground":   "there is no room for it, or not at the time",
	"light":    "the beds have less sun than it needs",
	"rotation": "the ground that is free rests from its family",
	"work":     "the work and the ground of what is planted, and what would bring less than those are worth",
	"search":   "at most this could be left in the plan; part of it no plan can have",
	"had":      "what the plan brings over the weather years, less the work and the ground it takes",
}

// Reaches is how near the plan comes to what any plan could, without where the rest goes; known is false for plans that do not know.
func (r *Result) Reaches() (Reach, bool) {
	if r.Plan == nil {
		return Reach{}, false
	}
	share, known := r.Plan.Reach()
	if !known {
		return Reach{}, false
	}
	return Reach{Share: share, Says: fmt.Sprintf("This plan reaches at least %.0f %% of what any plan could for this garden, weather and settings.", math.Floor(100*share+1e-9))}, true
}

// reached is where the rest goes, reckoned on the first request: it takes some seconds in a large garden.
type reached struct {
	once   sync.Once
	within plan.Bound
	err    error
}

// apart is how far the bound reckoned later may lie from the plan's own, of it, before the garden must have been changed since.
const apart = 0.03

// Reach is how near the plan comes to what any plan could, and where the rest of all that is wanted goes; known is false for plans
// that do not know.
func (r *Result) Reach() (Reach, bool) {
	out, known := r.Reaches()
	if !known {
		return out, false
	}
	r.reach.once.Do(func() { r.reach.within, r.reach.err = plan.Within(r.asPlanned()) })
	b := r.reach.within
	switch {
	case r.reach.err != nil:
		out.Untold = "Where the rest goes cannot be told: " + r.reach.err.Error() + "."
	case b.Wanted <= 0 || math.Abs(b.Value-r.Plan.Bound) > apart*r.Plan.Bound || b.Value < r.Plan.Value*(1-1e-9):
		out.Untold = "The garden has been changed since this plan was made. Plan again to be told where the rest goes."
	default:
		out.Parts = portions(b, r.Plan)
		out.Rest = restSays(out.Parts)
	}
	return out, true
}

// asPlanned is what the plan was made from, as far as it is still so: what was begun before its day stands.
func (r *Result) asPlanned() plan.Input {
	day := r.Season.Start
	if r.Plan.From != nil {
		day = *r.Plan.From
	}
	in := Input{Season: r.Season, Record: r.Record, Crops: r.Crops, Settings: r.Plan.Settings,
		Before: &Before{Kept: r.Plan, Journal: r.journal, Day: day}}
	in.Garden, _ = Carry(r.Garden, r.Season, r.Crops, *in.Before)
	p := in.forPlan(r.Tables)
	p.From = r.Plan.From
	return p
}

// portions shares out all that is wanted.
func portions(b plan.Bound, p *plan.Plan) []Portion {
	var out []Portion
	add := func(name string, worth float64) {
		out = append(out, Portion{Name: name, Share: max(0, worth) / b.Wanted, Means: portionMeans[name]})
	}
	bound := min(b.Value, p.Bound)
	for i, l := range b.Limits {
		if i == len(b.Limits)-1 {
			l.Costs += b.Value - bound
		}
		add(l.Name, l.Costs)
	}
	add("search", bound-p.Value)
	add("had", p.Value)
	toCents(out)
	return out
}

// toCents rounds the portions to whole per cent that make 100 together: what may be left in the plan up, for it is told as the most; the
// others down, and what is then missing goes to those with the largest remainders.
func toCents(parts []Portion) {
	var order []int
	left, sum := 100, 0.0
	for _, p := range parts {
		sum += p.Share
	}
	if sum <= 0 {
		return
	}
	of := func(i int) float64 { return 100 * parts[i].Share / sum }
	for i := range parts {
		if parts[i].Name == "search" {
			parts[i].Cent = int(math.Ceil(of(i) - 1e-9))
		} else {
			parts[i].Cent = int(of(i) + 1e-9)
			order = append(order, i)
		}
		left -= parts[i].Cent
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(of(b)-float64(parts[b].Cent), of(a)-float64(parts[a].Cent))
	})
	for _, i := range order[:max(0, min(left, len(order)))] {
		parts[i].Cent++
	}
}

// restSays tells the portions in a sentence.
func restSays(parts []Portion) string {
	var keeps, hardly []string
	var left, had int
	for _, p := range parts {
		name := "the " + p.Name
		switch p.Name {
		case "light", "rotation":
			name = p.Name
		case "work":
			name = "work and held ground"
		}
		verb := ""
		if len(keeps) == 0 {
			verb = "keeps back "
			if p.Name == "work" {
				verb = "keep back "
			}
		}
		switch {
		case p.Name == "search":
			left = p.Cent
		case p.Name == "had":
			had = p.Cent
		case p.Cent < 1:
			hardly = append(hardly, name)
		default:
			keeps = append(keeps, fmt.Sprintf("%s %s%d %%", name, verb, p.Cent))
		}
	}
	says := "Of everything wanted, counted by how much it matters, "
	if len(keeps) > 0 {
		says += strings.Join(keeps, ", ") + "; "
	}
	says += fmt.Sprintf("what the plan brings, less its work and ground, is %d %%, and at most %d %% is left in it.", had, left)
	if len(hardly) > 0 {
		says += " " + upper(listed(hardly)) + " cannot be shown to keep back more than a trace."
	}
	return says
}
