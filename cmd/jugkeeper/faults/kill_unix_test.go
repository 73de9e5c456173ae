//go:build unix

package faults

import (
	"fmt"
	"math/rand/v2"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// entryOf returns entry number i with its own time and a unique note.
func entryOf(command string, i int) (args []string, note string) {
	note = fmt.Sprintf("%s %d", command, i)
	at := time.Date(2026, 9, 13, 9, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Minute)
	return []string{command, "heath", "degas", "--note", note, "--at", at.Format("2006-01-02 15:04"), "--yes"}, note
}

// A program killed a hundred times at random moments, alone and next to another, loses nothing that it reported as
// kept, and writes nothing twice.
func TestKilledAtChanceMoments(t *testing.T) {
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	args, first := entryOf("log", 0)
	p.run("version") // the first run is slower
	begun := time.Now()
	require.Zero(t, p.run(args...).status)
	usual := time.Since(begun)
	acknowledged := map[string]bool{first: true}
	given := map[string]bool{first: true}

	times, chance := 100, rand.New(rand.NewPCG(2026, 9))
	if testing.Short() {
		times = 20
	}
	kills, runs := 0, 0
	for i := 1; kills < times && i < 8*times; i++ {
		runs++
		args, note := entryOf([]string{"log", "done"}[i%2], i)
		given[note] = true
		cmd := p.command(args...)
		var beside *exec.Cmd
		if i%4 == 0 {
			args, note := entryOf("log", i+10_000)
			given[note], acknowledged[note] = true, true
			beside = p.command(args...)
			require.NoError(t, beside.Start())
		}
		require.NoError(t, cmd.Start())
		time.Sleep(usual/3 + time.Duration(chance.Int64N(int64(usual))))
		_ = cmd.Process.Kill()
		if cmd.Wait() == nil {
			acknowledged[note] = true
			usual -= usual / 20 // so that about half are killed
		} else {
			kills++
			usual += usual / 20
		}
		if beside != nil {
			require.NoError(t, beside.Wait())
		}
		p.log("heath") // completely readable
	}
	noted := p.noted("heath")
	lost, doubled := 0, 0
	for note := range acknowledged {
		if noted[note] == 0 {
			lost++
		}
	}
	for note, n := range noted {
		assert.True(t, given[note], note)
		if n > 1 {
			doubled++
		}
	}
	assert.Equal(t, times, kills)
	assert.Zero(t, lost, "lost")
	assert.Zero(t, doubled, "doubled")
	check := p.run("check")
	assert.Zero(t, check.status, check.out)
	t.Logf("%d kills in %d runs: %d entries acknowledged, %d lost, %d doubled, 0 files torn; %d more written before the kill, %d offered back",
		kills, runs, len(acknowledged), lost, doubled, len(noted)-len(acknowledged), strings.Count(check.out, "that was given"))
}

// Two and four programs that write into one file at once lose nothing.
func TestManyAtOnce(t *testing.T) {
	for _, programs := range []int{2, 4} {
		each := 32 / programs
		if testing.Short() {
			each = 8 / programs
		}
		p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
		var all sync.WaitGroup
		for who := range programs {
			all.Go(func() {
				for i := range each {
					args, _ := entryOf("log", 1000*who+i)
					assert.Zero(t, ended(t, p.command(args...)).status)
				}
			})
		}
		all.Wait()
		noted := p.noted("heath")
		assert.Len(t, noted, programs*each)
		for note, n := range noted {
			assert.Equal(t, 1, n, note)
		}
		p.requireClean()
		t.Logf("%d programs, %d entries each: %d there, 0 lost, 0 doubled", programs, each, len(noted))
	}
}

// A command that finds no cellar says so and creates none. For the board see the tests of tui.
func TestMissingCellarIsNotCreated(t *testing.T) {
	p := newPlace(t, nil)
	p.dir += "-elsewhere"
	for _, args := range [][]string{{"today"}, {"log", "heath", "degas"}, {"check"}, {"show", "heath"}, {"new", "heath", "volume=3L"}} {
		got := p.run(args...)
		assert.Equal(t, 3, got.status, args[0])
		assert.Contains(t, got.err, "there is no cellar at", args[0])
		assert.NoDirExists(t, p.dir, args[0])
	}
}

// If the clock was set back, the entry is kept in its place, after a question, and later entries are reported.
func TestClockJumpsBack(t *testing.T) {
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	require.Zero(t, p.run("log", "heath", "1.070", "--at", "2026-09-15 07:00").status)
	require.Zero(t, p.run("log", "heath", "degas", "--at", "2026-09-14 07:00").status)
	require.Zero(t, p.run("log", "heath", "degas", "--at", "2026-09-11 07:00").status)
	var acts []string
	for _, e := range p.log("heath") {
		acts = append(acts, string(e.Did)+e.Gravity.Text)
	}
	assert.Equal(t, []string{string(ferment.Pitch), string(ferment.Started), "1.070", string(ferment.Degas), string(ferment.Degas)}, acts)
	assert.Contains(t, p.run("check", "--at", "2026-09-14 12:00").out, "this entry is of 2026-09-15 07:00, in the future")
	assert.NotContains(t, p.run("today", "--at", "2026-09-14 12:00").out, "1.070", "what is to come counts for nothing")
}
