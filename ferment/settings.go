package ferment

import (
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Settings is what cellar.yaml says, with the defaults filled in.
type Settings struct {
	Units       measure.System
	Scale       string        // sg or brix
	Morning     time.Duration // into the day
	Zone        *time.Location
	Hottest     measure.Temperature // the warmest the bottles will see
	Weighs      measure.Mass        // the smallest amount the scale shows
	Theme       string              // auto, dark, light, mono
	Chart       string              // braille, blocks
	Mouse       bool
	Fizz        measure.Content // what bottle-conditioning aims at
	Instruments []Instrument
	Nutrients   []NutrientKind
	Bottles     []BottleKind // the person's own; they go before the built-in ones
	Limits      Limits
	Keys        map[string]string // action → key
}

// Instrument is a hydrometer or a refractometer of the cellar.
type Instrument struct {
	Name        string
	Kind        string // hydrometer or refractometer
	Calibrated  measure.Given[measure.Temperature]
	Water       measure.Given[measure.Gravity] // what it reads in water
	Compensated bool
	Assumed     bool // nobody described it
}

// NutrientKind is a nutrient at hand.
type NutrientKind struct {
	Name     string
	Kind     string // ammonium or organic
	Nitrogen measure.Given[measure.Yield]
}

// Organic tells whether the nutrient is yeast-derived.
func (n NutrientKind) Organic() bool { return n.Kind == "organic" }

// BottleKind is a bottle with what it may hold and stand.
type BottleKind struct {
	Kind   string
	Size   measure.Given[measure.Volume]
	Holds  measure.Given[measure.Content]  // CO₂ it may be filled to
	Stands measure.Given[measure.Pressure] // gauge, by its maker
}

// BreakLimit is a break that a limit stands at, by its fraction.
type BreakLimit struct{ Of, In int } // one third: 1 in 3

// Fraction is the share of the expected fall.
func (b BreakLimit) Fraction() float64 { return float64(b.Of) / float64(b.In) }

// Limits are the figures of the rules that a person or a protocol may change.
type Limits struct {
	Grace             float64    // gravity below the ammonium break where a due dose may still be given
	AmmoniumUntil     BreakLimit // the open zone ends here
	OrganicUntil      BreakLimit // the late zone ends here
	NutrientAlcohol   measure.Strength
	Spacing           time.Duration // between doses
	Fresh             time.Duration // a reading counts as fresh
	SteadyDays        int
	SteadyDaysWild    int
	SteadyTemperature measure.Temperature
}

// DefaultLimits are the limits without a word of the person or the protocol
// (common practice, no source).
func DefaultLimits() Limits {
	return Limits{
		Grace:             0.005,
		AmmoniumUntil:     BreakLimit{1, 3},
		OrganicUntil:      BreakLimit{1, 2},
		NutrientAlcohol:   9,
		Spacing:           12 * time.Hour,
		Fresh:             36 * time.Hour,
		SteadyDays:        14,
		SteadyDaysWild:    28,
		SteadyTemperature: 15,
	}
}

// DefaultSettings are the settings of a cellar without a cellar.yaml.
func DefaultSettings(zone *time.Location) Settings {
	return Settings{
		Units:   measure.Metric,
		Scale:   "sg",
		Morning: 7 * time.Hour,
		Zone:    zone,
		Hottest: 30,
		Weighs:  measure.Grams(1),
		Theme:   "auto",
		Chart:   "braille",
		Fizz:    5,
		Limits:  DefaultLimits(),
	}
}
