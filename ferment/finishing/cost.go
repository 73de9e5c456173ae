package finishing

import "cellar/jugkeeper/ferment/measure"

// Cost is what a batch took, in any money.
type Cost struct {
	Honey   measure.Mass
	Price   float64   // of a kg of it
	Others  []float64 // yeast, nutrient, caps, bottles that were not there already, fruit
	Bottles int       // that came of it
}

// Bill is what the batch and one bottle of it cost.
type Bill struct {
	Total, Each float64
	HoneyFree   float64 // each, if the honey is one's own and counted as nothing
}

// CostOf is the cost of a bottle:
//
//	each = (honey × price + the others) / bottles
//
// Range: 0 to 1000 kg, money of 0 to a billion, 1 to 100000 bottles; outside an
// error. Exact.
func CostOf(c Cost) (Bill, error) {
	const riches = 1e9
	if err := measure.InRange("honey", c.Honey, 0, 1000, "kg"); err != nil {
		return Bill{}, err
	}
	if err := measure.InRange("number of bottles", float64(c.Bottles), 1, 1e5, ""); err != nil {
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
