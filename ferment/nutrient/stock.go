package nutrient

import "cellar/jugkeeper/ferment/measure"

// Stock is a solution of 10 g in 100 mL that measures by volume what is too
// little to weigh.
type Stock struct {
	Weigh measure.Mass   // dissolve this much
	Into  measure.Volume // made up to this much
	Give  measure.Volume // this much of it holds the dose
}

// stockGrams is the strength of a stock in g/L.
const stockGrams = 100

// weighable is how many steps of the scale an amount must reach to be weighed
// within 5 % (half a step in ten; common practice, no source).
const weighable = 10

// TooSmall tells whether a dose is under ten times what the scale shows.
func TooSmall(dose, weighs measure.Mass) bool { return dose < weighable*weighs }

// StockFor is the stock solution that measures a dose:
//
//	give = dose / 100 g/L
//
// made from 10 g, or from ten times what the scale shows if that is more, so
// that the stock itself can be weighed; and from more where the dose needs it.
// Range: dose above 0 to 100 kg, scale above 0 to 1 kg; outside an error.
// Uncertainty: 5 % from the weighing, besides the reading of the syringe.
func StockFor(dose, weighs measure.Mass) (Stock, error) {
	if err := measure.InRange("dose", dose, 1e-9, 100, "kg"); err != nil {
		return Stock{}, err
	}
	if err := measure.InRange("what the scale shows", weighs, 1e-9, 1, "kg"); err != nil {
		return Stock{}, err
	}
	weigh := max(measure.Grams(10), weighable*weighs, dose)
	return Stock{weigh, StockOf(weigh), StockOf(dose)}, nil
}

// StockOf is the volume of the stock solution that holds an amount.
func StockOf(m measure.Mass) measure.Volume {
	return measure.Volume(m.Grams() / stockGrams)
}

// FromStock is what a volume of a stock solution holds, by its strength in
// grams in 100 mL (10 for a 10 % stock). Range 0 to 100 L and above 0 to
// 100 %, outside an error.
func FromStock(given measure.Volume, strength measure.Share) (measure.Mass, error) {
	if err := measure.InRange("volume of stock", given, 0, 100, "L"); err != nil {
		return 0, err
	}
	if err := measure.InRange("strength of the stock", strength, 0.01, 100, "%"); err != nil {
		return 0, err
	}
	return measure.Grams(given.Millilitres() * float64(strength) / 100), nil
}
