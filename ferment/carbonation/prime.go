package carbonation

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Priming is a batch to be carbonated in its bottles.
type Priming struct {
	Volume    measure.Volume // after the last racking
	Liquid    Liquid         // before priming
	Warmest   measure.Temperature
	Left      measure.Given[measure.Content] // CO₂ in it already, if known
	Target    measure.Content
	Bottle    Bottle // with no kind, no limit is checked
	Size      measure.Volume
	Sugar     Sugar
	Water     measure.Given[measure.Share]  // in the honey
	Dissolved measure.Given[measure.Volume] // water that the sugar of a batch is dissolved in; usually syrupWater
}

// Dose is the sugar that primes a batch.
type Dose struct {
	Left      measure.Content // CO₂ in it already
	PerLitre  measure.Content
	PerBottle measure.Mass
	Batch     measure.Mass     // for the mead and the water
	Dissolved measure.Volume   // the water
	Alcohol   measure.Strength // from the sugar
	Strength  measure.Strength // of the mead with water and sugar, in the end
	Assumed   []string         // quantities in braces, for measure.Fill
}

// Prime returns the sugar for a batch and for each bottle:
//
//	g/L = (target − CO₂ left) / CO₂ from a gram
//
// with Left and PrimingYield. The water that the sugar of a batch is dissolved in gets its sugar too, and thins the
// alcohol; it is counted as if it had the CO₂ of the mead, which makes the dose up to 2 % low. The alcohol from the
// sugar is 0.13 % vol for each g/L of CO₂. It is an error if the bottle does not accept the target, or if the liquid
// has so much CO₂ already.
//
// Range: 0.05 to 2000 L, bottles of 0.02 to 30 L, 0 to 30 g/L, else as Solubility and PrimingYield. Source:
// stoichiometry. Uncertainty: 3 % of the sugar; the CO₂ left is assumed to be that of an undisturbed ferment.
func Prime(p Priming) (Dose, error) {
	yield, err := PrimingYield(p.Sugar, p.Water.Or(honey.Typical))
	left, err2 := p.left()
	if err := cmp.Or(p.check(), err, err2); err != nil {
		return Dose{}, err
	}
	added := float64(p.Target - left)
	if added <= 0 {
		return Dose{}, fmt.Errorf("it has %s of CO₂ already: aim higher than that, not at %s", left, p.Target)
	}
	perLitre, made := added/yield, StrengthWith(measure.Content(added))
	water := p.Dissolved.Or(p.Volume * syrupWater)
	return Dose{
		Left:      left,
		PerLitre:  measure.Content(perLitre),
		PerBottle: measure.Grams(perLitre * float64(p.Size)),
		Batch:     measure.Grams(perLitre * float64(p.Volume+water)),
		Dissolved: water,
		Alcohol:   made,
		Strength:  p.Liquid.Alcohol*measure.Strength(p.Volume/(p.Volume+water)) + made,
		Assumed:   p.assumed(),
	}, nil
}

// syrupWater is the usual water to dissolve priming sugar in, of the volume of the mead: 50 mL a litre (common practice,
// no source).
const syrupWater = 0.05

// StrengthWith returns the alcohol that fermentation makes with so much CO₂: 0.13 % vol for each g/L.
func StrengthWith(made measure.Content) measure.Strength {
	return measure.Strength(float64(made) * ethanolMole / co2Mole / ethanolDensity * 100)
}

// left returns the carbon dioxide that is still in the mead: measured, or what stays at its warmest.
func (p Priming) left() (measure.Content, error) {
	if p.Left.Known() {
		return p.Left.Value, checkCO2(p.Left.Value)
	}
	return GasLeft(p.Liquid, p.Warmest)
}

