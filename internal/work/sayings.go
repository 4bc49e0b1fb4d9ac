package work

import (
	"cmp"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// When is a job's days in words: "Sat 3 Apr, at latest 10 Apr", "Tue 11 May to 25 May", or one day.
func (j Job) When() string { return windowWords(j) }

// Takes is about how long a job takes, to a quarter of an hour: "15 min", "1¼ h"; empty when not guessed.
func (j Job) Takes() string { return TimeWords(j.Hours) }

// TimeWords is a span of work to a quarter of an hour; empty for none.
func TimeWords(h quantity.Hour) string {
	if h <= 0 {
		return ""
	}
	return hoursWords(h)
}

// Amount is how much to buy, in the person's units: "about 1,600 seeds (1.8 g)", "63 (2.5 kg)".
func (o Order) Amount(units quantity.System) string { return amountWords(o, measures{units}) }

// Weight is what to ask for over the counter: "1.8 g", "433 g", and for seed too little to weigh "a
// packet"; empty where only the count tells.
func (o Order) Weight(units quantity.System) string {
	m := measures{units}
	switch {
	case isSeed(o) && m.weighed(o.Mass):
		return m.seedMass(o.Mass)
	case o.Packets > 0:
		return packetWords(o.Packets)
	case o.Mass > 0:
		return m.mass(quantity.Kilogram(o.Mass / 1000))
	}
	return ""
}

// Supply says whether the line is neither seed nor anything planted: compost, stakes, netting.
func (o Order) Supply() bool { return supply(o) }

// Words is how much is put on, as it is weighed or measured out in the person's units: "480 g (1¾ cups)", "136 L".
func (p Put) Words(site garden.Site) string {
	d := desk{measures: measures{site.Units}, weighs: site.Soil.Weighs, bucket: site.Soil.Bucket}
	return d.putWords(p)
}

// Name is the material's.
func (p Put) Name() string {
	if m, ok := soil.Find(p.Material); ok {
		return m.Name
	}
	return cmp.Or(p.Called, p.Material)
}

// Ground says whether the line is for the ground: lime, plant food, organic matter.
func (o Order) Ground() bool { return o.ground }
