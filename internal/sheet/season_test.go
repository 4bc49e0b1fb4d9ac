package sheet

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"

	"pgregory.net/rapid"
)

func spreadAt(d civil.Date) garden.Spread { return garden.Spread{P10: d - 5, P50: d, P90: d + 6} }

func sampleSeason(units quantity.System) Season {
	raise := civil.Of(2027, 3, 20)
	clear := civil.Of(2027, 8, 20)
	g := garden.Garden{Beds: []garden.Bed{
		{ID: 1, Name: "Long drill", X: 5, Y: 10, Length: 9, Width: 1.2, Bearing: 90, Sun: 8},
		{ID: 2, Name: "Square", X: 15, Y: 6, Length: 2.4, Width: 2.4, Sun: 6, Note: "by the wall"},
		{ID: 3, Name: "Fallow", X: 3, Y: 4, Length: 4, Width: 1, Bearing: 30, Sun: 5},
	}}
	head := sampleHead(units)
	g.Site = head.Site
	p := &plan.Plan{Season: civil.SeasonOf(2027, 44), Plantings: []garden.Planting{
		{Key: "2027-01", BedID: 1, CropID: "carrot", Way: crop.Sow, Place: garden.Place{AlongTo: 6, AcrossTo: 1.2}, Rows: 3, Plants: 300, Start: civil.Of(2027, 4, 20), Emerge: spreadAt(civil.Of(2027, 5, 8)), First: spreadAt(civil.Of(2027, 7, 20)), Last: spreadAt(civil.Of(2027, 8, 10)), Clear: clear, Role: garden.Slow, Partner: "2027-03", Expect: 12, Success: 27, Years: 30},
		{Key: "2027-02", BedID: 1, CropID: "cabbage", Way: crop.SetOut, RaiseOn: &raise, Place: garden.Place{AlongFrom: 6, AlongTo: 9, AcrossTo: 1.2}, Rows: 2, Plants: 14, Start: civil.Of(2027, 5, 3), First: spreadAt(civil.Of(2027, 7, 2)), Last: spreadAt(civil.Of(2027, 7, 20)), Clear: civil.Of(2027, 7, 29), Role: garden.Alone, Expect: 14},
		{Key: "2027-03", BedID: 1, CropID: "radish", Way: crop.Sow, Place: garden.Place{AlongTo: 6, AcrossTo: 1.2}, Rows: 2, Plants: 200, Start: civil.Of(2027, 4, 20), Emerge: spreadAt(civil.Of(2027, 4, 30)), First: spreadAt(civil.Of(2027, 5, 28)), Last: spreadAt(civil.Of(2027, 6, 6)), Clear: civil.Of(2027, 6, 12), Role: garden.Fast, Partner: "2027-01", Expect: 2},
		{Key: "kept-1", BedID: 2, CropID: "rhubarb", Way: crop.Set, Place: garden.Place{AlongTo: 2.4, AcrossFrom: 1.4, AcrossTo: 2.4}, Plants: 3, Start: civil.Of(2024, 4, 20), Clear: civil.Of(2034, 4, 20), Status: garden.InGround},
		{Key: "2027-04", BedID: 2, CropID: "garlic", Way: crop.Set, Place: garden.Place{AlongTo: 2.4, AcrossTo: 1.4}, Rows: 4, Plants: 60, Start: civil.Of(2027, 11, 5), First: spreadAt(civil.Of(2028, 7, 20)), Last: spreadAt(civil.Of(2028, 7, 28)), Clear: civil.Of(2028, 8, 5)},
	}, Notes: []garden.Reason{{Says: "Half the ground is in use."}}}
	p.Supply = []plan.Supply{{Want: garden.Want{Crop: "carrot", Basis: garden.Total}, Asked: 20, Expected: 12, Short: []garden.Reason{{Says: "The ground is full."}}}, {Want: garden.Want{Crop: "nothing", Basis: garden.Weekly}}}
	return Season{Head: head, Garden: g, Plan: p, Crops: crop.New(&crop.Crop{ID: "carrot", Kind: "carrot", Type: "main crop", Spacing: crop.Spacing{InRow: .05}})}
}

