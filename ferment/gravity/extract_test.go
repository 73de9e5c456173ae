package gravity_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/internal/published"
	"cellar/jugkeeper/ferment/measure"
)

func TestExtractOfAlcoholAloneIsWater(t *testing.T) {
	for _, r := range published.Table(t, "03a-ethanol-oiml-r22-20c.csv") {
		strength := measure.Strength(r.Number(t, "abv_pct_vol"))
		if strength > 14 {
			break // lighter than the scale reaches
		}
		g, err := gravity.Extract(measure.Gravity(r.Number(t, "sg_20_20")), strength)
		require.NoError(t, err)
		assert.InDelta(t, 1, float64(g), 1e-5, "OIML R 22, %v", strength)
	}
}

func TestExtractAgreesWithBalling(t *testing.T) {
	// Balling leaves a real extract of 0.1808 × 23.79 + 0.8192 × −1.04 = 3.45 % in a
	// must of 1.100 at 0.996 with 14.13 % vol: 34.3 g/L. Tabarié comes to the same
	// from the alcohol, by another way, within a tenth.
	g, err := gravity.Extract(0.996, 14.13)
	require.NoError(t, err)
	s, err := gravity.Solids(g)
	require.NoError(t, err)
	assert.InEpsilon(t, 34.3, float64(s), 0.1)
	same, err := gravity.Extract(1.050, 0)
	require.NoError(t, err)
	assert.InDelta(t, 1.050, float64(same), 1e-12)
	for _, v := range append(wild, 26) {
		_, err := gravity.Extract(measure.Gravity(v), 10)
		assert.Error(t, err, "gravity %v", v)
		if v != 0 {
			_, err = gravity.Extract(1, measure.Strength(v))
			assert.Error(t, err, "strength %v", v)
		}
	}
}
