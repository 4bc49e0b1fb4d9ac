package allot_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"kailyard/internal/allot"
	"kailyard/internal/allot/audit"
)

// tiny is a garden small enough to try everything: beds of a few cells, three options of two families.
func tiny(k int, more string) []byte {
	length, sun, history, until := 0.5, 1, `["b"]`, 6
	switch more {
	case "ground":
		length = 0.75
	case "light":
		sun = 2
	case "rest":
		history = `[]`
	case "season":
		until = -1
	}
	var beds []string
	for id, first := range []bool{true, false} {
		l, h := 0.5, `[]`
		if first {
			l, h = length, history
		}
		beds = append(beds, fmt.Sprintf(`{"id":%d,"width":1,"length":%g,"area":%g,"sun":%d,"history":[%s],"pre":{"area":0.25,"until":%d},"maxPlantings":2}`,
			id, l, l, sun, h, until))
	}
	return fmt.Appendf(nil, `{"weeks":20,"families":["a","b"],"crops":[
	 {"id":0,"value":3,"demand":{"kind":"weekly","weeks":[5,6,9,10],"qty":0.2,"segs":[[1,1],[1,0.4],[2,0.1]]}},
	 {"id":1,"value":%g,"demand":{"kind":"total","qty":0.6,"segs":[[1,1],[0.5,0.4]]}}],
	 "options":[
	 {"id":0,"s":2,"e":6,"minArea":0.125,"sun":1,"fams":["a"],"cost":0.1,"n":1,"parts":[{"crop":0,"y":1.5,"harv":[[5,0.5],[6,0.5]]}]},
	 {"id":1,"s":6,"e":10,"minArea":0.125,"sun":2,"fams":["a"],"cost":0.1,"n":1,"parts":[{"crop":0,"y":2,"harv":[[9,0.5],[10,0.5]]}]},
	 {"id":2,"s":%d,"e":12,"minArea":0.25,"sun":1,"fams":["b"],"cost":0.2,"n":1,"parts":[{"crop":1,"y":2.5,"harv":[[12,1]]}]}],
	 "beds":[%s]}`, 1+0.5*float64(k), 3+k, strings.Join(beds, ","))
}

// bruteForce tries every set of strips in every bed, and every pair of them, by the judge alone.
func bruteForce(t *testing.T, text []byte, p *allot.Problem) float64 {
	c, err := audit.Read(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	var ways [2][][]audit.Planting
	for b := range ways {
		var single []audit.Planting
		for o := range p.Options {
			for _, side := range []string{"first", "second", "both"} {
				for from := 0.0; from < p.Beds[b].Length; from += allot.CellLength {
					for to := from + allot.CellLength; to <= p.Beds[b].Length; to += allot.CellLength {
						area := (to - from) * p.Beds[b].Width
						if side != "both" {
							area /= 2
						}
						single = append(single, audit.Planting{Bed: b, Option: o, Area: area, Strip: audit.Strip{Side: side, From: from, To: to}})
					}
				}
			}
		}
		ways[b] = append(ways[b], nil)
		for i, one := range single {
			if _, faults := c.Judge([]audit.Planting{one}); len(faults) > 0 {
				continue
			}
			ways[b] = append(ways[b], []audit.Planting{one})
			for _, two := range single[i:] {
				if pair := []audit.Planting{one, two}; sound(c, pair) {
					ways[b] = append(ways[b], pair)
				}
			}
		}
	}
	best := 0.0
	for _, one := range ways[0] {
		for _, two := range ways[1] {
			value, _ := c.Judge(append(append([]audit.Planting{}, one...), two...))
			best = max(best, value)
		}
	}
	return best
}

func sound(c *audit.Case, plan []audit.Planting) bool {
	_, faults := c.Judge(plan)
	return len(faults) == 0
}

// More ground, more light, less history and a longer season: each must not lower the best plan, the search must find it
// and the bound must not lie below it.
func TestBruteForceConfirmsTheOptimum(t *testing.T) {
	for k := range 3 {
		plain := 0.0
		for _, more := range []string{"", "ground", "light", "rest", "season"} {
			text := tiny(k, more)
			p := read(t, text)
			best := bruteForce(t, text, p)
			f := allot.Find(p, 1, allot.Effort{Steps: 20000})
			judged(t, text, p, f)
			if math.Abs(f.Value-best) > 1e-9 {
				t.Errorf("garden %d, more %q: found %g, the best is %g", k, more, f.Value, best)
			}
			if more == "" {
				plain = best
			}
			if best < plain-1e-12 {
				t.Errorf("garden %d: more %s lowers the best from %g to %g", k, more, plain, best)
			}
		}
	}
}