func TestTheSeasonIsAPDFFile(t *testing.T) {
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		s := sampleSeason(units)
		write := func(b *bytes.Buffer) error { return WriteSeasonPDF(b, s) }
		file := written(t, write)
		if n := pageCount(t, file); n != 4 { // the plot, two beds that grow something, the table
			t.Errorf("%d pages, want 4", n)
		}
		if !bytes.Equal(file, written(t, write)) {
			t.Error("the same season gives other bytes")
		}
		p, err := laySeason(s)
		if err != nil {
			t.Fatal(err)
		}
		says := wording(p)
		sound(t, p)
		for _, must := range []string{"nothingthisseason", "carrot,maincrop", "Whatthetablegets", "raise20Mar,", "setout3May", "standingsince", "sharesitsgroundwith03", "27of30weatheryears", "Note:bythewall", "Thegroundisfull.", "60%"} {
			if !strings.Contains(says, must) {
				t.Errorf("the sheet does not say %q", must)
			}
		}
	}
}

// The plot is to scale: on the paper a bed's sides stand to the measure as they do on the ground.
func TestThePlotIsToScale(t *testing.T) {
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		s := sampleSeason(units)
		p := newPaper(s.Head, "t", "f")
		var perMetre float64
		var beds [][]float64
		r := &tracer{}
		for _, n := range p.plotScene(s.Garden, 500, 300).Nodes {
			switch v := n.(type) {
			case drawing.Shape:
				r.sides = nil
				one := drawing.Scene{ID: "one", Title: "t", Width: 1, Height: 1, Nodes: []drawing.Node{v}}
				if err := one.DrawOn(r); err != nil {
					t.Fatal(err)
				}
				if len(beds) < len(s.Garden.Beds) {
					beds = append(beds, r.sides)
				}
			case drawing.Rect:
				if v.Stroke == ink {
					perMetre = v.Width // of the measure, whose length is written beside it
				}
			case drawing.Text:
				var n int
				var unit string
				if k, _ := fmt.Sscanf(v.Says, "%d %s", &n, &unit); k == 2 && (unit == "m" || unit == "ft") {
					perMetre /= float64(n)
					if unit == "ft" {
						perMetre /= .3048 // the international foot, exact
					}
				}
			}
		}
		for i, b := range s.Garden.Beds {
			for k, want := range []float64{float64(b.Length), float64(b.Width)} {
				if got := beds[i][k] / perMetre; math.Abs(got-want) > .01*want+.02 {
					t.Errorf("%s: a side of %.2f m measures %.2f m on the paper", b.Name, want, got)
				}
			}
		}
	}
}

// tracer measures the sides of a polygon.
type tracer struct {
	x, y  float64
	sides []float64
}

func (r *tracer) MoveTo(x, y float64) { r.x, r.y = x, y }
func (r *tracer) LineTo(x, y float64) {
	r.sides = append(r.sides, math.Hypot(x-r.x, y-r.y))
	r.x, r.y = x, y
}
func (*tracer) Save()                            {}
func (*tracer) Restore()                         {}
func (*tracer) Move(_, _, _ float64)             {}
func (*tracer) CurveTo(_, _, _, _, _, _ float64) {}
func (*tracer) ClosePath()                       {}
func (*tracer) Paint(drawing.Style)              {}
func (*tracer) Clip()                            {}
func (*tracer) Shade(drawing.Fade)               {}
func (*tracer) Write(drawing.Text)               {}

// A planting that stands on past the picture keeps its depth to the picture's foot; one that ends in it
// comes to nothing there.
func TestInkOverTheDays(t *testing.T) {
	s := sampleSeason(quantity.Metric)
	last := func(key string) float64 {
		for _, q := range s.Plan.Plantings {
			if q.Key == key {
				days, shares := depths(q)
				return shareOn(min(latest(q), civil.Of(2027, 12, 31)), days, shares)
			}
		}
		return -1
	}
	if got := last("kept-1"); got != growingShare*.8 {
		t.Errorf("the rhubarb of many years has %.2f of the ink at New Year, want %.2f", got, growingShare*.8)
	}
	if got := last("2027-01"); got != 0 {
		t.Errorf("the carrots, cleared, have %.2f of the ink", got)
	}
	days, shares := depths(s.Plan.Plantings[0])
	if got := shareOn(civil.Of(2027, 8, 5), days, shares); got != pickedShare { // picked from July; no year is over before 5 August
		t.Errorf("while it is picked a planting has %.2f of the ink, want %.2f", got, pickedShare)
	}
}

