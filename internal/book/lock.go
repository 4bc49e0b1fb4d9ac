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
}

// lockFor takes the lock of a book, or says who has it.
func lockFor(book string, now time.Time) (*lock, error) {
	path := book + ".lock"
	for range 10 { // a holder that is just closing removes its file: look again
		file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
		if err != nil {
			return nil, explain(book, err)
		}
		if err := hold(file); err != nil {
			who := holder(file)
			file.Close()
			if errors.Is(err, errHeld) {
				return nil, &Error{
					Kind:   InUse,
					Says:   fmt.Sprintf("the garden book %s is open in another kailyard%s", book, who),
					Remedy: "close it first, or make a copy with kailyard backup",
				}
			}
			return nil, explain(book, err)
		}
		if same(file, path) {
			note := fmt.Sprintf("since %s, process %d\n", now.Format("2006-01-02 15:04"), os.Getpid())
			if err := file.Truncate(0); err == nil {
				_, _ = file.WriteAt([]byte(note), 0) // the note helps people; the lock does not need it
			}
			return &lock{file, path}, nil
		}
		file.Close()
	}
	return nil, &Error{Kind: InUse, Says: fmt.Sprintf("the garden book %s is being opened and closed by another kailyard", book), Remedy: "wait a moment and try again"}
}

// holder is the note a lock's holder left, in brackets.
func holder(file *os.File) string {
	note, err := io.ReadAll(io.NewSectionReader(file, 0, 200))
	if text := strings.TrimSpace(string(note)); err == nil && strings.HasPrefix(text, "since ") {
		return " (" + text + ")"
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
