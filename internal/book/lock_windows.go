package book

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lockedByte lies far beyond the note, because Windows keeps others from reading what is locked.
const lockedByte = 1 << 30

// hold takes an exclusive lock without waiting.
func hold(file *os.File) error {
	at := &windows.Overlapped{Offset: lockedByte}
	err := windows.LockFileEx(windows.Handle(file.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return errHeld
	}
	return err
}

// remove closes the file, which lets go of the lock, and then takes it away if nobody has it again.
func remove(l *lock) {
	l.file.Close()
	os.Remove(l.path)
}
