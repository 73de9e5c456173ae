package journal

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

func openLock(path string) (*os.File, error) { return os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o666) }

// lockedByte is far behind the text of the lock's file, because locked bytes cannot be read.
const lockedByte = 1 << 30

// flock takes the system's lock if it is free; errNoLocks if the file system has none.
func flock(f *os.File) error {
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0,
		&windows.Overlapped{Offset: lockedByte})
	switch {
	case errors.Is(err, windows.ERROR_LOCK_VIOLATION), errors.Is(err, windows.ERROR_IO_PENDING):
		return errHeld
	case errors.Is(err, windows.ERROR_INVALID_FUNCTION), errors.Is(err, windows.ERROR_NOT_SUPPORTED):
		return errNoLocks
	}
	return err
}

// runs reports whether a program of this machine is still running.
func runs(pid int) bool {
	h, err := windows.OpenProcess(windows.SYNCHRONIZE, false, uint32(pid))
	if err != nil {
		return !errors.Is(err, windows.ERROR_INVALID_PARAMETER) // that error means that there is none
	}
	defer windows.CloseHandle(h)
	event, err := windows.WaitForSingleObject(h, 0)
	return err != nil || event != windows.WAIT_OBJECT_0
}

// names returns 1: hard links are not detected here.
func names(fs.FileInfo) uint64 { return 1 }

func keepOwner(*os.File, fs.FileInfo) {}
