// Package book is the garden book: SQLite, migrations, transactions, backup.
package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Book is an open garden book. Its methods may be called from several goroutines; each is one
// transaction and leaves the book whole whatever happens to it.
type Book struct {
	path     string
	db       *sql.DB
	lock     *lock // nil when open for reading only, or beside another
	readOnly bool
	now      func() time.Time
}

// Options are how to open a book.
type Options struct {
	ReadOnly bool // for reading only: works while another kailyard writes, and on protected files
	Beside   bool // for one short change: works while another kailyard has the book, and is waited for

	anyAge   bool             // a copy may be older than this kailyard
	maxPages int              // stands in for a full disk in tests
	now      func() time.Time // the clock
}

// Path is the book's file.
func (b *Book) Path() string { return b.path }

// Create makes an empty book and opens it. It never touches a file that is there.
func Create(ctx context.Context, path string) (*Book, error) { return create(ctx, path, Options{}) }

func create(ctx context.Context, path string, o Options) (*Book, error) {
	if err := writableFolder(path); err != nil {
		return nil, err
	}
	l, err := lockFor(path, o.clock()())
	if err != nil {
		return nil, err
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		l.release()
		if errors.Is(err, fs.ErrExist) {
			return nil, &Error{Kind: Exists, Says: path + " is there already", Remedy: "open it, choose another name with --book, or move it away", Cause: err}
		}
		return nil, explain(path, err)
	}
	file.Close()
	b, err := begin(ctx, path, o, l)
	if err == nil {
		err = b.found(ctx)
	}
	if err != nil {
		if b != nil {
			b.db.Close()
		}
		for _, name := range []string{path, path + "-wal", path + "-shm"} {
			os.Remove(name)
		}
		l.release()
		return nil, explain(path, err)
	}
	return b, nil
}

// found lays the schema and the mark of a garden book into an empty file.
func (b *Book) found(ctx context.Context) error {
	if _, err := b.db.ExecContext(ctx, fmt.Sprintf("PRAGMA application_id = %d", applicationID)); err != nil {
		return err
	}
	if err := migrate(ctx, b.db); err != nil {
		return err
	}
	return b.checkpoint(ctx)
}

// Open opens a book. For writing it is open in one kailyard at a time; a book made by an older
// kailyard is brought up to date, after a copy of it was laid beside it.
func Open(ctx context.Context, path string, o Options) (*Book, error) {
	if err := looksLikeABook(path); err != nil {
		return nil, err
	}
	if o.ReadOnly {
		return openToRead(ctx, path, o)
	}
	if protected(path) {
		return nil, &Error{Kind: Protected, Says: fmt.Sprintf("the garden book %s is write-protected", path), Remedy: "change its permissions, or copy it and open the copy"}
	}
	if err := writableFolder(path); err != nil {
		return nil, err
	}
	l, err := o.lock(path)
	if err != nil {
		return nil, err
	}
	b, err := begin(ctx, path, o, l)
	switch {
	case err != nil:
	case l == nil:
		err = b.current(ctx) // whoever has the book brings it up to date
	default:
		err = b.bringUpToDate(ctx)
	}
	if err != nil {
		if b != nil {
			b.db.Close()
		}
		l.release()
		return nil, explain(path, err)
	}
	return b, nil
}

// lock takes the book's lock. A short change beside a kailyard that has it goes without: SQLite keeps
// the two apart, and the lock that is held keeps the file where it is.
func (o Options) lock(path string) (*lock, error) {
	if !o.Beside {
		return lockFor(path, o.clock()())
	}
	l, err := lockWith(path, moment, o.clock()())
	if IsKind(err, InUse) {
		return nil, nil
	}
	return l, err
}

// openToRead opens without a lock, in the first of three ways that works. Where the file may be
// written, SQLite tidies up beside it when the last reader leaves; where it may not, it is read as
// it is; and where nothing beside it can be written either, as a file that does not change, which is
// safe only when no writer has left anything beside it.
func openToRead(ctx context.Context, path string, o Options) (*Book, error) {
	ways := []url.Values{{"mode": {"rw"}}, {"mode": {"ro"}}, {"mode": {"ro"}, "immutable": {"1"}}}
	folderProtected := protected(filepath.Dir(path))
	switch {
	case folderProtected && !hasLog(path):
		ways = ways[2:]
	case folderProtected || protected(path):
		ways = ways[1:2]
	case hasLog(path):
		ways = ways[:2]
	}
	var b *Book
	var err error
	for _, way := range ways {
		b, err = beginToRead(ctx, path, o, way)
		if c := code(err); c != sqliteCannotOpen && c != sqliteReadOnly && !noRoom(err) {
			break
		}
	}
	if err != nil {
		return nil, explain(path, err)
	}
	return b, nil
}

func beginToRead(ctx context.Context, path string, o Options, query url.Values) (*Book, error) {
	query["_pragma"] = []string{"busy_timeout(5000)", "query_only(1)"}
	db, err := connect(path, query)
	if err != nil {
		return nil, err
	}
	b := &Book{path: path, db: db, readOnly: true, now: o.clock()}
	err = b.current(ctx)
	if o.anyAge && IsKind(err, Older) {
		err = nil
	}
	if err != nil {
		db.Close()
		return nil, err
	}
	return b, nil
}

// begin opens the database for writing.
func begin(ctx context.Context, path string, o Options, l *lock) (*Book, error) {
	query := url.Values{
		"mode":    {"rw"},
		"_txlock": {"immediate"},
		"_pragma": {"busy_timeout(5000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(1)"},
	}
	if o.maxPages > 0 {
		query["_pragma"] = append(query["_pragma"], fmt.Sprintf("max_page_count(%d)", o.maxPages))
	}
	db, err := connect(path, query)
	if err != nil {
		return nil, err
	}
	if err := db.PingContext(ctx); err != nil {
		db.Close()
		return nil, err
	}
	return &Book{path: path, db: db, lock: l, now: o.clock()}, nil
}

func connect(path string, query url.Values) (*sql.DB, error) {
	whole, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	slashed := filepath.ToSlash(whole)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // C:/… on Windows
	}
	name := url.URL{Scheme: "file", Path: slashed, RawQuery: query.Encode()}
	db, err := sql.Open("sqlite", name.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(4)
	return db, nil
}

func (o Options) clock() func() time.Time {
	if o.now != nil {
		return o.now
	}
	return time.Now
}

// checkpoint brings everything into the one file.
func (b *Book) checkpoint(ctx context.Context) error {
	_, err := b.db.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	return err
}

// Close closes the book and lets others open it.
func (b *Book) Close() error {
	if !b.readOnly && b.lock != nil {
		_ = b.checkpoint(context.Background()) // a reader may keep it from finishing: the next opening does it
	}
	err := b.db.Close()
	b.lock.release()
	return explain(b.path, err)
}
