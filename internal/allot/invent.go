package allot

import (
	"encoding/json"
	"fmt"
	"math"
)

// Invent makes up a problem in the open form from a seed: so many beds and crops, all figures invented.
func Invent(seed uint64, beds, crops int) []byte {
	d := newDice(seed)
	f := form{Weeks: 52}
	for i := range min(11, max(3, crops)) {
		f.Families = append(f.Families, fmt.Sprintf("family %d", i+1))
	}
	ground := 0.0
	for i := range beds {
		b := inventBed(d, i, f.Families)
		ground += b.Area
		f.Beds = append(f.Beds, b)
	}
	for i := range crops {
		c := inventCrop(d, i, f.Families, ground/float64(crops))
		f.Crops = append(f.Crops, c)
		f.Options = append(f.Options, inventOptions(d, &c, len(f.Options))...)
	}
	f.Options = append(f.Options, inventPairs(d, f.Options, crops)...)
	text, err := json.MarshalIndent(f, "", " ")
	if err != nil {
		panic(err) // plain figures and strings only
	}
	return append(text, '\n')
}

func inventBed(d *dice, id int, families []string) bedForm {
	b := bedForm{ID: id, Width: 0.8 + 0.2*float64(d.below(3)), Length: 2 + 0.25*float64(d.below(16)), Sun: 2 - d.below(8)/5, Most: 8}
	b.Width = rounded(b.Width)
	b.Area = rounded(b.Width * b.Length)
	for range 2 {
		b.History = append(b.History, []string{families[d.below(len(families))]})
	}
	if d.below(4) == 0 {
		b.Pre = &takenForm{Area: rounded(b.Area * 0.25), Until: 8 + d.below(12)}
	}
	return b
}

func inventCrop(d *dice, id int, families []string, share float64) cropForm {
	c := cropForm{ID: id, Name: fmt.Sprintf("crop %d", id+1), Family: families[d.below(len(families))], Sun: 1 + d.below(2),
		MinArea: rounded(0.3 + 0.1*float64(d.below(6))), Value: rounded(1 + 3*d.share())}
	c.Demand.Segs = [][2]float64{{1, 1}, {0.5, 0.4}, {1, 0.08}}
	if d.below(2) == 0 {
		c.Demand.Kind, c.Demand.Qty = "total", rounded(share*(2+3*d.share()))
		return c
	}
	c.Demand.Kind, c.Demand.Qty = "weekly", rounded(share*(0.1+0.2*d.share()))
	first := 18 + d.below(8)
	for w := range 8 + d.below(14) {
		c.Demand.Weeks = append(c.Demand.Weeks, first+w)
	}
	return c
}

func inventOptions(d *dice, c *cropForm, id int) []optionForm {
	var options []optionForm
	days, yield, cost := 8+d.below(10), 1+3*d.share(), rounded(0.6+d.share())
	harvest := 2 + d.below(5)
	for s := 9 + d.below(3); s+days+harvest < 46; s += 1 + d.below(2) {
		o := optionForm{ID: id + len(options), S: s, E: s + days + harvest - 1, MinArea: c.MinArea, Sun: c.Sun, Fams: []string{c.Family}, Cost: cost, N: 1}
		part := partForm{Crop: c.ID, Y: rounded(yield * (0.8 + 0.4*d.share()))}
		for w := range harvest {
			part.Harv = append(part.Harv, [2]float64{float64(s + days + w), rounded(1 / float64(harvest))})
		}
		o.Parts = []partForm{part}
		options = append(options, o)
	}
	return options
}

// inventPairs puts quick options into slow ones, at less of each one's yield.
func inventPairs(d *dice, single []optionForm, n int) []optionForm {
	var pairs []optionForm
	for range 4 * n {
		slow, quick := single[d.below(len(single))], single[d.below(len(single))]
		if quick.S < slow.S || quick.E > slow.E || quick.Parts[0].Crop == slow.Parts[0].Crop {
			continue
		}
		o := slow
		o.ID, o.N, o.Cost = len(single)+len(pairs), 2, rounded(slow.Cost+quick.Cost)
		o.Sun, o.MinArea = max(slow.Sun, quick.Sun), max(slow.MinArea, quick.MinArea)
		if o.Fams = slow.Fams; quick.Fams[0] != slow.Fams[0] {
			o.Fams = []string{slow.Fams[0], quick.Fams[0]}
		}
		one, two := slow.Parts[0], quick.Parts[0]
		one.Y, two.Y = rounded(one.Y*0.95), rounded(two.Y*0.5)
		o.Parts = []partForm{one, two}
		pairs = append(pairs, o)
	}
	return pairs
}

func rounded(x float64) float64 { return math.Round(x*1e4) / 1e4 }
