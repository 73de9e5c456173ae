package journal_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
)

func one[T any](t *rapid.T, parse func(string) (measure.Given[T], error), texts ...string) measure.Given[T] {
	text := rapid.SampledFrom(append(texts, "")).Draw(t, "value")
	if text == "" {
		return measure.Given[T]{}
	}
	g, err := parse(text)
	require.NoError(t, err)
	return g
}

func anyFerment(t *rapid.T) ferment.Ferment {
	f := ferment.Ferment{
		ID: "lime-a", Name: anyWords(t), Tag: anyWords(t), Note: anyWords(t), Protocol: "small-jug",
		Vessel:   ferment.Vessel{Kind: anyWords(t), Brimful: one(t, measure.ParseVolume, "4.1 L", "1 gal")},
		Trial:    ferment.Trial{Name: anyWords(t), Differs: anyWords(t)},
		From:     ferment.Origin{Ferment: anyWords(t), At: anyDay(t), Volume: one(t, measure.ParseVolume, "1.0 L")},
		Must:     ferment.Must{Volume: one(t, measure.ParseVolume, "3.60 L"), Water: one(t, measure.ParseVolume, "2.9 L"), Gravity: one(t, measure.ParseGravity, "1.080")},
		Yeast:    ferment.Yeast{Name: anyWords(t), Demand: rapid.SampledFrom([]ferment.Demand{"", ferment.Low, ferment.High}).Draw(t, "demand"), Tolerance: one(t, measure.ParseStrength, "14 %"), Temperature: one(t, measure.ParseTemperatures, "15 °C to 22 °C")},
		Nutrient: ferment.NutrientPlan{Target: one(t, measure.ParseContent, "200 mg/L"), Kind: anyWords(t)},
		Endings:  rapid.SampledFrom([][]ferment.Ending{nil, {ferment.Still}, {ferment.Sweetened, ferment.Still}}).Draw(t, "endings"),
	}
	for range rapid.IntRange(0, 2).Draw(t, "parts of honey") {
		f.Must.Honey = append(f.Must.Honey, ferment.HoneyPart{Lot: anyWords(t), Mass: anyMass(t), Water: one(t, measure.ParseShare, "18.1 %")})
	}
	for range rapid.IntRange(0, 2).Draw(t, "fruits") {
		f.Must.Fruit = append(f.Must.Fruit, ferment.FruitPart{Name: anyWords(t), Mass: anyMass(t)})
	}
	for range rapid.IntRange(0, 3).Draw(t, "entries") {
		f.Log = append(f.Log, anyEntry(t))
	}
	return f
}

// TestNewFileReadsBackAsGiven: and entries can be added to it.
func TestNewFileReadsBackAsGiven(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := anyFerment(r)
		text, err := journal.NewFerment(f)
		if err != nil {
			r.Fatal(err)
		}
		got := journal.ReadFerment("ferments/lime-a.yaml", text, time.UTC)
		require.Empty(r, got.Problems)
		log, _ := read(r, text)
		want := f
		want.Log, got.Value.Log = nil, nil
		want.Lines = got.Value.Lines
		want.File, want.Stamp, want.Vessel.Declared = got.Value.File, got.Value.Stamp, f.Vessel != ferment.Vessel{}
		require.Equal(r, want, got.Value)
		require.Len(r, log, len(f.Log))
		for i, e := range f.Log {
			require.Equal(r, written(e), log[i])
		}
		more, err := journal.Insert(text, degassed())
		require.NoError(r, err)
		requireGrown(r, text, more, degassed())
	})
}

// TestNewFileListsTheOtherKeys: with all comment signs removed the file is valid too.
func TestNewFileListsTheOtherKeys(t *testing.T) {
	text, err := journal.NewFerment(ferment.Ferment{ID: "lime-a"})
	require.NoError(t, err)
	bare := journal.ReadFerment("ferments/lime-a.yaml", text, time.UTC)
	assert.Equal(t, ferment.Must{}, bare.Value.Must)
	var filled []string
	for _, line := range strings.Split(string(text), "\n") {
		filled = append(filled, strings.Replace(line, "# ", "", 1))
	}
	full := journal.ReadFerment("ferments/lime-a.yaml", []byte(strings.Join(filled[1:], "\n")), time.UTC)
	assert.Empty(t, lines(full.Problems))
	assert.Equal(t, "BH-A", full.Value.Tag)
	assert.Equal(t, "980 g", full.Value.Must.Honey[0].Mass.Text)
	assert.Equal(t, "hawthorn-3", full.Value.Yeast.Culture)
	assert.Equal(t, "ammonium phosphate", full.Value.Nutrient.Kind)
}

func TestNewFileIsFormattedForReading(t *testing.T) {
	honey, err := measure.ParseMass("980 g")
	require.NoError(t, err)
	text, err := journal.NewFerment(ferment.Ferment{ID: "lime-a", Name: "Lime blossom", Protocol: "small-jug",
		Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: "lime-26", Mass: honey}, {Lot: "ivy-26", Mass: honey}}},
		Log:  []ferment.Entry{degassed()}})
	require.NoError(t, err)
	assert.Contains(t, string(text), "\nmust:\n  # volume: 3.6 L                       # the volume of the whole must\n  honey:\n    - {lot: lime-26, mass: 980 g}\n    - {lot: ivy-26, mass: 980 g}\n")
	assert.True(t, strings.HasSuffix(string(text), "\nlog:\n  - at: 2026-09-13T18:40:00Z\n    did: degas\n"), string(text))
}
