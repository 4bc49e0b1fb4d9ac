package book

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/weather"
)

// bookOfSchema makes an empty book of an earlier schema, open for writing by its own rules, and tells where it lies.
func bookOfSchema(t *testing.T, schema int64) (*Book, string) {
	t.Helper()
	ctx := t.Context()
	path := filepath.Join(t.TempDir(), "garden.kailyard")
	check(t, os.WriteFile(path, nil, 0o644))
	l, err := lockFor(path, noon())
	check(t, err)
	b, err := begin(ctx, path, Options{now: noon}, l)
	check(t, err)
	_, err = b.db.ExecContext(ctx, "PRAGMA application_id = "+number(applicationID))
	check(t, err)
	p, err := provider(b.db)
	check(t, err)
	_, err = p.UpTo(ctx, schema)
	check(t, err)
	return b, path
}

// firstSchema makes a book as the first schema had it, with a garden, a journal and, laid in as that
// schema laid it, a record.
func firstSchema(t *testing.T, r *weather.Record) string {
	t.Helper()
	ctx := t.Context()
	b, path := bookOfSchema(t, 1)
	check(t, b.Import(ctx, ground()))
	_, err := b.Append(ctx, garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Noted, Text: "worms"})
	check(t, err)
	if r != nil {
		station, err := json.Marshal(r.Station)
		check(t, err)
		notes, err := json.Marshal(r.Notes)
		check(t, err)
		_, err = b.db.ExecContext(ctx, "INSERT INTO weather (id, origin, source, station_json, notes_json) VALUES (1, $1, $2, $3, $4)", string(r.Origin), r.Source, station, notes)
		check(t, err)
		for days := r.Days; len(days) > 0; {
			year := days[0].Date.Year()
			n := min(len(days), int(civil.Of(year+1, 1, 1)-days[0].Date))
			_, err = b.db.ExecContext(ctx, "INSERT INTO weather_year (year, first_day, days) VALUES ($1, $2, $3)", year, days[0].Date.String(), packDays(days[:n]))
			check(t, err)
			days = days[n:]
		}
	}
	check(t, b.Close())
	return path
}

func number(n int) string { text, _ := json.Marshal(n); return string(text) }

// A book of the first schema: opened for reading it is told to be older, opened for writing it is
// brought up to date with everything in it, and a copy as it was lies beside it.
func TestABookOfTheFirstSchema(t *testing.T) {
	ctx := t.Context()
	path := firstSchema(t, record3())
	_, err := Open(ctx, path, Options{ReadOnly: true})
	wantTrouble(t, err, Older, "older kailyard", "open it once for writing")

	b, err := Open(ctx, path, Options{now: noon})
	check(t, err)
	if diff := cmp.Diff(ground(), mustGarden(t, b), plain); diff != "" {
		t.Errorf("the garden (-before +after):\n%s", diff)
	}
	got, err := b.Record(ctx)
	check(t, err)
	if diff := cmp.Diff(record3(), got); diff != "" {
		t.Errorf("the record (-before +after):\n%s", diff)
	}
	if told, err := b.Journal(ctx, civil.Span{From: 0, To: 1 << 30}); err != nil || len(told) != 1 || told[0].Text != "worms" {
		t.Errorf("the journal: %v, %v", told, err)
	}
	kept, err := b.Records(ctx)
	if err != nil || len(kept) != 1 || !kept[0].InUse || !kept[0].Kept.IsZero() || kept[0].First != record3().Days[0].Date || kept[0].Last != civil.Of(2026, 2, 3) {
		t.Errorf("the kept records: %+v, %v", kept, err)
	}
	check(t, b.SaveRecord(ctx, record3())) // the same again is not kept twice
	if again, _ := b.Records(ctx); len(again) != 1 {
		t.Errorf("the same record is kept %d times", len(again))
	}
	check(t, b.Close())

	copied := path + ".schema-1"
	check(t, sound(ctx, copied))
	old, err := Open(ctx, copied, Options{ReadOnly: true, anyAge: true})
	check(t, err)
	if schema, err := old.schema(ctx); err != nil || schema != 1 {
		t.Errorf("the copy has schema %d, %v", schema, err)
	}
	if diff := cmp.Diff(ground(), mustGarden(t, old), plain); diff != "" {
		t.Errorf("the copy's garden:\n%s", diff)
	}
	check(t, old.Close())

	// The copy can be put back, and is brought up to date in turn.
	_, err = Restore(ctx, copied, path)
	check(t, err)
	back, err := Open(ctx, path, Options{})
	check(t, err)
	defer back.Close()
	if got, err := back.Record(ctx); err != nil || !cmp.Equal(record3(), got) {
		t.Errorf("the record of the copy put back: %v", err)
	}
}

func TestABookOfTheFirstSchemaWithoutARecord(t *testing.T) {
	b, err := Open(t.Context(), firstSchema(t, nil), Options{now: noon})
	check(t, err)
	defer b.Close()
	_, err = b.Record(t.Context())
	wantTrouble(t, err, Unknown, "no weather record yet")
	check(t, b.SaveRecord(t.Context(), record3()))
}

