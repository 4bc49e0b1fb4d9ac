package book

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// A writer holds a lock on a file beside the book for as long as the book is open. The system
// lets go of it when the process ends, however it ends, so no lock outlives its holder.

// errHeld says that another process, or another opening in this one, holds the lock.
var errHeld = errors.New("held")

// lock is a held lock.
type lock struct {
	file *os.File
	path string
	note string // who has it, where it is not ours
}

// moment is the mark in the note of a holder that lets go at once: others wait for it.
const moment = ", for a moment"

// longestMoment is how long to wait for a holder that lets go at once.
const longestMoment = 5 * time.Second

// lockFor takes the lock of a book, or says who has it.
func lockFor(book string, now time.Time) (*lock, error) { return lockWith(book, "", now) }

func lockWith(book, mark string, now time.Time) (*lock, error) {
	for began := time.Now(); ; time.Sleep(10 * time.Millisecond) {
		l, err := seize(book, book+".lock", mark, now)
		switch {
		case !errors.Is(err, errHeld):
			return l, err
		case l.brief() && time.Since(began) < longestMoment:
			continue
		}
		return nil, &Error{
			Kind:   InUse,
			Says:   fmt.Sprintf("the garden book %s is open in another kailyard%s", book, l.holder()),
			Remedy: "close it first, or make a copy with kailyard backup",
		}
	}
}

// seize takes a lock without waiting. Where it is held the error is errHeld and the lock only has its
// holder's note.
func seize(book, path, mark string, now time.Time) (*lock, error) {
	for range 10 { // a holder that is just closing removes its file: look again
		file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
		if err != nil {
			return nil, explain(book, err)
		}
		if err := hold(file); err != nil {
			note := readNote(file)
			file.Close()
			if errors.Is(err, errHeld) {
				return &lock{note: note}, errHeld
			}
			return nil, explain(book, err)
		}
		if same(file, path) {
			note := fmt.Sprintf("since %s, process %d%s\n", now.Format("2006-01-02 15:04"), os.Getpid(), mark)
			if err := file.Truncate(0); err == nil {
				_, _ = file.WriteAt([]byte(note), 0) // the note helps people and those who wait; the lock does not need it
			}
			return &lock{file: file, path: path}, nil
		}
		file.Close()
	}
	return nil, &Error{Kind: InUse, Says: fmt.Sprintf("the garden book %s is being opened and closed by another kailyard", book), Remedy: "wait a moment and try again"}
}

func readNote(file *os.File) string {
	note, err := io.ReadAll(io.NewSectionReader(file, 0, 200))
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(note))
}

// brief says whether the holder lets go at once, or has only just begun and not said yet.
func (l *lock) brief() bool { return l.note == "" || strings.HasSuffix(l.note, moment) }

// holder is the holder's note, in brackets.
func (l *lock) holder() string {
	if strings.HasPrefix(l.note, "since ") {
		return " (" + strings.TrimSuffix(l.note, moment) + ")"
	}
	return ""
}

// same says whether the path still leads to the open file.
func same(file *os.File, path string) bool {
	open, err := file.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(path)
	return err == nil && os.SameFile(open, there)
}

// release lets go of the lock and takes its file away.
func (l *lock) release() {
	if l != nil {
		remove(l)
	}
}
