package work

import (
	"strings"
	"testing"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// The amounts stand in one column whatever the names and the amounts are long, and a line that has no room goes on in it.
func TestOrderWordsKeepTheirColumns(t *testing.T) {
	by := civil.Of(2027, 4, 9)
	text := OrderWords([]Order{
		{What: "leek: seed", Count: 80, By: by},
		{What: "carrot, main crop: seed", Count: 1100, Packets: 2, Mass: 1.3, By: by},
		{What: "a thing whose name is longer than the column that things have", Count: 3, By: by},
		{What: strings.Repeat("x", 38), Count: 12345, Packets: 12, Mass: 312, By: by},
	}, quantity.Metric)
	column := -1
	for _, line := range strings.Split(text, "\n")[2:] {
		if utf8.RuneCountInString(line) > lineWidth {
			t.Errorf("%q is longer than a line", line)
		}
		at := -1
		switch {
		case strings.HasPrefix(line, "   9 Apr  ") && strings.Contains(line[10:], "  "):
			at = utf8.RuneCountInString(line[:10+strings.LastIndex(line[10:], "  ")+2])
		case strings.HasPrefix(line, "          "):
			at = utf8.RuneCountInString(line) - utf8.RuneCountInString(strings.TrimLeft(line, " "))
		default:
			continue
		}
		if column < 0 {
			column = at
		}
		if at != column {
			t.Errorf("%q begins its amount at %d, others at %d", line, at, column)
		}
	}
	if column < 0 {
		t.Errorf("no amounts in %q", text)
	}
}

// What should have been bought before the day a season is planned on is to be bought that day, not in the past.
func TestNothingIsOrderedInThePast(t *testing.T) {
	in := planned(t)
	first := Orders(in)[0].By
	from := first.Add(3)
	in.From = &from
	for _, o := range Orders(in) {
		if o.By < from && o.CropID != "" {
			t.Errorf("%s by %s, and the season goes on from %s", o.What, o.By, from)
		}
	}
	for _, j := range Jobs(in) {
		if j.Kind == OrderSeed && j.Window.To >= from && j.Window.From < from {
			t.Errorf("%s from %s, and the season goes on from %s", j.Title, j.Window.From, from)
		}
	}
}