// An upgrade that fails, here for want of room, leaves the book as it was.
func TestAnUpgradeThatFails(t *testing.T) {
	ctx := t.Context()
	path := firstSchema(t, record3())
	_, err := Open(ctx, path, Options{maxPages: 40, now: noon})
	wantTrouble(t, err, Full)
	old, err := Open(ctx, path, Options{ReadOnly: true, anyAge: true})
	check(t, err)
	if schema, err := old.schema(ctx); err != nil || schema != 1 {
		t.Errorf("after a failed upgrade the schema is %d, %v", schema, err)
	}
	if diff := cmp.Diff(ground(), mustGarden(t, old), plain); diff != "" {
		t.Error(diff)
	}
	check(t, old.Close())
	b, err := Open(ctx, path, Options{})
	check(t, err)
	defer b.Close()
	if got, err := b.Record(ctx); err != nil || !cmp.Equal(record3(), got) {
		t.Errorf("the record at the second try: %v", err)
	}
}

// No record is lost by another: both stay, and either can be used.
func TestRecordsAreKept(t *testing.T) {
	ctx := t.Context()
	clock := noon()
	b := newBook(t, Options{})
	b.now = func() time.Time { return clock }
	first, second := record3(), record3()
	last := second.Days[len(second.Days)-1]
	last.Date++
	second.Days = append(second.Days, last)
	check(t, b.SaveRecord(ctx, first))
	clock = clock.AddDate(0, 0, 1)
	check(t, b.SaveRecord(ctx, second))
	kept, err := b.Records(ctx)
	check(t, err)
	if len(kept) != 2 || kept[0].ID != 2 || !kept[0].InUse || kept[1].InUse || kept[0].Last != kept[1].Last+1 || !kept[0].Kept.After(kept[1].Kept) {
		t.Errorf("kept are %+v", kept)
	}
	if got, err := b.RecordOf(ctx, 1); err != nil || !cmp.Equal(first, got) {
		t.Errorf("the first: %v", err)
	}
	check(t, b.UseRecord(ctx, 1))
	if got, err := b.Record(ctx); err != nil || !cmp.Equal(first, got) {
		t.Errorf("in use: %v", err)
	}
	check(t, b.SaveRecord(ctx, second)) // given again: used again, not kept twice
	if kept, err := b.Records(ctx); err != nil || len(kept) != 2 || !kept[0].InUse {
		t.Errorf("kept are %+v, %v", kept, err)
	}
	wantTrouble(t, b.UseRecord(ctx, 9), Unknown, "weather record 9")
	_, err = b.RecordOf(ctx, 9)
	wantTrouble(t, err, Unknown, "weather record 9")
	// The two differ in one year and share the others.
	if n := rows(t, b, "weather_run"); n != 5 {
		t.Errorf("%d runs are kept for two records of four years that differ in one", n)
	}
	for _, query := range []string{
		"DELETE FROM weather_record", "UPDATE weather_record SET source = 'x'", "DELETE FROM weather_run",
		"UPDATE weather_run SET days = x''", "DELETE FROM weather_record_run", "UPDATE weather_record_run SET year = 1",
	} {
		if _, err := b.db.ExecContext(ctx, query); err == nil {
			t.Errorf("%s went through", query)
		}
	}
}

func rows(t *testing.T, b *Book, table string) (n int) {
	t.Helper()
	check(t, b.db.QueryRowContext(t.Context(), "SELECT count(*) FROM "+table).Scan(&n))
	return n
}

func TestPieces(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	year := func(y int) weather.Piece {
		r := record3()
		var days []weather.Day
		for _, d := range r.Days {
			if d.Date.Year() == y {
				days = append(days, d)
			}
		}
		r.Days = days
		return weather.Piece{Service: "power", Place: "42.4,-76.5", Year: y, Asked: civil.Of(2026, 2, 4), Until: days[len(days)-1].Date, Record: r}
	}
	nothing := weather.Piece{Service: "power", Place: "42.4,-76.5", Year: 2022, Asked: civil.Of(2026, 2, 4), Until: civil.Of(2022, 12, 31)}
	want := []weather.Piece{nothing, year(2024), year(2025)}
	for _, i := range []int{2, 0, 1} {
		check(t, b.KeepPiece(ctx, want[i]))
	}
	other := year(2025)
	other.Place = "elsewhere"
	check(t, b.KeepPiece(ctx, other))
	got, err := b.Pieces(ctx, "power", "42.4,-76.5")
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Errorf("%v (-kept +got):\n%s", err, diff)
	}
	want[2].Asked++ // asked again: the later answer counts
	want[2].Record.Days[0].Rain = 77
	check(t, b.KeepPiece(ctx, want[2]))
	if got, err = b.Pieces(ctx, "power", "42.4,-76.5"); err != nil || !cmp.Equal(want, got) {
		t.Errorf("asked again: %v", err)
	}
	wrong := year(2025)
	wrong.Year = 2024
	wantTrouble(t, b.KeepPiece(ctx, wrong), Refused, "2025-01-01 does not belong")
	wantTrouble(t, b.KeepPiece(ctx, weather.Piece{}), Refused)
	ended, stop := context.WithCancel(ctx)
	stop()
	if err := b.KeepPiece(ended, year(2026)); err == nil {
		t.Error("a piece was kept after the end")
	}
	if got, _ := b.Pieces(ctx, "power", "42.4,-76.5"); len(got) != 3 {
		t.Errorf("%d pieces", len(got))
	}
}
