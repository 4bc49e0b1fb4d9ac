package growth

import (
	"fmt"
	"strings"
)

const heldOutHead = "\n## Calendars held out\n"

// partOf is the part of a text that a heading begins, up to the next heading of its rank; empty where it is not.
func partOf(text, head string) string {
	from := strings.Index(text, head)
	if from < 0 {
		return ""
	}
	if to := strings.Index(text[from+len(head):], "\n## "); to >= 0 {
		return text[from : from+len(head)+to]
	}
	return text[from:]
}

// thrifts are the rules among which a half of the calendars chooses.
func thrifts() (out []thrift) {
	for _, share := range []float64{0.25, 1. / 3, 0.5, 2. / 3, 0.75} {
		for _, days := range []float64{7, 14, 21} {
			for _, spares := range []float64{0.3, 0.4, 0.5} {
				out = append(out, thrift{share, days, spares})
			}
		}
	}
	return out
}

// heldOut chooses the rules by which a start is worth its ground on one half of today's calendars, every second one by name, and tells
// how many rows of the other half are then near: what agreement is to be expected where no calendar was in view.
func (c *calendars) heldOut() string {
	inUse := worthwhile
	defer func() { worthwhile = inUse }()
	var rows []printed
	half := map[string]int{}
	for _, p := range c.rows {
		if strings.HasPrefix(p.set, "USDA") {
			continue
		}
		rows = append(rows, p)
		half[p.set] = 0
	}
	for k, set := range sortedKeys(half) {
		half[set] = k % 2
	}
	near := func(rule thrift) (n [2]tally) {
		worthwhile = rule
		for _, s := range c.stations {
			s.tabulate(rows)
		}
		for _, p := range rows {
			n[half[p.set]].add(p.answered())
		}
		return n
	}
	used := near(inUse)
	var best [2]thrift
	var fitted, tried [2]float64
	for _, rule := range thrifts() {
		n := near(rule)
		for k := range best {
			if n[k].share() > fitted[k] {
				best[k], fitted[k], tried[k] = rule, n[k].share(), n[1-k].share()
			}
		}
	}
	var b strings.Builder
	b.WriteString(heldOutHead)
	fmt.Fprintf(&b, "\nWhat a start must come to (a share of the short harvest, enough days of picking, the share that warmth leaves) is chosen among %d rules on one half\n", len(thrifts()))
	b.WriteString("of today's calendars, every second one by name, and tried on the other half, which had no part in it.\n\n")
	b.WriteString("| chosen on | rule | near where chosen | near where held out | the rule in use there |\n|---|---|--:|--:|--:|\n")
	for k, name := range []string{"the first half", "the second half"} {
		r := best[k]
		fmt.Fprintf(&b, "| %s | %.0f %%, %.0f d, %.0f %% | %.0f %% | %.0f %% | %.0f %% |\n", name, 100*r.share, r.days, 100*r.spares, 100*fitted[k], 100*tried[k], 100*used[1-k].share())
	}
	fmt.Fprintf(&b, "\nThe rule in use is %.0f %%, %.0f d, %.0f %%.\n", 100*inUse.share, inUse.days, 100*inUse.spares)
	return b.String()
}
