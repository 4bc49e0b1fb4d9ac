package book

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The book is the store that the garden's interfaces describe.
var (
	_ garden.Teller  = (*Book)(nil)
	_ garden.Keeper  = (*Book)(nil)
	_ garden.Journal = (*Book)(nil)
	_ garden.Tender  = (*Book)(nil)

	_ garden.TestKeeper    = (*Book)(nil)
	_ garden.PackageKeeper = (*Book)(nil)
	_ garden.HeapKeeper    = (*Book)(nil)
	_ garden.ShadeKeeper   = (*Book)(nil)
)

// noon is the clock of the tests.
func noon() time.Time { return time.Date(2027, 4, 1, 12, 0, 0, 0, time.UTC) }

// newBook makes a book that the test closes.
func newBook(t *testing.T, o Options) *Book {
	t.Helper()
	o.now = noon
	b, err := create(t.Context(), filepath.Join(t.TempDir(), "garden.kailyard"), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

// ground is an invented garden with something of everything.
func ground() garden.Garden {
	from, to := civil.Of(2027, 9, 1), civil.Of(2027, 11, 30)
	return garden.Garden{
		Site: garden.Site{Name: "Test ground (invented)", Latitude: 42.4, Longitude: -76.5, Elevation: 292, Units: quantity.US, Household: 4, Invented: true, Width: 12, Depth: 9, Covers: []string{"cloche", "row-cover"}, Soil: garden.Soil{Weighs: quantity.US}, Note: "n"},
		Beds: []garden.Bed{
			{ID: 1, Name: "Long drill", X: 3, Y: 4.5, Length: 9.144, Width: 1.2192, Bearing: 90, RowsAcross: true, Sun: 8, Note: "n"},
			{ID: 2, Name: "By the wall", X: 9, Y: 4.5, Length: 3, Width: 1, Sun: 5.5, Perennial: true},
		},
		History: []garden.Past{{BedID: 1, Year: 2026, CropID: "cabbage-late"}, {BedID: 1, Year: 2025, Family: "Apiaceae", Note: "n"}},
		Wants: []garden.Want{
			{Crop: "carrot", Basis: garden.Total, Amount: 40, Unit: "lb", Weight: 4},
			{Crop: "kale", Basis: garden.Weekly, Amount: 0.5, Unit: "kg", Weight: 2, From: &from, To: &to, Note: "n"},
		},
		Standing: []garden.Planting{{
			Key: "kept-1", Season: 2024, BedID: 2, CropID: "asparagus", Method: 1, Way: "set", Place: garden.Place{AlongTo: 3, AcrossTo: 1}, Rows: 1, Plants: 8,
			Start: civil.Of(2024, 4, 20), Clear: civil.Of(2049, 4, 20), Role: garden.Alone, Status: garden.InGround,
		}},
	}
}

// plain leaves out what the book numbers for itself.
var plain = cmp.Options{
	cmpopts.IgnoreFields(garden.Bed{}, "ID"), cmpopts.IgnoreFields(garden.Past{}, "ID", "BedID"), cmpopts.IgnoreFields(garden.Want{}, "ID"),
	cmpopts.IgnoreFields(garden.Planting{}, "ID", "PlanID", "BedID"),
}

func mustGarden(t *testing.T, b *Book) garden.Garden {
	t.Helper()
	g, err := b.Garden(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// wantTrouble checks an error's kind and that its sentence tells what is needed.
func wantTrouble(t *testing.T, err error, kind Kind, holds ...string) {
	t.Helper()
	if !IsKind(err, kind) {
		t.Errorf("got %v, want trouble of kind %q", err, kind)
		return
	}
	for _, h := range holds {
		if !strings.Contains(err.Error(), h) {
			t.Errorf("%q does not say %q", err, h)
		}
	}
}

func TestAnEmptyBook(t *testing.T) {
	b := newBook(t, Options{})
	if diff := cmp.Diff(garden.Garden{}, mustGarden(t, b)); diff != "" {
		t.Errorf("an empty book holds something:\n%s", diff)
	}
	if p, err := b.Plan(t.Context(), 2027); p != nil || err != nil {
		t.Errorf("a plan of an empty book: %v, %v", p, err)
	}
	_, err := b.Record(t.Context())
	wantTrouble(t, err, Unknown, "no weather record yet", "kailyard weather")
}

func TestImportComesBack(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	first := mustGarden(t, b)
	if diff := cmp.Diff(ground(), first, plain); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	if first.History[0].BedID != first.Beds[0].ID || first.Standing[0].BedID != first.Beds[1].ID {
		t.Error("history and standing plantings are not in their beds")
	}
	// once more: nothing is doubled, and everything keeps its ID
	check(t, b.Import(t.Context(), ground()))
	if diff := cmp.Diff(first, mustGarden(t, b), cmpopts.IgnoreFields(garden.Planting{}, "ID")); diff != "" {
		t.Errorf("importing the same again (-before +after):\n%s", diff)
	}
}

// A description with other beds, wants and history: what stays keeps its ID, what goes is kept if it has a past.
func TestImportMatchesBedsByName(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	before := mustGarden(t, b)
	g := ground()
	g.Beds = []garden.Bed{{ID: 7, Name: "New", Length: 2, Width: 1, Sun: 6}, {ID: 9, Name: "by the WALL", Length: 4, Width: 1, Sun: 5}}
	g.History = nil
	g.Wants = g.Wants[1:]
	g.Standing[0].BedID = 9
	check(t, b.Import(t.Context(), g))
	after := mustGarden(t, b)
	if after.Beds[0].Name != "New" || after.Beds[1].ID != before.Beds[1].ID || after.Beds[1].Length != 4 || after.Wants[0].ID != before.Wants[1].ID {
		t.Errorf("got %+v, %+v", after.Beds, after.Wants)
	}
	retired, err := b.RetiredBeds(t.Context())
	if err != nil || len(retired) != 1 || retired[0].ID != before.Beds[0].ID {
		t.Errorf("retired are %+v, %v", retired, err)
	}
	// and back: the retired bed comes back as itself
	check(t, b.Import(t.Context(), ground()))
	if again := mustGarden(t, b); again.Beds[0].ID != before.Beds[0].ID || len(again.History) != 2 {
		t.Errorf("the bed came back as %+v", again.Beds[0])
	}
}

func TestImportIsAllOrNothing(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	before := mustGarden(t, b)
	g := ground()
	g.Site.Name = "Changed"
	g.Beds[1].Width = 0
	wantTrouble(t, b.Import(t.Context(), g), Refused, `bed "By the wall": width must be more than 0`)
	if diff := cmp.Diff(before, mustGarden(t, b)); diff != "" {
		t.Errorf("a refused description changed the book:\n%s", diff)
	}
}

func TestBedsWantsAndPasts(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.SaveSite(ctx, ground().Site))
	drill, err := b.AddBed(ctx, ground().Beds[0])
	check(t, err)
	wall, err := b.AddBed(ctx, ground().Beds[1])
	check(t, err)
	if _, err := b.AddBed(ctx, garden.Bed{Name: "long DRILL", Length: 1, Width: 1, Sun: 6}); err == nil || !strings.Contains(err.Error(), "another bed is called") {
		t.Errorf("a name twice: %v", err)
	}
	if _, err := b.AddBed(ctx, garden.Bed{Name: "Thin", Length: 1, Sun: 6}); err == nil || !strings.Contains(err.Error(), "width must be more than 0") {
		t.Errorf("a bed of no width: %v", err)
	}
	changed := ground().Beds[1]
	changed.ID, changed.Sun = wall, 7
	check(t, b.SaveBed(ctx, changed))
	changed.ID = 99
	changed.Name = "Nowhere"
	wantTrouble(t, b.SaveBed(ctx, changed), Unknown, "bed 99")

	want, err := b.AddWant(ctx, ground().Wants[1])
	check(t, err)
	w := ground().Wants[1]
	w.ID, w.From, w.Amount = want, nil, 3
	check(t, b.SaveWant(ctx, w))
	past, err := b.AddPast(ctx, garden.Past{BedID: drill, Year: 2026, CropID: "carrot"})
	check(t, err)
	_, err = b.AddPast(ctx, garden.Past{BedID: 99, Year: 2026, CropID: "carrot"})
	wantTrouble(t, err, Unknown, "bed 99")

	g := mustGarden(t, b)
	if len(g.Beds) != 2 || g.Beds[1].Sun != 7 || len(g.Wants) != 1 || g.Wants[0].Amount != 3 || g.Wants[0].From != nil || *g.Wants[0].To != civil.Of(2027, 11, 30) || len(g.History) != 1 {
		t.Errorf("got %+v", g)
	}
	check(t, b.RemovePast(ctx, past))
	wantTrouble(t, b.RemovePast(ctx, past), Unknown)
	check(t, b.RemoveWant(ctx, want))
	wantTrouble(t, b.RemoveWant(ctx, want), Unknown)
	check(t, b.RemoveBed(ctx, drill)) // it had a past: retired
	check(t, b.RemoveBed(ctx, wall))  // it had none: deleted
	wantTrouble(t, b.RemoveBed(ctx, wall), Unknown)
	retired, err := b.RetiredBeds(ctx)
	if g := mustGarden(t, b); err != nil || len(g.Beds) != 0 || len(g.Wants) != 0 || len(g.History) != 0 || len(retired) != 1 || retired[0].Name != "Long drill" {
		t.Errorf("left are %+v, retired %+v, %v", g, retired, err)
	}
	if _, err := b.AddBed(ctx, ground().Beds[0]); err != nil {
		t.Errorf("a retired bed's name is free: %v", err)
	}
}

func TestABedSomethingStandsInStays(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	wall := mustGarden(t, b).Beds[1].ID
	wantTrouble(t, b.RemoveBed(t.Context(), wall), Refused, "asparagus", "mark it as over or lost first")
	check(t, b.SetStatus(t.Context(), "kept-1", garden.Over))
	check(t, b.RemoveBed(t.Context(), wall))
}

func TestRevisionGrowsWithEveryChange(t *testing.T) {
	b := newBook(t, Options{})
	ctx := t.Context()
	at := func() int64 { n, err := b.Revision(ctx); check(t, err); return n }
	zero := at()
	check(t, b.Import(ctx, ground()))
	one := at()
	mustGarden(t, b)
	if same := at(); one <= zero || same != one {
		t.Errorf("revisions %d, %d, %d", zero, one, same)
	}
	_ = b.SaveWant(ctx, garden.Want{ID: 99, Crop: "carrot", Basis: garden.Total, Amount: 1, Weight: 1})
	if same := at(); same != one {
		t.Error("a change that failed counted")
	}
}

func TestJournalIsOnlyEverAddedTo(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	bed := mustGarden(t, b).Beds[1].ID
	entries := []garden.Entry{
		{Date: civil.Of(2027, 5, 2), Kind: garden.Harvested, BedID: bed, Planting: "kept-1", Amount: 0.75, Text: "first spears"},
		{Date: civil.Of(2027, 4, 1), Kind: garden.Frost, Text: "white \"everywhere\""},
		{Date: civil.Of(2027, 5, 2), Kind: garden.Noted},
	}
	for i := range entries {
		id, err := b.Append(ctx, entries[i])
		check(t, err)
		entries[i].ID = id
	}
	got, err := b.Journal(ctx, civil.Span{From: civil.Of(2027, 4, 1), To: civil.Of(2027, 5, 2)})
	if diff := cmp.Diff([]garden.Entry{entries[1], entries[0], entries[2]}, got); diff != "" || err != nil {
		t.Errorf("(-told +kept) %v:\n%s", err, diff)
	}
	if got, err := b.Journal(ctx, civil.Span{From: civil.Of(2027, 4, 2), To: civil.Of(2027, 5, 1)}); err != nil || len(got) != 0 {
		t.Errorf("between them: %v, %v", got, err)
	}
	if got, err := b.Journal(ctx, civil.Span{From: -1 << 30, To: 1 << 30}); err != nil || len(got) != 3 {
		t.Errorf("in all time: %v, %v", got, err)
	}
	for _, query := range []string{"UPDATE journal SET text = 'x'", "DELETE FROM journal"} {
		if _, err := b.db.ExecContext(ctx, query); err == nil || !strings.Contains(err.Error(), "only ever added to") {
			t.Errorf("%s: %v", query, err)
		}
	}
	_, err = b.Append(ctx, garden.Entry{Date: civil.Of(2027, 5, 2), Kind: "pondered"})
	if err == nil {
		t.Error("a kind that is none was written")
	}
	_, err = b.Append(ctx, garden.Entry{Date: civil.Of(2027, 5, 2), Kind: garden.Sowed, BedID: 99})
	wantTrouble(t, err, Unknown, "bed 99")
	_, err = b.Append(ctx, garden.Entry{Date: civil.Of(2027, 5, 2), Kind: garden.Sowed, Planting: "2027-99"})
	wantTrouble(t, err, Unknown, "2027-99")
}

func TestContextEndsAChange(t *testing.T) {
	b := newBook(t, Options{})
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if err := b.SaveSite(ctx, ground().Site); err == nil {
		t.Error("a change was made after its end")
	}
	if g := mustGarden(t, b); g.Site.Name != "" {
		t.Error("it was kept")
	}
}

func TestEverythingIsInOneFile(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	check(t, b.Close())
	alone := func(after string) {
		t.Helper()
		files, err := os.ReadDir(filepath.Dir(b.Path()))
		if err != nil || len(files) != 1 {
			t.Errorf("after %s, beside the book lie %v, %v", after, files, err)
		}
	}
	alone("writing")
	reader, err := Open(t.Context(), b.Path(), Options{ReadOnly: true})
	check(t, err)
	mustGarden(t, reader)
	check(t, reader.Close())
	alone("reading")
}

// What a want is to be grown under is kept, changed and brought in with a description.
func TestWantsKeepTheirCover(t *testing.T) {
	b := newBook(t, Options{})
	ctx := t.Context()
	g := ground()
	g.Wants[0].Under = "cold-frame"
	check(t, b.Import(ctx, g))
	now := mustGarden(t, b)
	if now.Wants[0].Under != "cold-frame" || now.Wants[1].Under != "" {
		t.Fatalf("imported: %+v", now.Wants)
	}
	now.Wants[1].Under = garden.InTheOpen
	check(t, b.SaveWant(ctx, now.Wants[1]))
	now.Wants[0].Under = "glass palace"
	if err := b.SaveWant(ctx, now.Wants[0]); err == nil || !strings.Contains(err.Error(), "no cover") {
		t.Errorf("a cover that is none: %v", err)
	}
	if again := mustGarden(t, b); again.Wants[0].Under != "cold-frame" || again.Wants[1].Under != garden.InTheOpen {
		t.Errorf("kept: %+v", again.Wants)
	}
}
