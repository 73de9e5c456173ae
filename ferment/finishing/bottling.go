package finishing

import (
	"cmp"
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/measure"
)

// Shrinkage is the share of its volume that a must loses as sugar turns into alcohol and
// gas: 1.2 to 1.5 % (by mass balance, for musts around 1.100).
const Shrinkage measure.Share = 1.23

// Expect returns the volume that is left of a must when it has fermented, less losses:
//
//	must × (1 − 0.0123) − losses
//
// Range: 0.01 to 2000 L, losses of 0 L up to what is there; outside an error.
// Source: mass balance. Uncertainty: 0.2 %, and the losses.
func Expect(must measure.Volume, losses ...measure.Volume) (measure.Volume, error) {
	if err := checkVolume(must); err != nil {
		return 0, err
	}
	left := must * measure.Volume(1-Shrinkage/100)
	return minus(left, losses)
}

// minus returns what is left after losses; an error if more was lost than there was.
func minus(left measure.Volume, losses []measure.Volume) (measure.Volume, error) {
	for _, lost := range losses {
		if err := measure.InRange("volume lost", lost, 0, 2000, "L"); err != nil {
			return 0, err
		}
		if lost > left {
			return 0, fmt.Errorf("%s lost is more than the %s that were left", lost, left)
		}
		left -= lost
	}
	return left, nil
}

// Filling is how many bottles a volume fills.
type Filling struct {
	Count int
	Left  measure.Volume // too little for another bottle
}

// Fill returns how many bottles of one size a volume fills after losses (lees and samples),
// and the rest. Range: 0.01 to 2000 L, bottles of 0.02 to 30 L; outside an error. Exact.
func Fill(volume, size measure.Volume, losses ...measure.Volume) (Filling, error) {
	if err := cmp.Or(checkVolume(volume), measure.InRange("size of a bottle", size, 0.02, 30, "L")); err != nil {
		return Filling{}, err
	}
	left, err := minus(volume, losses)
	if err != nil {
		return Filling{}, err
	}
	const drop = 1e-9 // 3.3 L fill ten of 0.33 L in spite of rounding
	count := math.Floor(float64(left/size) + drop)
	return Filling{int(count), max(left-measure.Volume(count)*size, 0)}, nil
}

// Cost is the expense of a batch, in any currency.
type Cost struct {
	Honey   measure.Mass
	Price   float64   // of a kg of it
	Others  []float64 // yeast, nutrient, caps, bottles that were not there already, fruit
	Bottles int       // that were filled
}

// Bill is the cost of a batch and of one bottle.
type Bill struct {
	Total, Each float64
	HoneyFree   float64 // each, if the honey cost nothing
}

// CostOf returns the cost of a bottle:
//
//	each = (honey × price + the others) / bottles
//
// Range: 0 to 1000 kg, money of 0 to a billion, 1 to 100000 bottles; outside an error. Exact.
func CostOf(c Cost) (Bill, error) {
	const riches = 1e9
	err := cmp.Or(
		measure.InRange("honey", c.Honey, 0, 1000, "kg"),
		measure.InRange("number of bottles", float64(c.Bottles), 1, 1e5, ""),
	)
	if err != nil {
		return Bill{}, err
	}
	sum := 0.0
	for _, money := range append([]float64{c.Price}, c.Others...) {
		if err := measure.InRange("price", money, 0, riches, ""); err != nil {
			return Bill{}, err
		}
	}
	for _, money := range c.Others {
		sum += money
	}
	n := float64(c.Bottles)
	total := sum + float64(c.Honey)*c.Price
	return Bill{total, total / n, sum / n}, nil
}
