package book

import (
	"bytes"
	"database/sql"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestNoBook(t *testing.T) {
	dir := t.TempDir()
	_, err := Open(t.Context(), filepath.Join(dir, "none.kailyard"), Options{})
	wantTrouble(t, err, Missing, "there is no garden book", "kailyard new")
	_, err = Create(t.Context(), filepath.Join(dir, "no", "folder.kailyard"))
	wantTrouble(t, err, Missing, "there is no folder")
	_, err = Open(t.Context(), dir, Options{})
	wantTrouble(t, err, NotABook, "is a folder")
}

func TestOtherFiles(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		check(t, os.WriteFile(path, []byte(text), 0o644))
		return path
	}
	foreign := filepath.Join(dir, "foreign.db")
	db, err := sql.Open("sqlite", foreign)
	check(t, err)
	_, err = db.Exec("CREATE TABLE t (x)")
	check(t, err)
	check(t, db.Close())
	rows := []struct{ path, holds string }{
		{write("text.toml", "[site]\n"), "is not a garden book"},
		{write("long.txt", strings.Repeat("beans\n", 100)), "is not a garden book"},
		{write("empty", ""), "is an empty file"},
		{write("cut", magic), "is not a garden book"},
		{foreign, "a database of another program"},
	}
	for _, r := range rows {
		before, err := os.ReadFile(r.path)
		check(t, err)
		for _, o := range []Options{{}, {ReadOnly: true}} {
			_, err := Open(t.Context(), r.path, o)
			wantTrouble(t, err, NotABook, r.holds)
		}
		_, err = Create(t.Context(), r.path)
		wantTrouble(t, err, Exists)
		if _, err = Restore(t.Context(), r.path, filepath.Join(dir, "to.kailyard")); err == nil {
			t.Errorf("%s was put in a book's place", r.path)
		}
		if after, err := os.ReadFile(r.path); err != nil || !bytes.Equal(before, after) {
			t.Errorf("%s was touched: %v", r.path, err)
		}
	}
	if left, err := filepath.Glob(filepath.Join(dir, "*.lock")); err != nil || len(left) != 0 {
		t.Errorf("locks were left: %v, %v", left, err)
	}
}

func TestOneWriterAtATime(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	_, err := Open(ctx, b.Path(), Options{})
	wantTrouble(t, err, InUse, "is open in another kailyard (since 2027-04-01 12:00, process "+fmt.Sprint(os.Getpid())+")", "close it first, or make a copy with kailyard backup")
	_, err = Restore(ctx, b.Path(), b.Path())
	wantTrouble(t, err, Refused)

	reader, err := Open(ctx, b.Path(), Options{ReadOnly: true}) // readers may look on
	check(t, err)
	if diff := cmp.Diff(mustGarden(t, b), mustGarden(t, reader)); diff != "" {
		t.Error(diff)
	}
	wantTrouble(t, reader.SaveSite(ctx, ground().Site), Protected, "open for reading only")
	was, err := reader.Revision(ctx)
	check(t, err)
	check(t, b.SaveSite(ctx, ground().Site))
	if now, err := reader.Revision(ctx); err != nil || now != was+1 {
		t.Errorf("a reader sees what is written: %d after %d, %v", now, was, err)
	}
	check(t, reader.Close())
	check(t, b.Close())
	again, err := Open(ctx, b.Path(), Options{})
	check(t, err)
	check(t, again.Close())
}

// The lock ends with its holder, however that ends: another process that holds it is killed.
func TestALockDiesWithItsHolder(t *testing.T) {
	if path := os.Getenv("KAILYARD_TEST_HOLD"); path != "" {
		if _, err := Open(t.Context(), path, Options{}); err != nil {
			fmt.Println("HELD NOT:", err)
		}
		fmt.Println("HELD")
		select {}
	}
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	check(t, b.Close())
	holder := exec.Command(os.Args[0], "-test.run=^TestALockDiesWithItsHolder$")
	holder.Env = append(os.Environ(), "KAILYARD_TEST_HOLD="+b.Path())
	out, err := holder.StdoutPipe()
	check(t, err)
	check(t, holder.Start())
	line := make([]byte, 4)
	if _, err := out.Read(line); err != nil || string(line) != "HELD" {
		t.Fatalf("the holder said %q, %v", line, err)
	}
	_, err = Open(t.Context(), b.Path(), Options{})
	wantTrouble(t, err, InUse, fmt.Sprintf("process %d", holder.Process.Pid))
	check(t, holder.Process.Kill())
	_ = holder.Wait()
	again, err := Open(t.Context(), b.Path(), Options{})
	check(t, err)
	defer again.Close()
	if g := mustGarden(t, again); len(g.Beds) != 2 {
		t.Errorf("after a killed writer: %+v", g)
	}
}

