package main

import (
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
	"kailyard/internal/work"
)

// The shapes below are what --json prints. Their names are a promise (doc/cli.md): fields may be
// added, none renamed or given another unit.

type weatherBasisJSON struct {
	Source    string         `json:"source"`
	Origin    weather.Origin `json:"origin"`
	Station   string         `json:"station"`
	Years     []int          `json:"years"`
	Generated bool           `json:"generated"`
}

func basisJSON(r *season.Result) weatherBasisJSON {
	v := weatherBasisJSON{
		Source: r.Record.Source, Origin: r.Record.Origin, Station: r.Record.Station.Name,
		Years: []int{}, Generated: r.Generated(),
	}
	for _, y := range r.Years {
		v.Years = append(v.Years, y.Year)
	}
	return v
}

type planJSON struct {
	Garden    string           `json:"garden"`
	Invented  bool             `json:"invented"`
	Season    string           `json:"season"`
	Start     civil.Date       `json:"season_start"`
	End       civil.Date       `json:"season_end"`
	Weather   weatherBasisJSON `json:"weather"`
	Settings  plan.Settings    `json:"settings"`
	Value     float64          `json:"value"`
	Bound     *float64         `json:"bound"`
	Reach     *float64         `json:"reach_share"`
	Rest      []portionJSON    `json:"rest"`
	Plantings []plantingJSON   `json:"plantings"`
	Wants     []supplyJSON     `json:"wants"`
	Notes     []garden.Reason  `json:"notes"`
}

type plantingJSON struct {
	Key        string          `json:"key"`
	Bed        string          `json:"bed"`
	CropID     string          `json:"crop_id"`
	Crop       string          `json:"crop"`
	Way        string          `json:"way"`
	Under      string          `json:"under,omitempty"`
	RaiseOn    *civil.Date     `json:"sow_under_cover_on"`
	Start      civil.Date      `json:"in_the_ground_on"`
	Emerge     *garden.Spread  `json:"up_by"`
	First      *garden.Spread  `json:"first_harvest"`
	Last       *garden.Spread  `json:"last_harvest"`
	Clear      civil.Date      `json:"ground_free_on"`
	AlongFrom  float64         `json:"along_from_m"`
	AlongTo    float64         `json:"along_to_m"`
	AcrossFrom float64         `json:"across_from_m"`
	AcrossTo   float64         `json:"across_to_m"`
	AreaM2     float64         `json:"area_m2"`
	Rows       int             `json:"rows"`
	Plants     int             `json:"plants"`
	Role       string          `json:"role"`
	Partner    string          `json:"partner"`
	Success    int             `json:"success_years"`
	Years      int             `json:"weather_years"`
	ExpectedKg float64         `json:"expected_kg"`
	Status     string          `json:"status"`
	Pinned     bool            `json:"pinned"`
	Reasons    []garden.Reason `json:"reasons"`
}

type supplyJSON struct {
	Crop       string          `json:"crop"`
	Basis      string          `json:"basis"`
	Amount     float64         `json:"amount"`
	Unit       string          `json:"unit"`
	Weight     int             `json:"weight"`
	Under      string          `json:"under,omitempty"`
	AskedKg    float64         `json:"asked_kg"`
	ExpectedKg float64         `json:"expected_kg"`
	TypicalKg  *float64        `json:"typical_year_kg,omitempty"`
	PoorestKg  *float64        `json:"poorest_years_kg,omitempty"`
	YearsKg    []float64       `json:"weather_years_kg,omitempty"`
	Plantings  []string        `json:"plantings"`
	Short      []garden.Reason `json:"short"`
}

func planOf(r *season.Result) planJSON {
	v := planJSON{
		Garden: r.Garden.Site.Name, Invented: r.Garden.Site.Invented, Season: r.Season.String(),
		Start: r.Season.Start, End: r.Season.End(), Weather: basisJSON(r),
		Settings: r.Plan.Settings, Value: r.Plan.Value,
		Plantings: []plantingJSON{}, Wants: []supplyJSON{}, Notes: orEmpty(r.Plan.Notes),
	}
	for _, p := range r.Plan.Plantings {
		v.Plantings = append(v.Plantings, plantingOf(r, p))
	}
	for _, s := range r.Plan.Supply {
		one := supplyJSON{
			Crop: s.Want.Crop, Basis: string(s.Want.Basis), Amount: s.Want.Amount, Unit: s.Want.Unit,
			Weight: s.Want.Weight, Under: s.Want.Under, AskedKg: float64(s.Asked), ExpectedKg: float64(s.Expected),
			Plantings: orEmpty(s.Keys), Short: orEmpty(s.Short),
		}
		if typical, known := s.Typical(); known {
			poorest, _ := s.Poorest()
			one.TypicalKg, one.PoorestKg = grams(typical), grams(poorest)
		}
		for _, kg := range s.Years {
			one.YearsKg = append(one.YearsKg, float64(kg))
		}
		v.Wants = append(v.Wants, one)
	}
	v.reach(r)
	return v
}

// grams is a mass in kilograms, to the gram.
func grams(m quantity.Kilogram) *float64 {
	kg := math.Round(float64(m)*1000) / 1000
	return &kg
}

