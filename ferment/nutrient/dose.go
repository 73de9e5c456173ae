package nutrient

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// Part is one dose of a plan: its share of the need, and the nutrient.
type Part struct {
	Share measure.Share
	Of    Nutrient
}

// Dose is one addition.
type Dose struct {
	Of       Nutrient
	Mass     measure.Mass
	Wanted   measure.Content // nitrogen for its share of the need
	Nitrogen measure.Content // nitrogen that it adds to a litre
}

// Doses is a plan of additions.
type Doses struct {
	Each     []Dose
	Total    measure.Mass
	Wanted   measure.Content // nitrogen that the shares ask for
	Possible measure.Content // nitrogen that the doses bring
	Cut      Cut
}

// Plan returns the dose for each part of a need:
//
//	dose = need × volume × share / nitrogen in a gram
//
// If ammonium salts would exceed MostAmmonium, all their doses are scaled alike; if the
// shares exceed the need, all doses are.
//
// Range: need 0 to 1 g/L, volume 0.01 to 2000 L, share 0 to 100 %, nutrient 1 to 500 mg/g; outside an error. Source:
// mass balance; the salt by its formula, 0.1 %. Uncertainty: that of the nutrient's nitrogen.
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
		salt += p.Of.salt(p.Of.amountWith(n))
	}
	all, salted, cut := scales(need, wanted, salt)
	plan := Doses{Wanted: wanted, Cut: cut}
	for _, p := range parts {
		n := p.wants(need) * all
		if p.Of.Kind == Ammonium {
			n *= salted
		}
		plan.add(Dose{p.Of, mass(p.Of.amountWith(n), volume), p.wants(need), n})
	}
	return plan, nil
}

// scales returns the factor for every dose, and one more for a salt, that keep the caps.
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

// Explain says how a cap reduced the plan; empty if none did.
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

// wants returns the part of the need that this nutrient has to cover.
func (p Part) wants(need measure.Content) measure.Content {
	return need * measure.Content(p.Share) / 100
}

func checkNeed(need measure.Content, volume measure.Volume) error {
	return cmp.Or(measure.InRange("nitrogen need", need, 0, 1, "g/L"), measure.InRange("volume", volume, 0.01, 2000, "L"))
}

func mass(c measure.Content, v measure.Volume) measure.Mass {
	return measure.Grams(float64(c) * float64(v))
}

// The most that may be added to a litre in all.
const (
	// MostAmmonium is the limit for ammonium phosphate: 8 lb in 1000 US gal,
	// 27 CFR 24.246 (from memory). Every ammonium salt counts against it.
	MostAmmonium measure.Content = 0.96
	// MostBuffer is the limit for potassium bicarbonate (common practice, no source).
	MostBuffer measure.Content = 1.5
)

// Cut is the cap that reduced doses.
type Cut string

// The caps.
const (
	Uncut  Cut = ""
	BySalt Cut = "salt" // MostAmmonium
	ByNeed Cut = "need" // the nitrogen added is never above the need
)

// Given is what has gone into each litre so far.
type Given struct {
	Nitrogen measure.Content // from doses, without the must's own
	Ammonium measure.Content // of ammonium salts, weighed as salt
}

// With returns what has been given after one more dose. Range as in Plan, a dose up to 1000 kg.
func (g Given) With(dose measure.Mass, of Nutrient, into measure.Volume) (Given, error) {
	if err := cmp.Or(of.check(), measure.InRange("dose", dose, 0, 1000, "kg"), measure.InRange("volume", into, 0.01, 2000, "L")); err != nil {
		return g, err
	}
	c := measure.Content(dose.Grams() / float64(into))
	return Given{g.Nitrogen + c*measure.Content(of.Nitrogen)/1000, g.Ammonium + of.salt(c)}, nil
}

// Room returns the most of a nutrient that may still be added, and the cap that limits it:
//
//	room = min((need − given) / nitrogen in a gram, 0.96 g/L − salt given) × volume
//
// the second only for a salt. It is never under zero. Range as in Plan, and 0 to 100 g/L of what was given.
func Room(need measure.Content, given Given, of Nutrient, volume measure.Volume) (measure.Mass, Cut, error) {
	if err := cmp.Or(checkNeed(need, volume), of.check()); err != nil {
		return 0, Uncut, err
	}
	for _, c := range []measure.Content{given.Nitrogen, given.Ammonium} {
		if err := measure.InRange("amount given", c, 0, 100, "g/L"); err != nil {
			return 0, Uncut, err
		}
	}
	room, cut := of.amountWith(need-given.Nitrogen), ByNeed
	if left := MostAmmonium - given.Ammonium; of.Kind == Ammonium && left < room {
		room, cut = left, BySalt
	}
	return mass(max(room, 0), volume), cut, nil
}

// BufferRoom returns how much potassium bicarbonate may still be added to a volume that has been given some in each
// litre. It is never under zero. Range 0 to 100 g/L given, 0.01 to 2000 L.
func BufferRoom(given measure.Content, volume measure.Volume) (measure.Mass, error) {
	if err := cmp.Or(measure.InRange("buffer given", given, 0, 100, "g/L"), measure.InRange("volume", volume, 0.01, 2000, "L")); err != nil {
		return 0, err
	}
	return mass(max(MostBuffer-given, 0), volume), nil
}

// Stock is a solution of 10 g in 100 mL, for a dose that is too small to weigh.
type Stock struct {
	Weigh measure.Mass   // powder to dissolve
	Into  measure.Volume // volume to make it up to
	Give  measure.Volume // volume that has the dose
}

const stockGrams = 100

// weighable is the least scale steps to weigh within 5 %: half in ten (common practice, no source).
const weighable = 10

// TooSmall reports whether a dose is under ten steps of the scale.
func TooSmall(dose, weighs measure.Mass) bool { return dose < weighable*weighs }

// StockFor returns the stock solution to measure a dose with:
//
//	give = dose / 100 g/L
//
// made from 10 g, or from ten times what the scale shows if that is more, so that the stock itself can be weighed;
// and from more where the dose needs it. Range: dose above 0 to 100 kg, scale above 0 to 1 kg; outside an error.
// Uncertainty: 5 % from the weighing, besides the reading of the syringe.
func StockFor(dose, weighs measure.Mass) (Stock, error) {
	if err := cmp.Or(measure.InRange("dose", dose, 1e-9, 100, "kg"), measure.InRange("what the scale shows", weighs, 1e-9, 1, "kg")); err != nil {
		return Stock{}, err
	}
	weigh := max(measure.Grams(10), weighable*weighs, dose)
	return Stock{weigh, StockOf(weigh), StockOf(dose)}, nil
}

// StockOf returns the volume of stock solution that has an amount.
func StockOf(m measure.Mass) measure.Volume {
	return measure.Volume(m.Grams() / stockGrams)
}

// FromStock returns the mass in a volume of stock solution by its strength in grams in 100
// mL (10 for a 10 % stock). Range 0 to 100 L and above 0 to 100 %, outside an error.
func FromStock(given measure.Volume, strength measure.Share) (measure.Mass, error) {
	err := cmp.Or(
		measure.InRange("volume of stock", given, 0, 100, "L"),
		measure.InRange("strength of the stock", strength, 0.01, 100, "%"),
	)
	if err != nil {
		return 0, err
	}
	return measure.Grams(given.Millilitres() * float64(strength) / 100), nil
}