func drawBed(t *rapid.T, id int64) garden.Bed {
	long := rapid.Float64Range(.3, 40)
	return garden.Bed{
		ID: id, Name: longText(t, "bed", 4), X: quantity.Metre(rapid.Float64Range(0, 60).Draw(t, "x")), Y: quantity.Metre(rapid.Float64Range(0, 60).Draw(t, "y")),
		Length: quantity.Metre(long.Draw(t, "length")), Width: quantity.Metre(long.Draw(t, "width")), Bearing: rapid.Float64Range(0, 180).Draw(t, "bearing"),
		RowsAcross: rapid.Bool().Draw(t, "across"), Sun: 6,
	}
}

func drawPlanting(t *rapid.T, i int, b garden.Bed) garden.Planting {
	share := rapid.Float64Range(0, 1)
	reach := func(whole quantity.Metre, name string) (quantity.Metre, quantity.Metre) {
		x, y := share.Draw(t, name), share.Draw(t, name)
		return whole * quantity.Metre(min(x, y)), whole * quantity.Metre(max(x, y))
	}
	start := civil.Of(2027, 1, 1).Add(rapid.IntRange(-900, 380).Draw(t, "start"))
	days := rapid.IntRange(1, 900).Draw(t, "days")
	q := garden.Planting{
		Key: fmt.Sprintf("2027-%02d", i), BedID: b.ID, CropID: longText(t, "crop", 2), Way: rapid.SampledFrom([]crop.Way{crop.Sow, crop.Set, crop.SetOut}).Draw(t, "way"),
		Rows: i % 4, Plants: i * 7, Start: start, Clear: start.Add(days), Expect: 3, Years: 30,
		Emerge: spreadAt(start.Add(days / 9)), First: spreadAt(start.Add(days / 2)), Last: spreadAt(start.Add(days)),
	}
	q.Place.AlongFrom, q.Place.AlongTo = reach(b.Length, "along")
	q.Place.AcrossFrom, q.Place.AcrossTo = reach(b.Width, "across")
	if q.Way == crop.SetOut {
		raise := start - 40
		q.RaiseOn = &raise
	}
	if rapid.Bool().Draw(t, "guest") {
		q.Role, q.Partner = garden.Fast, fmt.Sprintf("2027-%02d", i-1)
	}
	return q
}

// Whatever beds and plantings there are: nothing is clipped and no line stands on another.
func TestLawsOfTheSeason(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sampleSeason(rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "units"))
		s.Garden.Beds, s.Plan.Plantings = nil, nil
		for i := range rapid.IntRange(0, 4).Draw(t, "beds") {
			b := drawBed(t, int64(i+1))
			s.Garden.Beds = append(s.Garden.Beds, b)
			for k := range rapid.IntRange(0, 9).Draw(t, "plantings") {
				s.Plan.Plantings = append(s.Plan.Plantings, drawPlanting(t, 10*i+k, b))
			}
		}
		for range rapid.IntRange(0, 30).Draw(t, "wants") {
			s.Plan.Supply = append(s.Plan.Supply, plan.Supply{Want: garden.Want{Crop: longText(t, "want", 3), Basis: garden.Total}, Asked: 3, Expected: 2, Short: []garden.Reason{{Says: longText(t, "short", 12)}}})
		}
		p, err := laySeason(s)
		if err != nil {
			t.Fatal(err)
		}
		if says := wording(p); !strings.Contains(says, "Whatthetablegets") {
			t.Fatal("it is not written to its end")
		}
		sound(t, p)
	})
}

// A planting that failed says so, and no sheet still hopes for it.
func TestAFailedPlantingSaysSo(t *testing.T) {
	s := sampleSeason(quantity.Metric)
	s.Plan.Plantings[1].Status = garden.Lost
	p, err := laySeason(s)
	if err != nil {
		t.Fatal(err)
	}
	says := wording(p)
	if !strings.Contains(says, "wentin3May,––14in2rows–failed") || strings.Contains(says, "2Jul–20Jul") || strings.Contains(says, "14kg") {
		t.Errorf("the season's sheet says %s", says)
	}
	var table bytes.Buffer
	if err := WritePlanCSV(&table, s.Plan, s.Garden.Beds); err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(table.String(), "\n") {
		if strings.HasPrefix(line, "2027-02") && (strings.Contains(line, "2027-07-02") || !strings.Contains(line, "lost")) {
			t.Errorf("the table says %s", line)
		}
	}
}
