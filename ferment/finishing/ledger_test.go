package finishing_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
)

func moved(way finishing.Way, v measure.Volume) finishing.Movement {
	return finishing.Movement{Way: way, Volume: v, Known: true}
}

func unknown(way finishing.Way) finishing.Movement { return finishing.Movement{Way: way} }

// Sums done by hand.
func TestReckon(t *testing.T) {
	for _, c := range []struct {
		what      string
		movements []finishing.Movement
		left      float64
		corrected float64
		unknown   int
	}{
		{"nothing yet", nil, 0, 0, 0},
		{"samples and foam", []finishing.Movement{moved(finishing.Filled, 3.6), moved(finishing.Lost, 0.1), moved(finishing.Lost, 0.15)}, 3.35, 0, 0},
		{"honey and water", []finishing.Movement{moved(finishing.Filled, 3.6), moved(finishing.Added, 0.2), moved(finishing.Added, 0.05)}, 3.85, 0, 0},
		{"racked in two", []finishing.Movement{moved(finishing.Filled, 3.6), moved(finishing.Lost, 0.3), moved(finishing.Parted, 1)}, 2.3, 0, 0},
		{"measured after racking", []finishing.Movement{moved(finishing.Filled, 3.6), moved(finishing.Lost, 0.1), moved(finishing.Measured, 3.2), moved(finishing.Lost, 0.1)}, 3.1, -0.3, 0},
		{"bottled to the last", []finishing.Movement{moved(finishing.Filled, 3.3), moved(finishing.Bottled, 1.5), moved(finishing.Bottled, 1.8)}, 0, 0, 0},
		{"an unknown loss", []finishing.Movement{moved(finishing.Filled, 3.6), unknown(finishing.Lost), moved(finishing.Lost, 0.1)}, 3.5, 0, 1},
		{"measuring ends the doubt", []finishing.Movement{moved(finishing.Filled, 3.6), unknown(finishing.Lost), moved(finishing.Measured, 3.2)}, 3.2, -0.4, 0},
		{"more out than known of", []finishing.Movement{moved(finishing.Filled, 1), unknown(finishing.Added), moved(finishing.Bottled, 1.2)}, 0, 0, 1},
	} {
		got, err := finishing.Reckon(c.movements)
		require.NoError(t, err, c.what)
		assert.InDelta(t, c.left, float64(got.Left), 1e-9, c.what)
		assert.InDelta(t, c.corrected, float64(got.Corrected), 1e-9, c.what)
		assert.Equal(t, c.unknown, got.Unknown, c.what)
	}
}

func TestReckonRefuses(t *testing.T) {
	for what, m := range map[string]finishing.Movement{
		"negative": moved(finishing.Lost, -1), "NaN": moved(finishing.Added, measure.Volume(math.NaN())),
		"infinite": moved(finishing.Measured, measure.Volume(math.Inf(1))), "huge": moved(finishing.Added, 1e9), "no way": moved("spilled", 1),
	} {
		got, err := finishing.Reckon([]finishing.Movement{moved(finishing.Filled, 3), m})
		assert.Error(t, err, what)
		assert.Zero(t, got, what)
	}
	_, err := finishing.Reckon([]finishing.Movement{moved(finishing.Filled, 3), moved(finishing.Bottled, 3.3)})
	assert.EqualError(t, err, "3.30 L bottled is more than the 3.00 L that were left")
}

// Whatever went in came out, is left, or was found to be gone.
func TestReckonConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ways := []finishing.Way{finishing.Added, finishing.Lost, finishing.Parted, finishing.Bottled, finishing.Measured}
		movements := []finishing.Movement{moved(finishing.Filled, 100)}
		for _, way := range rapid.SliceOfN(rapid.SampledFrom(ways), 0, 20).Draw(t, "ways") {
			v := rapid.Float64Range(0, 4).Draw(t, "v")
			if way == finishing.Measured {
				v += 80
			}
			movements = append(movements, moved(way, measure.Volume(v)))
		}
		b, err := finishing.Reckon(movements)
		if err != nil {
			return
		}
		assert.InDelta(t, float64(b.Filled+b.Added+b.Corrected), float64(b.Left+b.Lost+b.Parted+b.Bottled), 1e-6)
		assert.GreaterOrEqual(t, b.Left, measure.Volume(0))
	})
}

func TestYield(t *testing.T) {
	b, err := finishing.Reckon([]finishing.Movement{moved(finishing.Filled, 3), moved(finishing.Added, 1), moved(finishing.Bottled, 3)})
	require.NoError(t, err)
	assert.InDelta(t, 75, float64(b.Yield()), 1e-9)
	assert.Zero(t, finishing.Balance{}.Yield())
}
