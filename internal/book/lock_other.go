//go:build !windows && (!unix || solaris || illumos || aix)

package book

import "os"

// hold has no lock to take on this system: SQLite's own locks still keep the file whole.
func hold(*os.File) error { return nil }

func remove(l *lock) {
	l.file.Close()
	os.Remove(l.path)
}
