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

// By molar masses (IUPAC atomic weights): 150.09/2 tartaric, 134.09/2 malic,
// 192.12/3 citric, 90.08 lactic for each acid hydrogen.
func TestAcidFor(t *testing.T) {
	for of, gram := range map[finishing.Acid]float64{ // as grams of tartaric acid for one gram
		finishing.Tartaric: 1, finishing.Malic: 1.12, finishing.Citric: 1.17, finishing.Lactic: 0.833,
	} {
		got, err := finishing.AcidFor(of, 4.5, 5.5, 3.4)
		require.NoError(t, err)
		assert.InEpsilon(t, 3.4/gram, got.Grams(), 0.005, string(of))
	}
	_, err := finishing.AcidFor(finishing.Malic, 5.5, 4.5, 3.4)
	assert.EqualError(t, err, "from 5.5 to 4.5 g/L is less acid: that takes a buffer")
	_, err = finishing.AcidFor("vinegar", 4.5, 5.5, 3.4)
	assert.EqualError(t, err, `"vinegar" is not an acid to add (tartaric, malic, citric or lactic, e.g. malic)`)
}

// By molar masses: 100.115 of KHCO₃ for 75.04 of tartaric acid, 1.33 g/L for
// 1 g/L. At most 1.5 g/L in all: common practice, no source.
func TestBufferFor(t *testing.T) {
	for _, c := range []struct {
		from, to measure.Content
		grams    float64
		warning  string
	}{
		{6.5, 6.5, 0, ""},
		{6.5, 6.2, 1.60, ""},
		{6.5, 5.5, 5.337, ""},
		{7, 5.5, 8.005, "2.0 g/L of potassium bicarbonate: give 1.5 at most in all"},
	} {
		got, err := finishing.BufferFor(c.from, c.to, 4)
		require.NoError(t, err)
		assert.InDelta(t, c.grams, got.Salt.Grams(), 0.01*c.grams+1e-9)
		assert.Equal(t, c.warning, got.Warning)
	}
	_, err := finishing.BufferFor(5, 6, 4)
	assert.EqualError(t, err, "from 5.0 to 6.0 g/L is more acid: that takes an acid")
}

func TestAcidAndBufferRefuse(t *testing.T) {
	for _, bad := range []float64{-1, 1e4, math.NaN(), math.Inf(1)} {
		_, err := finishing.AcidFor(finishing.Malic, measure.Content(bad), 5, 3)
		assert.Error(t, err)
		_, err = finishing.AcidFor(finishing.Malic, 5, measure.Content(bad), 3)
		assert.Error(t, err)
		_, err = finishing.AcidFor(finishing.Malic, 5, 6, measure.Volume(bad))
		assert.Error(t, err)
		_, err = finishing.BufferFor(measure.Content(bad), 5, 3)
		assert.Error(t, err)
		_, err = finishing.BufferFor(6, 5, measure.Volume(bad))
		assert.Error(t, err)
	}
}

// Two steps take as much as one, and a bigger jug takes more in proportion.
func TestAcidAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := rapid.SampledFrom([]finishing.Acid{finishing.Tartaric, finishing.Malic, finishing.Citric, finishing.Lactic}).Draw(t, "of")
		low := rapid.Float64Range(0, 10).Draw(t, "low")
		half := rapid.Float64Range(low, 15).Draw(t, "half")
		high := rapid.Float64Range(half, 20).Draw(t, "high")
		dose := func(from, to float64, v measure.Volume) float64 {
			m, err := finishing.AcidFor(of, measure.Content(from), measure.Content(to), v)
			require.NoError(t, err)
			return m.Grams()
		}
		assert.InDelta(t, dose(low, high, 3), dose(low, half, 3)+dose(half, high, 3), 1e-9)
		assert.InDelta(t, 2*dose(low, high, 3), dose(low, high, 6), 1e-9)
	})
}
