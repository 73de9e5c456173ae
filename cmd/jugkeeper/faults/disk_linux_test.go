package faults

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// mounted mounts a small memory disk at the ferments of a cellar; the test is skipped if that is not allowed.
func mounted(t *testing.T, p place) {
	t.Helper()
	dir := p.path("ferments")
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, "size=16k"); err != nil {
		t.Skipf("no disk can be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = unix.Unmount(dir, unix.MNT_DETACH) })
}

// On a full disk nothing is written, with an error, the file is unchanged, and once there is room the entry is written
// once.
func TestFullDisk(t *testing.T) {
	p := newPlace(t, nil)
	mounted(t, p)
	p.write("ferments/heath.yaml", heath)
	filler := p.path("ferments/filler")
	err := os.WriteFile(filler, []byte(strings.Repeat("x", 64<<10)), 0o666)
	require.ErrorIs(t, err, unix.ENOSPC)
	for range 3 {
		got := p.run(degasLog...)
		assert.Equal(t, 3, got.status)
		assert.Equal(t, "jugkeeper: ferments/heath.yaml: nothing was written: no space left on device\n", got.err)
		require.Equal(t, heath, p.read("ferments/heath.yaml"))
		p.requireClean()
	}
	require.NoError(t, os.Remove(filler))
	require.Zero(t, p.run(degasLog...).status)
	assert.Len(t, p.log("heath"), 3)
	assert.Equal(t, "every file can be read, nothing looks unlikely\n", p.run("check").out)
}

// A disk that fills up entry by entry.
func TestDiskFillsUp(t *testing.T) {
	t.Parallel()
	p := newPlace(t, nil)
	mounted(t, p)
	p.write("ferments/heath.yaml", heath)
	kept, refused := 0, 0
	for i := range 30 {
		args, _ := entryOf("log", i)
		args[4] += strings.Repeat(" and foam", 60)
		before := p.read("ferments/heath.yaml")
		switch got := p.run(args...); got.status {
		case 0:
			kept++
		default:
			refused++
			assert.Contains(t, got.err, "no space left on device")
			require.Equal(t, before, p.read("ferments/heath.yaml"))
		}
		assert.Len(t, p.log("heath"), 2+kept)
		p.requireClean()
	}
	assert.NotZero(t, kept)
	assert.NotZero(t, refused)
	t.Logf("%d kept and there, %d refused and told", kept, refused)
}

// A read-only disk.
func TestReadOnlyDisk(t *testing.T) {
	p := newPlace(t, nil)
	mounted(t, p)
	p.write("ferments/heath.yaml", heath)
	require.NoError(t, unix.Mount("", p.path("ferments"), "", unix.MS_REMOUNT|unix.MS_RDONLY, ""))
	got := p.run(degasLog...)
	assert.Equal(t, 3, got.status)
	assert.Equal(t, "jugkeeper: ferments/heath.yaml: nothing was written: read-only file system\n", got.err)
	assert.Zero(t, p.run("today").status)
	require.NoError(t, unix.Mount("", p.path("ferments"), "", unix.MS_REMOUNT, ""))
	require.Zero(t, p.run(degasLog...).status)
	assert.Len(t, p.log("heath"), 3)
}

// A disk that is unplugged and comes back: its files are unchanged, and nothing was written in its place.
func TestDiskGoesAway(t *testing.T) {
	p := newPlace(t, nil)
	mounted(t, p)
	p.write("ferments/heath.yaml", heath)
	require.Zero(t, p.run(degasLog...).status)
	away := filepath.Join(p.root, "away")
	require.NoError(t, os.Mkdir(away, 0o777))
	if err := unix.Mount(p.path("ferments"), away, "", unix.MS_BIND, ""); err != nil {
		t.Skipf("no disk can be moved here: %v", err)
	}
	t.Cleanup(func() { _ = unix.Unmount(away, unix.MNT_DETACH) })
	require.NoError(t, unix.Unmount(p.path("ferments"), 0))
	got := p.run("log", "heath", "1.070", "--at", "2026-09-14 08:00")
	assert.Equal(t, 2, got.status)
	assert.Contains(t, got.err, `no ferment is called "heath"`)
	entries, err := os.ReadDir(p.path("ferments"))
	require.NoError(t, err)
	assert.Empty(t, entries)
	require.NoError(t, unix.Mount(away, p.path("ferments"), "", unix.MS_BIND, ""))
	assert.Len(t, p.log("heath"), 3)
	assert.Equal(t, "every file can be read, nothing looks unlikely\n", p.run("check").out)
}
