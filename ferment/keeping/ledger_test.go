package keeping_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/keeping"
	"cellar/jugkeeper/ferment/measure"
)

func moved(way keeping.Way, v measure.Volume) keeping.Movement {
	return keeping.Movement{Way: way, Volume: v, Known: true}
}

func unknown(way keeping.Way) keeping.Movement { return keeping.Movement{Way: way} }

// Sums done by hand.
func TestReckon(t *testing.T) {
	for _, c := range []struct {
		what      string
		movements []keeping.Movement
		left      float64
		corrected float64
		unknown   int
	}{
		{"nothing yet", nil, 0, 0, 0},
		{"samples and foam", []keeping.Movement{moved(keeping.Filled, 3.6), moved(keeping.Lost, 0.1), moved(keeping.Lost, 0.15)}, 3.35, 0, 0},
		{"honey and water", []keeping.Movement{moved(keeping.Filled, 3.6), moved(keeping.Added, 0.2), moved(keeping.Added, 0.05)}, 3.85, 0, 0},
		{"racked in two", []keeping.Movement{moved(keeping.Filled, 3.6), moved(keeping.Lost, 0.3), moved(keeping.Parted, 1)}, 2.3, 0, 0},
		{"measured after racking", []keeping.Movement{moved(keeping.Filled, 3.6), moved(keeping.Lost, 0.1), moved(keeping.Measured, 3.2), moved(keeping.Lost, 0.1)}, 3.1, -0.3, 0},
		{"bottled to the last", []keeping.Movement{moved(keeping.Filled, 3.3), moved(keeping.Bottled, 1.5), moved(keeping.Bottled, 1.8)}, 0, 0, 0},
		{"an unknown loss", []keeping.Movement{moved(keeping.Filled, 3.6), unknown(keeping.Lost), moved(keeping.Lost, 0.1)}, 3.5, 0, 1},
		{"measuring ends the doubt", []keeping.Movement{moved(keeping.Filled, 3.6), unknown(keeping.Lost), moved(keeping.Measured, 3.2)}, 3.2, -0.4, 0},
		{"more out than known of", []keeping.Movement{moved(keeping.Filled, 1), unknown(keeping.Added), moved(keeping.Bottled, 1.2)}, 0, 0, 1},
	} {
		got, err := keeping.Reckon(c.movements)
		require.NoError(t, err, c.what)
		assert.InDelta(t, c.left, float64(got.Left), 1e-9, c.what)
		assert.InDelta(t, c.corrected, float64(got.Corrected), 1e-9, c.what)
		assert.Equal(t, c.unknown, got.Unknown, c.what)
	}
}

func TestReckonRefuses(t *testing.T) {
	for what, m := range map[string]keeping.Movement{
		"negative": moved(keeping.Lost, -1), "NaN": moved(keeping.Added, measure.Volume(math.NaN())),
		"infinite": moved(keeping.Measured, measure.Volume(math.Inf(1))), "huge": moved(keeping.Added, 1e9), "no way": moved("spilled", 1),
	} {
		got, err := keeping.Reckon([]keeping.Movement{moved(keeping.Filled, 3), m})
		assert.Error(t, err, what)
		assert.Zero(t, got, what)
	}
	_, err := keeping.Reckon([]keeping.Movement{moved(keeping.Filled, 3), moved(keeping.Bottled, 3.3)})
	assert.EqualError(t, err, "3.30 L bottled is more than the 3.00 L that were left")
}

// Whatever went in came out, is left, or was found to be gone.
func TestReckonConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ways := []keeping.Way{keeping.Added, keeping.Lost, keeping.Parted, keeping.Bottled, keeping.Measured}
		movements := []keeping.Movement{moved(keeping.Filled, 100)}
		for _, way := range rapid.SliceOfN(rapid.SampledFrom(ways), 0, 20).Draw(t, "ways") {
			v := rapid.Float64Range(0, 4).Draw(t, "v")
			if way == keeping.Measured {
				v += 80
			}
			movements = append(movements, moved(way, measure.Volume(v)))
		}
		b, err := keeping.Reckon(movements)
		if err != nil {
			return
		}
		assert.InDelta(t, float64(b.Filled+b.Added+b.Corrected), float64(b.Left+b.Lost+b.Parted+b.Bottled), 1e-6)
		assert.GreaterOrEqual(t, b.Left, measure.Volume(0))
	})
}

func TestYield(t *testing.T) {
	b, err := keeping.Reckon([]keeping.Movement{moved(keeping.Filled, 3), moved(keeping.Added, 1), moved(keeping.Bottled, 3)})
	require.NoError(t, err)
	assert.InDelta(t, 75, float64(b.Yield()), 1e-9)
	assert.Zero(t, keeping.Balance{}.Yield())
}
