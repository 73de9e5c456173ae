//go:build unix

package journal

import (
	"io/fs"
	"os"
	"syscall"
)

// lock waits until no other program writes into the cellar. The lock is on a
// file of its own: a data file is replaced by each write.
func lock(path string) (unlock func(), err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o666)
	if err != nil {
		return nil, err
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX)
		if err != syscall.EINTR {
			break
		}
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return func() { f.Close() }, nil
}

// keepOwner gives a new file the owner of the old one, where that is allowed.
func keepOwner(f *os.File, old fs.FileInfo) {
	if st, ok := old.Sys().(*syscall.Stat_t); ok {
		_ = f.Chown(int(st.Uid), int(st.Gid)) // only root may give files away; anybody else's stay their own
	}
}
