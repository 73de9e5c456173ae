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
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

const working = "protocol: small-jug\nmust: {volume: 3.5 L, gravity: 1.084}\nlog:\n  - {at: 2026-10-03 11:00, did: pitch}\n"

// cellarOf returns an application on files in a folder.
func cellarOf(t *testing.T, files map[string]string) (*app.App, string) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	}
	return app.New(journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(t.TempDir()))), dir
}

func text(t *testing.T, dir, file string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, file))
	require.NoError(t, err)
	return string(data)
}

func litres(t *testing.T, v string) measure.Given[measure.Volume] {
	t.Helper()
	g, err := measure.ParseVolume(v)
	require.NoError(t, err)
	return g
}

// TestCarryIsOneActToTakeBack: a jug is split into two, one is fed, and the first is closed; one Undo reverts all.
func TestCarryIsOneActToTakeBack(t *testing.T) {
	files := map[string]string{"ferments/heath.yaml": working}
	d, dir := cellarOf(t, files)
	part := func(id string) ferment.Ferment {
		return ferment.Ferment{ID: id, Protocol: "small-jug", Must: ferment.Must{Volume: litres(t, "1.7 L"), Honey: []ferment.HoneyPart{{Lot: "lime-26"}}},
			Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: "hawthorn-4"}, From: ferment.Origin{Ferment: "heath", At: ferment.At(at(5, 9, 0)), Volume: litres(t, "1.7 L")}}
	}
	change := ferment.Change{
		Ferments: []ferment.Ferment{part("heath-b"), part("heath-c")},
		Lots:     []ferment.Lot{{ID: "lime-26"}},
		Uses:     []ferment.LotUse{{Lot: "lime-26", Use: ferment.Use{For: "table"}}},
		Cultures: []ferment.Culture{{ID: "hawthorn-4", Protocol: "wild-culture"}},
		Entries: []ferment.Logged{
			{Subject: "heath-b", Entries: []ferment.Entry{typed("pitch"), typed("honey 10g/L")}},
			{Subject: "hawthorn-4", Entries: []ferment.Entry{typed("collect")}},
			{Subject: "Heath", Entries: []ferment.Entry{typed("close")}},
		},
		Closes: []string{"HEATH"},
	}
	kept, err := d.Apply(at(5, 10, 0), change)
	require.NoError(t, err)
	assert.Empty(t, change.Ferments[0].Log, "the caller's own change is not touched")
	assert.Len(t, kept.Receipts, 7)
	assert.Contains(t, text(t, dir, "ferments/heath-b.yaml"), "  - at: 2026-10-05T10:00:00Z\n    did: honey\n    amount: 17 g\n")
	assert.Contains(t, text(t, dir, "honey.yaml"), "{at: 2026-10-05T10:00:00Z, for: table}")
	assert.Contains(t, text(t, dir, "cultures.yaml"), "did: collect")
	assert.Contains(t, text(t, dir, "ferments/past/heath.yaml"), "did: close")

	s, err := d.Open(at(5, 10, 1))
	require.NoError(t, err)
	require.Len(t, s.Vessels, 2)
	assert.Equal(t, ferment.Pitch, s.Vessels[0].Course.Entries[0].Did, "a part has the log of its parent, also of a closed one")
	assert.True(t, s.Vessels[0].Course.Entries[0].At.Time.Equal(at(3, 11, 0)))
	whole, err := d.OpenWhole(at(5, 10, 1))
	require.NoError(t, err)
	assert.Empty(t, whole.Cellar.Problems)
	require.Len(t, whole.Past, 1)
	assert.True(t, whole.Past[0].Ferment.Past)

	_, err = d.Log(at(5, 10, 2), []string{"HEATH"}, typed("open"))
	require.NoError(t, err, "a bottle of a closed one is drunk")
	assert.Contains(t, text(t, dir, "ferments/past/heath.yaml"), "did: open")
	_, err = d.Undo(time.Time{})
	require.NoError(t, err)
	assert.NotContains(t, text(t, dir, "ferments/past/heath.yaml"), "did: open")

	assert.Equal(t, 1, d.UndoCount())
	_, err = d.Undo(time.Time{})
	require.NoError(t, err)
	assert.Equal(t, working, text(t, dir, "ferments/heath.yaml"))
	for _, gone := range []string{"ferments/heath-b.yaml", "ferments/heath-c.yaml", "ferments/past/heath.yaml", "honey.yaml", "cultures.yaml"} {
		assert.NoFileExists(t, filepath.Join(dir, gone))
	}
}