func TestWriteProtected(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	whole := mustGarden(t, b)
	check(t, b.Close())
	check(t, os.Chmod(b.Path(), 0o444))
	_, err := Open(ctx, b.Path(), Options{})
	wantTrouble(t, err, Protected, "write-protected")
	dir := filepath.Dir(b.Path())
	check(t, os.Chmod(dir, 0o555))
	t.Cleanup(func() { os.Chmod(dir, 0o755) })
	reader, err := Open(ctx, b.Path(), Options{ReadOnly: true})
	check(t, err)
	if diff := cmp.Diff(whole, mustGarden(t, reader)); diff != "" {
		t.Error(diff)
	}
	check(t, reader.Close())
	check(t, os.Chmod(b.Path(), 0o644))
	_, err = Open(ctx, b.Path(), Options{})
	wantTrouble(t, err, Protected, "the folder")
	_, err = Create(ctx, filepath.Join(dir, "other.kailyard"))
	wantTrouble(t, err, Protected, "the folder")
}

// A disk without room, as SQLite sees it: the change is refused whole, and everything before it stays.
func TestFullDisk(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{maxPages: 64})
	check(t, b.Import(ctx, ground()))
	small := record3()
	small.Days = small.Days[:60]
	check(t, b.SaveRecord(ctx, small))
	before := mustGarden(t, b)
	large := record3()
	for len(large.Days) < 20000 {
		next := large.Days[len(large.Days)-1]
		next.Date++
		large.Days = append(large.Days, next)
	}
	wantTrouble(t, b.SaveRecord(ctx, large), Full, "no room left", "free some room")
	if got, err := b.Record(ctx); err != nil || !cmp.Equal(small, got) {
		t.Errorf("the record before it: %v", err)
	}
	if diff := cmp.Diff(before, mustGarden(t, b)); diff != "" {
		t.Error(diff)
	}
	path := filepath.Join(t.TempDir(), "tiny.kailyard")
	_, err := create(ctx, path, Options{maxPages: 4})
	wantTrouble(t, err, Full)
	if left, _ := filepath.Glob(path + "*"); len(left) != 0 {
		t.Errorf("a book that could not be made was left behind: %v", left)
	}
}

func TestANewerBookIsLeftAlone(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	_, err := b.db.ExecContext(ctx, "INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, 1)")
	check(t, err)
	check(t, b.Close())
	for _, o := range []Options{{}, {ReadOnly: true}} {
		_, err = Open(ctx, b.Path(), o)
		wantTrouble(t, err, Newer, "made by a newer kailyard", "its schema is 999", "nothing in it was touched")
	}
	_, err = Restore(ctx, b.Path(), filepath.Join(t.TempDir(), "to.kailyard"))
	wantTrouble(t, err, Newer)
}

// An older book is brought up to date with a copy beside it; a reader is told to open it once.
func TestAnOlderBook(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	_, err := b.db.ExecContext(ctx, "UPDATE goose_db_version SET version_id = 0; DROP TABLE setting")
	check(t, err)
	check(t, b.Close())
	_, err = Open(ctx, b.Path(), Options{ReadOnly: true})
	wantTrouble(t, err, Older, "open it once for writing")
	// the first migration cannot run over its own tables: it is refused, and the copy and the book are whole
	if _, err = Open(ctx, b.Path(), Options{}); err == nil {
		t.Fatal("the migration ran twice")
	}
	copies, err := filepath.Glob(b.Path() + ".schema-0*")
	if err != nil || len(copies) != 1 {
		t.Errorf("the copy: %v, %v", copies, err)
	}
}

