//go:build unix

package faults

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tree returns the files and folders under a root, each with its text.
func tree(t *testing.T, root string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(root, path)
		out[name] = d.Type().String()
		if d.Type().IsRegular() {
			data, err := os.ReadFile(path)
			out[name] = string(data)
			return err
		}
		return err
	}))
	return out
}

// changed returns the names that differ between two trees.
func changed(before, after map[string]string) []string {
	var names []string
	for name, is := range after {
		if was, had := before[name]; !had || was != is {
			names = append(names, name)
		}
	}
	for name := range before {
		if _, has := after[name]; !has {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// No command writes outside the cellar and the state folder: not in the working directory, nor in a person's other
// folders. A command that only shows writes nothing.
func TestNothingIsWrittenElsewhere(t *testing.T) {
	t.Parallel()
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	p.as = func(cmd *exec.Cmd) {
		cmd.Dir = filepath.Join(p.root, "here")
		for _, name := range []string{"HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_RUNTIME_DIR", "TMPDIR"} {
			cmd.Env = append(cmd.Env, name+"="+filepath.Join(p.root, strings.ToLower(name)))
		}
	}
	for _, name := range []string{"here", "home", "xdg_data_home", "xdg_config_home", "xdg_cache_home", "xdg_runtime_dir", "tmpdir"} {
		require.NoError(t, os.Mkdir(filepath.Join(p.root, name), 0o777))
	}
	start := tree(t, p.root)
	for _, args := range [][]string{{}, {"today"}, {"today", "--json"}, {"show", "heath"}, {"compare", "heath"}, {"check"}, {"protocol"}, {"protocol", "small-jug"},
		{"work"}, {"work", "alcohol", "og=1.1", "fg=1.0"}, {"version"}, {"help"}, {"completion", "bash"}, {"frob"}, {"log", "heath", "1.5g"}, {"show", "../x"}} {
		p.run(args...)
		assert.Empty(t, changed(start, tree(t, p.root)), args)
	}
	for _, args := range [][]string{{"log", "heath", "1.070", "--yes", "--at", "2026-09-14 07:00"}, {"done", "heath", "degas", "--at", "2026-09-14 07:05"},
		{"skip", "heath", "degas", "--because", "away"}, {"new", "lime"}, {"log", "nosuch", "degas"}, {"new", "../lime"}, {"new", "/tmp/lime"}} {
		p.run(args...)
	}
	got := changed(start, tree(t, p.root))
	got = slices.DeleteFunc(got, func(name string) bool { return strings.HasPrefix(name, "state") })
	assert.Equal(t, []string{"cellar/.lock", "cellar/ferments/heath.yaml", "cellar/ferments/lime.yaml", "cellar/ferments/schemas", "cellar/ferments/schemas/ferment.json",
		"cellar/schemas", "cellar/schemas/cellar.json", "cellar/schemas/cultures.json", "cellar/schemas/ferment.json", "cellar/schemas/honey.json", "cellar/schemas/protocol.json"}, got)
	assert.Len(t, p.log("heath"), 5)
	p.requireClean()

	left := tree(t, p.root)
	demo := p.command("demo", filepath.Join(p.root, "demo"))
	require.Zero(t, ended(t, demo).status)
	for _, name := range changed(left, tree(t, p.root)) {
		assert.True(t, strings.HasPrefix(name, "demo"), name)
	}
}

// An existing file keeps its mode; a new one follows the umask.
func TestFileModesFollowTheUmask(t *testing.T) {
	t.Parallel()
	for mask, made := range map[string]fs.FileMode{"022": 0o644, "027": 0o640, "077": 0o600, "002": 0o664} {
		p := newPlace(t, map[string]string{"ferments/heath.yaml": heath, "ferments/broken.yaml": "name: [\n"})
		require.NoError(t, os.Chmod(p.path("ferments/heath.yaml"), 0o604))
		require.NoError(t, os.RemoveAll(p.path(".lock")))
		for _, args := range [][]string{{"log", "heath", "degas", "--at", "2026-09-14 07:00"}, {"new", "lime"}} {
			cmd := p.command(args...)
			cmd.Args = append([]string{"sh", "-c", "umask " + mask + `; exec "$0" "$@"`, cmd.Path}, args...)
			cmd.Path = "/bin/sh"
			require.Zero(t, ended(t, cmd).status)
		}
		mode := func(path string) fs.FileMode {
			info, err := os.Stat(path)
			require.NoError(t, err)
			return info.Mode().Perm()
		}
		assert.Equal(t, fs.FileMode(0o604), mode(p.path("ferments/heath.yaml")), mask)
		assert.Equal(t, made, mode(p.path("ferments/lime.yaml")), mask)
		assert.Equal(t, made, mode(p.path(".lock")), mask)
		records, err := filepath.Glob(filepath.Join(p.state, "jugkeeper", "*", "entries.jsonl"))
		require.NoError(t, err)
		require.Len(t, records, 1)
		assert.Equal(t, made, mode(records[0]), mask)
	}
}

// asNobody runs the program as another user, because root is never refused.
func (p place) asNobody() place {
	p.t.Helper()
	if os.Geteuid() != 0 {
		return p
	}
	const nobody = 65534
	for dir := p.root; dir != os.TempDir() && dir != "/"; dir = filepath.Dir(dir) {
		require.NoError(p.t, os.Chmod(dir, 0o755))
	}
	require.NoError(p.t, filepath.WalkDir(p.root, func(path string, _ fs.DirEntry, err error) error {
		if err == nil {
			err = os.Lchown(path, nobody, nobody)
		}
		return err
	}))
	p.as = func(cmd *exec.Cmd) {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	return p
}

var degasLog = []string{"log", "heath", "degas", "--at", "2026-09-14 07:00"}

// In a read-only folder the error says what failed and why, the old file is unchanged, and repeated later the entry is
// written once.
func TestReadOnlyFolder(t *testing.T) {
	for _, folder := range []string{"ferments", ""} {
		p := newPlace(t, map[string]string{"ferments/heath.yaml": heath}).asNobody()
		require.NoError(t, os.Chmod(p.path(folder), 0o555))
		got := p.run(degasLog...)
		assert.Equal(t, 3, got.status, got.out)
		assert.Equal(t, "jugkeeper: ferments/heath.yaml: nothing was written: permission denied\n", got.err)
		assert.Equal(t, heath, p.read("ferments/heath.yaml"))
		assert.Zero(t, p.run("today", "--at", "2026-09-14 07:00").status, "the cellar can be looked at")
		require.NoError(t, os.Chmod(p.path(folder), 0o755))
		require.Zero(t, p.run(degasLog...).status)
		require.Zero(t, p.run(degasLog...).status)
		assert.Len(t, p.log("heath"), 3)
		assert.Equal(t, "every file can be read, nothing looks unlikely\n", p.run("check").out)
	}
}

// An unreadable file is left out alone.
func TestFileThatMayNotBeRead(t *testing.T) {
	p := newPlace(t, jugs).asNobody()
	require.NoError(t, os.Chmod(p.path("ferments/lime.yaml"), 0))
	got := p.run("check")
	assert.Equal(t, 1, got.status)
	assert.Equal(t, "ferments/lime.yaml: cannot be read: permission denied\n", got.out)
	assert.Contains(t, p.run("today", "--at", "2026-09-14 07:00").out, "HEATH")
	require.NoError(t, os.Chmod(p.path("ferments/lime.yaml"), 0o644))
	require.NoError(t, os.Chmod(p.path("ferments"), 0))
	got = p.run("today")
	assert.Equal(t, 3, got.status)
	assert.Contains(t, got.err, "cannot read the folder")
	require.NoError(t, os.Chmod(p.path("ferments"), 0o755))
}

// Without a folder for the record the entry is only in its file, with a notice.
func TestNoFolderForTheRecord(t *testing.T) {
	for what, spoil := range map[string]func(place) place{
		"a file stands in its place": func(p place) place {
			require.NoError(t, os.WriteFile(p.state, []byte("x"), 0o666))
			return p
		},
		"it takes no file": func(p place) place {
			require.NoError(t, os.Mkdir(p.state, 0o755))
			p = p.asNobody()
			require.NoError(t, os.Chmod(p.state, 0o555))
			return p
		},
		"nobody says where home is": func(p place) place {
			p.as = func(cmd *exec.Cmd) { cmd.Env = []string{"JUGKEEPER_CELLAR=" + p.dir, "TERM=dumb"} }
			return p
		},
	} {
		p := spoil(newPlace(t, map[string]string{"ferments/heath.yaml": heath}))
		got := p.run(degasLog...)
		assert.Zero(t, got.status, what+got.err)
		assert.Contains(t, got.err, "HEATH: it is in its file only, because the second record cannot be written: ", what)
		assert.Len(t, p.log("heath"), 3, what)
		assert.Zero(t, p.run("check").status, what)
		assert.NoDirExists(t, filepath.Join(p.root, ".local"), what+": nothing is put where it was run from")
	}
}

// Symbolic links stay links; a dangling one is reported and not created.
func TestSymbolicLinks(t *testing.T) {
	p := newPlace(t, nil)
	away := filepath.Join(p.root, "away")
	require.NoError(t, os.Mkdir(away, 0o777))
	real := filepath.Join(away, "real.yaml")
	require.NoError(t, os.WriteFile(real, []byte(heath), 0o666))
	require.NoError(t, os.Symlink(real, p.path("ferments/heath.yaml")))
	require.NoError(t, os.Symlink(filepath.Join(away, "gone.yaml"), p.path("ferments/gone.yaml")))
	require.Zero(t, p.run(degasLog...).status)
	assert.Len(t, p.log("heath"), 3)
	info, err := os.Lstat(p.path("ferments/heath.yaml"))
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&fs.ModeSymlink)
	got := p.run("log", "gone", "degas")
	assert.NotZero(t, got.status)
	assert.NoFileExists(t, filepath.Join(away, "gone.yaml"))
	check := p.run("check")
	assert.Contains(t, check.out, "ferments/gone.yaml: ", check.out)
	p.requireClean()

	// The folder of ferments is a link, and the cellar too.
	q := newPlace(t, nil)
	require.NoError(t, os.Remove(q.path("ferments")))
	require.NoError(t, os.Mkdir(filepath.Join(q.root, "elsewhere"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(q.root, "elsewhere", "heath.yaml"), []byte(heath), 0o666))
	require.NoError(t, os.Symlink("../elsewhere", q.path("ferments")))
	require.NoError(t, os.Symlink(q.dir, filepath.Join(q.root, "linked")))
	q.dir = filepath.Join(q.root, "linked")
	require.Zero(t, q.run(degasLog...).status)
	assert.Len(t, q.log("heath"), 3)
	info, err = os.Lstat(filepath.Join(q.root, "cellar", "ferments"))
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&fs.ModeSymlink)
}

// Without a home nothing is written into the working directory.
func TestNoHomeAndNoCellarNamed(t *testing.T) {
	p := newPlace(t, nil)
	p.as = func(cmd *exec.Cmd) { cmd.Env = []string{"TERM=dumb"} }
	before := tree(t, p.root)
	for _, args := range [][]string{{}, {"today"}, {"check"}, {"log", "heath", "degas"}, {"new", "heath"}} {
		got := p.run(args...)
		assert.Equal(t, 3, got.status, args)
		assert.Equal(t, "jugkeeper: nothing says where the cellar is: name it with --cellar, or set HOME\n", got.err, args)
	}
	assert.Empty(t, changed(before, tree(t, p.root)))
}
