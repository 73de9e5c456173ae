package nutrient

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// Part is one dose of a plan: its share of the need, and of what.
type Part struct {
	Share measure.Share
	Of    Nutrient
}

// Dose is one addition.
type Dose struct {
	Of       Nutrient
	Mass     measure.Mass
	Wanted   measure.Content // nitrogen that its share of the need asks for
	Nitrogen measure.Content // nitrogen that it brings to a litre
}

// Doses is a plan of additions.
type Doses struct {
	Each     []Dose
	Total    measure.Mass
	Wanted   measure.Content // nitrogen that the shares ask for
	Possible measure.Content // nitrogen that the doses bring
	Cut      Cut
}

// Plan is the dose for each part of a need:
//
//	dose = need × volume × share / nitrogen in a gram
//
// Where ammonium salts would pass MostAmmonium all their doses are scaled
// evenly, and where the shares pass the whole need all doses are.
//
// Range: need 0 to 1 g/L, volume 0.01 to 2000 L, share 0 to 100 %, nutrient 1
// to 500 mg/g; outside an error. Source: mass balance; the salt by its
// formula, 0.1 %. Uncertainty: that of the nutrient's nitrogen.
func Plan(need measure.Content, volume measure.Volume, parts []Part) (Doses, error) {
	if err := checkNeed(need, volume); err != nil {
		return Doses{}, err
	}
	var wanted, salt measure.Content
	for _, p := range parts {
		if err := p.check(); err != nil {
			return Doses{}, err
		}
		n := p.wants(need)
		wanted += n
		salt += p.Of.salt(p.Of.holding(n))
	}
	all, salted, cut := scales(need, wanted, salt)
	plan := Doses{Wanted: wanted, Cut: cut}
	for _, p := range parts {
		n := p.wants(need) * all
		if p.Of.Kind == Ammonium {
			n *= salted
		}
		plan.add(Dose{p.Of, mass(p.Of.holding(n), volume), p.wants(need), n})
	}
	return plan, nil
}

// scales is what every dose, and besides it every dose of a salt, is
// multiplied with so that the caps hold.
func scales(need, wanted, salt measure.Content) (all, salted measure.Content, cut Cut) {
	all, salted = 1, 1
	if wanted > need*(1+1e-9) {
		all, cut = need/wanted, ByNeed
	}
	if salt*all > MostAmmonium {
		salted, cut = MostAmmonium/(salt*all), BySalt
	}
	return all, salted, cut
}

func (d *Doses) add(one Dose) {
	d.Each = append(d.Each, one)
	d.Total += one.Mass
	d.Possible += one.Nitrogen
}

// Explain says what a cap did to the plan, and nothing where none did.
func (d Doses) Explain() string {
	switch d.Cut {
	case BySalt:
		var wanted, possible measure.Content
		for _, one := range d.Each {
			if one.Of.Kind == Ammonium {
				wanted += one.Wanted
				possible += one.Nitrogen
			}
		}
		return fmt.Sprintf("of %.0f wanted, %.0f can come from this salt", wanted.MilligramsPerLitre(), possible.MilligramsPerLitre())
	case ByNeed:
		return fmt.Sprintf("the shares ask for %.0f of the %.0f mg/L needed", d.Wanted.MilligramsPerLitre(), d.Possible.MilligramsPerLitre())
	}
	return ""
}

func (p Part) check() error {
	if err := measure.InRange("share", p.Share, 0, 100, "%"); err != nil {
		return err
	}
	return p.Of.check()
}

func (p Part) wants(need measure.Content) measure.Content {
	return need * measure.Content(p.Share) / 100
}

func checkNeed(need measure.Content, volume measure.Volume) error {
	if err := measure.InRange("nitrogen need", need, 0, 1, "g/L"); err != nil {
		return err
	}
	return measure.InRange("volume", volume, 0.01, 2000, "L")
}

func mass(c measure.Content, v measure.Volume) measure.Mass {
	return measure.Grams(float64(c) * float64(v))
}
