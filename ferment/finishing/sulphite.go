// Package finishing works out what a finished mead needs to keep and to be shared
// out: sulphite, sorbate, acid and buffer, the volumes that came and went, what
// a bottle cost, and whether tasters could tell two of them apart.
package finishing

import (
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// Molecular is the sulphur dioxide that protects, in the form that it is toxic
// in, where nobody asks for another: for a pale or sweet mead (common practice,
// no source; 0.5 mg/L for a dark one).
const Molecular measure.Content = 0.0008

// What may not be passed with sulphite.
const (
	// TastedFree is the free sulphur dioxide from which it is tasted (common
	// practice, no source).
	TastedFree measure.Content = 0.050
	// MostSulphite is the most sulphur dioxide added in all: Regulation (EC)
	// 1333/2008, category 14.2.5, mead (from memory).
	MostSulphite measure.Content = 0.200
)

// SO2Yield is the sulphur dioxide in a gram of potassium metabisulphite,
// K₂S₂O₅, from the conventional atomic weights of IUPAC: 0.576. A salt that has
// aged holds 0.50 to 0.57.
const SO2Yield = 2 * (sulphur + 2*oxygen) / (2*potassium + 2*sulphur + 5*oxygen)

// Sulphite is a mead that is to be protected.
type Sulphite struct {
	PH        measure.PH
	Volume    measure.Volume
	Molecular measure.Given[measure.Content]  // wanted; else the constant of that name
	PK        measure.Given[float64]          // else from the alcohol
	Alcohol   measure.Given[measure.Strength] // else EverydayPK
	At        measure.Given[measure.Temperature]
	Present   measure.Content              // free sulphur dioxide there already
	Added     measure.Content              // sulphur dioxide added so far, free or not
	Bound     measure.Given[measure.Share] // of what is added: it does not stay free; else Bound
}

// SulphiteDose is how much metabisulphite protects it.
type SulphiteDose struct {
	PK      float64
	Free    measure.Content // sulphur dioxide wanted free
	Add     measure.Content // sulphur dioxide to add
	Salt    measure.Mass    // potassium metabisulphite
	Stock   measure.Volume  // of a 10 % solution of it
	Warning string          // "" or what to do first
	Assumed []string        // quantities in braces, for measure.Fill
}

// Bound is the share of the sulphur dioxide added that does not stay free, where
// nobody knows better (common practice, no source: 20 to 50 %).
const Bound measure.Share = 30

// SulphiteFor is the potassium metabisulphite that a mead needs:
//
//	free = molecular × (1 + 10^(pH − pK))
//	salt = (free − present) × volume / (1 − bound) / 0.576
//
// pK is the one given, else PK of the alcohol, else 1.81.
//
// Range: pH 2.5 to 4.6, molecular 0.1 to 2 mg/L, 0.01 to 2000 L, present and
// added 0 to 1 g/L, bound 0 to 90 %; outside an error, and so is a dose that
// brings the sulphur dioxide added over 200 mg/L. Over 50 mg/L free it warns.
// Source: equilibrium of sulphurous acid; OIV-MA-AS323-04C for pK. Uncertainty:
// as the pH's, ±0.1 of it is ±25 % of the dose.
func SulphiteFor(s Sulphite) (SulphiteDose, error) {
	if err := s.check(); err != nil {
		return SulphiteDose{}, err
	}
	pk, assumed, err := s.pk()
	if err != nil {
		return SulphiteDose{}, err
	}
	free := s.Molecular.Or(Molecular) * measure.Content(1+math.Pow(10, float64(s.PH)-pk))
	bound := s.Bound.Or(Bound)
	add := max(free-s.Present, 0) / measure.Content(1-bound/100)
	if total := s.Added + add; add > 0 && total > MostSulphite {
		return SulphiteDose{}, fmt.Errorf("at pH %.2f it takes %s of sulphur dioxide added, over the %s that may go in: lower the pH first", float64(s.PH), total, MostSulphite)
	}
	salt, err := Metabisulphite(add, s.Volume)
	if err != nil {
		return SulphiteDose{}, err
	}
	if !s.Bound.Known() {
		assumed = append(assumed, fmt.Sprintf("%.0f %% of what is added does not stay free", float64(Bound)))
	}
	return SulphiteDose{pk, free, add, salt, nutrient.StockOf(salt), tastes(free), assumed}, nil
}

// Metabisulphite is the salt that brings sulphur dioxide into a volume. Range:
// 0 to 200 mg/L, 0.01 to 2000 L; outside an error.
func Metabisulphite(so2 measure.Content, volume measure.Volume) (measure.Mass, error) {
	if err := measure.InRange("sulphur dioxide", so2, 0, MostSulphite, "g/L"); err != nil {
		return 0, err
	}
	if err := checkVolume(volume); err != nil {
		return 0, err
	}
	return measure.Grams(float64(so2) * float64(volume) / SO2Yield), nil
}

func tastes(free measure.Content) string {
	if free <= TastedFree {
		return ""
	}
	return fmt.Sprintf("over %s free is tasted: lower the pH first", TastedFree)
}

func (s Sulphite) check() error {
	if err := measure.InRange("pH", s.PH, 2.5, 4.6, ""); err != nil {
		return err
	}
	if err := checkVolume(s.Volume); err != nil {
		return err
	}
	if err := measure.InRange("molecular sulphur dioxide", s.Molecular.Or(Molecular).MilligramsPerLitre(), 0.1, 2, "mg/L"); err != nil {
		return err
	}
	if err := measure.InRange("free sulphur dioxide present", s.Present, 0, 1, "g/L"); err != nil {
		return err
	}
	if err := measure.InRange("sulphur dioxide added so far", s.Added, 0, 1, "g/L"); err != nil {
		return err
	}
	return measure.InRange("bound share", s.Bound.Or(Bound), 0, 90, "%")
}

func checkVolume(v measure.Volume) error { return measure.InRange("volume", v, 0.01, 2000, "L") }
