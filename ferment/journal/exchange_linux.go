package journal

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// swap gives two files each other's names in one step.
func swap(a, b string) error {
	return unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
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
