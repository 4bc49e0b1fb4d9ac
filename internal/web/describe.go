package web

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

func familyOf(c *crop.Crop) string {
	if c == nil {
		return ""
	}
	return c.Family
}

// shortKey is a planting's key without its year: "07" of "2027-07".
func shortKey(key string) string {
	if i := strings.LastIndexByte(key, '-'); i >= 0 && i+1 < len(key) {
		return key[i+1:]
	}
	return key
}

// upper begins a sentence with the word.
func upper(word string) string {
	r, n := utf8.DecodeRuneInString(word)
	return string(unicode.ToUpper(r)) + word[n:]
}

// plural is "1 crop", "2 crops".
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// put is the word for how the planting comes into its bed.
func put(w crop.Way) string {
	switch w {
	case crop.SetOut:
		return "set out"
	case crop.Set:
		return "planted"
	}
	return "sown"
}

// spreadText is "3 Jul (20 Jun – 14 Jul)", or one date when the years agree.
func spreadText(s garden.Spread) string {
	if s.P10 == s.P90 {
		return s.P50.Short()
	}
	return s.P50.Short() + " (" + s.P10.Short() + " – " + s.P90.Short() + ")"
}

func cropName(now *season.Result, id string) string {
	if c, ok := now.Crops.Find(id); ok {
		return c.Name()
	}
	return id
}

func bedName(now *season.Result, id int64) string {
	if b, ok := now.Bed(id); ok {
		return b.Name
	}
	return fmt.Sprintf("bed %d", id)
}

func patchHint(now *season.Result, p *garden.Planting) string {
	if p.Status == garden.Lost {
		return fmt.Sprintf("%s: %s %s, failed", upper(cropName(now, p.CropID)), put(p.Way), dayText(now, p.Start))
	}
	if undated(p) {
		return fmt.Sprintf("%s: %s %s, ground free from %s", upper(cropName(now, p.CropID)), put(p.Way), dayText(now, p.Start), dayText(now, p.Clear))
	}
	return fmt.Sprintf("%s: %s %s, first picking %s, last %s, ground free from %s",
		upper(cropName(now, p.CropID)), put(p.Way), dayText(now, p.Start), spreadText(p.First), spreadText(p.Last), dayText(now, p.Clear))
}

// dayText is a day, with its year where it lies well outside the season.
func dayText(now *season.Result, d civil.Date) string {
	if d < now.Season.Start-183 || d > now.Season.End()+366 {
		return d.Long()
	}
	return d.Short()
}

// allPlantings are the standing plantings and those of the plan, each once.
func allPlantings(now *season.Result) []*garden.Planting {
	var list []*garden.Planting
	seen := map[string]bool{}
	days := harvests(now.Jobs)
	add := func(ps []garden.Planting) {
		for i := range ps {
			if !seen[ps[i].Key] {
				seen[ps[i].Key] = true
				list = append(list, dated(&ps[i], days))
			}
		}
	}
	if now.Plan != nil {
		add(now.Plan.Plantings)
	}
	add(now.Garden.Standing)
	return list
}

// inBeds sorts plantings by their bed.
func inBeds(list []*garden.Planting) map[int64][]*garden.Planting {
	by := map[int64][]*garden.Planting{}
	for _, p := range list {
		by[p.BedID] = append(by[p.BedID], p)
	}
	return by
}

// inUse is the share of a bed's ground and season that its plantings take.
func inUse(s civil.Season, st strip) float64 {
	if st.Length <= 0 {
		return 0
	}
	sum := 0.0
	for _, q := range st.patches {
		if q.within {
			continue
		}
		span := q.p.Span()
		days := civil.Span{From: max(span.From, s.Start), To: min(span.To, s.End())}.Days()
		for _, at := range q.parts {
			sum += at.Long() / st.Length * float64(days) / float64(s.Days)
		}
	}
	return min(1, sum)
}

func bedtimeTitle(now *season.Result, st strip) string {
	if len(st.patches) == 0 {
		return fmt.Sprintf("%s stands empty in %s", st.Bed.Name, now.Season)
	}
	return fmt.Sprintf("%s in %s: %s, %.0f %% of its ground and days in use",
		st.Bed.Name, now.Season, plural(len(st.patches), "planting", "plantings"), 100*inUse(now.Season, st))
}
