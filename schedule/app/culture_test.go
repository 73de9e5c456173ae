package app_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// TestOneCultureOverTwoJugs: 300 mL for two jugs that need 180 mL each, by 5 million cells in a mL.
func TestOneCultureOverTwoJugs(t *testing.T) {
	jug := func(log string) string {
		return "protocol: small-jug\nmust: {volume: 3.6 L, gravity: 1.080}\nyeast: {name: sloe, kind: wild, culture: sloe-1}\nlog:\n  - {at: 2026-10-04 06:00, did: mix}\n" + log
	}
	open := func(a, b string) app.Snapshot {
		dir := t.TempDir()
		write(t, dir, map[string]string{"ferments/a.yaml": jug(a), "ferments/b.yaml": jug(b),
			"cultures.yaml": "cultures:\n  - {id: sloe-1, verdict: usable, log: [{at: 2026-10-01 12:00, did: passage, medium: 300 mL}]}\n"})
		s, err := app.New(journal.Open(dir, time.UTC, protocols.Files())).Open(at(5, 9, 0))
		require.NoError(t, err)
		return s
	}
	planned := func(s app.Snapshot, id string) float64 {
		v, _ := s.Find(id)
		task, has := app.TaskMeant(v, "pitch")
		require.True(t, has)
		return task.Amount.Number
	}
	fresh := open("", "")
	assert.InDelta(t, 150, planned(fresh, "a"), 0.5, "half of it each")
	one := open("  - {at: 2026-10-04 08:00, did: pitch, amount: 180 mL}\n", "")
	assert.InDelta(t, 120, planned(one, "b"), 0.5, "what is left")

	v, _ := one.Find("b")
	pitch := func(text string) ferment.Entry {
		e, err := app.Typed{Line: "pitch " + text}.Read(one.Cellar.Settings, one.At)
		require.NoError(t, err)
		return e.Entry
	}
	assert.Empty(t, app.Unlikely(one, v, pitch("120mL")))
	assert.Equal(t, []string{"180 mL is more than is left of culture sloe-1, 120 mL: did you mean 120 mL?"}, app.Says(app.Unlikely(one, v, pitch("180mL"))))
	asks := app.OverCulture(fresh.Vessels, func(app.Vessel) []ferment.Entry { return []ferment.Entry{pitch("180mL")} })
	assert.Equal(t, []string{"360 mL is more than is left of culture sloe-1, 300 mL"}, app.Says(asks))
	assert.Empty(t, app.OverCulture(fresh.Vessels, func(app.Vessel) []ferment.Entry { return []ferment.Entry{pitch("150mL")} }))
}

func write(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	}
}
