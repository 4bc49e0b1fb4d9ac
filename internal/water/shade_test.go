package water

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Ground with half of the open sky's energy has the reference evapotranspiration of eq. 6 with half of the sun's radiation, reckoned anew, and
// with none it keeps what the air takes. FAO-56 example 18 is the day: 3.88 mm, with 22.07 MJ/m² of the sun's, of which 0.77 are kept.
func TestShadedReference(t *testing.T) {
	a := Air{Low: 12.3, High: 21.5, Vapour: 1.409, Wind: 2.078, Net: 13.28, Sun: 0.77 * 22.07, Psychro: 0.0666}
	open := float64(a.Reference())
	if math.Abs(open-3.88) > 0.02 {
		t.Fatalf("example 18: %.3f", open)
	}
	for _, dark := range []float64{0, 0.3, 0.5, 0.9, -0.2} {
		in := a
		in.Net -= quantity.MegajoulePerSquareMetre(dark * 0.77 * 22.07)
		if got, want := shaded(open, a.sunlit(), dark), float64(in.Reference()); math.Abs(got-want) > 1e-9 {
			t.Errorf("%.1f of the light lacking: %.3f mm, eq. 6 gives %.3f", dark, got, want)
		}
	}
}

// The less light the less water, month by month; the open sky's share of 1 changes nothing; and the day's balance goes by it too.
func TestShadeLowersWater(t *testing.T) {
	share := func(v float64) (out [12]float64) {
		for m := range out {
			out[m] = v
		}
		return out
	}
	last := math.Inf(1)
	open := mustReckon(t, question(t, 4))
	for _, light := range []float64{1, 0.8, 0.5, 0.2} {
		q := question(t, 4)
		q.Light = map[int64][12]float64{1: share(light)}
		n := mustReckon(t, q)
		if light == 1 && n.Typical != open.Typical {
			t.Errorf("all the light: %.1f L, open %.1f", float64(n.Typical), float64(open.Typical))
		}
		if light < 1 && float64(n.Beds[0].Demand) >= last {
			t.Errorf("%.1f of the light: %.1f L", light, float64(n.Beds[0].Demand))
		}
		last = float64(n.Beds[0].Demand)
	}
	if part := last / float64(open.Beds[0].Demand); part > 0.6 {
		t.Errorf("a fifth of the light, and %.2f of the water", part)
	}
	q := question(t, 4)
	bright := mustToday(t, q, showers())
	q.Light = map[int64][12]float64{1: share(0.4)}
	if dim := mustToday(t, q, showers()); dim.Ground[0].Missing >= bright.Ground[0].Missing {
		t.Errorf("in the shade %.1f mm are missing, in the sun %.1f", float64(dim.Ground[0].Missing), float64(bright.Ground[0].Missing))
	}
}

// Film lowers what crop and ground draw together by a tenth to three tenths (FAO-56, chapter 10, from memory; five hundredths more let pass, for a
// sprinkled salad is short and stands open), whatever waters it, and never raises it.
func TestFilmLowersTheWhole(t *testing.T) {
	for _, id := range []string{"tomato-staked", "pepper-sweet", "muskmelon", "lettuce-romaine"} {
		for _, wets := range []float64{0.35, 0.5, 1} {
			q := question(t, 8)
			q.Stands[0].Crop, q.Stands[0].Wets = CropOf(catalogue(t, id)), wets
			if id == "lettuce-romaine" {
				q.Stands[0].To = q.Stands[0].From + 60
			}
			none := mustReckon(t, q)
			q.Stands[0].Mulch = garden.FilmMulch
			film := mustReckon(t, q)
			if part := float64(film.Beds[0].Demand / none.Beds[0].Demand); part < 0.65 || part > 0.901 {
				t.Errorf("%s, %.2f of the ground wetted: film leaves %.3f", id, wets, part)
			} else {
				t.Logf("%s, %.2f of the ground wetted: film leaves %.3f", id, wets, part)
			}
			if film.Typical > none.Typical || film.Peak > 1.1*none.Peak {
				t.Errorf("%s: %.0f L under film, peak %.0f, without %.0f and %.0f", id, float64(film.Typical), float64(film.Peak), float64(none.Typical), float64(none.Peak))
			}
		}
	}
	if Transpires(garden.FilmMulch, 1) != 1 || Transpires(garden.FilmMulch, 0) != 1.1 || Transpires(garden.OrganicMulch, 0) != 1 {
		t.Error("film raises what a closed canopy draws, or an open one's not")
	}
}

