package faults

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

func TestMain(m *testing.M) {
	if job, is := jobs[os.Getenv(jobVariable)]; is {
		os.Exit(job())
	}
	status := m.Run()
	_ = os.RemoveAll(built)
	os.Exit(status)
}

// The test binary also acts as a program: with this variable it does one of the jobs.
const jobVariable = "FAULTS_TEST_JOB"

var jobs = map[string]func() int{}

// job returns the test binary with one of its jobs.
func (p place) job(name string) *exec.Cmd {
	p.t.Helper()
	self, err := os.Executable()
	require.NoError(p.t, err)
	cmd := p.command()
	cmd.Path, cmd.Args = self, []string{self}
	cmd.Env = append(cmd.Env, jobVariable+"="+name)
	return cmd
}

// built is the folder of the built program.
var built string

// program is the built program. Its sources are read, so that a cached result is not used after they have changed.
var program = sync.OnceValue(func() string {
	err := filepath.WalkDir("../../..", func(path string, _ os.DirEntry, err error) error {
		if err == nil && (strings.HasSuffix(path, ".go") || strings.HasSuffix(path, ".yaml")) {
			_, err = os.Stat(path)
		}
		return err
	})
	if err == nil {
		built, err = os.MkdirTemp("", "jugkeeper")
	}
	if err != nil {
		panic(err)
	}
	name := filepath.Join(built, "jugkeeper")
	if out, err := exec.Command("go", "build", "-o", name, "cellar/jugkeeper/cmd/jugkeeper").CombinedOutput(); err != nil {
		panic(string(out))
	}
	_ = os.Chmod(built, 0o755) // for tests as another user
	return name
})

// heath is a fermenting jug, written by hand.
const heath = `# by hand
format: 1
name: Heath, sheltered hives
tag: HEATH
protocol: small-jug
must: {volume: 3.6 L, gravity: 1.084}   # measured

log:
  - at: 2026-09-12T18:30:00Z
    did: pitch
    amount: 0.9 g
  - at: 2026-09-13T08:00:00Z
    did: started

# the end
`

// lime is the second jug, with its log between brackets.
var lime = strings.Replace(strings.Replace(heath, "HEATH", "LIME", 1), heath[strings.Index(heath, "log:"):],
	"log: [{at: 2026-09-12T18:30:00Z, did: pitch}, {at: 2026-09-13T08:00:00Z, did: started}]\n", 1)

var jugs = map[string]string{"ferments/heath.yaml": heath, "ferments/lime.yaml": lime}

// place is a cellar with a person's folders around it.
type place struct {
	t     *testing.T
	root  string
	dir   string // the cellar
	state string
	as    func(*exec.Cmd) // user of the program
}

// newPlace returns a place with some files in its cellar.
func newPlace(t *testing.T, files map[string]string) place {
	t.Helper()
	root := t.TempDir()
	p := place{t: t, root: root, dir: filepath.Join(root, "cellar"), state: filepath.Join(root, "state"), as: func(*exec.Cmd) {}}
	require.NoError(t, os.MkdirAll(filepath.Join(p.dir, "ferments"), 0o777))
	for name, text := range files {
		p.write(name, text)
	}
	return p
}

func (p place) path(name string) string { return filepath.Join(p.dir, filepath.FromSlash(name)) }

func (p place) write(name, text string) {
	p.t.Helper()
	require.NoError(p.t, os.MkdirAll(filepath.Dir(p.path(name)), 0o777))
	require.NoError(p.t, os.WriteFile(p.path(name), []byte(text), 0o666))
	old := time.Now().Add(-time.Minute) // old, so that no write waits
	require.NoError(p.t, os.Chtimes(p.path(name), old, old))
}

func (p place) read(name string) string {
	p.t.Helper()
	data, err := os.ReadFile(p.path(name))
	require.NoError(p.t, err)
	return string(data)
}

// command returns the program with only a person's environment.
func (p place) command(args ...string) *exec.Cmd {
	cmd := exec.Command(program(), args...)
	cmd.Dir = p.root
	cmd.Env = []string{"JUGKEEPER_CELLAR=" + p.dir, "XDG_STATE_HOME=" + p.state, "HOME=" + p.root, "TERM=dumb", "TZ=UTC"}
	p.as(cmd)
	return cmd
}

// said is the exit and output of a run.
type said struct {
	status   int
	out, err string
}

func (p place) run(args ...string) said {
	p.t.Helper()
	return ended(p.t, p.command(args...))
}

func ended(t *testing.T, cmd *exec.Cmd) said {
	t.Helper()
	var out, errs strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		require.NoError(t, err)
	}
	return said{cmd.ProcessState.ExitCode(), out.String(), errs.String()}
}

// log returns the log of a ferment, every line of it readable.
func (p place) log(name string) []ferment.Entry {
	p.t.Helper()
	r := journal.ReadFerment("ferments/"+name+".yaml", []byte(p.read("ferments/"+name+".yaml")), time.UTC)
	require.Empty(p.t, r.Problems)
	return r.Value.Log
}

// noted counts each note in a log.
func (p place) noted(name string) map[string]int {
	count := map[string]int{}
	for _, e := range p.log(name) {
		if e.Note != "" {
			count[e.Note]++
		}
	}
	return count
}

// requireClean checks that nothing is left of an unfinished write.
func (p place) requireClean() {
	p.t.Helper()
	require.NoError(p.t, filepath.WalkDir(p.root, func(path string, _ os.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(path, ".tmp") {
			err = fmt.Errorf("left over: %s", path)
		}
		return err
	}))
}
