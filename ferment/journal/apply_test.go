package journal

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// lime returns a new ferment with everything that a form can set.
func lime(id string) ferment.Ferment {
	return ferment.Ferment{
		ID: id, Name: "Lime blossom", Protocol: "",
		Vessel:   ferment.Vessel{Kind: "glass jug", Brimful: typed(measure.ParseVolume, "4.1 L")},
		Trial:    ferment.Trial{Name: "lime", Differs: "yeast"},
		From:     ferment.Origin{Ferment: "heath", At: day(2026, 9, 20), Volume: typed(measure.ParseVolume, "1.0 L")},
		Endings:  []ferment.Ending{ferment.Still, ferment.BottleConditioned},
		Must:     ferment.Must{Volume: typed(measure.ParseVolume, "3.6 L"), Honey: []ferment.HoneyPart{{Lot: "lime-26", Mass: typed(measure.ParseMass, "980 g"), Water: typed(measure.ParseShare, "18.1 %")}}},
		Yeast:    ferment.Yeast{Name: "white-wine yeast, dry", Demand: ferment.High},
		Nutrient: ferment.NutrientPlan{Kind: "ammonium phosphate"},
		Log:      []ferment.Entry{{At: ferment.At(time.Date(2026, 9, 20, 18, 30, 0, 0, time.UTC)), Did: ferment.Pitch, Note: "slow: a spoon at a time\nno foam"}},
		Note:     "the second, # of two",
	}
}

func typed[T any](parse func(string) (measure.Given[T], error), text string) measure.Given[T] {
	g, err := parse(text)
	if err != nil {
		panic(err)
	}
	return g
}

func day(year int, month time.Month, n int) ferment.Moment {
	return ferment.Moment{Time: time.Date(year, month, n, 0, 0, 0, 0, time.UTC), DayOnly: true}
}

func limeLot() ferment.Lot {
	return ferment.Lot{ID: "lime-26", Mass: typed(measure.ParseMass, "8.2 kg"), Taken: day(2026, 7, 20), State: "extracted"}
}

func use(grams string) ferment.LotUse {
	return ferment.LotUse{Lot: "lime-26", Use: ferment.Use{At: day(2026, 10, 2), Mass: typed(measure.ParseMass, grams), For: "table"}}
}

// tree returns all files of a folder by path, except the lock.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, away error) error {
		if away != nil {
			return away
		}
		info, err := os.Stat(path) // of the target of a link
		if err != nil || info.IsDir() || d.Name() == ".lock" || filepath.Base(filepath.Dir(path)) == "schemas" {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	}))
	return files
}

// everything returns a change with every part.
func everything() ferment.Change {
	closing := degasAt(9)
	closing.Did = ferment.Close
	return ferment.Change{
		Ferments: []ferment.Ferment{lime("lime-a"), lime("lime-b")},
		Lots:     []ferment.Lot{limeLot()},
		Uses:     []ferment.LotUse{use("500 g"), use("250 g")},
		Cultures: []ferment.Culture{{ID: "hawthorn-3", Source: "blossom, lane hedge", Log: []ferment.Entry{degasAt(3)}}},
		Entries:  []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{closing}}},
		Closes:   []string{"heath"},
	}
}

func TestChangeIsWrittenAndUndoneWhole(t *testing.T) {
	for what, files := range map[string]map[string]string{
		"nothing but a ferment": {"ferments/heath.yaml": heath},
		"files that are there": {"ferments/heath.yaml": heath,
			"honey.yaml":    "# lots\nformat: 1\nlots: [{id: ivy-26, used: []}] # two\n",
			"cultures.yaml": "format: 1\r\ncultures:\r\n- id: hawthorn-2\r\n  log: []\r\n\r\n# end\r\n"},
		"files that are empty": {"ferments/heath.yaml": heath, "honey.yaml": "# no lots yet", "cultures.yaml": "\n"},
	} {
		t.Run(what, func(t *testing.T) {
			dir := cellarWith(t, files)
			before := tree(t, dir)
			s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
			receipts, err := s.Apply(everything())
			require.NoError(t, err)
			after := tree(t, dir)
			assert.NotContains(t, after, "ferments/heath.yaml")
			assert.Contains(t, after["ferments/past/heath.yaml"], "did: close")

			c, err := s.Check(time.Time{})
			require.NoError(t, err)
			assert.Empty(t, c.Problems)
			require.Len(t, c.Ferments, 2)
			assert.Equal(t, "heath", c.Parents[0].ID)
			lot := c.Lots[len(c.Lots)-1]
			assert.Equal(t, "8.2 kg", lot.Mass.Text)
			require.Len(t, lot.Used, 2)
			assert.Equal(t, "250 g", lot.Used[1].Mass.Text)
			assert.Len(t, c.Cultures[len(c.Cultures)-1].Log, 1)

			for i := len(receipts) - 1; i >= 0; i-- {
				require.NoError(t, s.Undo(receipts[i]))
			}
			assert.Equal(t, before, tree(t, dir))
		})
	}
}

