package web

import (
	"fmt"
	"net/http"
	"strings"

	"kailyard/internal/crop"
)

// weakestPage is how far the catalogue's figures can be trusted, the weakest first.
type weakestPage struct {
	frame
	Says      string
	Qualities []string
	Counts    []qualityCount
	Fields    []weakestRow
	Crops     []weakestCrop
}

type qualityCount struct{ Quality, Figures, Share, Meaning string }

type weakestRow struct {
	Name, Moves string
	Counts      []string
	All         string
}

type weakestCrop struct {
	weakestRow
	ID      string
	Figures []figureRow // from memory
}

var qualityMeaning = map[crop.Quality]string{
	crop.Published:      "typed from a published work that is named",
	crop.Estimated:      "worked out from published figures by a rule that is named",
	crop.Own:            "said by you, of your own seed",
	crop.CommonPractice: "what growers generally do; no single work is named",
	crop.FromMemory:     "written down from memory; no copy was seen",
}

func (s *site) weakest(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	catalogue, _ := g.Catalogue(s.Crops)
	p := weakestPage{frame: s.gardenFrame("The weakest figures", r, g)}
	whole := catalogue.Tally()
	var shown []crop.Quality
	for i := len(crop.Qualities()) - 1; i >= 0; i-- {
		q := crop.Qualities()[i]
		if whole.Count[q] == 0 {
			continue
		}
		shown = append(shown, q)
		p.Qualities = append(p.Qualities, string(q))
		p.Counts = append(p.Counts, qualityCount{upper(string(q)), fmt.Sprint(whole.Count[q]), fmt.Sprintf("%.0f %%", 100*whole.Share(q)), qualityMeaning[q]})
	}
	fields := catalogue.FieldTallies()
	p.Says = weakestSays(whole, fields)
	row := func(t crop.Tally, name string) weakestRow {
		v := weakestRow{Name: name, Moves: t.Moves, All: fmt.Sprint(t.All)}
		for _, q := range shown {
			v.Counts = append(v.Counts, fmt.Sprint(t.Count[q]))
		}
		return v
	}
	for _, t := range fields {
		p.Fields = append(p.Fields, row(t, fieldWords(t.Name)))
	}
	for _, t := range catalogue.CropTallies() {
		c, _ := catalogue.Find(t.Name)
		v := weakestCrop{weakestRow: row(t, upper(c.Name())), ID: c.ID}
		for _, f := range c.Weakest() {
			if f.Quality == crop.FromMemory {
				v.Figures = append(v.Figures, figureRow{fieldWords(f.Field), f.In(g.Site.Units), f.Source, string(f.Quality), f.Note})
			}
		}
		p.Crops = append(p.Crops, v)
	}
	return s.render(w, http.StatusOK, "weakest", p)
}

// weakestSays states the finding.
func weakestSays(whole crop.Tally, fields []crop.Tally) string {
	dates, weak := 0, 0
	for _, t := range fields {
		if t.Moves == "dates" {
			dates += t.All
			weak += t.Count[crop.FromMemory]
		}
	}
	return fmt.Sprintf("Of %d figures, %d are published and %d are from memory. Of the %d that move dates, %d are from memory.",
		whole.All, whole.Count[crop.Published], whole.Count[crop.FromMemory], dates, weak)
}

// fieldWords is a figure's field for people: "hardiness, seedling".
func fieldWords(field string) string { return strings.NewReplacer(".", ", ", "_", " ").Replace(field) }
