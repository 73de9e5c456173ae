package tasting_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/tasting"
)

func TestGlasses(t *testing.T) {
	first := map[string]int{}
	for seed := uint64(0); seed < 200; seed++ {
		gs := tasting.Glasses(seed, []string{"clover-w", "clover-c"})
		require.Len(t, gs, 2)
		assert.Equal(t, gs, tasting.Glasses(seed, []string{"clover-w", "clover-c"}), "one seed, one order")
		assert.NotEqual(t, gs[0].Code, gs[1].Code)
		assert.NotEqual(t, gs[0].Subject, gs[1].Subject)
		for _, g := range gs {
			assert.GreaterOrEqual(t, g.Code, 100)
			assert.Less(t, g.Code, 1000)
		}
		first[gs[0].Subject]++
	}
	assert.InDelta(t, 100, first["clover-w"], 25, "either comes first as often")
}

// ISO 4120: codes of three digits, and each of the six orders equally often.
func TestTriangleServesTheSixOrdersEqually(t *testing.T) {
	for seed := uint64(1); seed < 20; seed++ {
		served := map[string]int{}
		for before := 0; before < 12; before++ {
			gs, odd := tasting.Triangle(seed, [2]string{"A", "B"}, before)
			require.Len(t, gs, 3)
			order, with := "", map[string][]int{}
			for _, g := range gs {
				order += g.Subject
				with[g.Subject] = append(with[g.Subject], g.Code)
			}
			served[order]++
			alone := with["A"]
			if len(alone) != 1 {
				alone = with["B"]
			}
			assert.Equal(t, []int{odd}, alone)
		}
		assert.Equal(t, map[string]int{"AAB": 2, "ABA": 2, "BAA": 2, "BBA": 2, "BAB": 2, "ABB": 2}, served)
	}
}

func tests(with string, right, wrong int) (log []ferment.Entry) {
	for i := range right + wrong {
		said := 100 + i
		if i >= right {
			said = 999
		}
		log = append(log, ferment.Entry{At: ferment.At(time.Date(2026, 10, 1, 12, i, 0, 0, time.UTC)), Did: ferment.Taste,
			Triangle: ferment.Triangle{With: with, Odd: 100 + i, Said: said}})
	}
	return log
}

// Least numbers of right answers for 5 %: ISO 4120, table A.1 (5 of 6, 5 of 7,
// 6 of 8, 6 of 9, 7 of 10, 7 of 11, 8 of 12).
func TestTrianglesBetweenTwoFerments(t *testing.T) {
	for _, c := range []struct {
		right, wrong, needed int
		shown                bool
	}{
		{5, 1, 5, true}, {4, 2, 5, false}, {5, 2, 5, true}, {5, 3, 6, false}, {6, 3, 6, true}, {7, 3, 7, true},
		{6, 5, 7, false}, {8, 4, 8, true}, {2, 0, 0, false}, {3, 0, 3, true}, {0, 0, 0, false},
	} {
		a := ferment.Ferment{ID: "clover-w", Log: tests("CLO-C", c.right, c.wrong)}
		b := ferment.Ferment{ID: "clover-c", Tag: "CLO-C"}
		r := tasting.Between(a, b)
		assert.Equal(t, []int{c.right + c.wrong, c.right, c.needed}, []int{r.Tests, r.Right, r.Needed})
		assert.Equal(t, c.shown, r.Shown(), "%d of %d", c.right, c.right+c.wrong)
		assert.Equal(t, r, tasting.Between(b, a), "whichever log it stands in")
	}
}

func TestTrianglesThatDoNotCount(t *testing.T) {
	a, b := ferment.Ferment{ID: "clover-w", Log: tests("clover-c", 2, 0)}, ferment.Ferment{ID: "clover-c", Log: tests("clover-w", 2, 0)}
	assert.Equal(t, 2, tasting.Between(a, b).Tests, "one test that stands in both logs")
	a.Log[0].Triangle.Said = 0
	b.Log = tests("heath", 4, 0)
	assert.Equal(t, 1, tasting.Between(a, b).Tests, "nothing said, and another ferment")
}

func TestWritten(t *testing.T) {
	words := ferment.Tasting{Look: "gold", Nose: "hay", Palate: "dry", Body: "light", Finish: "short"}
	assert.True(t, tasting.Written(words))
	words.Nose = ""
	assert.False(t, tasting.Written(words))
}

// TestVerdicts: the beginning of a word, and why after a comma; no source, it is the form of the line.
func TestVerdicts(t *testing.T) {
	for text, want := range map[string][2]string{
		"": {}, "never": {"never"}, "n": {"never"}, "Make again": {"make again"}, "w, less honey": {"with changes", "less honey"},
		"with changes: drier; older": {"with changes", "drier; older"},
	} {
		again, why, ok := tasting.Verdict(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, [2]string{again, why}, text)
	}
	for _, text := range []string{"perhaps", "never again", ", drier"} {
		_, _, ok := tasting.Verdict(text)
		assert.False(t, ok, text)
	}
}