// requireNothingDone checks that a change is refused and nothing is written.
func requireNothingDone(t *testing.T, dir string, change ferment.Change, says string) {
	t.Helper()
	before := tree(t, dir)
	receipts, err := Open(dir, time.UTC, nil).Apply(change)
	require.Error(t, err, says)
	assert.ErrorContains(t, err, says)
	assert.Empty(t, receipts)
	assert.Equal(t, before, tree(t, dir))
}

func TestInvalidChangeWritesNothing(t *testing.T) {
	tagged := lime("lime-b")
	tagged.Tag = "ashes"
	wide := lime("lime-b")
	wide.Tag = "LIMETREE"
	planless := lime("lime-b")
	planless.Protocol = "smal-jug"
	half := lime("lime-b")
	half.Yeast.Kind = "tame"
	undated := lime("lime-b")
	undated.Log = []ferment.Entry{{Did: ferment.Pitch}}
	orphan := lime("lime-b")
	orphan.From.Ferment = "nobody"
	first := lime("lime-a")
	for _, c := range []struct {
		what   string
		change ferment.Change
		says   string
	}{
		{"an illegal name", ferment.Change{Ferments: []ferment.Ferment{first, lime("../x")}}, `"../x" is no name for a ferment`},
		{"a name that is taken", ferment.Change{Ferments: []ferment.Ferment{first, lime("HEATH")}}, `"HEATH" has a file already: ferments/heath.yaml`},
		{"a name that is taken in past", ferment.Change{Ferments: []ferment.Ferment{first, lime("Ivy")}}, `"Ivy" has a file already: ferments/past/ivy.yaml`},
		{"a name twice", ferment.Change{Ferments: []ferment.Ferment{first, lime("LIME-A")}}, `"LIME-A" is twice among the new ones`},
		{"the name of a culture", ferment.Change{Ferments: []ferment.Ferment{first, lime("hawthorn-2")}}, `"hawthorn-2" is the name of a culture`},
		{"the name of a ferment", ferment.Change{Lots: []ferment.Lot{limeLot()}, Cultures: []ferment.Culture{{ID: "heath"}}}, `"heath" is the name of a ferment: ferments/heath.yaml`},
		{"a tag that is a name", ferment.Change{Ferments: []ferment.Ferment{first, tagged}}, `tag "ashes" is the name of another ferment`},
		{"a wide tag", ferment.Change{Ferments: []ferment.Ferment{first, wide}}, `tag "LIMETREE" is wider than six columns`},
		{"a protocol that is nowhere", ferment.Change{Ferments: []ferment.Ferment{first, planless}}, `protocol "smal-jug" is not known`},
		{"a parent that is nowhere", ferment.Change{Ferments: []ferment.Ferment{first, orphan}}, `from: ferment "nobody" is neither open nor closed`},
		{"a word that is none", ferment.Change{Ferments: []ferment.Ferment{first, half}}, `kind "tame" is not one of its words`},
		{"an entry without a time", ferment.Change{Ferments: []ferment.Ferment{first, undated}}, `an entry needs at`},
		{"a lot twice", ferment.Change{Ferments: []ferment.Ferment{first}, Lots: []ferment.Lot{limeLot(), limeLot()}}, `id "lime-26" is the id of line`},
		{"a lot without an id", ferment.Change{Ferments: []ferment.Ferment{first}, Lots: []ferment.Lot{{Name: "lime"}}}, `a lot needs id`},
		{"a culture twice", ferment.Change{Ferments: []ferment.Ferment{first}, Cultures: []ferment.Culture{{ID: "hawthorn-2"}}}, `id "hawthorn-2" is the id of line`},
		{"a use of no lot", ferment.Change{Lots: []ferment.Lot{{ID: "ivy-26"}}, Uses: []ferment.LotUse{use("500 g")}}, `there is no lot "lime-26" in the file`},
		{"entries of nobody", ferment.Change{Lots: []ferment.Lot{limeLot()}, Entries: []ferment.Logged{{Subject: "nobody", Entries: []ferment.Entry{degasAt(3)}}}}, `there is no culture "nobody" in the file`},
		{"a closing of nobody", ferment.Change{Lots: []ferment.Lot{limeLot()}, Closes: []string{"nobody"}}, "ferments/nobody.yaml: nothing was written"},
		{"a closing over another", ferment.Change{Lots: []ferment.Lot{limeLot()}, Closes: []string{"twin"}}, `"twin" cannot be closed: ferments/past/Twin.yaml is there already`},
		{"a closing with entries aside", ferment.Change{Lots: []ferment.Lot{limeLot()}, Closes: []string{"aside"}}, `"aside" cannot be closed: ferments/aside.unsaved has entries`},
	} {
		t.Run(c.what, func(t *testing.T) {
			requireNothingDone(t, cellarWith(t, map[string]string{
				"ferments/heath.yaml": heath, "ferments/past/ivy.yaml": heath, "ferments/twin.yaml": heath, "ferments/past/Twin.yaml": heath,
				"ferments/ashes.yaml": "format: 1\n", "ferments/aside.yaml": heath, "ferments/aside.unsaved": "- {at: 2026-09-12}\n", "cultures.yaml": "cultures:\n  - id: hawthorn-2\n",
			}), c.change, c.says)
		})
	}
}

