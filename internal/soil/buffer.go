package soil

import (
	"fmt"
	"math"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// TonPerAcre is a short ton (2000 lb) on an acre.
const TonPerAcre = 2000 * PoundPerAcre

// TonnePerHectare is 1000 kg on a hectare.
const TonnePerHectare quantity.KilogramPerSquareMetre = 0.1

// Requirement is lime needed, as pure calcium carbonate that acts wholly, to bring a layer of ground to a pH.
type Requirement struct {
	Lime      quantity.KilogramPerSquareMetre // best figure
	Low, High quantity.KilogramPerSquareMetre // what other sources or the method's error would give
	Depth     quantity.Metre                  // of the layer
	Target    float64                         // pH in water
	Method    string                          // in words: "SMP buffer"
	Reasons   []garden.Reason
	Doubts    []string // where it leaves what its source covers
}

// The depths that the methods count for.
const (
	inch        quantity.Metre = quantity.MetresPerInch
	furrowSlice                = 6.67 * inch // an acre of it weighs two million pounds
)

// SMPRequirement is the lime for a mineral soil by the buffer of Shoemaker, McLean and Pratt, in the calibration
// of the three states about the Great Lakes. Between the printed targets it is interpolated.
//
//	buffer  pH of soil and buffer, 5.9 to 7.0; above, no lime is needed
//	target  pH, 6.0 to 6.8; outside, the nearest printed line and a doubt
//	result  kg/m² of pure calcium carbonate to 8 inches (the line gives tons of stone of 90 % an acre)
//
// Source: MSU-E2567 (lime test index = 10 × buffer pH; 71.4 − 1.03, 60.4 − 0.87 and 49.3 − 0.71 × index to 6.8, 6.5 and 6.0; lines from memory, depth and 90 % seen)
func SMPRequirement(buffer, target float64) (lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	index := 10 * buffer
	tons := between(target, []float64{6.0, 6.5, 6.8}, []float64{
		math.Max(0, 49.3-0.71*index), math.Max(0, 60.4-0.87*index), math.Max(0, 71.4-1.03*index),
	})
	return quantity.KilogramPerSquareMetre(tons*0.90) * TonPerAcre, 8 * inch
}

// SMPOrganicRequirement is the lime for peat and muck (over a fifth organic matter), to pH 5.3.
//
//	ph      in water; at 6.58 and above nothing
//	result  as SMPRequirement
//
// Source: MSU-E2567 (32.9 − 5.0 × pH tons an acre; from memory)
func SMPOrganicRequirement(ph float64) (lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	return quantity.KilogramPerSquareMetre(math.Max(0, 32.9-5.0*ph)*0.90) * TonPerAcre, 8 * inch
}

// MehlichAcidity is the acidity that Mehlich's buffer finds, by the line used in North Carolina.
//
//	buffer  pH, 6.6 when it meets no acidity
//	result  meq in 100 cm³ of soil
//
// Source: NCDA-BUF ((6.6 − BpH) × 4)
func MehlichAcidity(buffer float64) float64 { return math.Max(0, (6.6-buffer)*4) }

// MehlichFactor is the share of the acidity that has to go.
//
//	ph, target  pH in water; ph below 6.6
//
// Source: NCDA-BUF ((target − pH) / (6.6 − pH))
func MehlichFactor(ph, target float64) float64 {
	if ph >= 6.6 || target <= ph {
		return 0
	}
	return (math.Min(target, 6.6) - ph) / (6.6 - ph)
}

// MehlichRequirement is the lime by North Carolina's table: a ton an acre for each meq that has to go, less
// what lime of the past months has still to do.
//
//	acidity  meq/100 cm³
//	credit   tons an acre of earlier lime still to act
//	result   kg/m² counted as pure lime, to 8 inches; the ton is of stone of 90 %, as that state's law has it (from memory)
//
// Source: NCDA-BUF (LR = acidity × factor − residual credit)
func MehlichRequirement(acidity, ph, target, credit float64) (lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	tons := math.Max(0, acidity*MehlichFactor(ph, target)-credit)
	return quantity.KilogramPerSquareMetre(tons*0.90) * TonPerAcre, 8 * inch
}

// ResidualCredit is how much of an earlier dressing still counts: all of it on the day, 8 % less with each month on
// mineral ground and 16 % on organic.
//
//	result  share, 0 to 1
//
// Source: NCDA-BUF
func ResidualCredit(months float64, organic bool) float64 {
	loss := 0.08
	if organic {
		loss = 0.16
	}
	return math.Max(0, math.Min(1, 1-loss*math.Max(0, months)))
}

// Mehlich1976Requirement is Mehlich's own: the lime that takes away all acidity his buffer finds.
//
//	buffer  pH, 6.6 when it meets none; 4.0 at the lowest
//	result  meq of calcium carbonate in 100 cm³, and the same on the ground: 1 meq is one tonne a hectare to 20 cm
//
// Source: MEHLICH-1976 (AC = (6.60 − BpH) / 0.25; LR = 0.1 AC² + AC)
func Mehlich1976Requirement(buffer float64) (meq float64, lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	acidity := math.Max(0, (6.60-buffer)/0.25)
	meq = 0.1*acidity*acidity + acidity
	return meq, quantity.KilogramPerSquareMetre(meq) * TonnePerHectare, 0.20
}

// ExchangeableRequirement is the lime by Penn State's exchangeable acidity.
//
//	acidity  meq/100 g, from the report
//	ph       in water
//	target   7.0, 6.5 or 6.0; between them interpolated, outside the nearest
//	result   kg/m² of pure calcium carbonate to furrow slice
//
// Above 4 meq the goal of 6.5 takes 840 lb an acre for each meq; at 4 and below, 2000 lb where the pH is under the goal.
// The factors for 7.0 and 6.0 are fitted to the laboratory's printed table.
//
// Source: PSU-TURF Table 1; PSU-840 (840 lb for 6.5)
func ExchangeableRequirement(acidity, ph, target float64) (lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	if ph >= target || acidity <= 0 {
		return 0, furrowSlice
	}
	pounds := 2000.0
	if acidity > 4 {
		pounds = math.Max(2000, acidity*between(target, []float64{6.0, 6.5, 7.0}, []float64{675, 840, 1005}))
	}
	return quantity.KilogramPerSquareMetre(pounds) * PoundPerAcre, furrowSlice
}

// BaseUnsaturation is the share of a light soil's exchange places that hold acid at a pH.
//
//	ph      in water, 4.4 to 6.9
//	result  0 to 1
//
// Source: ADAMS-EVANS-1962 (pH = 7.79 − 5.55 H + 2.27 H²; from memory)
func BaseUnsaturation(ph float64) float64 {
	const a, b = 2.27, -5.55
	root := b*b - 4*a*(7.79-ph)
	if root <= 0 {
		return 1
	}
	return math.Max(0, math.Min(1, (-b-math.Sqrt(root))/(2*a)))
}

// AdamsEvansRequirement is the lime for light, low-clay-activity soils of warm humid lands.
//
//	ph      in water
//	buffer  pH of the Adams–Evans buffer, 8.00 when it meets no acidity, 7.0 at the lowest
//	target  pH, at most 6.9
//	result  kg/m² of pure calcium carbonate to furrow slice, with the field factor of 1.5
//
// Source: HULUKA eq. 2 (8000 (8.00 − BpH) / H1 × (H1 − H2) × 1.5 lb an acre; the excerpt's 2.24 and Mg/ha do not close)
func AdamsEvansRequirement(ph, buffer, target float64) (lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	now, then := BaseUnsaturation(ph), BaseUnsaturation(target)
	if now <= then || buffer >= 8 {
		return 0, furrowSlice
	}
	pounds := 8000 * (8.00 - buffer) / now * (now - then) * 1.5
	return quantity.KilogramPerSquareMetre(pounds) * PoundPerAcre, furrowSlice
}

// WoodruffAcidity is the neutralisable acidity that Woodruff's buffer finds: a tenth below 7.0 is 1 meq.
//
//	buffer  pH, 7.0 when it meets none
//	result  meq/100 g
//
// Source: WOODRUFF-1948 (from memory)
func WoodruffAcidity(buffer float64) float64 { return math.Max(0, (7.0-buffer)*10) }

// WoodruffRequirement is the lime by Woodruff's buffer: 1000 lb an acre for each meq that has to go. The acidity counts
// to pH 7.0; for a lower target the share is taken in the measure of pH.
//
//	ph, target  pH in water
//	result      kg/m² of pure calcium carbonate to furrow slice
//
// Source: WOODRUFF-1948 (from memory; the share for a lower target is estimated)
func WoodruffRequirement(ph, buffer, target float64) (lime quantity.KilogramPerSquareMetre, depth quantity.Metre) {
	if ph >= target || ph >= 7 {
		return 0, furrowSlice
	}
	share := (math.Min(target, 7) - ph) / (7 - ph)
	return quantity.KilogramPerSquareMetre(1000*WoodruffAcidity(buffer)*share) * PoundPerAcre, furrowSlice
}

// between interpolates y at x; outside the ends the end holds.
func between(x float64, xs, ys []float64) float64 {
	if x <= xs[0] {
		return ys[0]
	}
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			return ys[i-1] + (ys[i]-ys[i-1])*(x-xs[i-1])/(xs[i]-xs[i-1])
		}
	}
	return ys[len(ys)-1]
}

