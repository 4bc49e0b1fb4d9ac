package allot

import "math"

// guide is what to try where: urns in which an option weighs the more, the less a bed loses by it at the bound's prices.
type guide struct {
	any  []*urn   // by bed
	crop [][]*urn // by bed and crop
}

// trust is the loss, in value, that makes an option e times rarer; rarest is the least weight. In small problems the
// bound is loose and its prices say less.
const (
	trust, rarest           = 1.0, 1e-4
	smallTrust, smallRarest = 4.0, 0.02
)

func newGuide(b *board, x *Prices) *guide {
	g := &guide{any: make([]*urn, len(b.beds)), crop: make([][]*urn, len(b.beds))}
	x.evaluate(false)
	trust, rarest := trust, rarest
	if b.size() < small {
		trust, rarest = smallTrust, smallRarest
	}
	for i := range b.beds {
		options := b.beds[i].allowed
		g.crop[i] = make([]*urn, b.crops)
		if len(options) == 0 {
			continue
		}
		uses := make([]int32, len(options))
		for k, o := range options {
			uses[k] = x.useOf[o][b.beds[i].sun]
		}
		weights := x.Losses(i, uses)
		for k, loss := range weights {
			weights[k] = math.Exp(-loss/trust) + rarest
		}
		g.any[i] = newUrn(options, weights)
		byCrop := make([][]int32, b.crops)
		weightOf := make([][]float64, b.crops)
		for k, o := range options {
			c := b.options[o].crop
			byCrop[c] = append(byCrop[c], o)
			weightOf[c] = append(weightOf[c], weights[k])
		}
		for c := range byCrop {
			if len(byCrop[c]) > 0 {
				g.crop[i][c] = newUrn(byCrop[c], weightOf[c])
			}
		}
	}
	return g
}

// Losses is what a ground's best chain over time loses, in value, if a use must be in it, for each of some uses: at its best
// area, at most lossArea.
func (x *Prices) Losses(ground int, uses []int32) []float64 {
	class := x.areaOf[ground]
	weight := x.weight[class]
	x.chainOf(ground)
	before := make([]float64, x.Times+1)
	z, ids := 0, x.Grounds[ground].Uses
	for t := range x.Times {
		if t > 0 {
			before[t] = max(before[t], before[t-1])
		}
		for ; z < len(ids) && x.uses[ids[z]].start == t; z++ {
			end := x.uses[ids[z]].end
			before[end] = max(before[end], before[t]+weight[ids[z]])
		}
	}
	losses := make([]float64, len(uses))
	for k, id := range uses {
		u := &x.uses[id]
		loss := max(0, x.chain[0][0]-(before[u.start]+weight[id]+x.after(u)))
		losses[k] = loss * min(x.Grounds[ground].Largest, u.bestArea[class], lossArea)
	}
	return losses
}

// lossArea is the most of a planting that counts for what it loses a ground.
const lossArea = 2.0 // m²
