package finishing

import (
	"cmp"
	"fmt"
	"math/big"

	"cellar/jugkeeper/ferment/measure"
)

// doubt is the accepted chance that a difference is mere luck: 1 in 20.
var doubt = big.NewRat(1, 20)

// Trial is a kind of test: the number of glasses of each tasting, and whether the test is one- or two-sided.
type Trial struct{ glasses, sides int64 }

// Triangle is picking the odd glass of three, as in ISO 4120; Paired is a preference for either of two, as in ISO 5495.
var (
	Triangle = Trial{glasses: 3, sides: 1}
	Paired   = Trial{glasses: 2, sides: 2}
)

// Needed returns how many of the tastings must pick the odd glass, or prefer the same mead, to show a difference: the
// least number that guessing reaches at most once in 20 times. Range: 3 to 500 tastings of a triangle, 6 to 500
// pairs; fewer cannot show it. Source: binomial tail, p = 1/glasses. Exact.
func (t Trial) Needed(tastings int) (int, error) {
	if err := checkTastings(tastings); err != nil {
		return 0, err
	}
	tail := new(big.Rat)
	for right := tastings; ; right-- {
		tail.Add(tail, t.exactly(tastings, right))
		if tail.Cmp(doubt) <= 0 {
			continue
		}
		if right == tastings {
			return 0, fmt.Errorf("%d tastings are too few: even if all of them agree it may be luck", tastings)
		}
		return right + 1, nil
	}
}

// Chance returns how likely guessing gives at least so many right answers (or, for pairs, as uneven a preference):
// sides × Σ C(n, i) (glasses − 1)^(n−i) / glasses^n for i from right to n, at most 1. Range: 1 to 500 tastings, 0 to
// all of them; outside an error. Exact.
func (t Trial) Chance(tastings, right int) (float64, error) {
	if t.sides == 2 {
		right = max(right, tastings-right)
	}
	if err := cmp.Or(checkTastings(tastings), measure.InRange("tastings that agree", float64(right), 0, float64(tastings), "")); err != nil {
		return 0, err
	}
	tail := new(big.Rat)
	for i := right; i <= tastings; i++ {
		tail.Add(tail, t.exactly(tastings, i))
	}
	p, _ := tail.Float64()
	return min(p, 1), nil
}

// exactly returns how likely guessing gives exactly so many right answers, times the sides:
// of glasses^n ways to guess, C(n, right) (glasses − 1)^(n − right) do.
func (t Trial) exactly(n, right int) *big.Rat {
	ways := new(big.Int).Binomial(int64(n), int64(right))
	wrong := new(big.Int).Exp(big.NewInt(t.glasses-1), big.NewInt(int64(n-right)), nil)
	all := new(big.Int).Exp(big.NewInt(t.glasses), big.NewInt(int64(n)), nil)
	ways.Mul(ways, wrong).Mul(ways, big.NewInt(t.sides))
	return new(big.Rat).SetFrac(ways, all)
}

func checkTastings(n int) error {
	return measure.InRange("number of tastings", float64(n), 1, 500, "")
}
