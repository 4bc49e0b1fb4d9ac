package growth

import (
	"math"
	"math/rand/v2"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

func celsius(v float64) *quantity.Celsius { c := quantity.Celsius(v); return &c }
func hours(v float64) *quantity.Hour      { h := quantity.Hour(v); return &h }

// lettuce is an invented leaf crop with every limit of its kind, for tests of the rules.
func lettuce() *crop.Crop {
	return &crop.Crop{
		ID: "test-lettuce", Kind: "lettuce",
		Emergence: crop.Emergence{
			Points: []crop.EmergencePoint{{Soil: 0, Days: 49}, {Soil: 5, Days: 14.9}, {Soil: 10, Days: 7}, {Soil: 15, Days: 3.9}, {Soil: 20, Days: 2.6}, {Soil: 25, Days: 2.2}, {Soil: 30, Days: 2.6}},
			Least:  0, Most: 30, GiveUp: 30,
		},
		Cardinal: crop.Cardinal{Base: 3, OptLow: 15, OptHigh: 21, Max: 30},
		Methods: []crop.Method{
			{Way: crop.Sow, Days: crop.Range{Low: 45, High: 55}, Reference: 17, Depth: 0.01, SoilAtLeast: 2},
			{Way: crop.SetOut, Days: crop.Range{Low: 28, High: 36}, Reference: 17, Depth: 0.05, SoilAtLeast: 4, AirAtLeast: celsius(-3)},
		},
		Plant:     crop.Plant{Spread: 0.3, Height: 0.25, Root: 0.4},
		Hardiness: crop.Hardiness{Class: "half-hardy", Seedling: -4, Established: -6, Mature: -3},
		Heat:      crop.Heat{BoltAbove: celsius(24), BoltDays: 6},
		Harvest:   crop.Harvest{Manner: crop.Once, Part: "leaf", Span: crop.Range{Low: 7, High: 14}},
	}
}

// bean is an invented tender crop picked over weeks that does not set in heat.
func bean() *crop.Crop {
	return &crop.Crop{
		ID: "test-bean", Kind: "bean",
		Emergence: crop.Emergence{
			Points: []crop.EmergencePoint{{Soil: 15, Days: 16.1}, {Soil: 20, Days: 11.4}, {Soil: 25, Days: 8.1}, {Soil: 30, Days: 6.4}, {Soil: 35, Days: 6.2}},
			Least:  12, Most: 36, GiveUp: 21,
		},
		Cardinal: crop.Cardinal{Base: 8, OptLow: 20, OptHigh: 27, Max: 36},
		Methods: []crop.Method{
			{Way: crop.Sow, Days: crop.Range{Low: 50, High: 60}, Reference: 21, Depth: 0.03, SoilAtLeast: 15, AirAtLeast: celsius(0)},
		},
		Plant:     crop.Plant{Spread: 0.4, Height: 0.5, Root: 0.6},
		Hardiness: crop.Hardiness{Class: "tender", Seedling: -0.5, Established: -0.5, Mature: -1},
		Heat:      crop.Heat{SetDayAbove: celsius(33), SetNightBelow: celsius(10)},
		Harvest:   crop.Harvest{Manner: crop.Repeated, Part: "pod", Span: crop.Range{Low: 14, High: 28}},
	}
}

// onion is an invented long-day bulb crop set in spring.
func onion() *crop.Crop {
	return &crop.Crop{
		ID: "test-onion", Kind: "onion",
		Emergence: crop.Emergence{Points: []crop.EmergencePoint{{Soil: 0, Days: 136}, {Soil: 10, Days: 13.4}, {Soil: 20, Days: 4.6}, {Soil: 30, Days: 4}}, Least: 0, Most: 35, GiveUp: 40},
		Cardinal:  crop.Cardinal{Base: 4, OptLow: 18, OptHigh: 25, Max: 35},
		Methods:   []crop.Method{{Way: crop.Set, Days: crop.Range{Low: 90, High: 110}, Reference: 19, Depth: 0.03, SoilAtLeast: 4}},
		Plant:     crop.Plant{Spread: 0.2, Height: 0.4, Root: 0.4},
		Hardiness: crop.Hardiness{Class: "hardy", Seedling: -6, Established: -8, Mature: -4, Overwinters: true, Dormant: -15},
		DayLength: crop.DayLength{BulbsAbove: hours(14)},
		Harvest:   crop.Harvest{Manner: crop.Once, Part: "bulb", Span: crop.Range{Low: 10, High: 20}},
	}
}

// spinach is an invented long-day leaf crop that overwinters.
func spinach() *crop.Crop {
	c := lettuce()
	c.ID, c.Kind, c.Heat = "test-spinach", "spinach", crop.Heat{}
	c.Cardinal = crop.Cardinal{Base: 1, OptLow: 14, OptHigh: 20, Max: 30}
	c.Hardiness = crop.Hardiness{Class: "very hardy", Seedling: -7, Established: -9, Mature: -9, Overwinters: true, Dormant: -18}
	c.DayLength = crop.DayLength{BoltsAbove: hours(14.5)}
	c.Methods = c.Methods[:1]
	return c
}

// asparagus is an invented perennial first harvested in its third year.
func asparagus() *crop.Crop {
	c := onion()
	c.ID, c.Kind, c.DayLength, c.Perennial = "test-asparagus", "asparagus", crop.DayLength{}, true
	c.Hardiness = crop.Hardiness{Seedling: -3, Established: -4, Mature: -4, Overwinters: true, Dormant: -30}
	c.Harvest.FirstYear = 3
	return c
}

func testCrops() []*crop.Crop {
	raised := asparagus()
	raised.Methods = []crop.Method{{Way: crop.SetOut, Days: crop.Range{Low: 50, High: 60}, Reference: 15, Depth: 0.05, SoilAtLeast: 5}}
	return []*crop.Crop{lettuce(), bean(), onion(), spinach(), asparagus(), raised}
}

func testOptions() []Option {
	var out []Option
	for _, c := range testCrops() {
		for m := range c.Methods {
			out = append(out, Option{Crop: c, Method: m})
		}
	}
	return out
}

// climateKind is an invented climate: a yearly sine with a daily range and persistent noise.
type climateKind struct {
	mean, amplitude, daily, noise float64
	latitude                      float64
}

var coldWinters = climateKind{mean: 8.5, amplitude: 13, daily: 11, noise: 3.5, latitude: 42.4}
var mildWinters = climateKind{mean: 11.5, amplitude: 7.5, daily: 10, noise: 2.5, latitude: 44.6}

// scenarios makes years of invented weather over a season; coldest in mid January (July in the south).
func (k climateKind) scenarios(season civil.Season, years int, seed uint64) []weather.Scenario {
	random := rand.New(rand.NewPCG(seed, 7))
	coldest := civil.Of(season.Year(), 1, 18)
	if k.latitude < 0 {
		coldest = civil.Of(season.Year(), 7, 19)
	}
	out := make([]weather.Scenario, years)
	for y := range out {
		s := weather.Scenario{Year: 1990 + y, Start: season.Start.Add(-Lead)}
		drift := 0.0
		for i := range Lead + season.Days + Tail {
			drift = 0.7*drift + k.noise*math.Sqrt(1-0.49)*random.NormFloat64()
			phase := 2 * math.Pi * float64(s.Start.Add(i).Since(coldest)) / 365.2425
			mean := k.mean - k.amplitude*math.Cos(phase) + drift
			half := k.daily / 2 * (0.6 + 0.8*random.Float64())
			s.Min = append(s.Min, float32(mean-half))
			s.Max = append(s.Max, float32(mean+half))
			s.Rain = append(s.Rain, 0)
		}
		out[y] = s
	}
	return out
}

func (k climateKind) climate(years int, seed uint64) *Climate {
	season := civil.SeasonOf(2027, k.latitude)
	c, err := NewClimate(season, k.latitude, k.scenarios(season, years, seed))
	if err != nil {
		panic(err)
	}
	return c
}

// steady is a climate of one unchanging temperature without daily range, at the equator (12.1 h days).
func steady(t float64) *Climate { return steadyAt(0, t) }

// steadyAt is steady at a latitude, whose days it has.
func steadyAt(latitude, t float64) *Climate {
	season := civil.SeasonOf(2027, latitude)
	s := weather.Scenario{Year: 2000, Start: season.Start.Add(-Lead)}
	for range Lead + season.Days + Tail {
		s.Min, s.Max, s.Rain = append(s.Min, float32(t)), append(s.Max, float32(t)), append(s.Rain, 0)
	}
	c, err := NewClimate(season, latitude, []weather.Scenario{s})
	if err != nil {
		panic(err)
	}
	return c
}
