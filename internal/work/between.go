package work

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// sameForMany are kinds whose name does for many plants.
var sameForMany = []string{
	"arugula", "asparagus", "basil", "broccoli", "buckwheat", "celery", "celeriac", "chard", "chives", "cilantro", "crimson clover",
	"dill", "endive", "fennel", "garlic", "hairy vetch", "kale", "kohlrabi", "mint", "okra", "oregano", "pak choi", "parsley",
	"rhubarb", "sage", "salsify", "summer savory", "thyme", "winter rye", "corn salad",
}

// plural is the kind's name for many: "cabbages", "radishes", "potatoes", "garlic".
func plural(c *crop.Crop) string {
	k := c.Kind
	ends := func(ends ...string) bool {
		return slices.ContainsFunc(ends, func(e string) bool { return strings.HasSuffix(k, e) })
	}
	switch {
	case slices.Contains(sameForMany, k) || ends("s", "corn", "squash", "spinach"):
		return k
	case ends("ch", "sh", "tomato", "potato"):
		return k + "es"
	case ends("rry"):
		return k[:len(k)-1] + "ies"
	}
	return k + "s"
}

// many is a crop's full name for so many plants: "seven cucumbers", "three summer squash, bush".
func many(n int, c *crop.Crop) string {
	name := c.Kind
	if n != 1 {
		name = plural(c)
	}
	if c.Type != "" {
		name += ", " + c.Type
	}
	return number(n) + " " + name
}

// between tells where a planting stands against the one it shares ground with.
func (d *desk) between(p *garden.Planting) []string {
	o := d.partner(p)
	if o == nil || !o.Place.Meets(p.Place) {
		return nil
	}
	switch p.Role {
	case garden.Fast:
		gap, inRow := d.gap(p, o)
		where := "between the rows of"
		if inRow {
			where = "in the rows, midway between"
		}
		state := "which go in later"
		if o.Start < p.Start {
			state = "which stand there"
		} else if o.Start == p.Start {
			state = "which go in the same day"
		}
		return []string{fmt.Sprintf("Between: %s the %s (%s), %s, %s from each.", where, plural(d.crop(o)), o.Key, state, d.distance(gap))}
	case garden.Slow:
		if o.Role == garden.Marker {
			return nil
		}
		return []string{fmt.Sprintf("Shared: %s (%s) between them; they are out by %s, before these close over.", plural(d.crop(o)), o.Key, o.Clear.Short())}
	}
	return nil
}

// gap is from a plant of the fast crop to the nearest of the slow one: halfway along the row where
// the fast crop has no more rows than the slow and the slow plants stand at least as far apart in
// the row as the rows do; else halfway from row to row.
func (d *desk) gap(fast, slow *garden.Planting) (quantity.Metre, bool) {
	s := d.crop(slow).Spacing
	rows := d.apart(slow)
	if s.InRow >= rows*0.95 && fast.Rows <= slow.Rows && fast.Rows > 0 && slow.Rows > 1 {
		return s.InRow / 2, true
	}
	if slow.Rows == 1 && fast.Rows == 1 {
		return s.InRow / 2, true
	}
	return rows / 2, false
}
