package book

import (
	"database/sql"
	"fmt"
	"testing"
	"time"
)

// Tables kept under their digests come back, in the same book opened again and for reading only; that they are is no change of the garden.
func TestKeptTablesComeBack(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	before, err := b.Revision(ctx)
	check(t, err)
	b.KeepTables(ctx, map[string][]byte{"a": []byte("one"), "b": {0, 1, 255}})
	b.KeepTables(ctx, map[string][]byte{"a": []byte("other")})
	if after, err := b.Revision(ctx); err != nil || after != before {
		t.Errorf("the revision went from %d to %d, %v", before, after, err)
	}
	is := func(b *Book, what string) {
		t.Helper()
		got := b.KeptTables(ctx, []string{"a", "b", "c"})
		if len(got) != 2 || string(got["a"]) != "other" || string(got["b"]) != "\x00\x01\xff" {
			t.Errorf("%s: %q", what, got)
		}
	}
	is(b, "the book itself")
	path := b.Path()
	check(t, b.Close())
	reader, err := Open(ctx, path, Options{ReadOnly: true})
	check(t, err)
	defer reader.Close()
	is(reader, "for reading")
	reader.KeepTables(ctx, map[string][]byte{"c": {1}})
	is(reader, "for reading, after something was to be kept")
}

// Where there are too many, those go that were not asked for longest.
func TestTheOldestTablesGo(t *testing.T) {
	ctx := t.Context()
	day := noon()
	b := newBook(t, Options{})
	b.now = func() time.Time { return day }
	keep := func(digest string, most int) {
		t.Helper()
		check(t, b.shelve(ctx, func(tx *sql.Tx) error {
			return b.keepTables(ctx, tx, map[string][]byte{digest: make([]byte, 100)}, most)
		}))
		day = day.AddDate(0, 0, 1)
	}
	for i := range 5 {
		keep(fmt.Sprint(i), 1000)
	}
	b.KeptTables(ctx, []string{"0", "9"}) // asked for again: the youngest now
	keep("5", 350)
	got := b.KeptTables(ctx, []string{"0", "1", "2", "3", "4", "5"})
	for digest, want := range map[string]bool{"0": true, "1": false, "2": false, "3": false, "4": true, "5": true} {
		if _, ok := got[digest]; ok != want {
			t.Errorf("table %s is kept: %v", digest, ok)
		}
	}
	keep("huge", 50)
	if got := b.KeptTables(ctx, []string{"0", "4", "5", "huge"}); len(got) != 0 {
		t.Errorf("beyond the most, %d are kept", len(got))
	}
}

// A book of an earlier schema, or one that is full, keeps and gives none, and nothing else suffers.
func TestTablesAreNeverNeeded(t *testing.T) {
	ctx := t.Context()
	old, _ := bookOfSchema(t, 9)
	defer old.Close()
	old.KeepTables(ctx, map[string][]byte{"a": {1}})
	if got := old.KeptTables(ctx, []string{"a"}); len(got) != 0 {
		t.Errorf("a book without room for tables gives %d", len(got))
	}
	full := newBook(t, Options{maxPages: 300})
	check(t, full.Import(ctx, ground()))
	full.KeepTables(ctx, map[string][]byte{"a": make([]byte, 4<<20)})
	if got := full.KeptTables(ctx, []string{"a"}); len(got) != 0 {
		t.Errorf("a full book gives %d", len(got))
	}
	if got := mustGarden(t, full); len(got.Beds) != len(ground().Beds) {
		t.Errorf("%d beds of %d are left", len(got.Beds), len(ground().Beds))
	}
}
