package journal

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two files' names in one step, or errors.ErrUnsupported where that cannot be.
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	switch {
	case errors.Is(err, unix.EINVAL), errors.Is(err, errors.ErrUnsupported):
		return errors.ErrUnsupported
	case err != nil:
		return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
	}
	return nil
}

// openForWriting reports whether a program has a file open to write to it, as far
// as the system says so: only while none has may a lease for reading be taken.
func openForWriting(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	_, err = unix.FcntlInt(f.Fd(), unix.F_SETLEASE, unix.F_RDLCK)
	return errors.Is(err, unix.EAGAIN)
}
