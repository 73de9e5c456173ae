package ferment

import "cellar/jugkeeper/ferment/measure"

// Must is honey and water, and fruit, before and during fermentation.
type Must struct {
	Volume  measure.Given[measure.Volume]
	Honey   []HoneyPart
	Water   measure.Given[measure.Volume] // honey went into this much water
	Fruit   []FruitPart
	Gravity measure.Given[measure.Gravity] // measured; counts as a reading at the pitch
	PH      measure.Given[measure.PH]

	Fermentable measure.Given[measure.Share] // of the solids, that yeast can take
}

// HoneyPart is an amount of honey of one lot.
type HoneyPart struct {
	Lot   string
	Mass  measure.Given[measure.Mass]
	Water measure.Given[measure.Share] // water in the honey
}

// FruitPart is an amount of one fruit.
type FruitPart struct {
	Name  string
	Mass  measure.Given[measure.Mass]
	Sugar measure.Given[measure.Share]
	Water measure.Given[measure.Share]
}

// YeastKind is where a yeast came from.
type YeastKind string

// The kinds of yeast. Without a word it is bought.
const (
	Bought YeastKind = "bought"
	Wild   YeastKind = "wild"
	Slurry YeastKind = "slurry"
)

// Demand is how much nitrogen a yeast wants.
type Demand string

// The demands; medium where none is given.
const (
	Low    Demand = "low"
	Medium Demand = "medium"
	High   Demand = "high"
)

// Yeast is what was pitched.
type Yeast struct {
	Name        string
	Kind        YeastKind
	Culture     string // an id in cultures.yaml
	Demand      Demand
	Tolerance   measure.Given[measure.Strength]
	Temperature measure.Given[measure.Span[measure.Temperature]]

	// From is the culture of that id, nil where the cellar has none. No file says
	// it: WithCultures fills it in.
	From *Culture
}

// IsWild tells whether the yeast is a wild culture, whose finish is unproved. A
// culture of whatever kind counts as one until somebody says how much alcohol
// it reaches.
func (y Yeast) IsWild() bool {
	return y.Kind == Wild || y.Culture != "" && !y.Tolerance.Known()
}

// NutrientPlan is what the person fixed of the nutrient; each part optional.
type NutrientPlan struct {
	Target measure.Given[measure.Content] // nitrogen wanted
	Own    measure.Given[measure.Content] // nitrogen already in the must
	Kind   string                         // a nutrient of cellar.yaml
}
