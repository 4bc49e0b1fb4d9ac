package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// early is an invented variety.
func early() crop.Variety {
	return crop.Variety{Name: "The neighbour's early bean", Base: "bean-bush", Days: "44–46", From: crop.Sow, InRow: "4 in", BetweenRows: "40 cm", Yield: "2 kg/m²", Note: "saved seed"}
}

// rootFile is a whole crop of one's own: the catalogue's carrot under another name.
func rootFile(t *testing.T) crop.File {
	t.Helper()
	text, ok := crop.FileText("carrot")
	if !ok {
		t.Fatal("no file of the carrot")
	}
	return crop.File{ID: "winter-root", Text: strings.Replace(text, `kind = "carrot"`, `kind = "winter root"`, 1)}
}

func mustCrops(t *testing.T, b *Book) *crop.Catalogue {
	t.Helper()
	crops, aside, err := b.Catalogue(t.Context())
	check(t, err)
	if len(aside) > 0 {
		t.Errorf("set aside are %v", aside)
	}
	return crops
}

func TestOwnCrops(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	check(t, b.SaveCropFile(ctx, rootFile(t)))
	id, err := b.AddVariety(ctx, early())
	check(t, err)
	if id != "the-neighbours-early-bean" {
		t.Errorf("its ID is %q", id)
	}
	v := early()
	v.ID = id
	if diff := cmp.Diff(crop.OwnCrops{Files: []crop.File{rootFile(t)}, Varieties: []crop.Variety{v}}, mustGarden(t, b).Own); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	if c, ok := mustCrops(t, b).Find(id); !ok || c.Methods[0].Days.Mid() != 45 {
		t.Errorf("the crop made of it is %+v", c)
	}
	_, err = b.AddWant(ctx, garden.Want{Crop: id, Basis: garden.Total, Amount: 1, Weight: 1})
	check(t, err)

	v.Days, v.Name = "50", "Early bean"
	check(t, b.SaveVariety(ctx, v))
	if c, _ := mustCrops(t, b).Find(id); c.Methods[0].Days.Mid() != 50 || c.Type != "Early bean" {
		t.Errorf("changed it is %+v", c)
	}
	changed := rootFile(t)
	changed.Text = strings.Replace(changed.Text, `kind = "winter root"`, `kind = "summer root"`, 1)
	check(t, b.SaveCropFile(ctx, changed))
	if c, _ := mustCrops(t, b).Find("winter-root"); c.Kind != "summer root" {
		t.Errorf("changed it is %q", c.Kind)
	}
}

// What cannot be used is refused on the way in, beside its field, and nothing of it is kept.
func TestOwnCropsAreRefused(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	check(t, b.SaveCropFile(ctx, rootFile(t)))
	_, err := b.AddVariety(ctx, early())
	check(t, err)
	ofRoot, err := b.AddVariety(ctx, crop.Variety{Name: "early root", Base: "winter-root", Days: "60", From: crop.Sow})
	check(t, err)
	before := mustGarden(t, b)

	variety := func(change func(*crop.Variety)) error {
		v := early()
		v.Name = "another bean"
		change(&v)
		_, err := b.AddVariety(ctx, v)
		return err
	}
	text := rootFile(t).Text
	planted := strings.NewReplacer(`way = "sow"`, `way = "set"`, "[seed]", "[seed]\nsets = { v = \"300 /kg\", q = \"own\" }").Replace(text)
	rows := []struct {
		name  string
		err   error
		field string
		says  string
	}{
		{"days", variety(func(v *crop.Variety) { v.Days = "soon" }), "days", `"soon"`},
		{"base", variety(func(v *crop.Variety) { v.Base = "gold" }), "base", `no crop "gold"`},
		{"name", variety(func(v *crop.Variety) { v.Name = "the neighbour's EARLY beans" }), "name", "already means snap bean"},
		{"kind", variety(func(v *crop.Variety) { v.Name = "bush bean" }), "name", "already means snap bean, bush (bean-bush)"},
		{"ID of another", variety(func(v *crop.Variety) { v.ID = ofRoot }), "id", "of your own with the ID"},
		{"ID of the catalogue", variety(func(v *crop.Variety) { v.ID = "carrot" }), "id", "the catalogue has a crop"},
		{"text", b.SaveCropFile(ctx, crop.File{ID: "x", Text: "kind = 3"}), "text", "x.toml:1:8"},
		{"file ID", b.SaveCropFile(ctx, crop.File{ID: "My root", Text: text}), "text", "cannot be one"},
		{"file of a variety's ID", b.SaveCropFile(ctx, crop.File{ID: ofRoot, Text: text}), "id", "of your own with the ID"},
		{"a variety's ground", b.SaveCropFile(ctx, crop.File{ID: "winter-root", Text: planted}), "text", `your variety "early root" could no longer be one of it`},
	}
	for _, r := range rows {
		ps, ok := r.err.(garden.Problems)
		if !ok || len(ps) == 0 || ps[0].Field != r.field || !strings.Contains(ps.Error(), r.says) {
			t.Errorf("%s: %v", r.name, r.err)
		}
	}
	wantTrouble(t, b.SaveVariety(ctx, crop.Variety{ID: "none", Name: "n", Base: "carrot"}), Unknown, "variety none")
	_, err = b.RemoveCrop(ctx, "carrot")
	wantTrouble(t, err, Unknown, "crop carrot of your own")
	if diff := cmp.Diff(before, mustGarden(t, b)); diff != "" {
		t.Errorf("something of it was kept:\n%s", diff)
	}
}

