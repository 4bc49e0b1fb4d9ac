package book

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// Backup copies the book as it stands into a new file, while it is in use or not. The copy is
// read through before it gets its name, so that a copy that is there is a good one.
func (b *Book) Backup(ctx context.Context, to string) error {
	if _, err := os.Stat(to); err == nil {
		return &Error{Kind: Exists, Says: to + " is there already", Remedy: "choose another name, or move it away"}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return explain(to, err)
	}
	if err := writableFolder(to); err != nil {
		return err
	}
	partial := free(to + ".partial")
	defer os.Remove(partial)
	if err := b.copyInto(ctx, partial); err != nil {
		return explain(b.path, err)
	}
	if err := settle(partial); err != nil {
		return explain(to, err)
	}
	if err := sound(ctx, partial); err != nil {
		return err
	}
	return explain(to, place(partial, to))
}

// copyInto writes the book as one transaction sees it into a new file. A connection for reading only
// holds even that for writing, so it is let off for as long as it takes.
func (b *Book) copyInto(ctx context.Context, to string) error {
	conn, err := b.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	if b.readOnly {
		if _, err := conn.ExecContext(ctx, "PRAGMA query_only = 0"); err != nil {
			return err
		}
		defer conn.ExecContext(context.WithoutCancel(ctx), "PRAGMA query_only = 1")
	}
	_, err = conn.ExecContext(ctx, "VACUUM INTO $1", to)
	return err
}

// Restore puts a copy in the place of a book. The copy is read through first; the book it replaces
// is kept beside it under the name returned, empty where there was none.
func Restore(ctx context.Context, from, path string) (replaced string, err error) {
	if err := looksLikeABook(from); err != nil {
		return "", err
	}
	if a, err := os.Stat(from); err == nil {
		if b, err := os.Stat(path); err == nil && os.SameFile(a, b) {
			return "", &Error{Kind: Refused, Says: from + " is the book itself", Remedy: "name the copy to put back"}
		}
	}
	if err := sound(ctx, from); err != nil {
		return "", err
	}
	if err := writableFolder(path); err != nil {
		return "", err
	}
	l, err := lockFor(path, Options{}.clock()())
	if err != nil {
		return "", err
	}
	defer l.release()
	copied := free(path + ".partial")
	defer os.Remove(copied)
	source, err := Open(ctx, from, Options{ReadOnly: true, anyAge: true})
	if err != nil {
		return "", err
	}
	err = source.Backup(ctx, copied)
	if err := errors.Join(err, source.Close()); err != nil {
		return "", err
	}
	replaced, err = putAside(ctx, path)
	if err != nil {
		return "", err
	}
	if err := os.Rename(copied, path); err != nil {
		if _, gone := os.Stat(path); gone != nil && replaced != "" {
			_ = os.Rename(replaced, path) // as it was
		}
		return "", explain(path, err)
	}
	return replaced, nil
}

// putAside gives a book a second name beside it, with what its last writer left beside it. The first
// name stays until the restored book takes it, where the system can do that.
func putAside(ctx context.Context, path string) (kept string, err error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	} else if err != nil {
		return "", explain(path, err)
	}
	fold(ctx, path)
	kept = free(path + ".replaced")
	for _, end := range []string{"-wal", "-shm"} { // there only when the book is too damaged to fold
		if err := os.Rename(path+end, kept+end); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", explain(path, err)
		}
	}
	if err := os.Link(path, kept); err == nil {
		return kept, nil
	}
	return kept, explain(path, os.Rename(path, kept))
}

// fold brings what a writer left beside a book into the book itself, as far as it is a book.
func fold(ctx context.Context, path string) {
	if looksLikeABook(path) != nil {
		return
	}
	if b, err := begin(ctx, path, Options{}, nil); err == nil {
		_ = b.Close()
	}
}

// sound reads a book through.
func sound(ctx context.Context, path string) error {
	b, err := Open(ctx, path, Options{ReadOnly: true, anyAge: true})
	if err != nil {
		return err
	}
	defer b.Close()
	var verdict string
	if err := b.db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&verdict); err != nil {
		return explain(path, err)
	}
	if verdict != "ok" {
		return &Error{Kind: Damaged, Says: fmt.Sprintf("the garden book %s is damaged (%s)", path, verdict), Remedy: "use another copy"}
	}
	return nil
}

// settle waits until a file is on the disk.
func settle(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}

// place gives a finished file its name, and never takes the name from another.
func place(partial, to string) error {
	if err := os.Link(partial, to); err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return os.Rename(partial, to)
}

// free is a name that nothing has, the given one if it is free.
func free(name string) string {
	for n := 1; ; n++ {
		candidate := name
		if n > 1 {
			candidate = fmt.Sprintf("%s-%d", name, n)
		}
		if _, err := os.Lstat(candidate); errors.Is(err, fs.ErrNotExist) || n > 10000 {
			return candidate
		}
	}
}
