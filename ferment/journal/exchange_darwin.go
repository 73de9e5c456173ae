package journal

import "golang.org/x/sys/unix"

// swap gives two files each other's names in one step.
func swap(a, b string) error {
	return unix.RenameatxNp(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_SWAP)
}

func openForWriting(string) bool { return false }