func TestBackupAndRestore(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	check(t, b.SaveRecord(ctx, record3()))
	before := mustGarden(t, b)
	dir := t.TempDir()
	copied := filepath.Join(dir, "copy of [mine]?.kailyard")
	reader, err := Open(ctx, b.Path(), Options{ReadOnly: true}) // while the writer has it
	check(t, err)
	check(t, reader.Backup(ctx, copied))
	wantTrouble(t, reader.Backup(ctx, copied), Exists, "is there already")
	check(t, reader.Close())

	g := ground()
	g.Site.Name = "Changed since"
	check(t, b.Import(ctx, g))
	_, err = Restore(ctx, copied, b.Path())
	wantTrouble(t, err, InUse)
	check(t, b.Close())

	replaced, err := Restore(ctx, copied, b.Path())
	check(t, err)
	back, err := Open(ctx, b.Path(), Options{})
	check(t, err)
	if diff := cmp.Diff(before, mustGarden(t, back)); diff != "" {
		t.Errorf("(-before +restored):\n%s", diff)
	}
	if r, err := back.Record(ctx); err != nil || !cmp.Equal(record3(), r) {
		t.Errorf("the record: %v", err)
	}
	check(t, back.Close())
	old, err := Open(ctx, replaced, Options{ReadOnly: true})
	check(t, err)
	if g := mustGarden(t, old); g.Site.Name != "Changed since" {
		t.Errorf("the replaced book holds %q", g.Site.Name)
	}
	check(t, old.Close())

	second, err := Restore(ctx, copied, b.Path()) // nothing that was kept is replaced in turn
	check(t, err)
	if second == replaced {
		t.Errorf("both are kept as %s", second)
	}
	if replaced, err = Restore(ctx, copied, filepath.Join(dir, "new.kailyard")); err != nil || replaced != "" {
		t.Errorf("restoring where nothing is: %q, %v", replaced, err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*.partial*")); len(left) != 0 {
		t.Errorf("left over: %v", left)
	}
}

// A book whose pages are overwritten is told as damaged, and a good copy takes its place.
func TestADamagedBook(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	check(t, b.Import(ctx, ground()))
	check(t, b.SaveRecord(ctx, record3()))
	copied := b.Path() + ".copy"
	check(t, b.Backup(ctx, copied))
	check(t, b.Close())
	whole, err := os.ReadFile(b.Path())
	check(t, err)
	bad := bytes.Clone(whole)
	for i := 4096; i < len(bad); i++ {
		bad[i] = 0xa5
	}
	check(t, os.WriteFile(b.Path(), bad, 0o644))
	if o, err := Open(ctx, b.Path(), Options{}); err == nil {
		_, err = o.Garden(ctx)
		o.Close()
		wantTrouble(t, err, Damaged, "kailyard restore")
	} else {
		wantTrouble(t, err, Damaged, "kailyard restore")
	}
	wantTrouble(t, sound(ctx, b.Path()), Damaged)
	_, err = Restore(ctx, b.Path(), copied)
	wantTrouble(t, err, Damaged)
	replaced, err := Restore(ctx, copied, b.Path())
	check(t, err)
	if kept, err := os.ReadFile(replaced); err != nil || !bytes.Equal(kept, bad) {
		t.Errorf("the damaged file is not kept as it was: %v", err)
	}
	back, err := Open(ctx, b.Path(), Options{})
	check(t, err)
	defer back.Close()
	if g := mustGarden(t, back); len(g.Beds) != 2 {
		t.Errorf("got %+v", g)
	}
}

func TestABrokenRunOfWeather(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.SaveRecord(t.Context(), record3()))
	_, err := b.db.ExecContext(t.Context(), "DROP TRIGGER weather_run_stays; UPDATE weather_run SET days = x'0102' WHERE first_day LIKE '2024%'")
	check(t, err)
	_, err = b.Record(t.Context())
	wantTrouble(t, err, Damaged, "2024", "kailyard weather FILE")
}