// aChangeInPart returns the transaction of a change whose second ferment cannot be written, because there is a folder
// in its place.
func aChangeInPart(t *testing.T, s *Store, dir string) *transaction {
	t.Helper()
	p := &transaction{store: s, texts: map[string][]byte{}}
	require.NoError(t, p.work(ferment.Change{Ferments: []ferment.Ferment{lime("lime-a"), lime("lime-b")}, Lots: []ferment.Lot{limeLot()}}))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "ferments", "lime-b.yaml"), 0o777))
	return p
}

func TestFailedChangeIsRolledBack(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath, "cultures.yaml": "cultures: []\n"})
	before := tree(t, dir)
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	receipts, err := aChangeInPart(t, s, dir).write()
	assert.EqualError(t, err, "ferments/lime-b.yaml: nothing was written: file exists")
	assert.Empty(t, receipts)
	assert.Equal(t, before, tree(t, dir))
	notes, err := s.recorded(time.UTC, func(note) bool { return true })
	require.NoError(t, err)
	assert.Empty(t, notes, "it is the person's to give again")
}

// TestPartlyWrittenChangeIsReportedAndUndone: the first ferment was edited before it is rolled back.
func TestPartlyWrittenChangeIsReportedAndUndone(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath, "cultures.yaml": "cultures: []\n"})
	before := tree(t, dir)
	s := Open(dir, time.UTC, nil)
	p := aChangeInPart(t, s, dir)
	written := p.steps[0].text
	p.steps[0].text = append(slices.Clone(written), "# and more\n"...)
	receipts, err := p.write()
	assert.EqualError(t, err, "written: ferments/lime-a.yaml; not written: ferments/lime-b.yaml, honey.yaml: file exists")
	require.Len(t, receipts, 1)
	require.NoError(t, os.Remove(filepath.Join(dir, "ferments", "lime-b.yaml")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments", "lime-a.yaml"), written, 0o666))
	require.NoError(t, s.Undo(receipts[0]))
	assert.Equal(t, before, tree(t, dir))
}

func TestUndoRefusesEditedText(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	receipts, err := s.Apply(everything())
	require.NoError(t, err)
	for _, file := range []string{"ferments/lime-a.yaml", "ferments/past/heath.yaml"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), []byte(readFile(t, dir, file)+"# mine\n"), 0o666))
	}
	honey := readFile(t, dir, "honey.yaml")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "honey.yaml"), []byte(honey+"      # to the neighbour\n      - {at: 2026-10-04}\n"), 0o666))
	var says []string
	for i := len(receipts) - 1; i >= 0; i-- {
		if err := s.Undo(receipts[i]); err != nil {
			says = append(says, err.Error())
		}
	}
	assert.Equal(t, []string{
		"ferments/past/heath.yaml: the file was changed since it was closed, so it is left there (move it back yourself)",
		"ferments/heath.yaml: the file is not there any more, so nothing is taken back in it",
		"honey.yaml: something was added to the use since, so it is left alone (change it in the editor)",
		"honey.yaml: the file is not the one that was written, so it is left alone (remove it yourself if it is not wanted)",
		"ferments/lime-a.yaml: the file is not the one that was written, so it is left alone (remove it yourself if it is not wanted)",
	}, says)
	assert.FileExists(t, filepath.Join(dir, "ferments/lime-a.yaml"))
	assert.NoFileExists(t, filepath.Join(dir, "ferments/lime-b.yaml"))
	assert.NotContains(t, readFile(t, dir, "honey.yaml"), "250 g")
	assert.Contains(t, readFile(t, dir, "honey.yaml"), "2026-10-04")
}

// TestRepeatedChangeWritesWhatIsMissing: one entry of two is there already, from an earlier attempt.
func TestRepeatedChangeWritesWhatIsMissing(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	_, err := s.Append("heath", []ferment.Entry{degasAt(3)})
	require.NoError(t, err)
	again := ferment.Change{Entries: []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{degasAt(3), degasAt(4)}}}}
	receipts, err := s.Apply(again)
	require.NoError(t, err)
	require.Len(t, receipts, 1)
	assert.Equal(t, []ferment.Entry{degasAt(4)}, receipts[0].Entries)
	assert.Len(t, entriesIn(t, dir, "heath"), 3)
	receipts, err = s.Apply(again)
	require.NoError(t, err)
	assert.True(t, receipts[0].Stood)
	assert.Len(t, entriesIn(t, dir, "heath"), 3)
}
