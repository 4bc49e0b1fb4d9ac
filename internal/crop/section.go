package crop

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/quantity"
)

// all reads every section of the file.
func (r *reading) all(sheet *crop) {
	r.names(sheet)
	r.emergence(sheet)
	c := r.crop
	c.Cardinal.Base = r.celsius("cardinal.base", sheet.Cardinal.Base, limits{-5, 20}, true)
	optimum, _ := r.figure("cardinal.optimum", sheet.Cardinal.Optimum, &temperature, limits{5, 42}, true)
	c.Cardinal.OptLow, c.Cardinal.OptHigh = quantity.Celsius(optimum.Low), quantity.Celsius(optimum.High)
	c.Cardinal.Max = r.celsius("cardinal.max", sheet.Cardinal.Max, limits{15, 60}, true)
	r.ground(sheet)
	r.methods(sheet)
	r.limitsOfLife(sheet)
	r.needs(sheet)
	r.harvest(sheet)
	r.seed(sheet)
	r.practice(&sheet.Practice)
	r.inFileOrder()
}

func (r *reading) names(sheet *crop) {
	c := r.crop
	c.Kind = r.words("kind", sheet.Kind, `"carrot"`)
	c.Type = strings.TrimSpace(sheet.Type)
	c.Group = oneOf(r, "group", sheet.Group, Groups()...)
	c.Botanical = r.words("botanical", sheet.Botanical, `"Daucus carota"`)
	c.Family = r.words("family", sheet.Family, `"Apiaceae"`)
	if c.Family != "" && !strings.HasSuffix(c.Family, "aceae") {
		r.fault("family", "%q is not a botanical family; write it like \"Apiaceae\", because rotation goes by it", c.Family)
	}
	c.Aliases, c.Perennial, c.Biennial = sheet.Aliases, sheet.Perennial, sheet.Biennial
}

func (r *reading) emergence(sheet *crop) {
	soil := r.list("emergence.soil", sheet.Emergence.Soil, &temperature, limits{-2, 50})
	taken := r.list("emergence.days", sheet.Emergence.Days, &days, limits{0.5, 400})
	if len(soil) != len(taken) {
		r.fault("emergence.days", "has %d values for %d soil temperatures; give one for each", len(taken), len(soil))
	} else if len(soil) == 1 {
		r.fault("emergence.soil", "has one temperature; a table needs at least two")
	}
	e := &r.crop.Emergence
	for i := range min(len(soil), len(taken)) {
		if i > 0 && soil[i] <= soil[i-1] {
			r.fault("emergence.soil", "does not rise: %s is not above the temperature before it; sort the table", plain(soil[i]))
		}
		e.Points = append(e.Points, EmergencePoint{quantity.Celsius(soil[i]), taken[i]})
	}
	e.Least = r.celsius("emergence.least", sheet.Emergence.Least, limits{-2, 25}, true)
	e.Most = r.celsius("emergence.most", sheet.Emergence.Most, limits{15, 50}, true)
	e.GiveUp = r.scalar("emergence.give_up", sheet.Emergence.GiveUp, &days, limits{3, 400}, true)
}

// list reads a value that is a list of numbers.
func (r *reading) list(field string, d *datum, dim *dimension, within limits) []float64 {
	if d == nil {
		r.fault(field, "is missing; write it as { v = [10, 15, 20], unit = …, src = …, q = … }")
		return nil
	}
	text, ok := r.record(field, d)
	if !ok {
		return nil
	}
	numbers, ok := d.V.([]any)
	if !ok || len(numbers) == 0 {
		r.fault(field, "is not a list; write v = [10, 15, 20] and the unit beside it")
		return nil
	}
	values := make([]float64, 0, len(numbers))
	for _, each := range numbers {
		var value float64
		switch v := each.(type) {
		case int64:
			value = float64(v)
		case float64:
			value = v
		default:
			r.fault(field, "%v is not a number; write the list without quotes and the unit beside it", each)
			return nil
		}
		converted, ok := dim.convert(amount{value, value, d.Unit})
		if !ok {
			r.fault(field, "%q is not %s; write the unit beside the list", text, dim.name)
			return nil
		}
		if !(converted.Low >= within.low && converted.Low <= within.high) {
			r.fault(field, "%v is not plausible: it must lie between %s and %s%s; check the value and its unit",
				each, plain(within.low), plain(within.high), dim.own)
			return nil
		}
		values = append(values, converted.Low)
	}
	return values
}

func (r *reading) ground(sheet *crop) {
	s, p := &r.crop.Spacing, &r.crop.Plant
	s.InRow = r.metres("spacing.in_row", sheet.Spacing.InRow, limits{0.005, 5}, true)
	s.BetweenRows = r.metres("spacing.between_rows", sheet.Spacing.BetweenRows, limits{0.01, 5}, true)
	s.SowApart = s.InRow
	if sheet.Spacing.SowApart != nil {
		s.SowApart = r.metres("spacing.sow_apart", sheet.Spacing.SowApart, limits{0.001, 5}, true)
	}
	s.RowWidth = r.metres("spacing.row_width", sheet.Spacing.RowWidth, limits{0.02, 1.5}, false)
	p.Spread = r.metres("plant.spread", sheet.Plant.Spread, limits{0.01, 5}, true)
	p.Height = r.metres("plant.height", sheet.Plant.Height, limits{0.02, 6}, true)
	p.Root = r.metres("plant.root", sheet.Plant.Root, limits{0.05, 4}, true)
}