func (p Priming) check() error {
	if err := cmp.Or(measure.InRange("volume", p.Volume, 0.05, 2000, "L"), measure.InRange("water of the syrup", p.Dissolved.Value, 0, p.Volume, "L"),
		checkSize(p.Size), p.Liquid.check()); err != nil {
		return err
	}
	if p.Bottle.Kind == "" {
		return checkCO2(p.Target)
	}
	return p.Bottle.CheckFizz(p.Target)
}

// assumed lists what was assumed, with quantities in braces for measure.Fill.
func (p Priming) assumed() []string {
	var says []string
	if !p.Left.Known() {
		says = append(says, fmt.Sprintf("it has kept the CO₂ of one atmosphere at {%s}, the warmest since the bubbling ended", p.Warmest))
	}
	if p.Sugar == Honey {
		if !p.Water.Known() {
			says = append(says, fmt.Sprintf("the honey has %s of water", honey.Typical))
		}
		says = append(says, "92 % of the honey's solids ferment")
	}
	if !p.Dissolved.Known() {
		says = append(says, fmt.Sprintf("dissolved in {%s} of boiled water, which gets its sugar too", (p.Volume*syrupWater).Small(measure.Metric)))
	}
	if p.Bottle.Kind == "" {
		says = append(says, "the bottle is made for this pressure")
	}
	return says
}

// Sugar is a sugar for priming.
type Sugar string

// The sugars.
const (
	Honey              Sugar = "honey"
	Sucrose            Sugar = "sucrose"
	Glucose            Sugar = "glucose"
	GlucoseMonohydrate Sugar = "glucose monohydrate"
)

// Molar masses in g/mol, from the conventional atomic weights of IUPAC.
const (
	hexoseMole  = 180.156
	sucroseMole = 342.297
	waterMole   = 18.015
	ethanolMole = 46.069
	co2Mole     = 44.009
)

const (
	ethanolDensity   = 789.239 // g/L at 20 °C, OIML R 22
	honeyFermentable = 0.92    // of its solids; a cautious value for a dose
)

// PrimingYield returns the CO₂ in g from a gram of sugar: two moles from one of hexose
// (0.4886), four from one of sucrose (0.5143), and from honey
//
//	0.4886 × (1 − water) × 0.92
//
// Range: water in honey 10 to 30 %, outside an error; not used for other sugars. Source: atomic weights; the
// fermentable share of honey from the sugars of White 1962. Uncertainty: honey 3 %.
func PrimingYield(of Sugar, water measure.Share) (float64, error) {
	switch of {
	case Honey:
		if err := measure.InRange("water in the honey", water, 10, 30, "%"); err != nil {
			return 0, err
		}
		return 2 * co2Mole / hexoseMole * (1 - float64(water)/100) * honeyFermentable, nil
	case Sucrose:
		return 4 * co2Mole / sucroseMole, nil
	case Glucose:
		return 2 * co2Mole / hexoseMole, nil
	case GlucoseMonohydrate:
		return 2 * co2Mole / (hexoseMole + waterMole), nil
	}
	return 0, &measure.Error{Text: string(of), Problem: "is not a sugar for priming",
		Hint: "honey, sucrose, glucose or glucose monohydrate, e.g. honey"}
}

// Primed returns the CO₂ in a bottle once its sugar has fermented: left, and yield × dose / size. Range: 0 to 30 g/L, a
// dose of 0 to 1 kg, a bottle of 0.02 to 30 L, else as PrimingYield; outside an error. Source and uncertainty as there.
func Primed(left measure.Content, dose measure.Mass, of Sugar, water measure.Share, size measure.Volume) (measure.Content, error) {
	if err := cmp.Or(checkCO2(left), measure.InRange("sugar in a bottle", dose, 0, 1, "kg"), checkSize(size)); err != nil {
		return 0, err
	}
	yield, err := PrimingYield(of, water)
	if err != nil {
		return 0, err
	}
	return left + measure.Content(yield*dose.Grams()/float64(size)), nil
}

func checkSize(v measure.Volume) error {
	return measure.InRange("size of a bottle", v, 0.02, 30, "L")
}
