//go:build unix

package journal

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// openLock opens the file of the lock without following a link.
func openLock(path string) (*os.File, error) {
	return os.OpenFile(path, os.O_CREATE|os.O_RDWR|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0o666)
}

// flock takes the system's lock if it is free; errNoLocks if the file system has none.
func flock(f *os.File) error {
	for {
		switch err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); {
		case err == syscall.EINTR:
		case err == nil:
			return nil
		case errors.Is(err, syscall.EWOULDBLOCK):
			return errHeld
		case errors.Is(err, errors.ErrUnsupported), errors.Is(err, syscall.ENOLCK), errors.Is(err, syscall.EINVAL), errors.Is(err, syscall.EBADF):
			return errNoLocks
		default:
			return err
		}
	}
}

// runs reports whether a program on this machine is still running.
func runs(pid int) bool { return syscall.Kill(pid, 0) != syscall.ESRCH }

// names returns the number of hard links of a file.
func names(info fs.FileInfo) uint64 {
	if st, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(st.Nlink)
	}
	return 1
}

// keepOwner gives a new file the owner of the old one, where that is allowed.
func keepOwner(f *os.File, old fs.FileInfo) {
	if st, ok := old.Sys().(*syscall.Stat_t); ok {
		_ = f.Chown(int(st.Uid), int(st.Gid)) // only root may change the owner; for others the file stays their own
	}
}