func (r *reading) methods(sheet *crop) {
	if len(sheet.Methods) == 0 {
		r.fault("method", "is missing; a crop needs at least one [[method]]: sow, set out or set")
	}
	for i := range sheet.Methods {
		r.method(fmt.Sprintf("method.%d", i+1), &sheet.Methods[i])
	}
	for i := range r.crop.Methods {
		if r.crop.Methods[i].Depth == 0 {
			r.seedDepth(i)
		}
	}
}

func (r *reading) method(field string, m *method) {
	span, _ := r.figure(field+".days", m.Days, &days, limits{10, 1500}, true)
	read := Method{
		Way:         oneOf(r, field+".way", m.Way, Sow, SetOut, Set),
		Days:        span,
		Reference:   r.celsius(field+".reference", m.Reference, limits{5, 30}, true),
		Depth:       r.metres(field+".depth", m.Depth, limits{0, 0.4}, m.Way != SetOut),
		SoilAtLeast: r.celsius(field+".soil_at_least", m.SoilAtLeast, limits{-2, 25}, true),
		AirAtLeast:  r.celsiusOrNone(field+".air_at_least", m.AirAtLeast, limits{-25, 20}),
	}
	if m.Way == SetOut {
		read.WeeksIndoors, _ = r.figure(field+".weeks_indoors", m.WeeksIndoors, &weeks, limits{1, 60}, true)
		read.Hardening = int(math.Round(r.scalar(field+".hardening", m.Hardening, &days, limits{0, 30}, true)))
	} else {
		if m.WeeksIndoors != nil {
			r.fault(field+".weeks_indoors", "belongs to the way \"set out\" only; take it out")
		}
		if m.Hardening != nil {
			r.fault(field+".hardening", "belongs to the way \"set out\" only; take it out")
		}
	}
	r.crop.Methods = append(r.crop.Methods, read)
}

// seedDepth gives plants raised under cover the depth at which the same seed is sown outside.
func (r *reading) seedDepth(i int) {
	if r.crop.Methods[i].Way != SetOut {
		return
	}
	for _, other := range r.crop.Methods {
		if other.Way == Sow {
			r.crop.Methods[i].Depth = other.Depth
		}
	}
}

func (r *reading) limitsOfLife(sheet *crop) {
	h, in := &r.crop.Hardiness, &sheet.Hardiness
	cold := limits{-45, 10}
	h.Class = oneOf(r, "hardiness.class", in.Class, "very hardy", "hardy", "half-hardy", "tender", "very tender")
	h.Seedling = r.celsius("hardiness.seedling", in.Seedling, cold, true)
	h.Established = r.celsius("hardiness.established", in.Established, cold, true)
	h.Mature = r.celsius("hardiness.mature", in.Mature, cold, true)
	if dormant := r.celsiusOrNone("hardiness.dormant", in.Dormant, cold); dormant != nil {
		h.Overwinters, h.Dormant = true, *dormant
	}
	h.Hardened = h.Established
	if hardened := r.celsiusOrNone("hardiness.hardened", in.Hardened, cold); hardened != nil {
		h.Hardened = *hardened
	}
	heat, out := &sheet.Heat, &r.crop.Heat
	out.BoltAbove = r.celsiusOrNone("heat.bolt_above", heat.BoltAbove, limits{10, 40})
	out.BoltDays = int(math.Round(r.scalar("heat.bolt_days", heat.BoltDays, &days, limits{1, 60}, heat.BoltAbove != nil)))
	out.SetDayAbove = r.celsiusOrNone("heat.set_day_above", heat.SetDayAbove, limits{20, 50})
	out.SetNightAbove = r.celsiusOrNone("heat.set_night_above", heat.SetNightAbove, limits{10, 35})
	out.SetNightBelow = r.celsiusOrNone("heat.set_night_below", heat.SetNightBelow, limits{0, 20})
	r.crop.DayLength.BulbsAbove = r.hourOrNone("daylength.bulbs_above", sheet.DayLength.BulbsAbove, limits{8, 18})
	r.crop.DayLength.BoltsAbove = r.hourOrNone("daylength.bolts_above", sheet.DayLength.BoltsAbove, limits{8, 18})
}

func (r *reading) needs(sheet *crop) {
	c := r.crop
	c.Light.Needs = r.hour("light.needs", sheet.Light.Needs, limits{1, 12}, true)
	c.Light.Least = r.hour("light.least", sheet.Light.Least, limits{0, 12}, true)
	coefficient := limits{0.1, 1.4}
	c.Water.KcInitial = r.scalar("water.kc_initial", sheet.Water.KcInitial, &bare, coefficient, true)
	c.Water.KcMid = r.scalar("water.kc_mid", sheet.Water.KcMid, &bare, coefficient, true)
	c.Water.KcEnd = r.scalar("water.kc_end", sheet.Water.KcEnd, &bare, coefficient, true)
	c.PH, _ = r.figure("ph.range", sheet.PH.Range, &bare, limits{3, 9}, true)
	c.Rotation = int(math.Round(r.scalar("rotation.years", sheet.Rotation.Years, &years, limits{0, 10}, true)))
}

