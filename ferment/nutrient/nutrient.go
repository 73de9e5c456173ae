// Package nutrient calculates what yeast needs: nitrogen, the doses for it, how much yeast
// to pitch, and how to measure an amount that is too small for the scale.
package nutrient

import (
	"cmp"
	"math"

	"cellar/jugkeeper/ferment/measure"
)

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

// amountWith returns the amount of the nutrient in a litre that has so much nitrogen.
func (n Nutrient) amountWith(nitrogen measure.Content) measure.Content {
	return nitrogen * 1000 / measure.Content(n.Nitrogen)
}

// Demand is how much nitrogen a yeast needs compared with others.
type Demand string

// The demands. The empty one is taken as medium.
const (
	Low    Demand = "low"
	Medium Demand = "medium"
	High   Demand = "high"
)

// OwnNitrogen is the nitrogen of a honey must that nobody measured; light honeys 10 to 30
// mg/L, dark ones 30 to 60 (from memory).
const OwnNitrogen measure.Content = 0.020

// EnoughNitrogen is the most nitrogen for a must of medium demand, however strong it is (common practice, no source).
const EnoughNitrogen measure.Content = 0.200

// CultureMedium is the citric acid that brings a medium to pH 4.2, within half, and the nutrient that it wants (from
// memory; no source). Malt needs about 10 mmol/L of acid for each pH, honey in water a tenth; honey has no nitrogen.
type CultureMedium struct {
	PH             measure.PH // by itself
	Acid, Nutrient measure.Content
}

// CultureMediums are the media by what they are made of.
var CultureMediums = map[string]CultureMedium{"malt": {PH: 5.3, Acid: 1.9}, "honey": {4.4, 0.2, 0.5}}

// Must is what the need for nitrogen depends on.
type Must struct {
	Sugar  measure.Brix                   // of the original gravity; not used with a target
	Demand Demand                         // of the yeast
	Own    measure.Given[measure.Content] // nitrogen that the must brings itself
	Target measure.Given[measure.Content] // nitrogen wanted in all, by the person
}

// Need is how much nitrogen to add to a must.
type Need struct {
	Wanted  measure.Content // in the must, in all
	Own     measure.Content // of which the must has itself
	Add     measure.Content // the rest, which doses are counted against
	Assumed []string        // one sentence each
}

// NeedOf returns the nitrogen to add to a must:
//
//	add = min(200, 200 + 25 (°Bx − 21)) × demand − own   in mg/L
//
// with the curve limited to 120 to 350 mg/L, a demand of 0.75, 1 or 1.25, and 20 mg/L of the must's own unless given.
// A target replaces curve and demand. The result is never under zero.
//
// Range: 1 to 60 °Bx, own and target 0 to 1 g/L; outside an error. Source of the curve: Bisson and Butzke 2000, Am.
// J. Enol. Vitic. 51:168 (from memory). Uncertainty: published targets run from 100 to over 350 mg/L, see Published.
func NeedOf(m Must) (Need, error) {
	wanted, assumed, err := wantedIn(m)
	if err != nil {
		return Need{}, err
	}
	own := m.Own.Or(OwnNitrogen)
	if err := measure.InRange("own nitrogen of the must", own, 0, 1, "g/L"); err != nil {
		return Need{}, err
	}
	if !m.Own.Known() {
		assumed = append(assumed, "the must brings "+OwnNitrogen.String()+" of nitrogen itself")
	}
	return Need{Wanted: wanted, Own: own, Add: max(wanted-own, 0), Assumed: assumed}, nil
}

// wantedIn returns the nitrogen wanted in a must, and what was assumed for it.
func wantedIn(m Must) (measure.Content, []string, error) {
	if m.Target.Known() {
		return m.Target.Value, nil, measure.InRange("nitrogen target", m.Target.Value, 0, 1, "g/L")
	}
	factor, err := m.Demand.factor()
	if err != nil {
		return 0, nil, err
	}
	curve, err := BySugar(m.Sugar)
	if err != nil {
		return 0, nil, err
	}
	var assumed []string
	if m.Demand == "" {
		assumed = append(assumed, "the yeast's demand for nitrogen is medium")
	}
	return measure.Content(factor) * min(EnoughNitrogen, curve), assumed, nil
}

