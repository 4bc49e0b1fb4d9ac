package book

import (
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// fill gives every field of a value something of its own, so that a field the book forgets is seen.
func fill(v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.Int, reflect.Int32, reflect.Int64:
		v.SetInt(int64(*n))
	case reflect.Uint8, reflect.Uint64:
		v.SetUint(1)
	case reflect.Float64:
		v.SetFloat(float64(*n) + 0.1)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.String:
		v.SetString("text " + string(rune('a'+*n%26)))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range 2 {
			fill(v.Index(i), n)
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), n)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	default:
		panic("a kind of field the test does not know: " + v.Kind().String())
	}
}

// planned is a plan with every field filled, whose plantings are in the book's beds.
func planned(season int, beds ...garden.Bed) *plan.Plan {
	var p plan.Plan
	n := 0
	fill(reflect.ValueOf(&p).Elem(), &n)
	p.Season = civil.SeasonOf(season, 42)
	for i := range p.Plantings {
		x := &p.Plantings[i]
		x.Key = []string{"first", "second"}[i]
		x.BedID, x.Status, x.Pinned, x.Season = beds[i%len(beds)].ID, garden.Planned, false, season
		x.Start, x.Last.P50 = civil.Of(season, 4, 1), civil.Of(season, 8, 1)
	}
	return &p
}

var anyID = cmpopts.IgnoreFields(garden.Planting{}, "ID", "PlanID")

func TestAPlanComesBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	p := planned(2027, mustGarden(t, b).Beds...)
	first, err := b.SavePlan(ctx, p)
	check(t, err)
	got, err := b.Plan(ctx, 2027)
	check(t, err)
	if diff := cmp.Diff(p, got, anyID); diff != "" {
		t.Errorf("(-made +kept):\n%s", diff)
	}
	if got.Plantings[0].PlanID != first || got.Plantings[0].ID == 0 {
		t.Error("a kept planting knows its plan")
	}
	again := planned(2027, mustGarden(t, b).Beds...)
	again.Value, again.Notes, again.Plantings = 7, nil, again.Plantings[1:]
	second, err := b.SavePlan(ctx, again)
	check(t, err)
	if got, err = b.Plan(ctx, 2027); err != nil || got.Value != 7 || len(got.Plantings) != 1 || got.Notes != nil {
		t.Errorf("the later plan is current: %+v, %v", got, err)
	}
	if got, err = b.PlanOf(ctx, first); err != nil || len(got.Plantings) != 2 {
		t.Errorf("the earlier one is kept: %+v, %v", got, err)
	}
	_, err = b.PlanOf(ctx, 99)
	wantTrouble(t, err, Unknown)
	all, err := b.Plans(ctx)
	want := []Kept{{second, 2027, noon(), 7, 1, true}, {first, 2027, noon(), p.Value, 2, false}}
	if diff := cmp.Diff(want, all); diff != "" || err != nil {
		t.Errorf("%v\n%s", err, diff)
	}
	if _, err := b.db.ExecContext(ctx, "DELETE FROM planting"); err == nil {
		t.Error("plantings can be deleted")
	}
	if got, err := b.Plan(ctx, 2028); got != nil || err != nil {
		t.Errorf("another season has %v, %v", got, err)
	}
	p.Plantings[0].BedID = 99
	_, err = b.SavePlan(ctx, p)
	wantTrouble(t, err, Unknown, "bed 99")
}

func keys(plantings []garden.Planting) (all []string) {
	for _, p := range plantings {
		all = append(all, p.Key)
	}
	return all
}

// What is in the ground or pinned stands; a later plan that was made before does not unmark it.
func TestStandingFollowsThePlans(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	beds := mustGarden(t, b).Beds
	p := planned(2027, beds...)
	_, err := b.SavePlan(ctx, p)
	check(t, err)
	stand := func(when string, want ...string) {
		t.Helper()
		if diff := cmp.Diff(want, keys(mustGarden(t, b).Standing)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", when, diff)
		}
	}
	stand("planned only", "kept-1")
	check(t, b.SetStatus(ctx, "first", garden.InGround))
	check(t, b.SetPinned(ctx, "second", true))
	stand("one sown, one pinned", "kept-1", "first", "second")
	if now, err := b.Plan(ctx, 2027); err != nil || now.Plantings[0].Status != garden.InGround || !now.Plantings[1].Pinned {
		t.Errorf("the plan shows them: %+v, %v", now.Plantings, err)
	}
	_, err = b.SavePlan(ctx, p) // as it was before the marks
	check(t, err)
	stand("planned anew", "kept-1", "first")
	if got := mustGarden(t, b).Standing[1]; got.Status != garden.InGround {
		t.Errorf("status %q", got.Status)
	}
	kept := mustGarden(t, b).Standing
	replanned := planned(2027, beds...)
	replanned.Plantings = append(kept, replanned.Plantings[1])
	_, err = b.SavePlan(ctx, replanned)
	check(t, err)
	stand("with what stands in the plan", "kept-1", "first")
	check(t, b.SetStatus(ctx, "kept-1", garden.Lost))
	check(t, b.SetStatus(ctx, "first", garden.Over))
	stand("all gone")
	wantTrouble(t, b.SetStatus(ctx, "nobody", garden.Over), Unknown, `"nobody"`)
	wantTrouble(t, b.SetStatus(ctx, "first", "bolted"), Refused)
}

