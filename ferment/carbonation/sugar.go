package carbonation

import "cellar/jugkeeper/ferment/measure"

// Sugar is what a bottle is primed with.
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
	honeyFermentable = 0.92    // of its solids, the safe side for a dose
)

// HoneyWater is the water in honey where nobody measured it: White 1962, mean
// of 490 samples, 13.4 to 22.9 % seen.
const HoneyWater measure.Share = 17.2

// PrimingYield is the CO₂ in g that a gram of sugar makes: two moles from one
// of hexose (0.4886), four from one of sucrose (0.5143), and from honey
//
//	0.4886 × (1 − water) × 0.92
//
// Range: water in honey 10 to 30 %, outside an error; not looked at for other
// sugars. Source: atomic weights; the fermentable share of honey from the
// sugars of White 1962. Uncertainty: honey 3 %.
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

// Primed is the CO₂ in a bottle once its sugar has fermented: what was left,
// and yield × dose / size. Range: 0 to 30 g/L, a dose of 0 to 1 kg, a bottle
// of 0.02 to 30 L, else as PrimingYield; outside an error. Source and
// uncertainty as there.
func Primed(left measure.Content, dose measure.Mass, of Sugar, water measure.Share, size measure.Volume) (measure.Content, error) {
	if err := checkCO2(left); err != nil {
		return 0, err
	}
	if err := measure.InRange("sugar in a bottle", dose, 0, 1, "kg"); err != nil {
		return 0, err
	}
	if err := checkSize(size); err != nil {
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