// BySugar returns the recommended nitrogen of a grape must by its sugar: 200 mg/L at 21 °Bx
// and 25 more for each °Bx, never under 120 nor over 350 mg/L. Range 1 to 60 °Bx, outside
// an error. Source: Bisson and Butzke 2000, Am. J. Enol. Vitic. 51:168 (from memory).
func BySugar(sugar measure.Brix) (measure.Content, error) {
	if err := measure.InRange("sugar", sugar, 1, 60, "°Bx"); err != nil {
		return 0, err
	}
	mg := 200 + 25*(float64(sugar)-21)
	return measure.MilligramsPerLitre(math.Min(math.Max(mg, 120), 350)), nil
}

// factor returns by how much a demand multiplies the need (common practice, no source).
func (d Demand) factor() (float64, error) {
	switch d {
	case Low:
		return 0.75, nil
	case Medium, "":
		return 1, nil
	case High:
		return 1.25, nil
	}
	return 0, &measure.Error{Text: string(d), Problem: "is not a demand for nitrogen", Hint: "low, medium or high, e.g. medium"}
}

// Advice is the nitrogen that one publication recommends.
type Advice struct {
	Who       string
	Says      string          // of what, and what came of it
	Low, High measure.Content // equal where it gives one number
	Memory    bool            // from memory
}

// Published returns published targets for nitrogen, lowest first. They are shown next to a
// need because they disagree; those for grapes rely on the vitamins and minerals of grapes.
func Published() []Advice {
	mg := measure.MilligramsPerLitre
	return []Advice{
		{"Sroka and Tuszyński 2007", "mead with 0.4 g/L of ammonium phosphate fermented", mg(85), mg(85), false},
		{"Schreiner, Osborne and Skinkis 2018", "least for a red grape must; poorer ones were slower, all went dry", mg(100), mg(100), false},
		{"Watson and others, Oregon State", "range of the advice for grape musts", mg(140), mg(500), false},
		{"a response-surface study of mead", "best together with potassium and vitamins", mg(150), mg(150), false},
		{"Bisson and Butzke 2000", "grape musts of 21 to 27 °Bx", mg(200), mg(350), true},
		{"Mendes-Ferreira and others 2010", "mead finished sooner; finishing was not sure", mg(267), mg(267), true},
	}
}

// Pitch is how much yeast a must needs.
type Pitch struct {
	Dry     measure.Mass    // bought, dry
	Rate    measure.Content // of it in a litre
	Cells   float64         // alive
	Starter measure.Volume  // of a fully grown starter with as many cells
}

// Strong reports whether the must needs more than the usual rate.
func (p Pitch) Strong() bool { return p.Rate > usualPitch }

const usualPitch measure.Content = 0.25 // g/L

const (
	cellsPerGram  = 2e10
	cellsPerLitre = 1e11 // in a starter fully grown in a rich medium: 1e8 in a mL
)

// PitchFor returns the yeast for a must:
//
//	dry = rate × volume, rate = 0.25 g/L up to 1.100, 0.50 g/L from 1.120 on, linear between
//	cells = dry × 2e10 in a gram (5e6 in a mL of must)
//	starter = cells / 1e8 in a mL
//
// Range: 0.01 to 2000 L, gravity 1.000 to 1.250; outside an error. Source: Australian Wine Research Institute,
// rehydration of dry yeast (0.25 g/L, 2e10 cells/g, at least 5e6 cells/mL, up to twice for high sugar); from where to
// where it rises, and the starter's 1e8 cells/mL (5e7 in a poor medium), are common practice, no source.
func PitchFor(volume measure.Volume, original measure.Gravity) (Pitch, error) {
	err := cmp.Or(
		measure.InRange("volume", volume, 0.01, 2000, "L"),
		measure.InRange("original gravity", original, 1, measure.HighestGravity, ""),
	)
	if err != nil {
		return Pitch{}, err
	}
	rise := min(max(float64(original-1.100)/0.020, 0), 1)
	rate := usualPitch * measure.Content(1+rise)
	dry := float64(rate) * float64(volume)
	cells := dry * cellsPerGram
	return Pitch{measure.Grams(dry), rate, cells, measure.Volume(cells / cellsPerLitre)}, nil
}
