package journal

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// lime is a new ferment with everything in it that a form asks for.
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

// tree is every file of a folder but the lock, by its path.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".lock" {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	}))
	return files
}

// everything is a deed with all parts in it.
func everything() ferment.Deed {
	closing := degasAt(9)
	closing.Did = ferment.Close
	return ferment.Deed{
		Ferments: []ferment.Ferment{lime("lime-a"), lime("lime-b")},
		Lots:     []ferment.Lot{limeLot()},
		Uses:     []ferment.LotUse{use("500 g"), use("250 g")},
		Cultures: []ferment.Culture{{ID: "hawthorn-3", Source: "blossom, lane hedge", Log: []ferment.Entry{degasAt(3)}}},
		Entries:  []ferment.Logged{{Subject: "heath", Entries: []ferment.Entry{closing}}},
		Closes:   []string{"heath"},
	}
}

func TestADeedIsWrittenAndTakenBackWhole(t *testing.T) {
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
			receipts, err := s.Carry(everything())
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
