package bench

import (
	"fmt"

	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// alcoholFigures are about what has become of the sugar.
func alcoholFigures() []Figure {
	return []Figure{
		{
			Name: "alcohol", Use: "alcohol from two gravities",
			Ways: []Way{{Keys: []Key{
				{"og", "original gravity", "1.100", false}, {"fg", "gravity now", "0.996", false},
				{"brought", "alcohol that a starter or a spirit brought", "0.3%", true},
			}, work: strength}},
			Equation: "Balling: (OE − RE)/(2.0665 − 0.010665 OE)", Source: "Balling 1865; excise factors; Cutaia 2009",
			Range: "original 1.000 to 1.250", Within: "0.2 % vol, 0.3 above 1.010; 3 % of measured beers", Uncertainty: "±0.5 % vol",
		},
		{
			Name: "finish", Use: "where a must will end",
			Ways: []Way{{Keys: []Key{
				{"og", "original gravity", "1.100", false}, {"tolerance", "alcohol that the yeast is said to reach", "14%", true},
				{"share", "share of the solids that ferments", "86%", true},
			}, work: finish}},
			Equation: "mass balance with Balling's yields, density of the mixture", Source: "derived; OIML R 22, SPS-4",
			Range: "original 1.002 to 1.200", Within: "0.0005 of worked values", Uncertainty: "±0.005: the share of honey that ferments is not known; a tolerance is ±1.5 % vol, more often over than under",
		},
		{
			Name: "spirit", Use: "spirit for a culture's medium",
			Ways: []Way{{Keys: []Key{
				{"volume", "medium without the spirit", "200mL", false}, {"to", "alcohol wanted", "5%", false}, {"spirit", "strength of the spirit", "40%", false},
			}, work: spirit}},
			Equation: "v = V A / (S − A)", Source: "definition; the mixture by OIML R 22",
			Range: "0.5 to 20 % vol", Within: "0.1 % vol of the exact mixture", Uncertainty: "that of your measure",
			Cautions: []Caution{
				{"warn", "spirit and its vapour burn: the stove is off and out before the bottle is opened"},
				{"note", "bought spirit only, clear and without flavour; making spirit at home is forbidden in most countries: know your own law"},
			},
		},
		{
			Name: "mixture", Use: "density of ethanol in water",
			Ways:     []Way{{Keys: []Key{{"alcohol", "strength", "12%", false}, {"at", "temperature", "20C", true}}, work: mixture}},
			Equation: "OIML R 22 general formula", Source: "OIML R 22 (1975); Perry's handbook",
			Range: "0 to 100 % vol, −20 to 40 °C", Within: "0.02 kg/m³", Uncertainty: "exact for ethanol and water alone",
		},
	}
}

func strength(f *form) {
	og, fg := want(f, "og", gravity.Parse), want(f, "fg", gravity.Parse)
	brought := read(f, "brought", measure.ParseStrength)
	if f.err != nil {
		return
	}
	b, err := alcohol.BalanceOf(og, fg)
	f.fail(err)
	if brought.Known() && err == nil {
		b, err = b.With(brought.Value)
		f.fail(err)
	}
	end, err := alcohol.DryFinish(og, alcohol.Fermentable)
	f.fail(err)
	if f.err != nil {
		return
	}
	left, err := alcohol.SugarLeft(og, fg, end)
	f.fail(err)
	if og > alcohol.StrongMust {
		f.assume("over 1.130 it is the high side: so strong a must seldom keeps Balling's yields")
	}
	f.assume("sugar left is counted to the dry finish, " + end.Places(4))
	f.give("alcohol", float64(b.Alcohol), "% vol", 1)
	f.give("mass", float64(b.Mass), "% mass", 1)
	f.give("attenuation", float64(b.Apparent), "%", 1)
	f.give("real_attenuation", float64(b.Real), "%", 1)
	f.give("sugar_left", float64(left), "g/L", 1)
}

func finish(f *form) {
	og := want(f, "og", gravity.Parse)
	tolerance := read(f, "tolerance", measure.ParseStrength)
	usual := !tolerance.Known()
	if usual {
		tolerance = measure.Give(alcohol.UsualTolerance, alcohol.UsualTolerance.String())
		f.assume(fmt.Sprintf("the yeast bears %.0f ± 2 %% vol: nobody said what it is said to reach", float64(alcohol.UsualTolerance)))
	}
	share := may(f, "share", measure.ParseShare, alcohol.Fermentable, "86 % of the solids ferment")
	if f.err != nil {
		return
	}
	end, err := alcohol.FinishOf(og, tolerance, share)
	f.fail(err)
	if end.AtTolerance {
		f.assume("the yeast ends it at its tolerance, before the sugar is gone")
	}
	if og > alcohol.StrongMust {
		f.caution("warn", "over 1.130 many yeasts stop early or never start well: begin lower and feed honey as it falls")
	}
	f.give("gravity", float64(end.Gravity), "SG", 4)
	f.give("alcohol", float64(end.Alcohol), "% vol", 1)
}

func spirit(f *form) {
	volume, to, strong := want(f, "volume", measure.ParseVolume), want(f, "to", measure.ParseStrength), want(f, "spirit", measure.ParseStrength)
	if f.err != nil {
		return
	}
	d, err := alcohol.Spirit(volume, to, strong)
	f.fail(err)
	f.give("spirit", d.Spirit.Millilitres(), "mL", 1)
	f.give("volume", d.Made.Volume.Millilitres(), "mL", 0)
	f.give("alcohol", float64(d.Made.Strength), "% vol", 2)
}

func mixture(f *form) {
	strength, at := want(f, "alcohol", measure.ParseStrength), may(f, "at", measure.ParseTemperature, 20, "at {20 °C}")
	if f.err != nil {
		return
	}
	mass, err := gravity.EthanolByMass(strength)
	f.fail(err)
	density, err := gravity.EthanolWater(mass, at)
	f.fail(err)
	atTwenty, err := gravity.EthanolWater(mass, 20)
	f.fail(err)
	water, err := gravity.Water(20)
	f.fail(err)
	f.give("density", float64(density), "kg/m³", 2)
	f.give("mass", float64(mass), "%", 2)
	f.give("sg", float64(atTwenty/water), "SG", 5)
}
