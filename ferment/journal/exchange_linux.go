package journal

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// swap exchanges the names of two files in one step.
func swap(a, b string) error {
	return unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
}

// openForWriting reports whether a program has the file open for writing, as far as the system tells: a read lease can
// only be taken if none has.
func openForWriting(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	_, err = unix.FcntlInt(f.Fd(), unix.F_SETLEASE, unix.F_RDLCK)
	return errors.Is(err, unix.EAGAIN)
}
