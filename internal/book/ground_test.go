package book

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func ptr[T any](v T) *T { return &v }

// tilled is the invented garden with all that can be told of its ground.
func tilled() garden.Garden {
	g := ground()
	g.Site.Soil = garden.Soil{Texture: garden.SiltLoam, Topsoil: 0.2, Drift: garden.TowardsAcid, Tilled: 0.25, Spit: garden.Tiller, Bucket: 7.5, Weighs: quantity.Metric, Natural: true, Lime: "limestone-dolomitic", Organic: "leaf-mould"}
	g.Beds[1].Soil = garden.Soil{Texture: garden.Clay, State: garden.Sod, Topsoil: 0.1}
	g.Tests = []garden.SoilTest{
		{Date: civil.Of(2026, 3, 1), Kit: true, PH: ptr(5.0), FreeLime: ptr(false), Elements: []garden.Reading{{Element: garden.Nitrogen, Class: garden.Low, Extractor: garden.HomeKit}}},
		{
			Date: civil.Of(2026, 10, 2), Beds: []int64{2, 1}, Depth: 0.1524, PH: ptr(5.6), Salt: true, Buffer: ptr(6.4), Method: garden.SMP, Acidity: ptr(4.5),
			Elements: []garden.Reading{{Element: garden.Potassium, Value: 120, Unit: garden.PPM, Class: garden.Medium, Extractor: garden.Mehlich3}, {Element: garden.Phosphorus, Value: 14.5, Unit: garden.PoundPerAcre, Extractor: garden.Bray1}},
			Organic:  ptr(3.1), CEC: ptr(11.0), Texture: garden.Loam, Salts: ptr(0.4), SaltsBy: garden.OneToTwo, Lead: ptr(80.0), Lab: "a laboratory", Note: "n",
		},
	}
	g.Treatments = []garden.Treatment{
		{Date: civil.Of(2026, 10, 20), BedID: 1, Material: "limestone-ground", Amount: 2.72, Depth: 0.15, Note: "n"},
		{Date: civil.Of(2026, 10, 20), BedID: 2, Material: "leaf-mould", Volume: 120},
	}
	g.Packages = []garden.Package{
		{Material: "limestone-ground", Mass: 18.14, Price: 6.5, CCE: ptr(95.0), Fineness: ptr(88.0)},
		{Material: "blend-1", Name: "n", Volume: 50, N: ptr(10.0), P2O5: ptr(0.0), K2O: ptr(8.0)},
	}
	g.Heaps = []garden.Heap{
		{
			Name: "Behind the shed", Started: civil.Of(2026, 10, 10), Emptied: ptr(civil.Of(2027, 3, 1)), Note: "n",
			Put: []garden.HeapPart{{Feedstock: "leaves", Volume: 340}, {Feedstock: "grass-clippings", Volume: 120, Moisture: ptr(75.0)}},
			Log: []garden.HeapEntry{{Date: civil.Of(2026, 10, 13), Kind: garden.HeapHeat, Celsius: ptr(quantity.Celsius(58))}, {Date: civil.Of(2026, 10, 16), Kind: garden.HeapTurned, Text: "dry inside"}},
		},
		{Name: "New", Started: civil.Of(2027, 3, 2)},
	}
	return g
}

// plainGround leaves out what the book numbers for itself, of the ground too.
var plainGround = cmp.Options{
	plain, cmpopts.IgnoreFields(garden.SoilTest{}, "ID", "Beds"), cmpopts.IgnoreFields(garden.Treatment{}, "EntryID", "BedID"),
	cmpopts.IgnoreFields(garden.Package{}, "ID"), cmpopts.IgnoreFields(garden.Heap{}, "ID"),
}

func TestTheGroundComesBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, tilled()))
	first := mustGarden(t, b)
	if diff := cmp.Diff(tilled(), first, plainGround); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	one, two := first.Beds[0].ID, first.Beds[1].ID
	if len(first.Tests) != 2 || first.Tests[0].Beds != nil || !cmp.Equal(first.Tests[1].Beds, []int64{two, one}) || first.Treatments[1].BedID != two {
		t.Errorf("tests and treatments are not of their beds: %+v", first.Tests)
	}
	same := cmpopts.IgnoreFields(garden.Planting{}, "ID")
	check(t, b.Import(ctx, tilled())) // once more: nothing is doubled
	if diff := cmp.Diff(first, mustGarden(t, b), same); diff != "" {
		t.Errorf("importing the same again (-before +after):\n%s", diff)
	}
	bare := ground()
	bare.Site.Soil, bare.Beds[1].Soil = tilled().Site.Soil, tilled().Beds[1].Soil
	check(t, b.Import(ctx, bare)) // a description without them takes none away
	if diff := cmp.Diff(first, mustGarden(t, b), same); diff != "" {
		t.Errorf("importing without (-before +after):\n%s", diff)
	}
	entries, err := b.Journal(ctx, civil.Span{From: 0, To: 1 << 30})
	if err != nil || len(entries) != 2 || entries[0].Kind != garden.Fed || entries[0].Material != "limestone-ground" || entries[0].Depth != 0.15 || entries[1].Volume != 120 {
		t.Errorf("the journal: %+v, %v", entries, err)
	}

	// More of the same things: a heap's later days, a new price, a further test.
	more := tilled()
	more.Heaps[0].Log = append(more.Heaps[0].Log, garden.HeapEntry{Date: civil.Of(2026, 11, 1), Kind: garden.HeapChecked})
	more.Packages[0].Price = 7
	more.Tests = append(more.Tests, garden.SoilTest{Date: civil.Of(2027, 9, 1), PH: ptr(6.1)})
	check(t, b.Import(ctx, more))
	if diff := cmp.Diff(more, mustGarden(t, b), plainGround); diff != "" {
		t.Errorf("more (-told +kept):\n%s", diff)
	}
}

// What was told of the ground stays as it was told.
func TestTheGroundIsOnlyAddedTo(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, tilled()))
	g := mustGarden(t, b)
	check(t, b.WithdrawTest(ctx, g.Tests[1].ID))
	wantTrouble(t, b.WithdrawTest(ctx, g.Tests[1].ID), Unknown, "soil test")
	if now := mustGarden(t, b).Tests; len(now) != 1 || now[0].ID != g.Tests[0].ID {
		t.Errorf("counting are %+v", now)
	}
	gone, err := b.WithdrawnTests(ctx)
	if err != nil || !cmp.Equal(gone, g.Tests[1:]) {
		t.Errorf("withdrawn are %+v, %v", gone, err)
	}
	check(t, b.Import(ctx, tilled())) // a description of before does not bring it back
	if len(mustGarden(t, b).Tests) != 1 {
		t.Error("a withdrawn test counts again")
	}
	for _, query := range []string{
		"UPDATE soil_test SET ph = 7", "DELETE FROM soil_test", "UPDATE soil_test_bed SET bed_id = 1", "DELETE FROM soil_test_bed", "UPDATE soil_test_reading SET value = 1",
		"DELETE FROM soil_test_reading", "DELETE FROM soil_test_withdrawn", "UPDATE soil_test_withdrawn SET test_id = 1", "UPDATE treatment SET depth_m = 1", "DELETE FROM treatment",
		"UPDATE heap_log SET text = ''", "DELETE FROM heap_log", "UPDATE journal SET text = ''", "DELETE FROM journal",
	} {
		if _, err := b.db.ExecContext(ctx, query); err == nil {
			t.Errorf("%s went through", query)
		}
	}
	if _, err := b.AddTest(ctx, garden.SoilTest{Date: civil.Of(2027, 4, 1), PH: ptr(65.0)}); err == nil {
		t.Error("pH 65 was kept")
	}
	_, err = b.AddTest(ctx, garden.SoilTest{Date: civil.Of(2027, 4, 1), PH: ptr(6.5), Beds: []int64{99}})
	wantTrouble(t, err, Unknown, "bed 99")
	if _, err := b.Append(ctx, garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: g.Beds[0].ID, Material: "limestone-ground"}); err == nil {
		t.Error("nothing of a material was kept")
	}
	if _, err := b.Append(ctx, garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: g.Beds[0].ID, Material: "gold-dust", Amount: 1}); err == nil {
		t.Error("a material that nobody knows was kept")
	}
	strange := tilled()
	strange.Treatments[0].Material = "ground-limestone"
	wantTrouble(t, b.Import(ctx, strange), Refused, `treatment 1: no material "ground-limestone" is known`, "limestone-ground")
	if len(mustGarden(t, b).Tests) != 1 || rows(t, b, "soil_test") != 2 {
		t.Error("something of what was refused is in the book")
	}
}

