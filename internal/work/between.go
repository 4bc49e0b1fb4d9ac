package work

import (
	"fmt"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// plural is the kind's name for many: "cabbages", "lettuces", "carrots", "garlic".
func plural(c *crop.Crop) string {
	k := c.Kind
	switch {
	case strings.HasSuffix(k, "s") || strings.HasSuffix(k, "corn") || k == "garlic" || k == "spinach" || k == "asparagus" || k == "celery" || k == "celeriac" || k == "chard" || k == "basil" || k == "parsley" || k == "dill" || k == "okra" || k == "kale":
		return k
	case strings.HasSuffix(k, "ch") || strings.HasSuffix(k, "sh"):
		if strings.HasSuffix(k, "squash") || strings.HasSuffix(k, "spinach") {
			return k
		}
		return k + "es"
	case strings.HasSuffix(k, "tomato") || strings.HasSuffix(k, "potato"):
		return k + "es"
	case strings.HasSuffix(k, "rry"):
		return k[:len(k)-1] + "ies"
	}
	return k + "s"
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
