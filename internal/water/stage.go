package water

import "math"

// Stages are the lengths of the initial stage (to a tenth of the ground covered), development (to full cover), the middle
// (to the first yellowing or the crop's beginning to ripen) and the late stage, in days.
type Stages [4]float64

// Days is how long they last together.
func (s Stages) Days() float64 { return s[0] + s[1] + s[2] + s[3] }

// StagesFor are a crop's stages stretched or shortened to the days it stands.
//
//	days  from going into the ground to clearing, 1 or more
func (c Crop) StagesFor(days int) Stages {
	whole := Stages(c.Stages).Days()
	out := Stages(c.Stages)
	for i := range out {
		out[i] *= float64(max(1, days)) / whole
	}
	return out
}

// At is a coefficient on a day of the crop: level through the first and the middle stage, on a straight line between them
// and to the end.
//
//	coefficients  initial, middle, end
//	day           0 at planting; before it the initial one counts, after the end the last
//
// Source: FAO56 eq. 66 and figure 34
func (s Stages) At(coefficients [3]float64, day float64) float64 {
	initial, full, late := s[0], s[0]+s[1], s[0]+s[1]+s[2]
	between := func(from, to, start, length float64) float64 {
		if length <= 0 {
			return to
		}
		return from + (to-from)*max(0, min(1, (day-start)/length))
	}
	switch {
	case day <= initial:
		return coefficients[0]
	case day < full:
		return between(coefficients[0], coefficients[1], initial, s[1])
	case day <= late:
		return coefficients[1]
	}
	return between(coefficients[1], coefficients[2], late, s[3])
}

// Grown is how far the roots have gone down: evenly through the first two stages.
//
//	result  0–1
//
// Source: FAO56 (chapter 8)
func (s Stages) Grown(day float64) float64 {
	if s[0]+s[1] <= 0 {
		return 1
	}
	return max(0, min(1, day/(s[0]+s[1])))
}

// Climate is what moves a printed coefficient away from the middling climate it is printed for.
type Climate struct {
	Wind        float64 // m/s at 2 m; 2 in the tables
	HumidityMin float64 // per cent; 45 in the tables
}

// Middling is the tables' own climate.
var Middling = Climate{Wind: 2, HumidityMin: 45}

// Adjust moves a coefficient of the middle or the end of a crop to a climate: dry wind draws more from tall crops.
//
//	coefficient  under 0.45 it stands as it is
//	height       m, 0.1 to 10
//
// Source: FAO56 eq. 62, 65 and 70; wind within 1–6 m/s, humidity within 20–80 %
func (c Climate) Adjust(coefficient, height float64) float64 {
	if coefficient < 0.45 {
		return coefficient
	}
	return coefficient + c.shift()*math.Pow(max(0.1, min(10, height))/3, 0.3)
}

func (c Climate) shift() float64 {
	wind, damp := max(1, min(6, c.Wind)), max(20, min(80, c.HumidityMin))
	return 0.04*(wind-2) - 0.004*(damp-45)
}

// Most is the greatest coefficient of any ground with a crop: wet ground in full sun.
//
// Source: FAO56 eq. 72
func (c Climate) Most(basal, height float64) float64 {
	return max(1.2+c.shift()*math.Pow(max(0.01, height)/3, 0.3), basal+0.05)
}

// Covered is the share of its ground that a crop shades, told from its coefficient.
//
//	basal, most  coefficients of the day
//	height       m
//	result       0 to 0.99
//
// Source: FAO56 eq. 76, bare dry ground at 0.15
func Covered(basal, most, height float64) float64 {
	if most <= leastBasal {
		return 0
	}
	return min(0.99, math.Pow(max(0, basal-leastBasal)/(most-leastBasal), 1+0.5*height))
}

// leastBasal is the coefficient of dry bare ground.
const leastBasal = 0.15

// Thinly lowers the coefficient of a crop that stands thinner than the tables' full stands: what a canopy covers is what draws.
//
// Those have their rows and some bare ground too, and draw as printed.
//
//	basal   of the day, as printed
//	cover   share of the ground that the canopy shades, 0–1
//	height  m
//
// Source: FAO56 eq. 97 and 98, taken beside a stand that covers fullCover (estimate)
func Thinly(basal, cover, height float64) float64 {
	return leastBasal + max(0, basal-leastBasal)*min(1, density(cover, height)/density(fullCover, height))
}

// fullCover is the share of its ground that a grown stand of the tables shades. Source: FAO56 (table 21: vegetables 0.7 to 0.9 in mid-season; from
// memory, the middle)
const fullCover = 0.8

// density is what a canopy draws of a closed one's. Source: FAO56 eq. 97 and 98
func density(cover, height float64) float64 {
	cover = max(0, min(1, cover))
	return min(2*cover, math.Pow(cover, 1/(1+height)))
}