// A bed that a test speaks of is retired, and the test counts for its other beds only.
func TestABedOfATestIsRetired(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	id, err := b.AddBed(ctx, garden.Bed{Name: "A", Length: 3, Width: 1, Sun: 8, Soil: garden.Soil{Texture: garden.Sand}})
	check(t, err)
	other, err := b.AddBed(ctx, garden.Bed{Name: "B", Length: 3, Width: 1, Sun: 8})
	check(t, err)
	unspoken, err := b.AddBed(ctx, garden.Bed{Name: "C", Length: 3, Width: 1, Sun: 8, Soil: garden.Soil{Texture: garden.Sand}})
	check(t, err)
	_, err = b.AddTest(ctx, garden.SoilTest{Date: civil.Of(2027, 4, 1), PH: ptr(6.5), Beds: []int64{id, other}})
	check(t, err)
	_, err = b.AddTest(ctx, garden.SoilTest{Date: civil.Of(2027, 4, 1), PH: ptr(6.4), Beds: []int64{id}})
	check(t, err)
	check(t, b.RemoveBed(ctx, id))
	check(t, b.RemoveBed(ctx, unspoken))
	if tests := mustGarden(t, b).Tests; len(tests) != 1 || !cmp.Equal(tests[0].Beds, []int64{other}) {
		t.Errorf("tests are %+v", tests)
	}
	gone, err := b.RetiredBeds(ctx)
	if err != nil || len(gone) != 1 || gone[0].Soil.Texture != garden.Sand || rows(t, b, "ground") != 1 {
		t.Errorf("retired are %+v, %v", gone, err)
	}
	if err := mustGarden(t, b).Validate(nil).Err(); err == nil || len(mustGarden(t, b).Validate(nil).Refused()) != 1 { // the site was never told of
		t.Errorf("the garden: %v", err)
	}
}

