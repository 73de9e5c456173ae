package carbonation

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// Priming is a batch to be carbonated in its bottles.
type Priming struct {
	Volume  measure.Volume // after the last racking
	Liquid  Liquid         // before priming
	Warmest measure.Temperature
	Left    measure.Given[measure.Content] // CO₂ there already, where the person knows it
	Target  measure.Content
	Bottle  Bottle // without a kind nothing is compared with what it holds
	Size    measure.Volume
	Sugar   Sugar
	Water   measure.Given[measure.Share] // in the honey
}

// Dose is how much sugar brings a batch to its fizz.
type Dose struct {
	Left      measure.Content // CO₂ there already
	PerLitre  measure.Content
	PerBottle measure.Mass
	Batch     measure.Mass
	Alcohol   measure.Strength // that the sugar adds
	Assumed   []string         // quantities in braces, for measure.Fill
}

// Prime is the sugar for a batch and for each bottle:
//
//	g/L = (target − CO₂ left) / CO₂ from a gram
//
// with Left and PrimingYield. The alcohol made with it is 0.13 % vol for each
// g/L of CO₂. A bottle that does not take the target is refused with the
// reason, and so is a target that the liquid holds already.
//
// Range: 0.05 to 2000 L, bottles of 0.02 to 30 L, 0 to 30 g/L, else as
// Solubility and PrimingYield. Source: stoichiometry. Uncertainty: 3 % of the
// sugar; the CO₂ left is that of an undisturbed ferment.
func Prime(p Priming) (Dose, error) {
	if err := p.check(); err != nil {
		return Dose{}, err
	}
	yield, err := PrimingYield(p.Sugar, p.Water.Or(HoneyWater))
	if err != nil {
		return Dose{}, err
	}
	left, err := p.left()
	if err != nil {
		return Dose{}, err
	}
	added := float64(p.Target - left)
	if added <= 0 {
		return Dose{}, fmt.Errorf("it holds %s of CO₂ already: aim higher than that, not at %s", left, p.Target)
	}
	perLitre := added / yield
	return Dose{
		Left:      left,
		PerLitre:  measure.Content(perLitre),
		PerBottle: measure.Grams(perLitre * float64(p.Size)),
		Batch:     measure.Grams(perLitre * float64(p.Volume)),
		Alcohol:   measure.Strength(added * ethanolMole / co2Mole / ethanolDensity * 100),
		Assumed:   p.assumed(),
	}, nil
}

func (p Priming) left() (measure.Content, error) {
	if p.Left.Known() {
		return p.Left.Value, checkCO2(p.Left.Value)
	}
	return Left(p.Liquid, p.Warmest)
}

func (p Priming) check() error {
	if err := measure.InRange("volume", p.Volume, 0.05, 2000, "L"); err != nil {
		return err
	}
	if err := checkSize(p.Size); err != nil {
		return err
	}
	if err := p.Liquid.check(); err != nil {
		return err
	}
	if p.Bottle.Kind == "" {
		return checkCO2(p.Target)
	}
	return p.Bottle.Takes(p.Target)
}

// assumed has its quantities in braces, for measure.Fill.
func (p Priming) assumed() []string {
	var says []string
	if !p.Left.Known() {
		says = append(says, fmt.Sprintf("it has kept the CO₂ of one atmosphere at {%s}, the warmest since the bubbling ended", p.Warmest))
	}
	if p.Sugar == Honey {
		if !p.Water.Known() {
			says = append(says, fmt.Sprintf("the honey holds %s of water", HoneyWater))
		}
		says = append(says, "92 % of the honey's solids ferment")
	}
	if p.Bottle.Kind == "" {
		says = append(says, "the bottle is made for this pressure")
	}
	return says
}
