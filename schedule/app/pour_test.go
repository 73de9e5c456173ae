package app_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// TestPouringWritesBothLogs: what is poured into one vessel is gone from the other, by its own log.
func TestPouringWritesBothLogs(t *testing.T) {
	store := holding(jug("heath", 3, "3 11:00 pitch|14 07:00 0.997"), jug("clover", 2, "3 11:00 pitch|14 07:00 1.004"))
	blend := func(amount string) ferment.Entry { return lines("20 09:00 blend " + amount + " of=clover")[0] }
	kept, err := app.New(store).Log(at(20, 9, 0), []string{"heath"}, blend("0.5L"))
	require.NoError(t, err)
	require.Len(t, kept.Receipts, 2)
	assert.Equal(t, "clover", kept.Receipts[1].Subject)
	assert.Equal(t, "0.5 L", kept.Receipts[1].Entries[0].Lost.Text)
	assert.Equal(t, "into HEATH", kept.Receipts[1].Entries[0].Note)
}

// TestMoreThanThereIsIsAskedAbout: a top-up or a blend of more than the other has.
func TestMoreThanThereIsIsAskedAbout(t *testing.T) {
	heath := jug("heath", 3, "3 11:00 pitch|14 07:00 0.997 vol3L")
	heath.Vessel.Brimful = measure.Give(measure.Volume(4.1), "4.1 L")
	store := holding(heath, jug("clover", 3, "3 11:00 pitch|14 07:00 1.004 vol0.5L"))
	for typed, want := range map[string]string{
		"blend 0.8L of=clover":               "CLOVER has 0.50 L: measure it, or take less",
		"top-up 0.8L of=clover":              "CLOVER has 0.50 L: measure it, or take less",
		"top-up 0.4L of=clover":              "",
		"top-up 0.8L of=same":                "",
		"top-up 0.8L of=lime-25 alcohol=12%": "",
	} {
		s, err := app.New(store).Open(at(20, 9, 0))
		require.NoError(t, err)
		v, _ := s.Find("heath")
		assert.Equal(t, want, strings.Join(app.Says(app.Unlikely(s, v, lines("20 09:00 " + typed)[0])), "; "), typed)
	}
}

// TestPouredMeadIsReadAgain: a correction in the log of a mead that was poured in shows in the other at once, even at the
// same instant.
func TestPouredMeadIsReadAgain(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments", name+".yaml"), []byte("format: 1\nmust: {volume: 3.6 L, gravity: 1.090}\nlog:\n  - {at: 2026-09-01 11:00, did: pitch}\n"+text), 0o666))
	}
	write("heath", "  - {at: 2026-10-01 07:00, gravity: 0.997}\n  - {at: 2026-10-02 07:00, did: blend, of: clover, amount: 2 L}\n")
	write("clover", "  - {at: 2026-10-01 07:00, gravity: 0.997}\n")
	d := app.New(journal.Open(dir, time.UTC, protocols.Files()))
	present := func() float64 {
		s, err := d.Open(at(3, 10, 0))
		require.NoError(t, err)
		v, _ := s.Find("heath")
		return float64(v.Course.Present.Value)
	}
	dry := present()
	write("clover", "  - {at: 2026-10-01 07:00, gravity: 1.027}\n")
	assert.InDelta(t, dry+0.030*2/5.6, present(), 0.001)
}
