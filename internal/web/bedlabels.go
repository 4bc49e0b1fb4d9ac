package web

import (
	"slices"

	"kailyard/internal/drawing"
)

// label writes the crop's kind on each part of the patch, along it or down it, where it fits.
func (b *bedtime) label(q patch) {
	c, ok := b.now.Crops.Find(q.p.CropID)
	if !ok {
		return
	}
	const size, each = 12.0, 6.3 // the height of the letters and about the room each takes
	y0, y1 := b.y(q.p.Start), b.y(min(q.p.Clear, b.to))
	long := each * float64(len([]rune(c.Kind)))
	for _, at := range q.parts {
		x0, x1 := b.x(at.From), b.x(at.To)
		t := drawing.Text{X: (x0 + x1) / 2, Y: (y0+y1)/2 + 4, Size: size, Anchor: drawing.Middle, Halo: paper, Says: c.Kind, Style: drawing.Style{Fill: ink, StrokeWidth: 3}}
		aside := 0.0 // partners' names must not lie on one another
		switch {
		case q.within:
			t.Italic = true
			t.Y = y0 + min((y1-y0)*.75, (y1-y0)/2+22)
			aside = (x1 - x0) / 4
		case b.partnered(q):
			t.Y = y1 - (y1-y0)*.25
			aside = -(x1 - x0) / 4
		}
		if b.partnerFits(q, (x1-x0-4)/each) {
			aside = 0
		}
		switch {
		case long <= x1-x0-4 && y1-y0 >= size:
		case long <= y1-y0-4 && x1-x0 >= size-1 && (aside == 0 || x1-x0 >= 26):
			t.Turn, t.X, t.Y = -90, t.X+4+aside, (y0+y1)/2
		case y1-y0 >= size && x1-x0 >= 12:
			t.Says, t.Size = shortKey(q.p.Key), 10
		default:
			continue
		}
		b.add(t)
	}
}

// partnerFits says whether the names of all partners have at most so many letters.
func (b *bedtime) partnerFits(q patch, letters float64) bool {
	for _, o := range b.strip.patches {
		if o.p.Key != q.p.Partner && o.p.Partner != q.p.Key {
			continue
		}
		if c, ok := b.now.Crops.Find(o.p.CropID); ok && float64(len([]rune(c.Kind))) > letters {
			return false
		}
	}
	return true
}

func (b *bedtime) partnered(q patch) bool {
	return slices.ContainsFunc(b.strip.patches, func(o patch) bool { return o.within && o.p.Partner == q.p.Key })
}
