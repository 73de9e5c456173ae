package faults

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var lasts = flag.Duration("lasts", 5*time.Second, "how long programs, editors and kills go on, e.g. 10m")

// longRun is a cellar of six jugs into which several programs write at once.
type longRun struct {
	place
	until time.Time

	mu                           sync.Mutex
	given, kept                  map[string]bool // marks of entries: all, and those reported as kept
	lines                        map[string]bool // marks of lines that an editor saved
	kills, boards, refused, busy int
}

// mark matches the unique mark of an entry or line.
var mark = regexp.MustCompile(`[a-z]+[0-9]+;`)

// goes reports whether the run continues, after waiting for some time. On a busy machine it waits up to a minute longer
// for the first entry.
func (r *longRun) goes(most time.Duration) bool {
	time.Sleep(rand.N(most))
	late := time.Since(r.until)
	r.mu.Lock()
	defer r.mu.Unlock()
	return late < 0 || late < time.Minute && len(r.kept) == 0
}

// count changes the counters under a lock.
func (r *longRun) count(change func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	change()
}

// Four programs write into six files, three commands and a board, each killed repeatedly, while an editor of each kind
// saves two of the files. No entry reported as kept is lost: it is in its file, or was removed by an editor's old text
// and is offered. Nothing is there twice, no line of an editor is gone, no file is torn.
func TestALongRun(t *testing.T) {
	t.Parallel()
	files := map[string]string{}
	for i := range 6 {
		files[fmt.Sprintf("ferments/jug%d.yaml", i)] = strings.ReplaceAll([]string{heath, lime}[i%2], []string{"HEATH", "LIME"}[i%2], fmt.Sprintf("JUG%d", i))
	}
	r := &longRun{place: newPlace(t, files), given: map[string]bool{}, kept: map[string]bool{}, lines: map[string]bool{}}
	r.run("version")
	r.until = time.Now().Add(*lasts)
	var all sync.WaitGroup
	for who := range 3 {
		all.Go(func() { r.commands(who) })
	}
	all.Go(r.atBoards)
	over := func(flags int) func(path string, text []byte) error {
		return func(path string, text []byte) error {
			f, err := os.OpenFile(path, flags, 0o666)
			if err != nil {
				return err
			}
			_, err = f.Write(text)
			return errors.Join(err, f.Close())
		}
	}
	for i, save := range []func(path string, text []byte) error{
		func(path string, text []byte) error {
			return errors.Join(os.WriteFile(path+"~", text, 0o666), os.Rename(path+"~", path))
		},
		over(os.O_WRONLY | os.O_TRUNC),
		over(os.O_WRONLY),
	} {
		all.Go(func() { r.editor(2*i, save) })
	}
	all.Wait()
	r.settle()
}

// commands logs entries one after the other, and kills some of the commands.
func (r *longRun) commands(who int) {
	usual := 100 * time.Millisecond
	for i := 1; r.goes(200 * time.Millisecond); i++ {
		note := fmt.Sprintf("command%d;", 100_000*who+i)
		at := time.Date(2026, 9, 13, 9, 0, 0, 0, time.UTC).Add(time.Duration(100_000*who+i) * time.Minute)
		cmd := r.command([]string{"log", "done"}[i%2], fmt.Sprintf("jug%d", rand.N(6)), "degas", "--note", note, "--at", at.Format("2006-01-02 15:04"), "--yes")
		said := &bytes.Buffer{}
		cmd.Stderr = said
		begun := time.Now()
		if !assert.NoError(r.t, cmd.Start()) {
			return
		}
		killed := rand.N(3) == 0
		if killed {
			time.AfterFunc(rand.N(usual), func() { _ = cmd.Process.Kill() })
		}
		err := cmd.Wait()
		if !killed {
			usual = (3*usual + time.Since(begun)) / 4
		}
		r.count(func() {
			r.given[note] = true
			switch {
			case err == nil:
				r.kept[note] = true
			case cmd.ProcessState.ExitCode() < 0:
				r.kills++
			default:
				r.refused++
				assert.Contains(r.t, said.String(), "jugkeeper: ", "a reason")
			}
		})
	}
}