func (r *reading) harvest(sheet *crop) {
	h, in := &r.crop.Harvest, &sheet.Harvest
	h.Manner = oneOf(r, "harvest.manner", in.Manner, Once, Repeated, Keeps)
	h.Part = r.words("harvest.part", in.Part, `"root", "leaf", "head", "fruit"`)
	h.Unit = r.words("harvest.unit", in.Unit, `"root", "head", "bunch" or "kg"`)
	h.Span, _ = r.figure("harvest.span", in.Span, &days, limits{1, 400}, true)
	h.UnitMass = quantity.Kilogram(r.scalar("harvest.unit_mass", in.UnitMass, &mass, limits{0.0005, 30}, true))
	h.StoreDays = int(math.Round(r.scalar("harvest.store", in.Store, &days, limits{0, 1500}, true)))
	h.FirstYear = int(math.Round(r.scalar("harvest.first_year", in.FirstYear, &years, limits{1, 10}, r.crop.Perennial)))
	h.FromBloom = r.scalar("harvest.from_bloom", in.FromBloom, &days, limits{2, 120}, false)
	r.yield(in.Yield)
}

func (r *reading) yield(d *datum) {
	const field, example = "harvest.yield", `"100 lb/100 ft" (of row), "3 kg/m²", "2 lb/plant" or, with harvest.unit "head", "80 heads/100 ft"`
	if d == nil {
		r.fault(field, "is missing; write it like %s", example)
		return
	}
	text, ok := r.record(field, d)
	if !ok {
		return
	}
	parsed, err := parseAmount(text, example)
	if err != nil {
		r.fault(field, "%v", err)
		return
	}
	h, spacing := &r.crop.Harvest, r.crop.Spacing
	rate, ok := parseRate(parsed.unit, h.Unit, float64(h.UnitMass))
	if !ok {
		r.fault(field, "%q is not a yield; write it like %s", text, example)
		return
	}
	ground := float64(spacing.InRow * spacing.BetweenRows)
	if ground <= 0 {
		return // the spacing's own fault is recorded already
	}
	perArea := tidy(rate.perArea(parsed.middle(), spacing))
	if !(perArea >= 0.02 && perArea <= 30) {
		r.fault(field, "%q is %s kg/m² at this spacing, which is not plausible (0.02 to 30); check the value, its unit and the spacing", text, plain(perArea))
		return
	}
	h.Yield = quantity.KilogramPerSquareMetre(perArea)
	h.PerPlant = quantity.Kilogram(tidy(perArea * ground))
}

func (r *reading) seed(sheet *crop) {
	s, in := &r.crop.Seed, &sheet.Seed
	fromSeed, fromSets := false, false
	for _, m := range r.crop.Methods {
		fromSeed = fromSeed || m.Way == Sow
		fromSets = fromSets || m.Way == Set
	}
	s.PerGram = r.scalar("seed.count", in.Count, &seedCount, limits{0.1, 40000}, fromSeed)
	s.Keeps = r.scalar("seed.keeps", in.Keeps, &years, limits{0, 15}, fromSeed)
	s.Germination = r.scalar("seed.germination", in.Germination, &share, limits{0.1, 1}, fromSeed)
	s.Sets = r.scalar("seed.sets", in.Sets, &setCount, limits{0.1, 2000}, fromSets && !fromSeed && !r.crop.Perennial)
}

func (r *reading) practice(in *practice) {
	for i, job := range in.Jobs {
		r.sentence("practice.jobs", i, job)
	}
	for i, caution := range in.Cautions {
		r.sentence("practice.cautions", i, caution)
	}
	oneOf(r, "practice.support", in.Support, "", "stakes", "trellis", "brush", "poles", "wires", "cage")
	r.crop.Practice = Practice{
		Sowing: r.words("practice.sowing", in.Sowing, `"drill", "trench and fill", "hill", "broadcast", "station" or "furrow"`),
		Marker: in.Marker, SlowRow: in.SlowRow, Inoculant: in.Inoculant, Collar: in.Collar,
		Support: in.Support, EarthUp: in.EarthUp, Thin: in.Thin, SideDress: strings.TrimSpace(in.SideDress),
		Block: in.Block, Vine: in.Vine,
		Succession: int(math.Round(r.scalar("practice.succession", in.Succession, &days, limits{2, 120}, false))),
		Jobs:       slices.Clone(in.Jobs), Cautions: slices.Clone(in.Cautions),
	}
}

// sentence records a fault when a job or caution is not a whole sentence.
func (r *reading) sentence(field string, i int, text string) {
	text = strings.TrimSpace(text)
	if text == "" || !strings.ContainsAny(text[len(text)-1:], ".!?") {
		r.fault(field, "number %d (%q) is not a sentence; begin with a capital letter and end with a full stop", i+1, text)
	}
}