// The book remembers what its plans grew: next year's rotation rests on it.
func TestHistoryFollowsThePlans(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	g := ground()
	g.History = nil
	check(t, b.Import(ctx, g))
	beds := mustGarden(t, b).Beds
	_, err := b.SavePlan(ctx, planned(2027, beds...))
	check(t, err)
	if h := mustGarden(t, b).History; len(h) != 0 {
		t.Errorf("a plan is no past yet: %+v", h)
	}
	check(t, b.SetStatus(ctx, "first", garden.Over))
	h := mustGarden(t, b).History
	if len(h) != 1 || h[0].BedID != beds[0].ID || h[0].Year != 2027 || h[0].ID != 0 {
		t.Errorf("what is over is past: %+v", h)
	}
	_, err = b.SavePlan(ctx, planned(2028, beds...))
	check(t, err)
	if h = mustGarden(t, b).History; len(h) != 2 {
		t.Errorf("once the next season is planned, the last is past: %+v", h)
	}
	again := mustGarden(t, b)
	check(t, b.Import(ctx, again)) // exported and taken in again: nothing is doubled
	if diff := cmp.Diff(again, mustGarden(t, b), cmpopts.IgnoreFields(garden.Planting{}, "ID")); diff != "" {
		t.Errorf("(-before +after):\n%s", diff)
	}
}

// What the journal tells of a planting marks it.
func TestTheJournalMarksPlantings(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	p := planned(2027, mustGarden(t, b).Beds...)
	p.Plantings[0].Way, p.Plantings[1].Way = crop.Sow, crop.SetOut
	_, err := b.SavePlan(ctx, p)
	check(t, err)
	rows := []struct {
		key  string
		kind garden.EntryKind
		want garden.Status
	}{
		{"first", garden.Sowed, garden.InGround}, {"first", garden.Watered, garden.InGround}, {"first", garden.Cleared, garden.Over},
		{"second", garden.Sowed, garden.Planned}, {"second", garden.SetOut, garden.InGround}, {"second", garden.Failed, garden.Lost},
	}
	for _, r := range rows {
		_, err := b.Append(ctx, garden.Entry{Date: civil.Of(2027, 5, 2), Kind: r.kind, Planting: r.key})
		check(t, err)
		now, err := b.Plan(ctx, 2027)
		check(t, err)
		for _, p := range now.Plantings {
			if p.Key == r.key && p.Status != r.want {
				t.Errorf("%s after %s: got %q, want %q", r.key, r.kind, p.Status, r.want)
			}
		}
	}
}

func TestSettingsComeBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	if s, err := b.Settings(ctx); err != nil || s != plan.DefaultSettings() {
		t.Errorf("a new book has the defaults: %+v, %v", s, err)
	}
	s := plan.DefaultSettings()
	s.Share, s.Seed = 0.9, 1<<52
	check(t, b.SaveSettings(ctx, s))
	if got, err := b.Settings(ctx); err != nil || got != s {
		t.Errorf("got %+v, %v", got, err)
	}
	s.Share = 2
	if b.SaveSettings(ctx, s) == nil {
		t.Error("a share of 2 was kept")
	}
}

// record is a record of three years and a bit, with holes and odd numbers.
func record3() *weather.Record {
	r := &weather.Record{Origin: weather.Measured, Source: "invented", Notes: []weather.Note{{Kind: "filled", From: 1, To: 2, Says: "s"}},
		Station: weather.Station{ID: "X", Name: "Nowhere", Latitude: 42.4, Longitude: -76.5, Elevation: 292, Located: true}}
	for d := civil.Of(2023, 11, 20); d <= civil.Of(2026, 2, 3); d++ {
		n := float64(d % 31)
		r.Days = append(r.Days, weather.Day{
			Date: d, Min: quantity.Celsius(n/3 - 9), Max: quantity.Celsius(n/3 + 0.1), HasTemp: d%7 != 0, Rain: quantity.Millimetre(n / 7), HasRain: d%5 != 0,
			Radiation: quantity.MegajoulePerSquareMetre(n / 11), HasRadiation: d%3 == 0, Filled: d%13 == 0,
		})
	}
	return r
}

func TestARecordComesBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	r := record3()
	check(t, b.SaveRecord(ctx, r))
	got, err := b.Record(ctx)
	check(t, err)
	if diff := cmp.Diff(r, got); diff != "" {
		t.Errorf("(-given +kept):\n%s", diff)
	}
	shorter := record3()
	shorter.Days, shorter.Notes = shorter.Days[100:200], nil
	check(t, b.SaveRecord(ctx, shorter))
	if got, err = b.Record(ctx); err != nil || !cmp.Equal(shorter, got) {
		t.Errorf("another record takes its place: %v\n%s", err, cmp.Diff(shorter, got))
	}
	jump := record3()
	jump.Days = append(jump.Days[:9:9], jump.Days[10:]...)
	wantTrouble(t, b.SaveRecord(ctx, jump), Refused, "2023-11-30", "should follow")
	wantTrouble(t, b.SaveRecord(ctx, &weather.Record{}), Refused, "no days")
}

func BenchmarkRecord(b *testing.B) {
	book, err := Create(b.Context(), b.TempDir()+"/garden.kailyard")
	if err != nil {
		b.Fatal(err)
	}
	defer book.Close()
	r := record3()
	r.Days = nil
	for d := civil.Of(1991, 1, 1); d <= civil.Of(2020, 12, 31); d++ {
		r.Days = append(r.Days, weather.Day{Date: d, HasTemp: true})
	}
	if err := book.SaveRecord(b.Context(), r); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := book.Record(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
}
