// Package nutrient calculates what yeast needs: nitrogen, the doses for it, how much yeast
// to pitch, and how to measure an amount that is too small for the scale.
package nutrient

import (
	"math"

	"cellar/jugkeeper/ferment/measure"
)

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

// EnoughNitrogen is the most nitrogen for a must of medium demand, however strong it is
// (common practice, no source).
const EnoughNitrogen measure.Content = 0.200

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
// with the curve limited to 120 to 350 mg/L, a demand of 0.75, 1 or 1.25, and 20 mg/L of
// the must's own unless given. A target replaces curve and demand. The result is never
// under zero.
//
// Range: 1 to 60 °Bx, own and target 0 to 1 g/L; outside an error. Source of
// the curve: Bisson and Butzke 2000, Am. J. Enol. Vitic. 51:168 (from memory).
// Uncertainty: published targets run from 100 to over 350 mg/L, see Published.
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
