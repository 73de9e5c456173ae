package finishing

import (
	"cmp"
	"fmt"
	"math/big"

	"cellar/jugkeeper/ferment/measure"
)

// doubt is the chance that a difference may be mere luck: 1 in 20.
var doubt = big.NewRat(1, 20)

// TriangleNeeded is how many tastings out of all must pick the odd glass of
// three before it is taken that the two meads differ: the least number that
// guessing reaches at most once in 20 times. Range: 3 to 500 tastings; fewer
// cannot show it. Source: binomial tail with p = 1/3, as in ISO 4120. Exact.
func TriangleNeeded(tastings int) (int, error) { return needed(triangle, tastings) }

// TriangleChance is how likely guessing alone picks the odd glass of three at
// least so often: Σ C(n, i) 2^(n−i) / 3^n for i from correct to n. Range: 1 to
// 500 tastings, 0 to all of them correct; outside an error. Exact.
func TriangleChance(tastings, correct int) (float64, error) {
	return chance(triangle, tastings, correct)
}

// PairedNeeded is how many tastings out of all must prefer the same mead of two
// before a preference is taken as shown, whichever it is: the least number that
// tossing a coin reaches, either way, at most once in 20 times. Range: 6 to 500
// tastings; fewer cannot show it. Source: two-sided binomial tail with p = 1/2.
// Exact.
func PairedNeeded(tastings int) (int, error) { return needed(paired, tastings) }

// PairedChance is how likely tossing a coin alone gives a preference at least
// so one-sided, either way: 2 Σ C(n, i) / 2^n for i from the larger count to n,
// at most 1. Range: 1 to 500 tastings, 0 to all of them for the one mead;
// outside an error. Exact.
func PairedChance(tastings, preferred int) (float64, error) {
	return chance(paired, tastings, max(preferred, tastings-preferred))
}

// A trial is one kind of test: among so many glasses, and counted from so many
// sides.
type trial struct{ glasses, sides int64 }

var (
	triangle = trial{glasses: 3, sides: 1}
	paired   = trial{glasses: 2, sides: 2}
)

func needed(t trial, tastings int) (int, error) {
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

func chance(t trial, tastings, right int) (float64, error) {
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

// exactly is how likely luck is right so many times and no more: of glasses^n
// ways to guess, C(n, right) (glasses − 1)^(n − right) are; times the sides.
func (t trial) exactly(n, right int) *big.Rat {
	ways := new(big.Int).Binomial(int64(n), int64(right))
	wrong := new(big.Int).Exp(big.NewInt(t.glasses-1), big.NewInt(int64(n-right)), nil)
	all := new(big.Int).Exp(big.NewInt(t.glasses), big.NewInt(int64(n)), nil)
	ways.Mul(ways, wrong).Mul(ways, big.NewInt(t.sides))
	return new(big.Rat).SetFrac(ways, all)
}

func checkTastings(n int) error {
	return measure.InRange("number of tastings", float64(n), 1, 500, "")
}
