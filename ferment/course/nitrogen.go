package course

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// nitrogen is what is wanted and what was given. Doses of an unknown amount
// are counted for the plan to reckon with.
func (c Course) nitrogen() Nitrogen {
	n := Nitrogen{Wanted: c.wantedNitrogen()}
	volume := MustVolume(c.Ferment.Must)
	var given nutrient.Given
	for _, e := range c.Entries {
		if e.Did != ferment.Nutrient {
			continue
		}
		n.Doses++
		n.Last = e.At.Latest()
		mass, ok := e.Mass()
		if !ok || !volume.IsKnown() || volume.Value <= 0 {
			n.Guessed++
			continue
		}
		more, err := given.With(mass, c.nutrientOf(e), volume.Value)
		if err != nil {
			n.Guessed++
			continue
		}
		given = more
	}
	n.Given, n.Salt = given.Nitrogen, given.Ammonium
	return n
}

func (c Course) wantedNitrogen() Figure[measure.Content] {
	must := nutrient.Must{
		Demand: nutrient.Demand(c.Ferment.Yeast.Demand),
		Own:    c.Ferment.Nutrient.Own,
		Target: c.Ferment.Nutrient.Target,
	}
	if c.Original.IsKnown() {
		b, err := gravity.ToBrix(c.Original.Value)
		if err != nil {
			return Unknown[measure.Content](err.Error())
		}
		must.Sugar = b
	} else if !must.Target.Known() {
		return Unknown[measure.Content](c.Original.Unknown)
	}
	need, err := nutrient.NeedOf(must)
	if err != nil {
		return Unknown[measure.Content](err.Error())
	}
	f := Known(need.Add)
	f.Assumed = strings.Join(need.Assumed, "; ")
	return f
}

// nutrientOf is what an entry gave: the nutrient of the cellar of that name,
// else what the ferment names, else ammonium phosphate.
func (c Course) nutrientOf(e *ferment.Entry) nutrient.Nutrient {
	for _, name := range []string{e.Of, c.Ferment.Nutrient.Kind} {
		if name == "" {
			continue
		}
		for _, k := range c.Settings.Nutrients {
			if strings.EqualFold(k.Name, name) && k.Nitrogen.Known() {
				return nutrient.Nutrient{Name: k.Name, Kind: nutrient.Kind(k.Kind), Nitrogen: k.Nitrogen.Value}
			}
		}
		for _, n := range []nutrient.Nutrient{nutrient.AmmoniumPhosphate, nutrient.YeastDerived} {
			if strings.EqualFold(n.Name, name) {
				return n
			}
		}
		if strings.Contains(name, "yeast") || strings.Contains(name, "organic") {
			return nutrient.YeastDerived
		}
	}
	return nutrient.AmmoniumPhosphate
}
