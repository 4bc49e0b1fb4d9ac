package crop

import "kailyard/internal/quantity"

// check holds the crop's figures against one another.
func (r *reading) check() {
	c := r.crop
	if cardinal := c.Cardinal; r.read("cardinal.base", "cardinal.optimum", "cardinal.max") {
		if !(cardinal.Base < cardinal.OptLow && cardinal.OptHigh < cardinal.Max) {
			r.fault("cardinal", "is not in order: base %s, optimum %s–%s, max %s °C; the base must lie below the optimum and the max above it",
				plain(float64(cardinal.Base)), plain(float64(cardinal.OptLow)), plain(float64(cardinal.OptHigh)), plain(float64(cardinal.Max)))
		}
	}
	r.checkEmergence()
	r.checkMethods()
	if s := c.Spacing; s.SowApart > s.InRow && s.InRow > 0 {
		r.fault("spacing.sow_apart", "is more than in_row; seed is sown at the final distance or closer")
	}
	r.checkHardiness()
	if c.Light.Least > c.Light.Needs && r.read("light.needs", "light.least") {
		r.fault("light.least", "is more than light.needs; the least light is what it still bears")
	}
	if c.Perennial && c.Biennial {
		r.fault("biennial", "stands beside perennial; take one of them out")
	}
	if c.DayLength.BoltsAbove != nil && c.DayLength.BulbsAbove != nil {
		r.fault("daylength.bolts_above", "stands beside bulbs_above; a crop either bulbs or bolts by day length")
	}
}

// read says that every field was there and understood.
func (r *reading) read(fields ...string) bool {
	for _, field := range fields {
		if _, there := r.places[field]; !there {
			return false
		}
		for _, fault := range r.faults {
			if fault.Field == field {
				return false
			}
		}
	}
	return true
}

func (r *reading) checkEmergence() {
	e := r.crop.Emergence
	if !r.read("emergence.soil", "emergence.days", "emergence.least", "emergence.most", "emergence.give_up") {
		return
	}
	if e.Least >= e.Most {
		r.fault("emergence.least", "is not below emergence.most")
	}
	quickest := e.Points[0].Days
	for _, point := range e.Points {
		quickest = min(quickest, point.Days)
	}
	if e.GiveUp <= quickest {
		r.fault("emergence.give_up", "comes before the quickest emergence in the table (%s d); nobody would wait so short a time", plain(quickest))
	}
}

func (r *reading) checkMethods() {
	cardinal := r.crop.Cardinal
	known := r.read("cardinal.base", "cardinal.max")
	for i, m := range r.crop.Methods {
		field := "method." + plain(float64(i+1))
		if known && r.read(field+".reference") && (m.Reference <= cardinal.Base || m.Reference >= cardinal.Max) {
			r.fault(field+".reference", "lies outside the crop's cardinal temperatures, so nothing would grow there; it is the mean air temperature at which the days hold")
		}
		if m.Way == SetOut && m.Hardening > 0 && float64(m.Hardening) > 7*m.WeeksIndoors.High && r.read(field+".weeks_indoors") {
			r.fault(field+".hardening", "is longer than the weeks indoors, which include it")
		}
	}
}

// checkHardiness: a plant stands more cold as it grows, unless a note says why not.
func (r *reading) checkHardiness() {
	h := r.crop.Hardiness
	const seedling, established, mature, dormant = "hardiness.seedling", "hardiness.established", "hardiness.mature", "hardiness.dormant"
	const hardened = "hardiness.hardened"
	warmer := func(later, earlier string, a, b quantity.Celsius) {
		if a > b && r.read(later, earlier) && r.noteOf(later) == "" {
			r.fault(later, "dies sooner of cold than %s does; swap the values or say why in a note", earlier)
		}
	}
	warmer(established, seedling, h.Established, h.Seedling)
	warmer(mature, established, h.Mature, h.Established)
	if h.Overwinters {
		warmer(dormant, established, h.Dormant, h.Established)
	}
	if h.Hardened > h.Established && r.read(hardened, established) {
		r.fault(hardened, "is warmer than %s; hardened plants stand more cold, not less", established)
	}
	if h.Overwinters && r.read(hardened, dormant) {
		r.fault(hardened, "stands beside %s, which is the same thing for a crop that overwinters; take one of them out", dormant)
	}
	if (h.Class == "tender" || h.Class == "very tender") && h.Established < -3 && r.read(established) && r.noteOf(established) == "" {
		r.fault(established, "is %s °C for a %s crop; correct one of them or say why in a note", plain(float64(h.Established)), h.Class)
	}
}

func (r *reading) noteOf(field string) string {
	for _, figure := range r.crop.Figures {
		if figure.Field == field {
			return figure.Note
		}
	}
	return ""
}