// atBoards writes notes on a board, and kills it after a few.
func (r *longRun) atBoards() {
	for i := 0; r.goes(time.Second); {
		b := r.board("--at", "2027-09-01 18:30")
		drawn := func(text string) bool {
			for range 500 {
				b.mu.Lock()
				is := strings.Contains(movement.ReplaceAllString(b.seen.String(), " "), text)
				b.mu.Unlock()
				if is {
					return true
				}
				time.Sleep(20 * time.Millisecond)
			}
			return false
		}
		on := drawn("JUG")
		for range 1 + rand.N(5) {
			i++
			note := fmt.Sprintf("board%d;", i)
			r.count(func() { r.given[note] = true })
			b.types("n")
			if !on || !drawn("note:") {
				break
			}
			b.send(note)
			b.mu.Lock()
			b.seen.Reset()
			b.mu.Unlock()
			b.types("enter")
			if !drawn("kept: ") {
				break
			}
			r.count(func() { r.kept[note] = true; r.boards++ })
		}
		_ = b.cmd.Process.Kill()
		_ = b.cmd.Wait()
		r.count(func() { r.kills++ })
	}
}

// editor reads one of two files, waits, compares, and saves it with one more line.
func (r *longRun) editor(first int, save func(path string, text []byte) error) {
	for i := 1; r.goes(3 * time.Second); i++ {
		path := r.path(fmt.Sprintf("ferments/jug%d.yaml", first+i%2))
		text, err := os.ReadFile(path)
		if err != nil || len(text) == 0 {
			continue
		}
		time.Sleep(rand.N(100 * time.Millisecond))
		line := fmt.Sprintf("editor%d;", 100_000*first+i)
		if now, err := os.ReadFile(path); err != nil || !bytes.Equal(now, text) {
			r.count(func() { r.busy++ })
		} else if assert.NoError(r.t, save(path, append(text, "# "+line+"\n"...))) {
			r.count(func() { r.lines[line] = true })
		}
	}
}

// settle counts the results.
func (r *longRun) settle() {
	found, offered := map[string]int{}, map[string]bool{}
	torn := 0
	copies, err := os.ReadDir(r.path("ferments"))
	require.NoError(r.t, err)
	for _, f := range copies {
		text := r.read("ferments/" + f.Name())
		if !strings.HasSuffix(f.Name(), ".yaml") || strings.Contains(f.Name(), "~") {
			for _, m := range mark.FindAllString(text, -1) {
				offered[m] = true // kept aside, or in a copy of two saves at once
			}
			continue
		}
		for _, m := range mark.FindAllString(text, -1) {
			found[m]++
		}
		if !strings.HasPrefix(text, "# by hand\n") || strings.Count(text, "format: 1") != 1 {
			torn++
		}
		r.log(strings.TrimSuffix(f.Name(), ".yaml")) // every line is readable
	}
	check := r.run("check", "--at", "2027-12-01 12:00")
	for _, m := range mark.FindAllString(check.out, -1) {
		offered[m] = true
	}
	lost, doubled, back := 0, 0, 0
	for _, marks := range []map[string]bool{r.kept, r.lines} {
		for m := range maps.Keys(marks) {
			switch {
			case found[m] > 0:
			case offered[m]:
				back++
			default:
				lost++
				r.t.Log("lost", m)
			}
		}
	}
	for m, n := range found {
		assert.True(r.t, r.given[m] || r.lines[m], m)
		if n > 1 {
			doubled++
			r.t.Log("doubled", m)
		}
	}
	assert.Zero(r.t, lost, "lost")
	assert.Zero(r.t, doubled, "doubled")
	assert.Zero(r.t, torn, "torn")
	assert.NotEmpty(r.t, r.kept)
	r.t.Logf("%v: %d entries said to be kept, %d of them at the board, %d lines of editors; %d kills, %d refused, %d saves given up as the file had changed: %d lost, %d doubled, %d files torn; %d offered back",
		*lasts, len(r.kept), r.boards, len(r.lines), r.kills, r.refused, r.busy, lost, doubled, torn, back)
}
