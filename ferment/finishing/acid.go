package finishing

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// Atomic weights, IUPAC conventional values.
const (
	hydrogen  = 1.008
	carbon    = 12.011
	oxygen    = 15.999
	sulphur   = 32.06
	potassium = 39.098
)

// Acid is what a mead is made sourer with.
type Acid string

// The acids.
const (
	Tartaric Acid = "tartaric"
	Malic    Acid = "malic"
	Citric   Acid = "citric"
	Lactic   Acid = "lactic"
)

// equivalent is the mass of an acid in g that holds one mole of acid hydrogen.
func (a Acid) equivalent() (float64, error) {
	switch a {
	case Tartaric:
		return (4*carbon + 6*hydrogen + 6*oxygen) / 2, nil
	case Malic:
		return (4*carbon + 6*hydrogen + 5*oxygen) / 2, nil
	case Citric:
		return (6*carbon + 8*hydrogen + 7*oxygen) / 3, nil
	case Lactic:
		return 3*carbon + 6*hydrogen + 3*oxygen, nil
	}
	return 0, &measure.Error{Text: string(a), Problem: "is not an acid to add", Hint: "tartaric, malic, citric or lactic, e.g. malic"}
}

// AcidFor is the acid that raises the acidity of a volume, both acidities in
// g/L of tartaric acid:
//
//	acid = (to − from) × volume × equivalent / 75.04
//
// so that 1 g of citric acid counts as 1.17 g, of malic 1.12, of lactic 0.83.
// The pH that comes of it cannot be foretold: measure it. Range: acidities of 0
// to 20 g/L, rising, 0.01 to 2000 L; outside an error. Source: molar masses
// from the conventional atomic weights of IUPAC. Uncertainty: 1 % for a pure
// acid; lactic acid is mostly sold as an 80 to 90 % solution.
func AcidFor(of Acid, from, to measure.Content, volume measure.Volume) (measure.Mass, error) {
	each, err := of.equivalent()
	if err != nil {
		return 0, err
	}
	if err := checkAcidities(from, to, volume); err != nil {
		return 0, err
	}
	if to < from {
		return 0, fmt.Errorf("from %.1f to %.1f g/L is less acid: that takes a buffer", float64(from), float64(to))
	}
	return measure.Grams(float64(to-from) * float64(volume) * each / tartaricEquivalent()), nil
}

// Buffer is how much potassium bicarbonate makes a mead less sour.
type Buffer struct {
	Salt    measure.Mass
	Warning string // "" or why not all of it
}

// BufferFor is the potassium bicarbonate that lowers the acidity of a volume,
// both acidities in g/L of tartaric acid:
//
//	salt = (from − to) × volume × 1.33
//
// In a mead no tartrate falls out, so that it is more than the 0.9 that counts
// for wine. Past nutrient.MostBuffer it warns. The pH that comes of it cannot
// be foretold: measure it. Range: acidities of 0 to 20 g/L, falling, 0.01 to
// 2000 L; outside an error. Source: molar masses from the conventional atomic
// weights of IUPAC. Uncertainty: 1 %.
func BufferFor(from, to measure.Content, volume measure.Volume) (Buffer, error) {
	if err := checkAcidities(from, to, volume); err != nil {
		return Buffer{}, err
	}
	if to > from {
		return Buffer{}, fmt.Errorf("from %.1f to %.1f g/L is more acid: that takes an acid", float64(from), float64(to))
	}
	const bicarbonate = potassium + hydrogen + carbon + 3*oxygen
	perLitre := (from - to) * measure.Content(bicarbonate/tartaricEquivalent())
	b := Buffer{Salt: measure.Grams(float64(perLitre) * float64(volume))}
	if perLitre > nutrient.MostBuffer {
		b.Warning = fmt.Sprintf("%.1f g/L of potassium bicarbonate: give %.1f at most in all", float64(perLitre), float64(nutrient.MostBuffer))
	}
	return b, nil
}

func tartaricEquivalent() float64 {
	e, _ := Tartaric.equivalent() // it is one of them
	return e
}

func checkAcidities(from, to measure.Content, volume measure.Volume) error {
	for _, acidity := range []measure.Content{from, to} {
		if err := measure.InRange("acidity", acidity, 0, 20, "g/L"); err != nil {
			return err
		}
	}
	return checkVolume(volume)
}
