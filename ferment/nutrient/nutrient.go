package nutrient

import "cellar/jugkeeper/ferment/measure"

// Kind is where the nitrogen of a nutrient comes from.
type Kind string

// The kinds.
const (
	Ammonium Kind = "ammonium" // a salt
	Organic  Kind = "organic"  // yeast-derived
)

// Nutrient is what nitrogen is given with.
type Nutrient struct {
	Name     string
	Kind     Kind
	Nitrogen measure.Yield
}

// Atomic weights, IUPAC conventional values.
const (
	hydrogen   = 1.008
	nitrogen   = 14.007
	oxygen     = 15.999
	phosphorus = 30.974
)

// AmmoniumPhosphate is (NH₄)₂HPO₄, 212 mg of nitrogen in a gram by its formula; the default.
var AmmoniumPhosphate = Nutrient{"ammonium phosphate", Ammonium,
	1000 * 2 * nitrogen / (2*nitrogen + 9*hydrogen + phosphorus + 4*oxygen)}

// YeastDerived is organic, its nitrogen content not known: 30 to 60 mg/g (from memory).
var YeastDerived = Nutrient{"yeast-derived nutrient", Organic, 40}

func (n Nutrient) check() error {
	if n.Kind != Ammonium && n.Kind != Organic {
		return &measure.Error{Text: string(n.Kind), Problem: "is not a kind of nutrient", Hint: "ammonium or organic, e.g. ammonium"}
	}
	return measure.InRange("nitrogen in "+n.Name, n.Nitrogen, 1, 500, "mg/g")
}

// salt returns how much of an amount a litre counts against MostAmmonium.
func (n Nutrient) salt(c measure.Content) measure.Content {
	if n.Kind == Ammonium {
		return c
	}
	return 0
}

// nitrogenIn returns the nitrogen of an amount of the nutrient in a litre.
func (n Nutrient) nitrogenIn(c measure.Content) measure.Content {
	return c * measure.Content(n.Nitrogen) / 1000
}

// amountWith returns the amount of the nutrient in a litre that has so much nitrogen.
func (n Nutrient) amountWith(nitrogen measure.Content) measure.Content {
	return nitrogen * 1000 / measure.Content(n.Nitrogen)
}
