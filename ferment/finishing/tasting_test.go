package finishing_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/finishing"
)

// ISO 4120, critical numbers of the triangle test at 5 % (from memory; they are binomial
// tails and were calculated again).
func TestTriangleNeeded(t *testing.T) {
	for tastings, want := range map[int]int{3: 3, 4: 4, 5: 4, 6: 5, 7: 5, 8: 6, 9: 6, 10: 7, 11: 7, 12: 8, 15: 9, 18: 10, 20: 11, 24: 13, 30: 15} {
		got, err := finishing.Triangle.Needed(tastings)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%d tastings", tastings)
	}
	_, err := finishing.Triangle.Needed(2)
	assert.EqualError(t, err, "2 tastings are too few: even if all of them agree it may be luck")
}

// Two-sided paired preference at 5 %: critical numbers of the sign test as
// statistical tables print them (from memory).
func TestPairedNeeded(t *testing.T) {
	for tastings, want := range map[int]int{6: 6, 7: 7, 8: 8, 9: 8, 10: 9, 12: 10, 15: 12, 20: 15, 25: 18} {
		got, err := finishing.Paired.Needed(tastings)
		require.NoError(t, err)
		assert.Equal(t, want, got, "%d tastings", tastings)
	}
	_, err := finishing.Paired.Needed(5)
	assert.Error(t, err)
}

// Fractions counted out by hand.
func TestChances(t *testing.T) {
	for _, c := range []struct {
		n, right int
		want     float64
	}{
		{1, 0, 1}, {1, 1, 1.0 / 3}, {3, 3, 1.0 / 27}, {3, 2, 7.0 / 27}, {6, 5, 13.0 / 729}, {8, 6, 129.0 / 6561},
	} {
		got, err := finishing.Triangle.Chance(c.n, c.right)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 1e-12, "%d of %d", c.right, c.n)
	}
	for _, c := range []struct {
		n, preferred int
		want         float64
	}{
		{6, 6, 2.0 / 64}, {6, 0, 2.0 / 64}, {6, 5, 14.0 / 64}, {4, 2, 1}, {10, 9, 22.0 / 1024}, {5, 3, 1},
	} {
		got, err := finishing.Paired.Chance(c.n, c.preferred)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 1e-12, "%d of %d", c.preferred, c.n)
	}
}

func TestTastingsRefuse(t *testing.T) {
	for _, n := range []int{0, -1, 501, math.MaxInt} {
		_, err := finishing.Triangle.Needed(n)
		assert.Error(t, err)
		_, err = finishing.Paired.Needed(n)
		assert.Error(t, err)
	}
	for _, right := range []int{-1, 11} {
		_, err := finishing.Triangle.Chance(10, right)
		assert.Error(t, err)
		_, err = finishing.Paired.Chance(10, right)
		assert.Error(t, err)
	}
}

// The number needed is the least whose chance is at most one in twenty.
func TestNeededIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(6, 120).Draw(t, "n")
		for _, test := range []struct {
			needed func(int) (int, error)
			chance func(int, int) (float64, error)
		}{{finishing.Triangle.Needed, finishing.Triangle.Chance}, {finishing.Paired.Needed, finishing.Paired.Chance}} {
			k, err := test.needed(n)
			require.NoError(t, err)
			enough, err := test.chance(n, k)
			require.NoError(t, err)
			short, err := test.chance(n, k-1)
			require.NoError(t, err)
			assert.LessOrEqual(t, enough, 0.05)
			assert.Greater(t, short, 0.05)
		}
	})
}
