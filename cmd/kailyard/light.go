package main

import (
	"context"
	"fmt"
	"strings"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/light"
	"kailyard/internal/season"
)

type lightCmd struct {
	Beds []string `arg:"" optional:"" help:"Beds, by name; without one all of them in a table."`
}

func (lightCmd) example() string { return "kailyard light 'Under the plum'" }

type lightJSON struct {
	Basis   string         `json:"sunshine_basis"`
	Changed []string       `json:"changed_since_plan"`
	Beds    []bedLightJSON `json:"beds"`
}

type bedLightJSON struct {
	Bed      string           `json:"bed"`
	SeasonH  float64          `json:"season_hours"`
	SeasonMJ float64          `json:"season_energy_mj_m2"`
	Months   []monthLightJSON `json:"months"`
	GoodFor  light.Use        `json:"good_for"`
	Better   *spellJSON       `json:"better"`
	Says     string           `json:"says"`
	Source   string           `json:"source"`
	Differs  string           `json:"differs"`
	Remedies []remedyJSON     `json:"remedies"`
}

type monthLightJSON struct {
	Month    int         `json:"month"`
	Hours    float64     `json:"hours"`
	Open     float64     `json:"open_ground_hours"`
	EnergyMJ float64     `json:"energy_mj_m2"`
	Basis    light.Basis `json:"basis"`
}

type spellJSON struct {
	From  int       `json:"from_month"`
	To    int       `json:"to_month"`
	Hours float64   `json:"hours"`
	Use   light.Use `json:"good_for"`
}

type remedyJSON struct {
	Says    string  `json:"says"`
	Gains   float64 `json:"gains_hours"`
	Caution string  `json:"caution"`
	Source  string  `json:"source"`
}

// Run tells the light of the beds.
func (c *lightCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		beds := g.Beds
		var err error
		if len(c.Beds) > 0 {
			if beds, err = bedsNamed(g, c.Beds); err != nil {
				return err
			}
		}
		record, err := b.Record(ctx)
		if err != nil && !book.IsKind(err, book.Unknown) {
			return err
		}
		y := season.LightYearOf(g, record)
		v := lightJSON{Basis: y.Sunshine.Says, Changed: []string{}, Beds: []bedLightJSON{}}
		s, err := shown(ctx, b, seasonFlag{}, e.clock())
		if err != nil {
			return err
		}
		plan, err := b.Plan(ctx, s.Year())
		if err != nil {
			return err
		}
		changed := season.LightSince(g, record, plan)
		for _, bed := range changed {
			v.Changed = append(v.Changed, bed.Name)
		}
		for _, bed := range beds {
			v.Beds = append(v.Beds, bedLightShape(y, bed, len(c.Beds) > 0 || e.json))
		}
		if e.json {
			return e.printJSON(v)
		}
		if len(beds) == 0 {
			e.printf("The garden has no beds yet: kailyard import FILE takes them from a description.\n")
			return nil
		}
		e.lightTable(y, v)
		if len(c.Beds) > 0 {
			for i, bed := range beds {
				e.lightOfBed(y, bed, v.Beds[i])
			}
		}
		if len(changed) > 0 {
			e.printf("\n%s\n", wrapped("! "+lightSinceOf(changed, s), "", 92))
		}
		return nil
	})
}

func bedLightShape(y light.Year, bed garden.Bed, remedies bool) bedLightJSON {
	months := y.Bed(bed)
	mean := light.InSeason(y.Garden.Site.Latitude, months)
	verdict := y.GoodFor(bed)
	one := bedLightJSON{
		Bed: bed.Name, SeasonH: toTenth(float64(mean.Hours)), SeasonMJ: toTenth(float64(mean.Energy)), Months: []monthLightJSON{},
		GoodFor: verdict.Use, Says: verdict.Says, Source: verdict.Source, Differs: y.Differs(bed), Remedies: []remedyJSON{},
	}
	for m, of := range months {
		one.Months = append(one.Months, monthLightJSON{m + 1, toTenth(float64(of.Hours)), toTenth(float64(y.Open[m].Hours)), toTenth(float64(of.Energy)), of.Basis})
	}
	if s := verdict.Spell; s != nil {
		one.Better = &spellJSON{int(s.From), int(s.To), toTenth(float64(s.Hours)), s.Use}
	}
	if remedies {
		for _, r := range y.Remedies(bed) {
			one.Remedies = append(one.Remedies, remedyJSON{r.Says, toTenth(float64(r.Gains)), r.Caution, r.Source})
		}
	}
	return one
}

// toTenth is a figure as it is told.
func toTenth(v float64) float64 {
	const tenths = 10
	return float64(int(v*tenths+.5)) / tenths
}

