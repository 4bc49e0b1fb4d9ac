package growth

import (
	"slices"
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

// Over every annual of the catalogue whose spring window the cold opens, a low tunnel opens it earlier by one to
// four weeks in the middle case, a frame by more than a light row cover, and none later that heat does not spoil. NCSU-APPE: "as much as a
// month"; common practice: one to three weeks for tunnels.
func TestCoversAcrossTheCatalogue(t *testing.T) {
	c := builtIn(t, "ithaca")
	middle := map[string]int{}
	for _, id := range []string{"row-cover", "cloche", "low-tunnel", "high-tunnel", "row-cover-heavy", "cold-frame", "row-covered-tunnel"} {
		p, _ := crop.FindProtection(id)
		var options []Option
		for _, k := range crop.Default().All() {
			for m := range k.Methods {
				if o := (Option{Crop: k, Method: m}); Fits(k, p) && !NeedsWinter(o) {
					under := o
					under.Protection = p
					options = append(options, o, under)
				}
			}
		}
		tables := Tabulate(c, options)
		var earlier []int
		for i := 0; i < len(tables); i += 2 {
			open, under := tables[i].Windows(0.8), tables[i+1].Windows(0.8)
			if len(open) == 0 || len(under) == 0 || open[0].From == c.Season.Start || open[0].From > c.Season.Start.Add(181) {
				continue
			}
			d := int(open[0].From - under[0].From)
			if d < 0 && options[i].Crop.Heat.BoltAbove == nil { // what bolts may pay for its warmth
				t.Errorf("%s: %s by %s opens %d days later", id, options[i].Crop.ID, options[i].method().Way, -d)
			}
			earlier = append(earlier, d)
		}
		slices.Sort(earlier)
		middle[id] = earlier[len(earlier)/2]
		t.Logf("%-16s %d windows open earlier by %d (least), %d (middle), %d (most) days", id, len(earlier), earlier[0], middle[id], earlier[len(earlier)-1])
	}
	if d := middle["low-tunnel"]; d < 7 || d > 28 {
		t.Errorf("a low tunnel opens windows %d days earlier in the middle case", d)
	}
	if middle["row-covered-tunnel"] <= middle["low-tunnel"] {
		t.Errorf("two layers bring %d days, one %d", middle["row-covered-tunnel"], middle["low-tunnel"])
	}
	if middle["cold-frame"] <= middle["row-cover"] {
		t.Errorf("a frame brings %d days, a row cover %d", middle["cold-frame"], middle["row-cover"])
	}
}
