package water

import (
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Store is how a tank under a roof fares through the weather years.
type Store struct {
	Weeks  []StoreWeek
	Met    float64        // share of the season's water that the tank gives, mean of the years
	Whole  float64        // share of the years in which it gives all
	Caught quantity.Litre // mean of the season
	Spilt  quantity.Litre // that overflowed, mean of the season
	Short  quantity.Litre // of the season that it does not give, mean of the years
	Enough quantity.Litre // the smallest tank under this roof that gives all in nine years of ten; 0: none does
}

// StoreWeek is one week.
type StoreWeek struct {
	From   civil.Date
	Chance float64        // share of the years in which the tank gives all that is asked in it
	Holds  quantity.Litre // on its first morning, middle of the years
	Short  quantity.Litre // that the tank lacks in it, middle of the years
	// DryShort is what nine years of ten lack no more than.
	DryShort quantity.Litre
}

// catches is the part of the rain on a roof that comes to the tank: wetting, splash and first flush take the rest.
//
// Source: common practice (0.8–0.9 of a tiled or metal roof)
const catches = 0.8

// StoreOf simulates the tank, day by day, through all weather years. It begins empty with the weather year, so that by the
// season it holds what winter brought.
func StoreOf(n Needs, supply garden.Supply, years []weather.Scenario) Store {
	var out Store
	if supply.Tank <= 0 || supply.Roof <= 0 || len(years) != len(n.daily) || len(years) == 0 {
		return out
	}
	out = tank(n, float64(supply.Roof), float64(supply.Tank), years)
	for _, size := range sizes {
		if tank(n, float64(supply.Roof), size, years).Whole >= 0.9 {
			out.Enough = quantity.Litre(size)
			break
		}
	}
	return out
}

// sizes are those that tanks are tried in, L, each about a third more.
var sizes = []float64{100, 150, 200, 300, 400, 500, 750, 1000, 1500, 2000, 3000, 4000, 5000, 7500, 10000, 15000, 20000, 30000, 50000}

func tank(n Needs, roof, size float64, years []weather.Scenario) Store {
	var out Store
	days := n.Season.Days
	monday := n.Season.Start.Monday()
	weeks := int(n.Season.End()-monday)/7 + 1
	met, holds, lacks := make([]int, weeks), make([][]float64, weeks), make([][]float64, weeks)
	var asked, given float64
	for y, w := range years {
		held, all := 0.0, true
		short := make([]float64, weeks)
		start := int(n.Season.Start - w.Start)
		for at := range min(len(w.Rain), start+days) {
			caught := roof * float64(w.Rain[at]) * catches
			spilt := max(0, held+caught-size)
			held += caught - spilt
			k := at - start
			if k < 0 {
				continue
			}
			out.Caught += quantity.Litre(caught)
			out.Spilt += quantity.Litre(spilt)
			week := int(n.Season.Start.Add(k)-monday) / 7
			if len(holds[week]) == y {
				holds[week] = append(holds[week], held)
			}
			want := float64(n.daily[y][k])
			take := min(want, held)
			held -= take
			asked, given = asked+want, given+take
			if take < want-1e-6 {
				all = false
				short[week] += want - take
			}
		}
		for k := range weeks {
			lacks[k] = append(lacks[k], short[k])
			if short[k] == 0 {
				met[k]++
			}
		}
		if all {
			out.Whole++
		}
	}
	count := float64(len(years))
	out.Whole /= count
	out.Caught, out.Spilt = out.Caught/quantity.Litre(count), out.Spilt/quantity.Litre(count)
	out.Short = quantity.Litre((asked - given) / count)
	if out.Met = 1; asked > 0 {
		out.Met = given / asked
	}
	for k := range weeks {
		out.Weeks = append(out.Weeks, StoreWeek{monday.Add(7 * k), float64(met[k]) / count, quantity.Litre(quantile(holds[k], 0.5)),
			quantity.Litre(quantile(lacks[k], 0.5)), quantity.Litre(quantile(lacks[k], 0.9))})
	}
	return out
}

// TapHours is how long the tap runs for a volume.
//
//	result  h; 0 where the tap was not measured
func TapHours(water quantity.Litre, tap quantity.LitrePerHour) quantity.Hour {
	if tap <= 0 {
		return 0
	}
	return quantity.Hour(float64(water) / float64(tap))
}
