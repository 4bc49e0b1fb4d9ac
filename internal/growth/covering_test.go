package growth

import (
	"testing"

	"kailyard/internal/crop"
)

// Under a tunnel 45 cm high peas that grow to 1.5 m can stand from a
// March sowing only if the tunnel comes off before they are a third grown; a cover with room is never outgrown.
func TestOutgrows(t *testing.T) {
	c := builtIn(t, "ithaca")
	tunnel, _ := crop.FindProtection("low tunnel")
	high, _ := crop.FindProtection("high tunnel")
	peas := option(t, "pea-tall", crop.Sow)
	peas.Protection = tunnel
	beans := option(t, "bean-bush", crop.Sow)
	beans.Protection = high
	tables := Tabulate(c, []Option{peas, beans})
	early, late := c.Season.Start.Add(90), c.Season.Start.Add(150)
	t.Logf("peas from %s outgrow: %v, from %s: %v", early.Short(), tables[0].Outgrows(early), late.Short(), tables[0].Outgrows(late))
	for d := c.Season.Start; d <= c.Season.End(); d++ {
		if tables[1].Outgrows(d) {
			t.Fatalf("bush beans outgrow a high tunnel from %v", d)
		}
		on, off, ons, offs := tables[0].Covering(d)
		if ons == 0 {
			continue
		}
		if on.P10 < d || offs > 0 && off.P50 < on.P10 || offs > ons {
			t.Fatalf("from %v the cover is on from %v in %d years and off from %v in %d", d, on, ons, off, offs)
		}
	}
}
