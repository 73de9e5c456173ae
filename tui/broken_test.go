package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const twoJugs = `-- ferments/heath.yaml --
format: 1
name: Heath, sheltered hives
tag: HEATH
protocol: small-jug
must: {volume: 3.6 L, gravity: 1.084}
log:
  - {at: 2026-10-03T19:00:00Z, did: pitch}
  - {at: 2026-10-04T07:00:00Z, did: started}
-- ferments/lime.yaml --
format: 1
tag: LIME
must: {volume: 3.6 L, gravity: 1.080}
log:
  - {at: 2026-10-03T19:00:00Z, did: pitch}
`

func (l life) read(name string) string {
	l.t.Helper()
	text, err := os.ReadFile(filepath.Join(l.dir, name))
	require.NoError(l.t, err)
	return string(text)
}

// save replaces a file like an editor, and the board notices.
func (l life) save(name, text string) {
	l.t.Helper()
	require.NoError(l.t, os.WriteFile(filepath.Join(l.dir, name), []byte(text), 0o666))
	l.send(ticked{now: l.now, changed: l.is().options.App.Changed()})
}

// A file that an editor leaves broken is reported with its line, while the board shows its last good state; the other
// jug takes entries. An entry for the broken file is kept next to it, its line stays open, and it is offered once the
// file is fixed.
func TestEditorLeavesTheFileBroken(t *testing.T) {
	l := newLife(t, twoJugs)
	good := l.read("ferments/heath.yaml")
	broken := strings.Replace(good, "must: {", "must: [", 1)
	l.save("ferments/heath.yaml", broken)
	l.shows("△ heath.yaml, line 5: this line keeps the file from being read as YAML", "Heath             working     3  1.084")

	l.keys("tab")
	on(l.driver, "heath").keys("g", "text:1070", "enter")
	l.shows("HEATH    entry: 1070", "nothing was written", "the entry is kept in ferments/heath.unsaved")
	assert.Equal(t, broken, l.read("ferments/heath.yaml"))
	l.keys("esc", "esc")
	on(l.driver, "lime").keys("g", "text:1075", "enter").shows("✓ kept: LIME 1.075", "△ heath.yaml, line 5", "Heath             working")
	assert.Contains(t, l.read("ferments/lime.yaml"), "gravity: 1.075")
	l.keys("!").shows("cannot be read: 1", "ferments/heath.yaml, line 5").keys("esc")

	l.save("ferments/heath.yaml", good)
	l.shows("an entry is gone from ferments/heath.yaml", "07:04     1.070").lacks("△ heath.yaml")
	l.keys("enter").shows("1.070 0 min")
	assert.Equal(t, 1, strings.Count(l.read("ferments/heath.yaml"), "gravity: 1.070"))
	assert.NoFileExists(t, filepath.Join(l.dir, "ferments/heath.unsaved"))
	l.keys("!").shows("all can be read")
}

// An editor that breaks one entry makes only that one unreadable: the file takes another, and the next save restores
// it.
func TestEditorBreaksOneEntry(t *testing.T) {
	l := newLife(t, twoJugs)
	good := l.read("ferments/heath.yaml")
	l.save("ferments/heath.yaml", strings.Replace(good, "started}", "started, note: smell: eggs}", 1))
	l.shows("△ heath.yaml, line 8: this entry does not read as YAML")
	on(l.driver, "heath").keys("g", "text:1070", "enter").shows("✓ kept: HEATH 1.070", "△ heath.yaml, line 8")
	l.save("ferments/heath.yaml", strings.Replace(l.read("ferments/heath.yaml"), "smell: eggs", `"smell: eggs"`, 1))
	l.lacks("△ heath.yaml").shows("1.070 0 min")
	assert.Equal(t, 3, strings.Count(l.read("ferments/heath.yaml"), "- "))
}

// A file that an editor removes or empties is checked again before it counts as gone; it may come back.
func TestEditorTakesTheFileAway(t *testing.T) {
	l := newLife(t, twoJugs)
	good := l.read("ferments/heath.yaml")
	l.save("ferments/heath.yaml", "")
	l.shows("△ heath.yaml: the file is empty", "Heath             working")
	l.save("ferments/heath.yaml", good)
	l.lacks("△ heath.yaml").shows("Heath             working")
	require.NoError(t, os.Remove(filepath.Join(l.dir, "ferments/heath.yaml")))
	l.send(ticked{now: l.now, changed: true})
	l.lacks("HEATH").shows("LIME")
	l.save("ferments/heath.yaml", good)
	l.shows("Heath             working", "LIME")
}

// Several steps are undone in turn, each only if unchanged: one that was edited stays, with a message, and the one
// before it is next. Entries of others are never undone.
func TestUndoOfSeveralStepsAfterAnEdit(t *testing.T) {
	l := newLife(t, twoJugs)
	before := l.read("ferments/lime.yaml")
	l.keys("tab") // the list of vessels, whose order does not change
	for _, text := range []string{"1075", "degas", "1070"} {
		l.driver.now = l.driver.now.Add(12 * time.Hour)
		on(l.driver, "lime").keys("g", "text:"+text, "enter").shows("✓ kept: LIME")
	}
	mine := "  - {at: 2026-10-07T07:00:00Z, note: by hand}\n"
	edited := strings.Replace(l.read("ferments/lime.yaml"), "did: degas\n", "did: degas\n    note: lively\n", 1) + mine
	l.save("ferments/lime.yaml", edited)
	l.keys("u").shows("taken back: LIME 1.070")
	l.keys("u").shows("left alone")
	l.keys("u").shows("taken back: LIME 1.075")
	l.keys("u").shows("there is nothing to take back")
	after := l.read("ferments/lime.yaml")
	assert.Contains(t, after, "did: degas\n    note: lively\n")
	assert.Contains(t, after, mine)
	assert.NotContains(t, after, "gravity: 1.07")
	assert.True(t, strings.HasPrefix(after, before))
}