func (e *env) lightTable(y light.Year, v lightJSON) {
	wide := len("open ground")
	for _, b := range v.Beds {
		wide = max(wide, len([]rune(b.Bed)))
	}
	e.printf("%s: hours of direct sun on a clear day\n\n  %-*s", y.Garden.Site.Name, wide, "bed")
	for m := time.January; m <= time.December; m++ {
		e.printf(" %5s", m.String()[:3])
	}
	e.printf("  season  good for\n")
	for _, b := range v.Beds {
		e.printf("  %-*s", wide, b.Bed)
		for _, m := range b.Months {
			e.printf(" %5.1f", m.Hours)
		}
		e.printf("  %6.1f  %s\n", b.SeasonH, b.GoodFor)
	}
	e.printf("  %-*s", wide, "open ground")
	for m := range y.Open {
		e.printf(" %5.1f", float64(y.Open[m].Hours))
	}
	e.printf("\n\n%s\n", wrapped(basesSay(v.Beds)+" "+light.Counting, "", 92))
}

// basesSay tells what the hours rest on.
func basesSay(beds []bedLightJSON) string {
	named := map[light.Basis][]string{}
	for _, b := range beds {
		had := map[light.Basis]bool{}
		for _, m := range b.Months {
			if !had[m.Basis] {
				had[m.Basis] = true
				named[m.Basis] = append(named[m.Basis], b.Bed)
			}
		}
	}
	says := ""
	for _, of := range []struct {
		basis light.Basis
		words string
	}{
		{light.Seen, "As you saw them, in the months you looked: "}, {light.Near, "By what you saw in the nearest month: "},
		{light.Reckoned, "Reckoned from what is told of shade, slope and skyline: "},
		{light.Lowered, "Reckoned, and lowered because less was seen in a near month: "}, {light.Told, "From the hours told for the season: "},
	} {
		if len(named[of.basis]) > 0 {
			says += of.words + strings.Join(named[of.basis], ", ") + ". "
		}
	}
	return strings.TrimSpace(says)
}

func (e *env) lightOfBed(y light.Year, bed garden.Bed, v bedLightJSON) {
	u := y.Garden.Site.Units
	e.printf("\n%s\n", strings.ToUpper(bed.Name))
	e.printf("%s\n", wrapped(fmt.Sprintf("%s of direct sun a day over the season, %.1f MJ/m² of light. %s", u.Hours(light.InSeason(y.Garden.Site.Latitude, y.Bed(bed)).Hours), v.SeasonMJ, v.Says), "  ", 92))
	if v.Differs != "" {
		e.printf("%s\n", wrapped(v.Differs, "  ", 92))
	}
	var wanted []*crop.Crop
	crops, _ := y.Garden.Catalogue(crop.Default())
	for _, want := range y.Garden.Wants {
		found, _ := crops.Match(want.Crop)
		for _, c := range found {
			if c.Perennial == bed.Perennial {
				wanted = append(wanted, c)
			}
		}
	}
	hours := y.Sun(bed)
	well, less := light.Grows(wanted, hours)
	for _, of := range []struct{ says, names string }{
		{"Light enough for: ", kindNames(well)}, {"With less to eat, and later, by the share of their full yield: ", strings.Join(light.LessOf(less, hours), ", ")},
		{spellWords(y.GoodFor(bed)), strings.Join(y.GoodFor(bed).InSpell(wanted, hours), ", ")},
	} {
		if of.names != "" {
			e.printf("%s\n", wrapped(of.says+of.names+".", "  ", 92))
		}
	}
	caution := ""
	for _, r := range v.Remedies {
		e.printf("%s\n", wrapped("• "+r.Says, "  ", 92))
		if r.Caution != "" {
			caution = r.Caution
		}
	}
	if caution != "" {
		e.printf("%s\n", wrapped("Take care: "+caution, "  ", 92))
	}
}

// kindNames are the kinds of crops, each once.
func kindNames(crops []*crop.Crop) string {
	var names []string
	had := map[string]bool{}
	for _, c := range crops {
		if !had[c.Kind] {
			had[c.Kind] = true
			names = append(names, c.Kind)
		}
	}
	return strings.Join(names, ", ")
}

// lightSinceWords says that the light is another than the one a plan was made from; empty while it is not, and of a season
// that is over.
func lightSinceWords(r *season.Result, today civil.Date) string {
	changed := r.LightSince()
	if len(changed) == 0 || r.Season.End() < today {
		return ""
	}
	return lightSinceOf(changed, r.Season)
}

func lightSinceOf(changed []garden.Bed, s civil.Season) string {
	var names []string
	for _, b := range changed {
		names = append(names, b.Name)
	}
	return fmt.Sprintf("The light has been changed since this plan was made (%s): plan again, with kailyard plan --season %d.", strings.Join(names, ", "), s.Year())
}

// spellWords say in which part of the year a bed is good for more.
func spellWords(v light.Verdict) string {
	if v.Spell == nil {
		return ""
	}
	return fmt.Sprintf("From %s to %s only, by the share of their full yield: ", v.Spell.From, v.Spell.To)
}
