package ferment

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Settings is what cellar.yaml says, with the defaults filled in.
type Settings struct {
	Units       measure.System
	Scale       string        // sg or brix
	Morning     time.Duration // into the day
	Zone        *time.Location
	Round       string              // the weekday on which all quiet vessels are looked at; empty for each on its own day
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
	Unread      bool              // cellar.yaml cannot be read: these are the defaults
}

// Unlimited says that no limit is known, and nothing is judged by one.
const Unlimited = "limits unknown: cellar.yaml cannot be read"

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

// Organic reports whether the nutrient is yeast-derived.
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

// Fraction returns the share of the expected fall.
func (b BreakLimit) Fraction() float64 { return float64(b.Of) / float64(b.In) }

// Sign returns the fraction as it is shown, ⅓ or 2/5.
func (b BreakLimit) Sign() string {
	switch b {
	case BreakLimit{Of: 1, In: 3}:
		return "⅓"
	case BreakLimit{Of: 1, In: 2}:
		return "½"
	case BreakLimit{Of: 2, In: 3}:
		return "⅔"
	}
	return fmt.Sprintf("%d/%d", b.Of, b.In)
}

// ParseBreak reads a break by its fraction, "1/3" or "break 1/3".
func ParseBreak(text string) (BreakLimit, error) {
	fraction := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "break "))
	above, under, _ := strings.Cut(fraction, "/")
	of, err := strconv.ParseUint(above, 10, 8)
	in, err2 := strconv.ParseUint(under, 10, 8)
	if err != nil || err2 != nil || of == 0 || of >= in {
		return BreakLimit{}, &measure.Error{Text: text, Problem: "is not a break", Hint: "a fraction of the expected fall, e.g. break 1/3"}
	}
	return BreakLimit{int(of), int(in)}, nil
}

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
	SteadyFall        float64         // in gravity over the steady days, that the readings have to exclude
	SteadySpread      measure.Gravity // how far a reading may lie off the others
	SteadyTemperature measure.Temperature
	DryWithin         measure.Gravity                    // over the dry finish that counts as dry
	StuckAbove        measure.Gravity                    // over the expected finish from which a rest is called stuck
	Fermentable       measure.Share                      // of a must's solids, where the must does not say
	Molecular         measure.Given[measure.Content]     // sulphur dioxide that protects
	Bound             measure.Given[measure.Share]       // of the sulphur dioxide added
	PK                measure.Given[float64]             // of sulphurous acid
	StoredAt          measure.Given[measure.Temperature] // where a mead stands once it is sulphited
	GasLeft           measure.Given[measure.Content]     // carbon dioxide in a mead that is primed
	ForecastAbove     measure.Gravity                    // over the expected finish from which a forecast says that it stopped
}

// DefaultLimits returns the limits where nobody says others (common practice, no source).
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
		SteadyFall:        0.0013,
		SteadySpread:      0.002,
		SteadyTemperature: 15,
		DryWithin:         0.002,
		StuckAbove:        0.007,
		Fermentable:       86,
		ForecastAbove:     0.010,
	}
}

// DefaultSettings returns the settings of a cellar without a cellar.yaml.
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
