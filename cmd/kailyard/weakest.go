package main

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

type weakestJSON struct {
	Figures    int                  `json:"figures"`
	Count      map[crop.Quality]int `json:"by_quality"`
	Fields     []weakFieldJSON      `json:"fields"`
	Crops      []weakCropJSON       `json:"crops"`
	FromMemory []weakFigureJSON     `json:"from_memory"`
}

type weakFieldJSON struct {
	Field   string               `json:"field"`
	Moves   string               `json:"moves"`
	Figures int                  `json:"figures"`
	Count   map[crop.Quality]int `json:"by_quality"`
}

type weakCropJSON struct {
	CropID  string               `json:"crop_id"`
	Figures int                  `json:"figures"`
	Count   map[crop.Quality]int `json:"by_quality"`
}

type weakFigureJSON struct {
	CropID string `json:"crop_id"`
	Field  string `json:"field"`
	Text   string `json:"value"`
	Note   string `json:"note,omitempty"`
}

// printWeakest tells how far the figures of some crops can be trusted, the weakest first.
func (e *env) printWeakest(crops *crop.Catalogue, u *quantity.System) error {
	whole := crops.Tally()
	v := weakestJSON{Figures: whole.All, Count: orNone(whole.Count), Fields: []weakFieldJSON{}, Crops: []weakCropJSON{}, FromMemory: []weakFigureJSON{}}
	for _, t := range crops.FieldTallies() {
		v.Fields = append(v.Fields, weakFieldJSON{t.Name, t.Moves, t.All, orNone(t.Count)})
	}
	for _, t := range crops.CropTallies() {
		v.Crops = append(v.Crops, weakCropJSON{t.Name, t.All, orNone(t.Count)})
	}
	for _, f := range crops.Weakest() {
		if f.Quality == crop.FromMemory {
			v.FromMemory = append(v.FromMemory, weakFigureJSON{f.Crop.ID, f.Field, f.Text, f.Note})
		}
	}
	if e.json {
		return e.printJSON(v)
	}
	e.printf("%d figures of %d crops:\n", whole.All, len(v.Crops))
	for _, q := range crop.Qualities() {
		if n := whole.Count[q]; n > 0 {
			e.printf("  %-16s %5d  %3.0f %%\n", q, n, 100*whole.Share(q))
		}
	}
	e.printf("\n  %-24s %-8s %9s %9s\n", "by figure", "moves", "memory", "of")
	for _, f := range v.Fields {
		e.printf("  %-24s %-8s %9d %9d\n", f.Field, f.Moves, f.Count[crop.FromMemory], f.Figures)
	}
	e.printf("\n  %-33s %9s %9s\n", "by crop", "memory", "of")
	for _, c := range v.Crops {
		e.printf("  %-33s %9d %9d\n", c.CropID, c.Count[crop.FromMemory], c.Figures)
	}
	e.printf("\nFrom memory, those that move dates first:\n")
	for _, f := range v.FromMemory {
		e.printf("  %-24s %-28s %s\n", f.CropID, f.Field, figureJSON{Field: f.Field, Text: f.Text}.in(u))
	}
	return nil
}

// orNone makes an absent count print as {} rather than null.
func orNone(count map[crop.Quality]int) map[crop.Quality]int {
	if count == nil {
		return map[crop.Quality]int{}
	}
	return count
}
