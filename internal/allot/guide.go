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

func newGuide(b *board, x *prices) *guide {
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
		weights := x.weightsIn(i, options, trust, rarest)
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

// weightsIn weighs options in a bed: what the best chain over the weeks loses if an option must be in it.
func (x *prices) weightsIn(bed int, options []int32, trust, rarest float64) []float64 {
	class := x.areaOf[bed]
	weight := x.weight[class]
	x.chainOf(bed)
	var before [MostWeeks + 1]float64
	z, ids := 0, x.bedUses[bed]
	for w := range x.Weeks {
		if w > 0 {
			before[w] = max(before[w], before[w-1])
		}
		for ; z < len(ids) && x.Options[x.uses[ids[z]].option].Start == w; z++ {
			end := x.uses[ids[z]].end + 1
			before[end] = max(before[end], before[w]+weight[ids[z]])
		}
	}
	weights := make([]float64, len(options))
	for k, o := range options {
		id := x.useOf[o][x.Beds[bed].Sun]
		loss := max(0, x.chain[0]-(before[x.Options[o].Start]+weight[id]+x.chain[x.uses[id].end+1]))
		area := min(x.Beds[bed].Area, x.uses[id].bestArea[class], 2)
		weights[k] = math.Exp(-loss*area/trust) + rarest
	}
	return weights
}
