package book

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// applicationID marks our files among all SQLite files: "KAIL" in ASCII, at offset 68 of the header
// (https://www.sqlite.org/fileformat.html, 1.3).
const applicationID = 0x4B41494C

const magic = "SQLite format 3\x00"

// looksLikeABook reads a file's header before SQLite is let near it.
func looksLikeABook(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return explain(path, err)
	}
	if info.IsDir() {
		return &Error{Kind: NotABook, Says: path + " is a folder, not a garden book", Remedy: "name the book's file with --book"}
	}
	file, err := os.Open(path)
	if err != nil {
		return explain(path, err)
	}
	defer file.Close()
	var header [100]byte
	n, err := io.ReadFull(file, header[:])
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return explain(path, err)
	}
	switch {
	case n == 0:
		return &Error{Kind: NotABook, Says: path + " is an empty file, not a garden book", Remedy: "remove it and make a book with kailyard new, or name another with --book"}
	case n < len(header) || string(header[:len(magic)]) != magic:
		return &Error{Kind: NotABook, Says: path + " is not a garden book", Remedy: "name another with --book; a garden description is taken in with kailyard import, a weather record with kailyard weather"}
	case binary.BigEndian.Uint32(header[68:]) != applicationID:
		return &Error{Kind: NotABook, Says: path + " is a database of another program, not a garden book", Remedy: "name another with --book"}
	}
	return nil
}

// protected says whether nobody may write to a file or folder, whatever the rights of whoever asks.
func protected(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().Perm()&0o222 == 0
}

// writableFolder says in a sentence why a book's folder cannot hold it.
func writableFolder(path string) error {
	folder := filepath.Dir(path)
	info, err := os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &Error{Kind: Missing, Says: fmt.Sprintf("there is no folder %s for the garden book", folder), Remedy: "make the folder first, or name another with --book", Cause: err}
	case err != nil:
		return explain(path, err)
	case !info.IsDir():
		return &Error{Kind: Missing, Says: folder + " is not a folder", Remedy: "name another place with --book"}
	case protected(folder):
		return &Error{Kind: Protected, Says: fmt.Sprintf("the folder %s is write-protected, and the garden book needs room beside its file", folder), Remedy: "change the folder's permissions, or copy the book to a folder of your own"}
	}
	return nil
}

// hasLog says whether a writer has left changes beside the file.
func hasLog(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}
