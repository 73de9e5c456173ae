package finishing

import (
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// SorbicYield is the sorbic acid in a gram of potassium sorbate, C₆H₇KO₂, from
// the conventional atomic weights of IUPAC: 0.7464.
const SorbicYield = (6*carbon + 8*hydrogen + 2*oxygen) / (6*carbon + 7*hydrogen + potassium + 2*oxygen)

// Sorbate is how much potassium sorbate keeps yeast from beginning again. It
// works only together with sulphite.
type Sorbate struct {
	Sorbic measure.Content // sorbic acid
	Salt   measure.Mass    // potassium sorbate
	Stock  measure.Volume  // of a 10 % solution of it
}

// SorbateFor is the potassium sorbate for a volume at an alcohol:
//
//	salt = sorbic acid × volume / 0.7464
//
// with the sorbic acid of Sorbic. Range: 0 to 20 % vol, 0.01 to 2000 L; outside
// an error. Source: stoichiometry; the dose as Sorbic. Uncertainty: 0.1 % of
// the salt; the dose is a rule.
func SorbateFor(volume measure.Volume, alcohol measure.Strength) (Sorbate, error) {
	if err := checkVolume(volume); err != nil {
		return Sorbate{}, err
	}
	acid, err := Sorbic(alcohol)
	if err != nil {
		return Sorbate{}, err
	}
	salt := measure.Grams(float64(acid) * float64(volume) / SorbicYield)
	return Sorbate{acid, salt, nutrient.StockOf(salt)}, nil
}

// Sorbic is the sorbic acid that a mead of an alcohol needs: 200 mg/L up to
// 10 % vol, from there 25 less for each % vol, 75 from 15 % vol on (from
// memory). It is never over the 200 mg/L that OIV II.3.4.5 allows. Range: 0 to
// 20 % vol, outside an error.
func Sorbic(alcohol measure.Strength) (measure.Content, error) {
	if err := measure.InRange("alcohol", alcohol, 0, 20, "% vol"); err != nil {
		return 0, err
	}
	mg := 200 - 25*(float64(alcohol)-10)
	return measure.MilligramsPerLitre(min(max(mg, 75), 200)), nil
}
