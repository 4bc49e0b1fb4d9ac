//go:build unix && !solaris && !illumos && !aix

package book

import (
	"errors"
	"os"
	"syscall"
)

// hold takes an exclusive lock without waiting.
func hold(file *os.File) error {
	err := syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errHeld
	}
	return err
}

// remove takes the file away while the lock is still held, so that nobody locks a file that is gone.
func remove(l *lock) {
	os.Remove(l.path)
	l.file.Close()
}