// readingError is how far a buffer may read over its own pH when it meets no acidity at all.
const readingError = 0.1

// bufferMethod is one method ready to be asked.
type bufferMethod struct {
	name      string
	source    string
	rule      string
	low, high float64 // buffer pH that its calibration covers
	spread    float64 // how far, in shares of the lime, calibrations and repeat readings differ
	lime      func(ph, buffer, target float64) (quantity.KilogramPerSquareMetre, quantity.Metre)
	note      string
}

// The methods that can be counted. The spread is the difference of calibrations met with and of a buffer reading
// repeated within 0.05 pH, openly estimated.
var bufferMethods = map[garden.BufferMethod]bufferMethod{
	garden.SMP: {name: "SMP buffer", source: "MSU-E2567", rule: "lime by SMP buffer", low: 5.4, high: 7.2, spread: 0.25,
		lime: func(_, buffer, target float64) (quantity.KilogramPerSquareMetre, quantity.Metre) {
			return SMPRequirement(buffer, target)
		}},
	garden.Sikora: {name: "Sikora buffer", source: "UMN-SIK", rule: "lime by Sikora buffer", low: 5.4, high: 7.5, spread: 0.25,
		lime: func(_, buffer, target float64) (quantity.KilogramPerSquareMetre, quantity.Metre) {
			return SMPRequirement(buffer, target)
		}, note: "it is made to read as the SMP buffer and is counted with that one's calibration"},
	garden.Mehlich: {name: "Mehlich buffer", source: "NCDA-BUF", rule: "lime by Mehlich buffer", low: 4.0, high: 6.6, spread: 0.25,
		lime: func(ph, buffer, target float64) (quantity.KilogramPerSquareMetre, quantity.Metre) {
			return MehlichRequirement(MehlichAcidity(buffer), ph, target, 0)
		}},
	garden.ModifiedMehlich: {name: "modified Mehlich buffer", source: "HOSKINS-2008", rule: "lime by Mehlich buffer", low: 4.0, high: 6.6, spread: 0.3,
		lime: func(ph, buffer, target float64) (quantity.KilogramPerSquareMetre, quantity.Metre) {
			return MehlichRequirement(MehlichAcidity(buffer), ph, target, 0)
		}, note: "calcium stands in it for barium; it reads within about 0.05 of the Mehlich buffer and is counted with that one's table"},
	garden.AdamsEvans: {name: "Adams–Evans buffer", source: "HULUKA", rule: "lime by Adams–Evans buffer", low: 7.0, high: 8.0, spread: 0.3,
		lime: AdamsEvansRequirement, note: "made for light soils of warm humid lands that hold under 13 meq/100 g"},
	garden.Woodruff: {name: "Woodruff buffer", source: "WOODRUFF-1948", rule: "lime by Woodruff buffer", low: 5.0, high: 7.0, spread: 0.4,
		lime: WoodruffRequirement},
}

