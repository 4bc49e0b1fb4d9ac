package water

import (
	"fmt"

	"kailyard/internal/quantity"
)

// GoingIn is the ground as a planting finds it on the day it goes in, over the weather years.
type GoingIn struct {
	Key    string
	Waters bool // its bed is watered at all
	Years  int
	Dry    int            // years in which the top of the ground is too dry for it
	Water  quantity.Litre // to water it in, middle of the years
	Most   quantity.Litre // that nine years of ten stay under
}

// GoIn tells for every planting of a season how it finds the ground, bare for some weeks before, and what it is watered in with.
//
// The top, as deep as bare ground dries, is too dry where its mean has come down to the wilting point: seed swells no more and new roots
// find nothing.
func GoIn(q Question) ([]GoingIn, error) {
	if q.Climate == (Climate{}) {
		q.Climate = Middling
	}
	for m := range q.Factors {
		if q.Factors[m] == 0 {
			q.Factors[m] = 1
		}
	}
	ets, suns := make([][]float32, len(q.Years)), make([][]float32, len(q.Years))
	for y, w := range q.Years {
		ets[y], suns[y] = q.Place.year(w, q.Factors, len(q.Light) > 0)
	}
	var out []GoingIn
	for i := range q.Stands {
		s := &q.Stands[i]
		if s.Settled || s.Area <= 0 {
			continue
		}
		g, err := q.goIn(s, ets, suns)
		if err != nil {
			return out, err
		}
		out = append(out, g)
	}
	return out, nil
}

func (q *Question) goIn(s *Stand, ets, suns [][]float32) (GoingIn, error) {
	out := GoingIn{Key: s.Key, Waters: s.Waters}
	ground, reaches := q.groundsOf(s.BedID)
	dry := float64(ground.Available(surface))
	c := Column{Ground: ground, Deep: max(0.6, float64(s.Crop.Root))}
	var sown step
	sown.join(s, Asks{}, 0)
	var litres []float64
	for y, w := range q.Years {
		st, lying := State{Root: float64(s.Crop.Sown)}, bare(q.Climate, float64(s.Crop.Sown))
		at := int(s.From - w.Start)
		if at < 1 || at > len(ets[y]) || at > len(w.Rain) {
			continue
		}
		for k := max(0, at-fallow); k < at; k++ {
			lying.Reference, lying.Rain = float64(ets[y][k]), float64(w.Rain[k])
			if len(q.Light) > 0 {
				lying.Reference = shaded(lying.Reference, float64(suns[y][k]), q.dark(s.BedID, int(w.Start.Add(k).Month())))
			}
			if _, err := c.Day(&st, w.Start.Add(k), lying); err != nil {
				return out, fmt.Errorf("in the weather year %d: %w", w.Year, err)
			}
		}
		out.Years++
		if st.Dry >= dry {
			out.Dry++
		}
		litres = append(litres, sown.waterIn(st)/reaches*float64(s.Area))
	}
	out.Water, out.Most = quantity.Litre(quantile(litres, 0.5)), quantity.Litre(quantile(litres, 0.9))
	return out, nil
}
