package ferment

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Settings is cellar.yaml, with defaults.
type Settings struct {
	Units       measure.System
	Scale       string        // sg or brix
	Morning     time.Duration // time of day
	Zone        *time.Location
	Round       string              // weekday for looking at all quiet vessels
	HotFrom     string              // month in which hot weather usually begins
	Hottest     measure.Temperature // the hottest place of the bottles
	Weighs      measure.Mass        // the smallest step of the scale
	Theme       string              // auto, dark, light, mono
	Chart       string              // braille, blocks
	Mouse       bool
	Fizz        measure.Content // target of CO₂ for conditioned bottles
	Instruments []Instrument
	Nutrients   []NutrientKind
	Bottles     []BottleKind // the person's own; they take precedence over the built-in ones
	Limits      Limits
	Keys        map[string]string // action → key
	Unread      bool              // cellar.yaml cannot be read, so these are the defaults
}

// Unlimited is the reason given when limits are not known, so nothing is judged by them.
const Unlimited = "limits unknown: cellar.yaml cannot be read"

// Instrument is a hydrometer or a refractometer of the cellar.
type Instrument struct {
	Name        string
	Kind        string // hydrometer or refractometer
	Calibrated  measure.Given[measure.Temperature]
	Water       measure.Given[measure.Gravity] // its reading in water
	Compensated bool
}

// NutrientKind is a nutrient at hand.
type NutrientKind struct {
	Name     string
	Kind     string // ammonium or organic
	Nitrogen measure.Given[measure.Yield]
}

// Organic reports whether the nutrient is yeast-derived.
func (n NutrientKind) Organic() bool { return n.Kind == "organic" }

// BottleKind is a kind of bottle with its limits.
type BottleKind struct {
	Kind   string
	Size   measure.Given[measure.Volume]
	Holds  measure.Given[measure.Content]  // CO₂ that it may be filled to
	Stands measure.Given[measure.Pressure] // gauge pressure allowed by its maker
}

// BreakLimit is a break, as a fraction of the fall.
type BreakLimit struct{ Of, In int } // one third: 1 in 3

// Fraction returns the break as a number.
func (b BreakLimit) Fraction() float64 { return float64(b.Of) / float64(b.In) }

// Sign writes the fraction, ⅓ or 2/5.
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

// ParseBreak reads a break as a fraction, "1/3" or "break 1/3".
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

// Limits are the limits of the rules; a person or a protocol may change them.
type Limits struct {
	Grace             float64    // how far below the ammonium break a due dose may still be given, in gravity
	AmmoniumUntil     BreakLimit // last break for ammonium salts
	OrganicUntil      BreakLimit // last break for organic nutrient
	NutrientAlcohol   measure.Strength
	Spacing           time.Duration // least time between doses
	Fresh             time.Duration // age up to which a reading is fresh
	SteadyDays        int
	SteadyDaysWild    int
	SteadyFall        float64         // smallest fall, in gravity over the steady days, that the readings must exclude
	SteadySpread      measure.Gravity // how far a reading may differ from the others
	SteadyTemperature measure.Temperature
	DryWithin         measure.Gravity                    // over the dry finish, counts as dry
	StuckAbove        measure.Gravity                    // over the expected finish, a rest is called stuck
	Fermentable       measure.Share                      // share of a must's solids, if the must does not say
	Molecular         measure.Given[measure.Content]     // sulphur dioxide that protects
	Bound             measure.Given[measure.Share]       // share of the sulphur dioxide added
	PK                measure.Given[float64]             // of sulphurous acid
	StoredAt          measure.Given[measure.Temperature] // of a mead after sulphite
	GasLeft           measure.Given[measure.Content]     // carbon dioxide in a mead before priming
	ForecastAbove     measure.Gravity                    // over the expected finish, a forecast calls it a stop
	Set               string                             // those that a person or a plan set: "steady-days 21, dry-within 0.001"
}

// DefaultLimits returns the usual limits (common practice, no source).
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
		Round:   "saturday",
		HotFrom: "june",
		Hottest: 30,
		Weighs:  measure.Grams(1),
		Theme:   "auto",
		Chart:   "braille",
		Fizz:    5,
		Limits:  DefaultLimits(),
	}
}