// TestUnknownNamesAreRefusedBeforeWriting: unknown names and ids.
func TestUnknownNamesAreRefusedBeforeWriting(t *testing.T) {
	honey := func(lot string) []ferment.Ferment {
		return []ferment.Ferment{{ID: "new", Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: lot}}}}}
	}
	lots := []ferment.Lot{{ID: "ivy-26"}}
	for _, c := range []struct {
		change ferment.Change
		says   string
	}{
		{ferment.Change{Lots: lots, Entries: []ferment.Logged{{Subject: "sloe", Entries: []ferment.Entry{typed("degas")}}}}, `no ferment is called "sloe": there is heath`},
		{ferment.Change{Lots: lots, Closes: []string{"sloe"}}, `no ferment is called "sloe": there is heath`},
		{ferment.Change{Lots: lots, Ferments: honey("lime-26")}, `no lot is called "lime-26": there is ivy-26`},
		{ferment.Change{Ferments: honey("lime-26")}, `no lot is called "lime-26": there is none yet`},
		{ferment.Change{Lots: lots, Uses: []ferment.LotUse{{Lot: "lime-26"}}}, `no lot is called "lime-26": there is ivy-26`},
		{ferment.Change{Lots: lots, Ferments: []ferment.Ferment{{ID: "new", Yeast: ferment.Yeast{Culture: "sloe-1"}}}}, `no culture is called "sloe-1": there is none yet`},
		{ferment.Change{Lots: lots, Cultures: []ferment.Culture{{ID: "sloe-2", From: "sloe-1"}}}, `no culture is called "sloe-1": there is sloe-2`},
		{ferment.Change{Lots: lots, Entries: []ferment.Logged{{Subject: "bare", Entries: []ferment.Entry{typed("honey 10g/L")}}}}, "bare: 10 g/L needs the volume in the vessel"},
	} {
		files := map[string]string{"ferments/heath.yaml": working}
		if c.change.Entries != nil && c.change.Entries[0].Subject == "bare" {
			files["ferments/bare.yaml"] = "format: 1\n"
		}
		d, dir := cellarOf(t, files)
		kept, err := d.Apply(at(5, 10, 0), c.change)
		assert.ErrorContains(t, err, c.says)
		assert.Empty(t, kept.Receipts)
		assert.Equal(t, 0, d.UndoCount(), c.says)
		assert.NoFileExists(t, filepath.Join(dir, "honey.yaml"), c.says)
		assert.NoFileExists(t, filepath.Join(dir, "ferments/new.yaml"), c.says)
	}
}

// TestCarryReportsTheGate: as Log does.
func TestCarryReportsTheGate(t *testing.T) {
	logged, _ := cellarOf(t, map[string]string{"ferments/heath.yaml": working})
	carried, _ := cellarOf(t, map[string]string{"ferments/heath.yaml": working})
	one, err := logged.Log(at(3, 12, 0), []string{"heath"}, typed("nutrient 1.4g"))
	require.NoError(t, err)
	two, err := carried.Apply(at(3, 12, 0), ferment.Change{Entries: []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{typed("nutrient 1.4g")}}}})
	require.NoError(t, err)
	assert.NotEmpty(t, one.Notices)
	assert.Equal(t, one.Notices, two.Notices)
	entry := typed("nutrient 1.4g")
	entry.Overrode, entry.Because = "nutrient", "cold"
	passed, err := carried.Apply(at(5, 12, 0), ferment.Change{Entries: []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{entry}}}})
	require.NoError(t, err)
	assert.Empty(t, passed.Notices)
}

// TestChosenEndingIsPlanned: the file has no ending, an entry chooses one, and a later one another.
func TestChosenEndingIsPlanned(t *testing.T) {
	d, _ := cellarOf(t, map[string]string{"ferments/heath.yaml": working})
	stands := func(now time.Time) (v app.Vessel) {
		s, err := d.Open(now)
		require.NoError(t, err)
		require.Empty(t, s.Vessels[0].Trouble)
		return s.Vessels[0]
	}
	choose := func(now time.Time, of string) {
		_, err := d.Apply(now, ferment.Change{Entries: []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{{Did: ferment.Choose, Of: of}}}}})
		require.NoError(t, err)
	}
	assert.Empty(t, gatesOf(stands(at(5, 9, 0)), "bottle"))
	choose(at(5, 10, 0), "still")
	v := stands(at(5, 10, 1))
	assert.Equal(t, []ferment.Ending{ferment.Still}, v.Ferment.Endings)
	assert.Equal(t, v.Course.Ferment.Endings, v.Ferment.Endings, "the gates see it too")
	assert.Equal(t, []ferment.Gate{ferment.StillGate}, gatesOf(v, "bottle"))
	choose(at(6, 10, 0), "bottle-conditioned")
	v = stands(at(6, 10, 1))
	assert.Equal(t, []ferment.Ending{ferment.BottleConditioned}, v.Ferment.Endings)
	assert.Equal(t, []ferment.Gate{ferment.ConditioningGate}, gatesOf(v, "bottle"))
	_, err := d.Undo(time.Time{})
	require.NoError(t, err)
	assert.Equal(t, []ferment.Ending{ferment.Still}, stands(at(6, 10, 2)).Ferment.Endings)
}

// gatesOf returns the gates before the steps of a name.
func gatesOf(v app.Vessel, name string) []ferment.Gate {
	var gates []ferment.Gate
	for _, s := range v.Plan.Steps {
		if s.Name == name {
			gates = append(gates, s.Gate)
		}
	}
	return gates
}
