package garden

import (
	"strconv"

	"kailyard/internal/quantity"
)

func (s *scribe) soil(of Soil) {
	s.text("texture", string(of.Texture))
	s.someLength("topsoil", of.Topsoil)
	s.someLength("dug_to", of.Tilled)
	s.text("dug_with", string(of.Spit))
}

func (s *scribe) siteSoil(of Soil) {
	s.soil(of)
	s.text("drift", string(of.Drift))
	s.someVolume("bucket", of.Bucket)
	s.truth("natural", of.Natural)
	s.text("lime", of.Lime)
	s.text("organic", of.Organic)
	if of.Weighs != s.units {
		s.text("weighs", of.Weighs.String())
	}
}

// ground writes tests, treatments, packages and heaps.
func (s *scribe) ground(g Garden) {
	for _, t := range g.Tests {
		s.test(t, g)
	}
	for _, t := range g.Treatments {
		b, _ := g.Bed(t.BedID)
		s.head("[[treatment]]")
		s.date("date", &t.Date)
		s.text("bed", b.Name)
		s.text("material", t.Material)
		s.someMass("amount", t.Amount)
		s.someVolume("volume", t.Volume)
		s.someLength("depth", t.Depth)
		s.text("note", t.Note)
	}
	for _, p := range g.Packages {
		s.pack(p)
	}
	for _, h := range g.Heaps {
		s.heap(h)
	}
}

func (s *scribe) test(t SoilTest, g Garden) {
	s.head("[[soil_test]]")
	s.date("date", &t.Date)
	var names []string
	for _, id := range t.Beds {
		b, _ := g.Bed(id)
		names = append(names, b.Name)
	}
	s.texts("beds", names)
	s.truth("kit", t.Kit)
	s.someLength("depth", t.Depth)
	s.figure("ph", t.PH)
	if t.Salt {
		s.text("ph_in", "salt")
	}
	s.figure("buffer_ph", t.Buffer)
	s.text("buffer_method", string(t.Method))
	s.figure("acidity_meq", t.Acidity)
	s.figure("organic_percent", t.Organic)
	s.figure("cec_meq", t.CEC)
	s.text("texture", string(t.Texture))
	s.figure("salts_ds_m", t.Salts)
	s.text("salts_in", string(t.SaltsBy))
	s.figure("lead_mg_kg", t.Lead)
	if t.FreeLime != nil {
		s.put("free_lime", strconv.FormatBool(*t.FreeLime))
	}
	s.text("lab", t.Lab)
	s.text("note", t.Note)
	for _, r := range t.Elements {
		s.head("[[soil_test.reading]]")
		s.text("element", string(r.Element))
		s.some("value", r.Value)
		s.text("unit", string(r.Unit))
		s.text("class", string(r.Class))
		s.text("extractor", string(r.Extractor))
	}
}

func (s *scribe) pack(p Package) {
	s.head("[[package]]")
	s.text("material", p.Material)
	s.text("name", p.Name)
	s.someMass("mass", p.Mass)
	s.someVolume("volume", p.Volume)
	s.some("price", p.Price)
	s.figure("n", p.N)
	s.figure("p2o5", p.P2O5)
	s.figure("k2o", p.K2O)
	s.figure("cce", p.CCE)
	s.figure("fineness", p.Fineness)
}

func (s *scribe) heap(h Heap) {
	s.head("[[heap]]")
	s.text("name", h.Name)
	s.date("started", &h.Started)
	s.date("emptied", h.Emptied)
	s.text("note", h.Note)
	for _, p := range h.Put {
		s.head("[[heap.part]]")
		s.text("feedstock", p.Feedstock)
		s.someVolume("volume", p.Volume)
		s.figure("moisture", p.Moisture)
	}
	for _, e := range h.Log {
		s.head("[[heap.log]]")
		s.date("date", &e.Date)
		s.text("kind", string(e.Kind))
		if e.Celsius != nil {
			s.put("temperature", quoted(strconv.FormatFloat(float64(*e.Celsius), 'f', -1, 64)+" °C"))
		}
		s.text("text", e.Text)
	}
}

func (s *scribe) figure(key string, value *float64) {
	if value != nil {
		s.number(key, *value)
	}
}

func (s *scribe) someMass(key string, k quantity.Kilogram) {
	if k != 0 {
		s.put(key, quoted(s.units.ExactMass(k)))
	}
}

func (s *scribe) someVolume(key string, l quantity.Litre) {
	if l != 0 {
		s.put(key, quoted(s.units.ExactVolume(l)))
	}
}
