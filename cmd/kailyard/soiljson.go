package main

import (
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// The shapes of the soil book. Their names are a promise (doc/cli.md).

type groundJSON struct {
	Garden   string          `json:"garden"`
	Invented bool            `json:"invented"`
	Day      civil.Date      `json:"day"`
	Season   string          `json:"season"`
	Drift    driftJSON       `json:"drift"`
	Alarms   []alarmJSON     `json:"alarms"`
	Beds     []bedGroundJSON `json:"beds"`
	Buy      buyJSON         `json:"buy"`
	Advice   []string        `json:"advice"`
}

type driftJSON struct {
	Drift   string          `json:"drift"`
	Told    bool            `json:"told"`
	RainMM  *float64        `json:"rain_mm"`
	EvapMM  *float64        `json:"evaporation_mm"`
	OverMM  *float64        `json:"surplus_mm"`
	Reasons []garden.Reason `json:"reasons"`
}

type bedGroundJSON struct {
	Bed      string          `json:"bed"`
	Texture  string          `json:"texture"`
	AreaM2   float64         `json:"area_m2"`
	PH       *float64        `json:"ph_expected"`
	PHLow    *float64        `json:"ph_low"`
	PHHigh   *float64        `json:"ph_high"`
	PHWord   string          `json:"ph_word"`
	Tested   *civil.Date     `json:"tested"`
	Target   float64         `json:"ph_target"`
	From     float64         `json:"ph_target_low"`
	To       float64         `json:"ph_target_high"`
	Verdict  string          `json:"verdict"`
	Dose     *doseJSON       `json:"dose"`
	Others   []doseJSON      `json:"in_place_of_it"`
	Fits     []fitJSON       `json:"fits"`
	Feeding  *feedingJSON    `json:"feeding"`
	Organic  *organicJSON    `json:"organic_matter"`
	Digging  *diggingJSON    `json:"digging"`
	Holes    []holeJSON      `json:"holes"`
	Held     []heldJSON      `json:"held_by_manure"`
	Years    []yearJSON      `json:"years"`
	Again    []againJSON     `json:"due_again"`
	Tests    []testJSON      `json:"tests"`
	Stopped  string          `json:"stopped"`
	Reasons  []garden.Reason `json:"reasons"`
	Advice   []string        `json:"advice"`
	Cautions []string        `json:"cautions"`
}

type doseJSON struct {
	Material string          `json:"material"`
	RateKgM2 float64         `json:"rate_kg_per_m2"`
	LowKgM2  float64         `json:"low_kg_per_m2"`
	HighKgM2 float64         `json:"high_kg_per_m2"`
	MassKg   float64         `json:"mass_kg"`
	VolumeL  float64         `json:"volume_l"`
	DepthM   float64         `json:"depth_m"`
	Before   int             `json:"days_before_sowing"`
	Parts    []partJSON      `json:"parts"`
	Reasons  []garden.Reason `json:"reasons"`
	Cautions []string        `json:"cautions"`
}

type partJSON struct {
	MassKg float64    `json:"mass_kg"`
	From   civil.Date `json:"from"`
	To     civil.Date `json:"to"`
	When   string     `json:"when"`
}

type fitJSON struct {
	CropID  string   `json:"crop_id"`
	Low     float64  `json:"ph_low"`
	High    float64  `json:"ph_high"`
	Planned bool     `json:"planned_here"`
	Word    string   `json:"word"`
	Yield   *float64 `json:"yield_share"`
}

type foodsJSON struct {
	N    float64 `json:"n_kg"`
	P2O5 float64 `json:"p2o5_kg"`
	K2O  float64 `json:"k2o_kg"`
}

type feedingJSON struct {
	Need       foodsJSON       `json:"need"`
	Net        foodsJSON       `json:"to_be_brought"`
	Scraps     foodsJSON       `json:"too_little_to_strew"`
	Surplus    foodsJSON       `json:"over"`
	Phosphorus string          `json:"phosphorus_class"`
	Potassium  string          `json:"potassium_class"`
	Credits    []creditJSON    `json:"credits"`
	Dressings  []dressingJSON  `json:"dressings"`
	Starters   []starterJSON   `json:"starters"`
	Reasons    []garden.Reason `json:"reasons"`
	Cautions   []string        `json:"cautions"`
}

type creditJSON struct {
	What   string `json:"what"`
	Coming bool   `json:"still_to_come"`
	foodsJSON
}

type dressingJSON struct {
	Stage    string          `json:"stage"`
	Date     *civil.Date     `json:"date"`
	Planting string          `json:"planting"`
	AreaM2   float64         `json:"area_m2"`
	Parts    []dressPartJSON `json:"parts"`
	How      string          `json:"how"`
	Reasons  []garden.Reason `json:"reasons"`
}

type dressPartJSON struct {
	Material string  `json:"material"`
	Name     string  `json:"name"`
	Grade    string  `json:"grade"`
	MassKg   float64 `json:"mass_kg"`
	ByHand   string  `json:"by_hand"`
}

type starterJSON struct {
	Planting string     `json:"planting"`
	Date     civil.Date `json:"date"`
	Plants   int        `json:"plants"`
	VolumeL  float64    `json:"volume_l"`
	Material string     `json:"material"`
	Mix      string     `json:"mix"`
}

type organicJSON struct {
	Material     string          `json:"material"`
	DepthM       float64         `json:"depth_m"`
	IntoM        float64         `json:"worked_in_m"`
	LooseL       float64         `json:"loose_l"`
	MassKg       float64         `json:"mass_kg"`
	First        bool            `json:"first"`
	LimestoneKg2 float64         `json:"limestone_kg_per_m2"`
	NitrogenKg   float64         `json:"nitrogen_kg"`
	Due          civil.Date      `json:"due"`
	Loads        []loadJSON      `json:"loads"`
	Instead      []string        `json:"instead"`
	Reasons      []garden.Reason `json:"reasons"`
	Cautions     []string        `json:"cautions"`
}

type loadJSON struct {
	Unit   string  `json:"unit"`
	HoldsL float64 `json:"holds_l"`
	Exact  float64 `json:"exact"`
	Whole  int     `json:"whole"`
}

type holeJSON struct {
	Planting string          `json:"planting"`
	CropID   string          `json:"crop_id"`
	Trench   bool            `json:"trench"`
	WidthM   float64         `json:"width_m"`
	DepthM   float64         `json:"depth_m"`
	CrownM   float64         `json:"crown_m"`
	EarthL   float64         `json:"earth_l"`
	Hours    float64         `json:"hours"`
	Says     string          `json:"says"`
	How      []string        `json:"how"`
	Reasons  []garden.Reason `json:"reasons"`
}

type heldJSON struct {
	Planting string        `json:"planting"`
	CropID   string        `json:"crop_id"`
	Until    civil.Date    `json:"until"`
	Clash    bool          `json:"planned_before"`
	Reason   garden.Reason `json:"reason"`
}

type yearJSON struct {
	Year  int         `json:"year"`
	Tests []int64     `json:"tests"`
	Put   []putOnJSON `json:"put"`
}

type putOnJSON struct {
	Date     civil.Date `json:"date"`
	Material string     `json:"material"`
	MassKg   float64    `json:"mass_kg"`
	VolumeL  float64    `json:"volume_l"`
	RateKgM2 float64    `json:"rate_kg_per_m2"`
	DepthM   float64    `json:"depth_m"`
	Raw      bool       `json:"raw_manure"`
	Note     string     `json:"note"`
}

type againJSON struct {
	What   string        `json:"what"`
	On     civil.Date    `json:"on"`
	Due    bool          `json:"due"`
	Reason garden.Reason `json:"reason"`
}

func (e *env) groundOf(g *season.Ground, of garden.Garden, beds []season.BedGround) groundJSON {
	v := groundJSON{Garden: g.Site.Name, Invented: g.Site.Invented, Day: g.Day, Season: g.Season.String(), Alarms: []alarmJSON{}, Beds: []bedGroundJSON{}, Buy: buyOf(g), Advice: orEmpty(g.Advice)}
	v.Drift = driftJSON{Drift: string(g.Drift.Drift), Told: g.Drift.Told, Reasons: orEmpty(g.Drift.Reasons)}
	if l := g.Drift.Leaching; l != nil {
		rain, evaporation, over := float64(l.Rain), float64(l.Evaporation), float64(l.Surplus)
		v.Drift.RainMM, v.Drift.EvapMM, v.Drift.OverMM = &rain, &evaporation, &over
	}
	for _, a := range g.Alarms {
		v.Alarms = append(v.Alarms, alarmJSON{a.Stop, a.Says, a.Sources, bedNames(a.Beds, of)})
	}
	for _, b := range beds {
		v.Beds = append(v.Beds, bedGroundOf(b, of))
	}
	return v
}

func bedGroundOf(b season.BedGround, of garden.Garden) bedGroundJSON {
	r := b.Reaction
	v := bedGroundJSON{Bed: b.Bed.Name, Texture: string(b.Texture), AreaM2: float64(b.Bed.Area()), Target: r.Target.PH, From: r.Target.Low, To: r.Target.High, Verdict: string(r.Verdict),
		Others: []doseJSON{}, Fits: []fitJSON{}, Holes: []holeJSON{}, Held: []heldJSON{}, Years: []yearJSON{}, Again: []againJSON{}, Tests: []testJSON{},
		Stopped: b.Stopped, Reasons: orEmpty(r.Reasons), Advice: orEmpty(r.Advice), Cautions: orEmpty(groundCautions(b))}
	if r.PH > 0 {
		v.PH, v.PHLow, v.PHHigh, v.PHWord, v.Tested = &r.PH, &r.Expected.Low, &r.Expected.High, soil.PHWord(r.PH), &r.Tested
	}
	if r.Dose != nil {
		d := doseOf(*r.Dose)
		v.Dose = &d
	}
	for _, d := range r.Others {
		v.Others = append(v.Others, doseOf(d))
	}
	for _, f := range b.Fits {
		one := fitJSON{CropID: f.Crop.ID, Low: f.Low, High: f.High, Planned: f.Planned}
		if f.Known {
			yield := f.Yield
			one.Word, one.Yield = f.Word(), &yield
		}
		v.Fits = append(v.Fits, one)
	}
	v.Feeding, v.Organic, v.Digging = feedingOf(b.Feeding), organicOf(b.Organic), diggingOf(b.New)
	for _, h := range b.Holes {
		v.Holes = append(v.Holes, holeJSON{h.Planting, h.Crop.ID, h.Hole.Trench, float64(h.Hole.Width), float64(h.Hole.Depth), float64(h.Hole.Crown), float64(h.Digging.Earth), float64(h.Digging.Hours), h.Digging.Says, orEmpty(h.Hole.How), orEmpty(h.Hole.Reason)})
	}
	for _, h := range b.Held {
		v.Held = append(v.Held, heldJSON{h.Planting.Key, h.Crop.ID, h.Until, h.Clash, h.Reason})
	}
	for _, y := range b.Years {
		one := yearJSON{Year: y.Year, Tests: []int64{}, Put: []putOnJSON{}}
		for _, t := range y.Tests {
			one.Tests = append(one.Tests, t.ID)
		}
		for _, p := range y.Put {
			one.Put = append(one.Put, putOnJSON{p.Date, p.Material, float64(p.Amount), float64(p.Volume), float64(p.Rate), float64(p.Depth), p.Raw, p.Note})
		}
		v.Years = append(v.Years, one)
	}
	for _, a := range b.Again {
		v.Again = append(v.Again, againJSON{a.What, a.On, a.Due, a.Reason})
	}
	for _, t := range b.Tests {
		v.Tests = append(v.Tests, testOf(t, of))
	}
	return v
}

func doseOf(d soil.Dose) doseJSON {
	v := doseJSON{Material: d.Material.ID, RateKgM2: float64(d.Rate), LowKgM2: float64(d.Low), HighKgM2: float64(d.High), MassKg: float64(d.Mass), VolumeL: float64(d.Volume),
		DepthM: float64(d.Depth), Before: d.Before, Parts: []partJSON{}, Reasons: orEmpty(d.Reasons), Cautions: orEmpty(d.Cautions)}
	for _, p := range d.Parts {
		v.Parts = append(v.Parts, partJSON{float64(p.Mass), p.From, p.To, p.When})
	}
	return v
}

func foodsOf(m soil.Mass) foodsJSON { return foodsJSON{float64(m.N), float64(m.P2O5), float64(m.K2O)} }

func feedingOf(p *soil.Prescription) *feedingJSON {
	if p == nil {
		return nil
	}
	v := &feedingJSON{Need: foodsOf(p.Need.Total), Net: foodsOf(p.Net), Scraps: foodsOf(p.Scraps), Surplus: foodsOf(p.Surplus), Phosphorus: string(p.Need.Phosphorus.Class), Potassium: string(p.Need.Potash.Class),
		Credits: []creditJSON{}, Dressings: []dressingJSON{}, Starters: []starterJSON{}, Reasons: orEmpty(p.Reasons), Cautions: orEmpty(p.Cautions)}
	for _, c := range p.Credits {
		v.Credits = append(v.Credits, creditJSON{c.What, c.Coming, foodsOf(c.Mass)})
	}
	for _, d := range p.Dressings {
		one := dressingJSON{Stage: d.Stage, Planting: d.Planting, AreaM2: float64(d.Area), Parts: []dressPartJSON{}, How: d.How, Reasons: orEmpty(d.Reasons)}
		if d.Date != 0 {
			date := d.Date
			one.Date = &date
		}
		for _, part := range d.Parts {
			one.Parts = append(one.Parts, dressPartJSON{part.Offer.Material.ID, part.Offer.Name, part.Offer.Grade.String(), float64(part.Mass), part.ByHand.String()})
		}
		v.Dressings = append(v.Dressings, one)
	}
	for _, s := range p.Starters {
		v.Starters = append(v.Starters, starterJSON{s.Planting, s.Date, s.Plants, float64(s.Solution), s.Material, s.PerGallon})
	}
	return v
}

func organicOf(o *season.OrganicGround) *organicJSON {
	if o == nil {
		return nil
	}
	return &organicJSON{o.Material, float64(o.Depth), float64(o.Into), float64(o.Loose), float64(o.Mass), o.First, float64(o.Limestone), float64(o.Nitrogen), o.Due,
		loadsOf(o.Loads), orEmpty(o.Instead), orEmpty(o.Reasons), orEmpty(o.Cautions)}
}

func loadsOf(loads []soil.Load) []loadJSON {
	list := []loadJSON{}
	for _, l := range loads {
		list = append(list, loadJSON{l.Unit, float64(l.Holds), l.Exact, l.Whole})
	}
	return list
}
