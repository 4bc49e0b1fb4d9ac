package soil

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// PHTarget is the pH a bed is brought to for what is planned there.
type PHTarget struct {
	PH        float64      // aimed at when something is given
	Low, High float64      // between which nothing is given
	AcidBed   bool         // only crops that want it sour: never limed
	Sour      []*crop.Crop // that want it sour, alone or among others: never limed while they are there
	Reasons   []garden.Reason
}

// The range of mixed vegetables, and the bounds that a garden bed is never aimed beyond.
//
// Source: REACTION-PRACTICE (6.0 to 6.8)
const (
	vegetableLow  = 6.0
	vegetableHigh = 6.8
	aimNoHigher   = 6.5 // above, iron, manganese, zinc and boron begin to fail and lime cannot be taken back
	acidLover     = 6.0 // a crop whose range ends below this is one
	scabTarget    = 5.3 // potatoes: little scab below 5.5
	scabFloor     = 5.0
)

// PHTargetOf is the pH for the crops planned in a bed: the range that they share, without those that want it sour, aimed at in the
// middle and no higher than 6.5. Potatoes alone are kept sour against scab. Crops that share no range are met half way, and named.
//
// Source: REACTION-PRACTICE; ECOCROP (through the catalogue's ranges)
func PHTargetOf(crops []*crop.Crop) PHTarget {
	var sweet, sour, potato []*crop.Crop
	for _, c := range crops {
		switch {
		case c == nil || c.PH.High <= 0:
		case c.Kind == "potato":
			potato = append(potato, c)
		case c.PH.High < acidLover:
			sour = append(sour, c)
		default:
			sweet = append(sweet, c)
		}
	}
	switch {
	case len(sweet) == 0 && len(sour) > 0:
		low, high := sharedRange(sour)
		return PHTarget{PH: math.Round(5*(low+high)) / 10, Low: low, High: high, AcidBed: true, Sour: sour, Reasons: []garden.Reason{{
			Says: fmt.Sprintf("%s want it sour, pH %.1f to %.1f: this bed is never limed.", names(sour), low, high), Rule: "acid-loving crops", Source: "REACTION-PRACTICE"}}}
	case len(sweet) == 0 && len(potato) > 0:
		return PHTarget{PH: scabTarget, Low: scabFloor, High: 6.2, Reasons: []garden.Reason{{
			Says: "Potatoes stand pH 5.0 to 6.2 and get scab above 5.5: lime only below 5.0, and then only to 5.3.", Rule: "potatoes and scab", Source: "REACTION-PRACTICE"}}}
	case len(sweet) == 0:
		return PHTarget{PH: aimNoHigher, Low: vegetableLow, High: vegetableHigh, Reasons: []garden.Reason{{
			Says: "No crops with a range are planned here: mixed vegetables want about pH 6.0 to 6.8.", Rule: "pH of mixed vegetables", Source: "REACTION-PRACTICE"}}}
	}
	low, high := sharedRange(sweet)
	t := PHTarget{Low: low, High: high, Sour: sour}
	if low <= high {
		t.PH = math.Round(10*math.Min(aimNoHigher, (low+high)/2)) / 10
		if t.PH < low {
			t.PH = low
		}
		t.Reasons = append(t.Reasons, garden.Reason{Says: fmt.Sprintf("What is planned here shares pH %.1f to %.1f; %.1f is aimed at.", low, high, t.PH), Rule: "pH that the crops share", Source: "REACTION-PRACTICE"})
	} else {
		t.PH = math.Round(10*math.Min(aimNoHigher, math.Max(vegetableLow, (low+high)/2))) / 10
		t.Low, t.High = math.Min(t.PH, vegetableLow), math.Max(t.PH, vegetableHigh)
		t.Reasons = append(t.Reasons, garden.Reason{Says: fmt.Sprintf("%s share no range (one wants at least %.1f, another at most %.1f); %.1f is aimed at between them.", names(sweet), low, high, t.PH), Rule: "pH that the crops share", Source: "REACTION-PRACTICE"})
	}
	if len(sour) > 0 {
		t.Reasons = append(t.Reasons, garden.Reason{Says: names(sour) + " want it sour and are left out of this: give them a bed of their own.", Rule: "acid-loving crops", Source: "REACTION-PRACTICE"})
	}
	if len(potato) > 0 {
		t.Reasons = append(t.Reasons, garden.Reason{Says: "Potatoes in limed ground get scab: lime after them, not before, or grow them in another bed.", Rule: "potatoes and scab", Source: "REACTION-PRACTICE"})
	}
	return t
}

// onPeat is the target on peat and muck, which is kept sourer: there is no aluminium to harm roots, and more lime only locks
// the trace elements away.
//
// Source: OHIO-MUCK (vegetables on muck 5.3 to 5.8)
func (t PHTarget) onPeat() PHTarget {
	if t.AcidBed || t.PH <= 5.5 {
		return t
	}
	t.PH, t.Low = 5.5, 5.3
	t.Reasons = append(slices.Clone(t.Reasons), garden.Reason{Says: "On peat and muck vegetables do well at pH 5.3 to 5.8, whatever they want on mineral ground: 5.5 is aimed at.", Rule: "pH on peat", Source: "OHIO-MUCK"})
	return t
}

// sharedRange is the highest low and the lowest high of the crops' ranges.
func sharedRange(crops []*crop.Crop) (low, high float64) {
	low, high = crops[0].PH.Low, crops[0].PH.High
	for _, c := range crops[1:] {
		low, high = math.Max(low, c.PH.Low), math.Min(high, c.PH.High)
	}
	return low, high
}

// names lists crops by kind, each once.
func names(crops []*crop.Crop) string {
	var list []string
	for _, c := range crops {
		if !slices.Contains(list, c.Kind) {
			list = append(list, c.Kind)
		}
	}
	if len(list) > 4 {
		list = append(list[:3], fmt.Sprintf("%d more", len(list)-3))
	}
	if len(list) > 1 {
		return capital(strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1])
	}
	return capital(list[0])
}