// BufferRequirement is the lime by the buffer that the report names, for the layer that the method counts for.
func BufferRequirement(method garden.BufferMethod, ph, buffer, target float64, units quantity.System) (Requirement, error) {
	m, ok := bufferMethods[method]
	if !ok {
		return Requirement{}, fmt.Errorf("the buffer method %q is not known: the report names it; write one of %v", method, garden.BufferMethods)
	}
	if buffer < m.low || buffer > m.high+readingError {
		return Requirement{}, fmt.Errorf("a %s does not read %.2g; it reads from %.1f to %.1f: check the number, and which buffer the report names", m.name, buffer, m.low, m.high)
	}
	lime, depth := m.lime(ph, buffer, target)
	if ph >= target {
		lime = 0
	}
	r := Requirement{Lime: lime, Depth: depth, Target: target, Method: m.name,
		Low: lime * quantity.KilogramPerSquareMetre(1-m.spread), High: lime * quantity.KilogramPerSquareMetre(1+m.spread)}
	says := fmt.Sprintf("Buffer pH %.2f by the %s, from pH %.1f to %.1f, takes %s of pure lime for %s of ground",
		buffer, m.name, ph, target, units.Rate(lime), units.Depth(depth))
	if m.note != "" {
		says += "; " + m.note
	}
	r.Reasons = []garden.Reason{{Says: says + ".", Rule: m.rule, Source: m.source}}
	return r, nil
}
