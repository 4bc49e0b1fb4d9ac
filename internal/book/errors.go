package book

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"modernc.org/sqlite"
)

// Kind is what sort of trouble the book met.
type Kind string

// The kinds of trouble.
const (
	Missing   Kind = "missing"    // there is no such file
	Exists    Kind = "exists"     // there is a file already
	InUse     Kind = "in use"     // another kailyard writes to it
	NotABook  Kind = "not a book" // another kind of file
	Newer     Kind = "newer"      // made by a newer kailyard
	Older     Kind = "older"      // made by an older kailyard, and opened for reading only
	Protected Kind = "protected"  // it cannot be written to
	Full      Kind = "full"       // the disk is full
	Damaged   Kind = "damaged"    // the file is broken
	Unknown   Kind = "unknown"    // the book holds no such thing
	Refused   Kind = "refused"    // what was asked breaks a rule of the book
	Failed    Kind = "failed"     // anything else
)

// Error is trouble with the book: what happened, and what to do.
type Error struct {
	Kind   Kind
	Says   string
	Remedy string
	Cause  error
}

// Error is the trouble as a sentence.
func (e *Error) Error() string {
	text := e.Says
	if e.Remedy != "" {
		text += "; " + e.Remedy
	}
	return text
}

// Unwrap is the cause.
func (e *Error) Unwrap() error { return e.Cause }

// IsKind says whether an error is trouble of a kind.
func IsKind(err error, kind Kind) bool {
	var e *Error
	return errors.As(err, &e) && e.Kind == kind
}

// unknown is the error for a thing the book does not hold.
func unknown(format string, args ...any) error {
	return &Error{Kind: Unknown, Says: "the book holds no " + fmt.Sprintf(format, args...), Remedy: "it may have been removed; look again at what there is"}
}

// SQLite's result codes (https://www.sqlite.org/rescode.html), the low byte.
const (
	sqliteBusy       = 5
	sqliteLocked     = 6
	sqliteReadOnly   = 8
	sqliteIOError    = 10
	sqliteCorrupt    = 11
	sqliteFull       = 13
	sqliteCannotOpen = 14
	sqliteConstraint = 19
	sqliteNotADB     = 26
)

// code is SQLite's result code, 0 where the error is not its own.
func code(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return 0
}

// SQLite's extended codes for files it could not make grow: the write-ahead log and the index beside it.
const (
	sqliteIOWrite   = sqliteIOError | 3<<8
	sqliteIOShmSize = sqliteIOError | 19<<8
)

// noRoom says whether the disk is full, which SQLite tells in several ways.
func noRoom(err error) bool {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code()&0xff == sqliteFull || e.Code() == sqliteIOWrite || e.Code() == sqliteIOShmSize
	}
	return errors.Is(err, syscall.ENOSPC)
}

// explain makes one sentence of what SQLite or the system says. Errors that are sentences already pass.
func explain(path string, err error) error {
	var own *Error
	if err == nil || errors.As(err, &own) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	trouble := func(kind Kind, says, remedy string) error {
		return &Error{Kind: kind, Says: fmt.Sprintf(says, path), Remedy: remedy, Cause: err}
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return trouble(Missing, "there is no garden book %s", "make one with kailyard new, or name another with --book")
	case errors.Is(err, fs.ErrPermission):
		return trouble(Protected, "the garden book %s, or its folder, may not be written to or read by you", "change its permissions, or copy it to a folder of your own")
	}
	if noRoom(err) {
		return trouble(Full, "there is no room left on the disk of the garden book %s; nothing of this change was kept, and everything before it was", "free some room and do it again")
	}
	switch code(err) {
	case sqliteBusy, sqliteLocked:
		return trouble(InUse, "the garden book %s is being written to by another program", "wait a moment and try again")
	case sqliteReadOnly:
		return trouble(Protected, "the garden book %s cannot be written to", "change its permissions and its folder's, or copy it to a folder of your own")
	case sqliteCorrupt:
		return trouble(Damaged, "the garden book %s is damaged", "put a copy back with kailyard restore; the damaged file is kept beside it")
	case sqliteNotADB:
		return trouble(NotABook, "%s is not a garden book", "name another with --book")
	case sqliteCannotOpen, sqliteIOError:
		return trouble(Failed, "the garden book %s cannot be read or written where it lies: "+err.Error(), "check the disk and the folder")
	case 0:
		return err
	}
	return trouble(Failed, "the garden book %s took no part of this change: "+err.Error(), "")
}