func plantingOf(r *season.Result, p garden.Planting) plantingJSON {
	p = p.AsItStands()
	v := plantingJSON{
		Key: p.Key, Bed: bedName(r, p.BedID), CropID: p.CropID, Crop: cropName(r, p.CropID), Way: string(p.Way),
		Under: p.Protection, RaiseOn: p.RaiseOn, Start: p.Start, First: known(p.First), Last: known(p.Last), Clear: p.Clear,
		AlongFrom: float64(p.Place.AlongFrom), AlongTo: float64(p.Place.AlongTo),
		AcrossFrom: float64(p.Place.AcrossFrom), AcrossTo: float64(p.Place.AcrossTo), AreaM2: float64(p.Place.Area()),
		Rows: p.Rows, Plants: p.Plants, Role: string(p.Role), Partner: p.Partner,
		Success: p.Success, Years: p.Years, ExpectedKg: float64(p.Expect),
		Status: string(p.Status), Pinned: p.Pinned, Reasons: orEmpty(p.Reasons),
	}
	if p.RaiseOn == nil {
		v.Emerge = known(p.Emerge)
	}
	return v
}

// known is a spread, or nil where nothing is known, as of what stood before the plan.
func known(s garden.Spread) *garden.Spread {
	if s == (garden.Spread{}) {
		return nil
	}
	return &s
}

type jobJSON struct {
	Key        string          `json:"key"`
	Kind       string          `json:"kind"`
	From       civil.Date      `json:"from"`
	To         civil.Date      `json:"to"`
	Bed        string          `json:"bed,omitempty"`
	Planting   string          `json:"planting,omitempty"`
	Serves     []string        `json:"serves"`
	CropID     string          `json:"crop_id,omitempty"`
	Title      string          `json:"title"`
	How        []string        `json:"how"`
	Weather    string          `json:"weather,omitempty"`
	Hours      float64         `json:"hours"`
	Why        []garden.Reason `json:"why"`
	Cautions   []string        `json:"cautions"`
	Conditions []garden.Reason `json:"conditions"`
	Puts       []putJSON       `json:"puts,omitempty"`
	Given      *civil.Date     `json:"given,omitempty"`
}

// putJSON is so much of a material that a job puts on a bed.
type putJSON struct {
	Bed      string  `json:"bed"`
	Material string  `json:"material"`
	Words    string  `json:"amount"`
	MassKG   float64 `json:"mass_kg,omitempty"`
	Litres   float64 `json:"volume_l,omitempty"`
	DepthM   float64 `json:"depth_m,omitempty"`
	GivenKG  float64 `json:"given_kg,omitempty"`
}

func putsOf(r *season.Result, puts []work.Put) []putJSON {
	var list []putJSON
	for _, p := range puts {
		list = append(list, putJSON{bedName(r, p.BedID), p.Material, p.Words(r.Garden.Site), float64(p.Mass), float64(p.Volume), float64(p.Depth), float64(p.Given)})
	}
	return list
}

// dateOrNil leaves out a day that is none.
func dateOrNil(d civil.Date) *civil.Date {
	if d == 0 {
		return nil
	}
	return &d
}

func jobsOf(r *season.Result, jobs []work.Job) []jobJSON {
	list := []jobJSON{}
	for _, j := range jobs {
		list = append(list, jobJSON{
			Key: j.Key, Kind: string(j.Kind), From: j.Window.From, To: j.Window.To, Bed: bedName(r, j.BedID),
			Planting: j.Planting, Serves: orEmpty(j.Serves), CropID: j.CropID, Title: j.Title, How: orEmpty(j.How), Weather: j.Weather,
			Hours: float64(j.Hours), Why: orEmpty(j.Why), Cautions: orEmpty(j.Cautions), Conditions: orEmpty(j.Conditions),
			Puts: putsOf(r, j.Puts), Given: dateOrNil(j.Given),
		})
	}
	return list
}

type orderJSON struct {
	CropID    string          `json:"crop_id"`
	What      string          `json:"what"`
	Count     int             `json:"count"`
	MassG     float64         `json:"mass_g"`
	Spare     float64         `json:"spare_share"`
	Packets   int             `json:"packets,omitempty"`
	Litres    float64         `json:"volume_l,omitempty"`
	LengthM   float64         `json:"length_m,omitempty"`
	AreaM2    float64         `json:"area_m2,omitempty"`
	By        civil.Date      `json:"by"`
	Plantings []string        `json:"plantings"`
	Why       []garden.Reason `json:"why"`
	Packages  []packageJSON   `json:"packages,omitempty"`
	Cost      float64         `json:"cost,omitempty"`
}

// packageJSON is a number of packages of one size.
type packageJSON struct {
	Count  int     `json:"count"`
	Name   string  `json:"name,omitempty"`
	MassKG float64 `json:"mass_kg"`
	Price  float64 `json:"price,omitempty"`
}

func packagesOf(o work.Order) []packageJSON {
	var list []packageJSON
	for _, b := range o.Bags {
		list = append(list, packageJSON{b.Count, b.Size.Name, float64(b.Size.Mass), b.Size.Price})
	}
	return list
}

func ordersOf(orders []work.Order) []orderJSON {
	list := []orderJSON{}
	for _, o := range orders {
		list = append(list, orderJSON{
			CropID: o.CropID, What: o.What, Count: o.Count, MassG: float64(o.Mass), Spare: o.Spare,
			Packets: o.Packets, Litres: float64(o.Volume), LengthM: float64(o.Length), AreaM2: float64(o.Area),
			By: o.By, Plantings: orEmpty(o.For), Why: orEmpty(o.Why), Packages: packagesOf(o), Cost: o.Cost,
		})
	}
	return list
}

// orEmpty makes an absent list print as [] rather than null.
func orEmpty[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

func bedName(r *season.Result, id int64) string {
	b, _ := r.Bed(id)
	return b.Name
}

func cropName(r *season.Result, id string) string {
	if c, ok := r.Crops.Find(id); ok {
		return c.Name()
	}
	return id
}