// A crop that nothing names is taken out whole; one that the past names is kept aside; one that is wanted, or
// that varieties are of, stays.
func TestOwnCropsAreTakenOut(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	check(t, b.SaveCropFile(ctx, rootFile(t)))
	id, err := b.AddVariety(ctx, early())
	check(t, err)
	ofRoot, err := b.AddVariety(ctx, crop.Variety{Name: "early root", Base: "winter-root", Days: "60"})
	check(t, err)
	want, err := b.AddWant(ctx, garden.Want{Crop: "the neighbour's early bean", Basis: garden.Total, Amount: 1, Weight: 1})
	check(t, err)
	_, err = b.RemoveCrop(ctx, id)
	wantTrouble(t, err, Refused, `the want for "the neighbour's early bean" names it`)
	check(t, b.RemoveWant(ctx, want))
	_, err = b.RemoveCrop(ctx, "winter-root")
	wantTrouble(t, err, Refused, `your variety "early root" is one of it`)

	bed := mustGarden(t, b).Beds[0].ID
	_, err = b.AddPast(ctx, garden.Past{BedID: bed, Year: 2026, CropID: id})
	check(t, err)
	if retired, err := b.RemoveCrop(ctx, id); err != nil || !retired {
		t.Errorf("a crop of the history: retired %v, %v", retired, err)
	}
	if c, ok := mustCrops(t, b).Find(id); !ok || !c.Retired || c.Family != "Fabaceae" {
		t.Error("the history can no longer name it")
	}
	if retired, err := b.RemoveCrop(ctx, ofRoot); err != nil || retired {
		t.Errorf("a crop that nothing names: retired %v, %v", retired, err)
	}
	if retired, err := b.RemoveCrop(ctx, "winter-root"); err != nil || retired {
		t.Errorf("a file that nothing names: retired %v, %v", retired, err)
	}
	if own := mustGarden(t, b).Own; len(own.Files) != 0 || len(own.Varieties) != 1 {
		t.Errorf("left are %+v", own)
	}
	again := early()
	again.ID = id
	check(t, b.SaveVariety(ctx, again))
	if c, _ := mustCrops(t, b).Find(id); c.Retired {
		t.Error("saved anew it is not grown again")
	}
}

// A plan keeps its own crops' names alive.
func TestAPlannedOwnCropIsRetired(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	id, err := b.AddVariety(ctx, early())
	check(t, err)
	p := &plan.Plan{Season: civil.SeasonOf(2027, 42), Plantings: []garden.Planting{{
		Key: "2027-01", BedID: mustGarden(t, b).Beds[0].ID, CropID: id, Start: civil.Of(2027, 5, 1), Clear: civil.Of(2027, 8, 1), Status: garden.Planned, Role: garden.Alone,
	}}}
	_, err = b.SavePlan(ctx, p)
	check(t, err)
	if retired, err := b.RemoveCrop(ctx, id); err != nil || !retired {
		t.Errorf("retired %v, %v", retired, err)
	}
}

// A description brings its own crops and takes none of the book's away; a bad one changes nothing.
func TestImportOfOwnCrops(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	g := ground()
	v := early()
	v.ID = "early-bean"
	g.Own = crop.OwnCrops{Files: []crop.File{rootFile(t)}, Varieties: []crop.Variety{v, {ID: "early-root", Name: "early root", Base: "winter-root", Retired: true}}}
	check(t, b.Import(ctx, g))
	if diff := cmp.Diff(g.Own, mustGarden(t, b).Own); diff != "" {
		t.Errorf("(-told +kept):\n%s", diff)
	}
	check(t, b.Import(ctx, ground()))
	if diff := cmp.Diff(g.Own, mustGarden(t, b).Own); diff != "" {
		t.Errorf("a description without own crops took some away:\n%s", diff)
	}
	g.Site.Name = "Changed"
	g.Own.Varieties[0].Days = "soon"
	wantTrouble(t, b.Import(ctx, g), Refused, `your own variety "The neighbour's early bean" is set aside: days: "soon"`)
	if now := mustGarden(t, b); now.Site.Name == "Changed" || now.Own.Varieties[0].Days != "44–46" {
		t.Error("a refused description changed the book")
	}
	g.Own.Varieties[0].Days, g.Own.Varieties[1].ID = "44", "early-bean"
	wantTrouble(t, b.Import(ctx, g), Refused, "another of your own crops has the ID")
}

// A stored crop that this kailyard refuses is set aside with a sentence, and everything else works.
func TestAStoredCropThatIsRefused(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	id, err := b.AddVariety(ctx, early())
	check(t, err)
	_, err = b.db.ExecContext(ctx, "INSERT INTO crop_file (id, position, text) VALUES ('strange', 1, 'kind = 3')")
	check(t, err)
	_, err = b.db.ExecContext(ctx, "INSERT INTO variety (id, position, name, base, days, days_from, in_row, between_rows, yield, note) VALUES ('odd', 9, 'odd', 'strange', '', '', '', '', '', '')")
	check(t, err)
	crops, aside, err := b.Catalogue(ctx)
	check(t, err)
	if len(aside) != 2 || !strings.Contains(aside[0].Error(), `your own crop "strange" is set aside: strange.toml:1:8`) {
		t.Errorf("set aside are %v", aside)
	}
	if _, ok := crops.Find(id); !ok {
		t.Error("the good one went with them")
	}
	if len(mustGarden(t, b).Own.Files) != 1 {
		t.Error("it is no longer in the book")
	}
	check(t, b.SaveCropFile(ctx, rootFile(t)))
	for _, id := range []string{"odd", "strange"} {
		_, err = b.RemoveCrop(ctx, id)
		check(t, err)
	}
	mustCrops(t, b)
}