func TestPackagesAndHeaps(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	p := garden.Package{Material: "limestone-ground", Mass: 20}
	id, err := b.AddPackage(ctx, p)
	check(t, err)
	p.ID, p.Price = id, 5
	check(t, b.SavePackage(ctx, p))
	h := garden.Heap{Name: "H", Started: civil.Of(2027, 3, 2), Put: []garden.HeapPart{{Feedstock: "hay", Volume: 50}}}
	h.ID, err = b.AddHeap(ctx, h)
	check(t, err)
	entry := garden.HeapEntry{Date: civil.Of(2027, 3, 6), Kind: garden.HeapHeat, Celsius: ptr(quantity.Celsius(61))}
	check(t, b.AppendHeap(ctx, h.ID, entry))
	h.Put[0].Volume, h.Emptied = 60, ptr(civil.Of(2027, 8, 1))
	check(t, b.SaveHeap(ctx, h))
	h.Log = []garden.HeapEntry{entry}
	g := mustGarden(t, b)
	if diff := cmp.Diff(garden.Garden{Packages: []garden.Package{p}, Heaps: []garden.Heap{h}}, g); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	if err := b.AppendHeap(ctx, h.ID, garden.HeapEntry{Date: civil.Of(2027, 3, 1), Kind: garden.HeapTurned}); err == nil {
		t.Error("an entry from before the heap was kept")
	}
	wantTrouble(t, b.AppendHeap(ctx, 9, entry), Unknown, "heap 9")
	if _, err := b.AddPackage(ctx, garden.Package{Material: "limestone-ground"}); err == nil {
		t.Error("a package of nothing was kept")
	}
	if _, err := b.AddPackage(ctx, garden.Package{Material: "my-blend", Mass: 3}); err == nil {
		t.Error("a product without a label was kept")
	}
	if _, err := b.AddHeap(ctx, garden.Heap{Name: "G", Started: civil.Of(2027, 3, 2), Put: []garden.HeapPart{{Feedstock: "gold", Volume: 3}}}); err == nil {
		t.Error("a heap of gold was kept")
	}
	bed, err := b.AddBed(ctx, garden.Bed{Name: "A", Length: 3, Width: 1, Sun: 8})
	check(t, err)
	own, err := b.AddPackage(ctx, garden.Package{Material: "my-blend", Mass: 3, N: ptr(5.0), P2O5: ptr(5.0), K2O: ptr(5.0)})
	check(t, err)
	_, err = b.Append(ctx, garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: bed, Material: "my-blend", Amount: 1})
	check(t, err)
	wantTrouble(t, b.RemovePackage(ctx, own), Refused, "only package with its label")
	wantTrouble(t, b.SavePackage(ctx, garden.Package{ID: own, Material: "compost", Mass: 3}), Refused, "only package with its label")
	check(t, b.RemovePackage(ctx, id))
	check(t, b.RemoveHeap(ctx, h.ID))
	wantTrouble(t, b.RemovePackage(ctx, id), Unknown, "package")
	wantTrouble(t, b.SavePackage(ctx, p), Unknown, "package")
	wantTrouble(t, b.RemoveHeap(ctx, h.ID), Unknown, "heap")
	wantTrouble(t, b.SaveHeap(ctx, h), Unknown, "heap")
	if g := mustGarden(t, b); len(g.Packages) != 1 || len(g.Heaps) != 0 || rows(t, b, "heap_log") != 1 || rows(t, b, "package") != 2 {
		t.Errorf("taken out, but there are %+v and %+v", g.Packages, g.Heaps)
	}
}

// A copy holds the ground too, and a book of the schema before it is brought up to date.
func TestTheGroundIsCopiedAndUpgraded(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, tilled()))
	to := filepath.Join(t.TempDir(), "copy")
	check(t, b.Backup(ctx, to))
	path := filepath.Join(t.TempDir(), "garden.kailyard")
	_, err := Restore(ctx, to, path)
	check(t, err)
	back, err := Open(ctx, path, Options{})
	check(t, err)
	defer back.Close()
	if diff := cmp.Diff(mustGarden(t, b), mustGarden(t, back)); diff != "" {
		t.Errorf("(-copied +put back):\n%s", diff)
	}

	old := filepath.Join(t.TempDir(), "garden.kailyard")
	check(t, os.WriteFile(old, nil, 0o644))
	l, err := lockFor(old, noon())
	check(t, err)
	before, err := begin(ctx, old, Options{now: noon}, l)
	check(t, err)
	_, err = before.db.ExecContext(ctx, "PRAGMA application_id = "+number(applicationID))
	check(t, err)
	p, err := provider(before.db)
	check(t, err)
	_, err = p.UpTo(ctx, 5)
	check(t, err)
	g := ground()
	g.Site.Soil = garden.Soil{} // as it was told before there was more to tell
	check(t, before.Import(ctx, g))
	bed := mustGarden(t, before).Beds[0].ID
	_, err = before.Append(ctx, garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: bed, Amount: 3, Text: "compost"})
	check(t, err)
	check(t, before.Close())
	after, err := Open(ctx, old, Options{now: noon})
	check(t, err)
	defer after.Close()
	if diff := cmp.Diff(ground(), mustGarden(t, after), plainGround); diff != "" { // weighed in the site's units
		t.Errorf("(-before +after):\n%s", diff)
	}
	entries, err := after.Journal(ctx, civil.Span{From: 0, To: 1 << 30})
	if err != nil || len(entries) != 1 || entries[0].Text != "compost" || entries[0].Material != "" {
		t.Errorf("the journal: %+v, %v", entries, err)
	}
	check(t, after.Import(ctx, tilled()))
	if diff := cmp.Diff(tilled(), mustGarden(t, after), plainGround); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	check(t, sound(ctx, old+".schema-5"))
}