// Radiation in another unit is left out everywhere: needs and the day's balance are then those of the record without it, and it is said once.
func TestDoubtedRadiationIsNotUsed(t *testing.T) {
	season, list := years(6, 10)
	whole := garden.Place{AlongTo: 5, AcrossTo: 1.2}
	g := garden.Garden{Site: garden.Site{Latitude: 45, Soil: garden.Soil{Texture: garden.Loam}}, Beds: []garden.Bed{{ID: 1, Name: "North", Length: 5, Width: 1.2}}}
	plantings := []garden.Planting{{Key: "a", BedID: 1, CropID: "kale", Way: crop.SetOut, Place: whole, Start: civil.Of(2027, 5, 1), Clear: civil.Of(2027, 9, 15), Plants: 12}}
	record := func(factor float64) *weather.Record {
		r := weathered(Place{Latitude: 45}, 565, factor)
		shift := civil.Of(2026, 1, 1) - r.Days[0].Date // to 19 July 2027
		for i := range r.Days {
			d := &r.Days[i]
			d.Date += shift
			d.Rain, d.HasRain, d.HasRadiation = 0, true, d.HasRadiation && factor > 0
		}
		return r
	}
	reckon := func(r *weather.Record) (float64, float64, string) {
		q := QuestionOf(g, plantings, crop.Default(), season, r, list)
		b, err := Today(q, r, []Given{{Date: civil.Of(2027, 7, 14), BedID: 1, Depth: 60}}, civil.Of(2027, 7, 20))
		if err != nil || len(b.Ground) != 1 {
			t.Fatal(b, err)
		}
		return float64(mustReckon(t, q).Typical), float64(b.Ground[0].Missing), strings.Join(q.Rests, " ")
	}
	want, missing, _ := reckon(record(0))
	for _, factor := range []float64{1 / 3.6, 1.4, 2} {
		got, now, says := reckon(record(factor))
		if math.Abs(got-want) > 1e-6 || math.Abs(now-missing) > 1e-6 {
			t.Errorf("×%.2f: %.1f L and %.2f mm, without radiation %.1f L and %.2f mm", factor, got, now, want, missing)
		}
		if !strings.Contains(says, "left out") || strings.Contains(says, "Radiation: measured") {
			t.Errorf("×%.2f: %q", factor, says)
		}
	}
	if _, _, says := reckon(record(1)); strings.Contains(says, "left out") || !strings.Contains(says, "Radiation: measured") {
		t.Error(says)
	}
}

// What is not known is told: days without temperature, texture, and what a record's evaporation rests on.
func TestWhatItRestsOnIsTold(t *testing.T) {
	q := question(t, 0)
	r := showers()
	r.Days[len(r.Days)-5].HasTemp, r.Days[len(r.Days)-9].HasTemp = false, false
	if b := mustToday(t, q, r); b.Guessed != 2 || !strings.Contains(strings.Join(b.Notes, " "), "2 of the last 30 days have no temperature") {
		t.Errorf("%d, %q", b.Guessed, b.Notes)
	}
	season, list := years(3, 10)
	g := garden.Garden{Site: garden.Site{Latitude: 45}, Beds: []garden.Bed{{ID: 1, Name: "North"}, {ID: 2, Name: "South", Soil: garden.Soil{Texture: garden.Clay}}}}
	says := strings.Join(QuestionOf(g, nil, crop.Default(), season, invented(400), list).Rests, " ")
	for _, want := range []string{"The texture of North is not told, so a loam", "Radiation: measured.", "Wind: measured."} {
		if !strings.Contains(says, want) {
			t.Errorf("%q is not in %q", want, says)
		}
	}
	g.Beds = g.Beds[:1]
	if says := strings.Join(QuestionOf(g, nil, crop.Default(), season, nil, list).Rests, " "); !strings.Contains(says, "The texture of the beds is not told") {
		t.Error(says)
	}
}

// Eq. 97 and 98 by hand, beside a stand that covers 0.8, for which 0.8^(1/1.5) = 0.8618 counts: of a crop of 1.10 half a metre tall that covers 0.3,
// 0.3^(1/1.5) = 0.4481 counts, 0.15 + 0.95·0.4481/0.8618 = 0.6440; a cover of 0.1 counts twice, 0.15 + 0.95·0.2/0.8618 = 0.3705, for
// 0.1^(1/1.5) = 0.2154 is more. From 0.8 on it draws as the table has it.
func TestThinStands(t *testing.T) {
	for cover, want := range map[float64]float64{0.3: 0.6440, 0.1: 0.3705, 0.8: 1.10, 0.95: 1.10, 0: 0.15} {
		if got := Thinly(1.10, cover, 0.5); math.Abs(got-want) > 0.0002 {
			t.Errorf("covers %.2f: %.4f, by hand %.4f", cover, got, want)
		}
	}
}
