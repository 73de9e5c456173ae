// Package finishing calculates what a finished mead needs: sulphite, sorbate, acid and buffer, how many bottles it
// fills, what a bottle cost, and whether tasters could tell two meads apart.
package finishing

import (
	"cmp"
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// Molecular is the usual molecular (protecting) sulphur dioxide, for a pale or sweet mead
// (common practice, no source; 0.5 mg/L for a dark one).
const Molecular measure.Content = 0.0008

// Limits of sulphur dioxide.
const (
	// TastedFree is the free sulphur dioxide from which it can be tasted (common practice, no source).
	TastedFree measure.Content = 0.050
	// MostSulphite is the most sulphur dioxide added in all: Regulation (EC)
	// 1333/2008, category 14.2.5, mead (from memory).
	MostSulphite measure.Content = 0.200
)

// SO2Yield is the sulphur dioxide in a gram of potassium metabisulphite, K₂S₂O₅, from the
// conventional atomic weights of IUPAC: 0.576. An old salt has 0.50 to 0.57.
const SO2Yield = 2 * (sulphur + 2*oxygen) / (2*potassium + 2*sulphur + 5*oxygen)

// Sulphite describes a mead that is to be protected.
type Sulphite struct {
	PH        measure.PH
	Volume    measure.Volume
	Molecular measure.Given[measure.Content]  // wanted; else the constant Molecular
	PK        measure.Given[float64]          // else from the alcohol
	Alcohol   measure.Given[measure.Strength] // else EverydayPK
	At        measure.Given[measure.Temperature]
	Present   measure.Content              // free sulphur dioxide in it already
	Added     measure.Content              // sulphur dioxide added so far, free or not
	Bound     measure.Given[measure.Share] // share of what is added that does not stay free; else Bound
}

// SulphiteDose is the metabisulphite that protects the mead.
type SulphiteDose struct {
	PK      float64
	Free    measure.Content // sulphur dioxide wanted free
	Add     measure.Content // sulphur dioxide to add
	Salt    measure.Mass    // potassium metabisulphite
	Stock   measure.Volume  // of a 10 % solution of it
	Warning string          // "" or what to do first
	Assumed []string        // quantities in braces, for measure.Fill
}

// Bound is the usual share of added sulphur dioxide that does not stay free (common practice, no source: 20 to 50 %).
const Bound measure.Share = 30

// SulphiteFor returns the potassium metabisulphite that a mead needs:
//
//	free = molecular × (1 + 10^(pH − pK))
//	salt = (free − present) × volume / (1 − bound) / 0.576
//
// pK is the one given, else PK of the alcohol, else 1.81.
//
// Range: pH 2.5 to 4.6, molecular 0.1 to 2 mg/L, 0.01 to 2000 L, present and added 0 to 1 g/L, bound 0 to 90 %; outside
// an error, and so is a dose that brings the sulphur dioxide added over 200 mg/L. Over 50 mg/L free it warns. Source:
// equilibrium of sulphurous acid; OIV-MA-AS323-04C for pK. Uncertainty: as the pH's, ±0.1 of it is ±25 % of the dose.
func SulphiteFor(s Sulphite) (SulphiteDose, error) {
	err := cmp.Or(
		measure.InRange("pH", s.PH, 2.5, 4.6, ""),
		checkVolume(s.Volume),
		measure.InRange("molecular sulphur dioxide", s.Molecular.Or(Molecular).MilligramsPerLitre(), 0.1, 2, "mg/L"),
		measure.InRange("free sulphur dioxide present", s.Present, 0, 1, "g/L"),
		measure.InRange("sulphur dioxide added so far", s.Added, 0, 1, "g/L"),
		measure.InRange("bound share", s.Bound.Or(Bound), 0, 90, "%"),
	)
	if err != nil {
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
	salt := measure.Grams(float64(add) * float64(s.Volume) / SO2Yield)
	if !s.Bound.Known() {
		assumed = append(assumed, fmt.Sprintf("%.0f %% of what is added does not stay free", float64(Bound)))
	}
	d := SulphiteDose{PK: pk, Free: free, Add: add, Salt: salt, Stock: nutrient.StockOf(salt), Assumed: assumed}
	if free > TastedFree {
		d.Warning = fmt.Sprintf("over %s free is tasted: lower the pH first", TastedFree)
	}
	return d, nil
}

func checkVolume(v measure.Volume) error { return measure.InRange("volume", v, 0.01, 2000, "L") }

// EverydayPK is the pK of sulphurous acid that printed cellar tables use. It is used if the
// alcohol is not known, and is on the safe side: a higher one would ask for less sulphite.
const EverydayPK = 1.81

// pkTable is OIV-MA-AS323-04C, table 2: the mixed pK at the ionic strength of wine, 0.038, at 0, 5, 10, 15 and 20 %
// vol (rows) and 20, 25, 30, 35 and 40 °C (from memory). It is the thermodynamic pK of table 1 less about 0.08 for
// the activity of the ions; with table 1 alone the dose would be a sixth too small.
var pkTable = [5][5]float64{
	{1.723, 1.925, 2.143, 2.257, 2.416},
	{1.819, 2.020, 2.220, 2.317, 2.446},
	{1.916, 2.116, 2.311, 2.405, 2.522},
	{2.014, 2.216, 2.417, 2.520, 2.640},
	{2.114, 2.317, 2.538, 2.663, 2.803},
}

// PK returns the pK of sulphurous acid by alcohol and temperature, interpolated in pkTable. Range: 0 to 20 % vol, 20
// to 40 °C; outside an error. Source: OIV-MA-AS323-04C, table 2 (from memory). Uncertainty: 0.02.
func PK(alcohol measure.Strength, at measure.Temperature) (float64, error) {
	if err := cmp.Or(measure.InRange("alcohol", alcohol, 0, 20, "% vol"), measure.InRange("temperature", at, 20, 40, "°C")); err != nil {
		return 0, err
	}
	row, down := between(float64(alcohol) / 5)
	column, across := between((float64(at) - 20) / 5)
	upper := lerp(pkTable[row][column], pkTable[row][column+1], across)
	lower := lerp(pkTable[row+1][column], pkTable[row+1][column+1], across)
	return lerp(upper, lower, down), nil
}

// between returns the row or column of pkTable before x, but never the last, and how far x is towards the next, 0 to 1.
func between(x float64) (line int, part float64) {
	line = min(int(x), 3)
	return line, x - float64(line)
}

func lerp(a, b, part float64) float64 { return a + (b-a)*part }

// pk returns the pK of sulphurous acid and what was assumed for it.
func (s Sulphite) pk() (float64, []string, error) {
	switch {
	case s.PK.Known():
		if err := measure.InRange("pK", s.PK.Value, 1.5, 3, ""); err != nil {
			return 0, nil, err
		}
		return s.PK.Value, nil, nil
	case s.Alcohol.Known():
		pk, err := PK(s.Alcohol.Value, s.At.Or(20))
		if s.At.Known() {
			return pk, nil, err
		}
		return pk, []string{"kept at {20 °C}"}, err
	}
	return EverydayPK, []string{fmt.Sprintf("pK %.2f, from printed tables", EverydayPK)}, nil
}

// SorbicYield is the sorbic acid in a gram of potassium sorbate, C₆H₇KO₂, from
// the conventional atomic weights of IUPAC: 0.7464.
const SorbicYield = (6*carbon + 8*hydrogen + 2*oxygen) / (6*carbon + 7*hydrogen + potassium + 2*oxygen)

// Sorbate is the potassium sorbate that keeps yeast from starting again. It works only together with sulphite.
type Sorbate struct {
	Sorbic measure.Content // sorbic acid
	Salt   measure.Mass    // potassium sorbate
	Stock  measure.Volume  // of a 10 % solution of it
}

// SorbateFor returns the potassium sorbate for a volume by its alcohol:
//
//	salt = sorbic acid × volume / 0.7464
//
// with the sorbic acid of Sorbic. Range: 0 to 20 % vol, 0.01 to 2000 L; outside an error. Source: stoichiometry; the
// dose as Sorbic. Uncertainty: 0.1 % of the salt; the dose is a rule of thumb.
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

// Sorbic returns the sorbic acid for a mead by its alcohol: 200 mg/L up to 10 % vol, from
// there 25 less for each % vol, 75 from 15 % vol on (from memory). It never exceeds the 200
// mg/L of OIV II.3.4.5. Range: 0 to 20 % vol, outside an error.
func Sorbic(alcohol measure.Strength) (measure.Content, error) {
	if err := measure.InRange("alcohol", alcohol, 0, 20, "% vol"); err != nil {
		return 0, err
	}
	mg := 200 - 25*(float64(alcohol)-10)
	return measure.MilligramsPerLitre(min(max(mg, 75), 200)), nil
}

// Atomic weights, IUPAC conventional values.
const (
	hydrogen  = 1.008
	carbon    = 12.011
	oxygen    = 15.999
	sulphur   = 32.06
	potassium = 39.098
)

// Acid is an acid that can be added to a mead.
type Acid string

// The acids.
const (
	Tartaric Acid = "tartaric"
	Malic    Acid = "malic"
	Citric   Acid = "citric"
	Lactic   Acid = "lactic"
)

// equivalent returns the mass of the acid in g per mole of acid hydrogen.
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

// AcidFor returns the acid that raises the acidity of a volume, both acidities in g/L of tartaric acid:
//
//	acid = (to − from) × volume × equivalent / 75.04
//
// so that 1 g of citric acid counts as 1.17 g, of malic 1.12, of lactic 0.83. The resulting pH cannot be calculated:
// measure it. Range: acidities of 0 to 20 g/L, rising, 0.01 to 2000 L; outside an error. Source: molar masses from
// the conventional atomic weights of IUPAC. Uncertainty: 1 % for a pure acid; lactic acid is mostly sold as an 80 to
// 90 % solution.
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

// Buffer is the potassium bicarbonate that makes a mead less sour.
type Buffer struct {
	Salt    measure.Mass
	Warning string // "" or why not all of it
}

// BufferFor returns the potassium bicarbonate that lowers the acidity of a volume,
// both acidities in g/L of tartaric acid:
//
//	salt = (from − to) × volume × 1.33
//
// In a mead no tartrate precipitates, so the factor is higher than the 0.9 for wine. Over nutrient.MostBuffer it
// warns. The resulting pH cannot be calculated: measure it. Range: acidities of 0 to 20 g/L, falling, 0.01 to 2000 L;
// outside an error. Source: molar masses from the conventional atomic weights of IUPAC. Uncertainty: 1 %.
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

// tartaricEquivalent returns how many grams of tartaric acid neutralise one mole of a base.
func tartaricEquivalent() float64 {
	e, _ := Tartaric.equivalent() // tartaric acid is always known
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
