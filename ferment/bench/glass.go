package bench

import (
	"fmt"

	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

func glassFigures() []Figure {
	return []Figure{
		{
			Name: "scale", Axis: Axis{"from", "degrees Brix", 0, 40, "°Bx", of("sg")}, Use: "one density on every scale",
			Ways:     []Way{{Keys: []Key{{"from", "a density on any scale, 1.100 or 95oe", "23.8bx", false}}, work: scale}},
			Equation: "ICUMSA SPS-4 density of sucrose over that of water", Source: "ICUMSA SPS-4; NBS Circular 440, table 114",
			Range: "0.980 to 1.450, 0 to 85 °Bx", Within: "2e-4 SG, 0.05 °Bx to 60", Uncertainty: "exact for sucrose; honey is within 0.001",
		},
		{
			Name: "hydrometer", Axis: Axis{"sample", "temperature of the sample", 0, 40, "°C", of("gravity")}, Use: "a hydrometer read at another temperature",
			Ways: []Way{{Keys: []Key{
				{"reads", "what the hydrometer shows", "1.084", false}, {"sample", "temperature of the sample", "30C", false},
				{"calibrated", "temperature on the instrument", "20C", true}, {"original", "original gravity, where it ferments already", "1.084", true},
				{"error", "what it shows in water, minus 1", "0.001", true},
			}, work: hydrometer}},
			Equation: "buoyancy: ρ(t) = R (1 − γ (t − t0)), the liquid's own expansion", Source: "SPS-4 and OIML R 22 (1975); saccharometer correction table",
			Range: "0 to 40 °C", Within: "0.02 °Bx, 0.0002 SG", Uncertainty: "±0.001, ±0.002 with gas in the sample",
		},
		{
			Name: "refractometer", Axis: Axis{"reads", "what it shows", 0, 40, "", of("gravity")}, Use: "gravity from a refractometer once alcohol is there",
			Ways: []Way{{Keys: []Key{
				{"original", "°Brix before the pitch, or the gravity", "23.8", false}, {"reads", "what it shows, °Brix", "8.6", false},
				{"sample", "of the sample, if it does not correct for it", "20C", true},
			}, work: refractometer}},
			Equation: "Lorentz-Lorenz mixture, closed by Balling's balance", Source: "sucrose refraction (ICUMSA); ethanol 0.2775 cm³/g from memory; Balling 1865",
			Range: "original 1 to 50 °Bx", Within: "0.5 °Bx; 0.003 SG; exact at the start", Uncertainty: "±0.003; never enough to bottle on",
		},
	}
}

func scale(f *form) {
	g := want(f, "from", scaleGravity)
	brix, err := gravity.ToBrix(g)
	f.fail(err)
	oechsle, err := gravity.ToOechsle(g)
	f.fail(err)
	baume, err := gravity.ToBaume(g)
	f.fail(err)
	solids, err := gravity.Solids(g)
	f.fail(err)
	density, err := gravity.DensityOf(g)
	f.fail(err)
	f.give("sg", float64(g), "SG", 4)
	f.give("brix", float64(brix), "°Bx", 2)
	f.give("plato", float64(brix), "°P", 2)
	f.give("oechsle", float64(oechsle), "°Oe", 1)
	f.give("baume", float64(baume), "°Bé", 2)
	f.give("solids", float64(solids), "g/L", 1)
	f.give("density", float64(density), "kg/m³", 1)
}

// scaleGravity reads a density up to 85 °Bx, beyond that of musts.
func scaleGravity(text string) (measure.Given[measure.Gravity], error) {
	if n, err := measure.ParseNumber(text); err == nil {
		err := measure.InRange("gravity", measure.Gravity(n), gravity.Lowest, gravity.Highest, "")
		return measure.Give(measure.Gravity(n), text), err
	}
	return gravity.Parse(text)
}

func hydrometer(f *form) {
	reads, sample := want(f, "reads", gravity.Parse), want(f, "sample", measure.ParseTemperature)
	h := gravity.Hydrometer{
		Calibrated: may(f, "calibrated", measure.ParseTemperature, 20, "a hydrometer for {20 °C}"),
		Error:      may(f, "error", number("error", -0.02, 0.02, "0.001"), 0, "no error in water"),
	}
	var g measure.Gravity
	var err error
	if f.given("original") {
		g, err = alcohol.Corrected(h, reads, sample, want(f, "original", gravity.Parse))
	} else {
		f.assume("a must: no alcohol in it yet")
		g, err = h.Correct(reads, sample, 0)
	}
	f.fail(err)
	brix, err := gravity.ToBrix(g)
	f.fail(err)
	f.give("gravity", float64(g), "SG", 4)
	f.give("brix", float64(brix), "°Bx", 2)
}

func refractometer(f *form) {
	original, reads := want(f, "original", parseBrix), want(f, "reads", parseBrix)
	if f.given("sample") {
		compensated, err := alcohol.Compensated(reads, want(f, "sample", measure.ParseTemperature))
		f.fail(err)
		reads = compensated
	} else {
		f.assume("an instrument that corrects for temperature itself")
	}
	g, err := alcohol.Refractometer(original, reads)
	f.fail(err)
	start, err := gravity.FromBrix(original)
	f.fail(err)
	if start > 1.120 {
		f.caution("warn", "over 1.120 it is outside what it was checked on: take a hydrometer")
	}
	strength, err := alcohol.FromGravities(start, g)
	f.fail(err)
	f.give("gravity", float64(g), "SG", 4)
	f.give("alcohol", float64(strength), "% vol", 1)
}

func alcoholFigures() []Figure {
	return []Figure{
		{
			Name: "alcohol", Axis: Axis{"fg", "gravity now", 0.985, 1.105, "", of("alcohol")}, Use: "alcohol from two gravities",
			Ways: []Way{{Keys: []Key{
				{"og", "original gravity", "1.100", false}, {"fg", "gravity now", "0.996", false},
				{"brought", "alcohol that a starter or a spirit brought", "0.3%", true},
			}, work: strength}},
			Equation: "Balling: (OE − RE)/(2.0665 − 0.010665 OE)", Source: "Balling 1865; excise factors; Cutaia 2009",
			Range: "original 1.000 to 1.250", Within: "0.2 % vol, 0.3 above 1.010; 3 % of measured beers", Uncertainty: "±0.5 % vol",
		},
		{
			Name: "finish", Axis: Axis{"og", "original gravity", 1.040, 1.160, "", of("gravity")}, Use: "where a must will end",
			Ways: []Way{{Keys: []Key{
				{"og", "original gravity", "1.100", false}, {"tolerance", "alcohol that the yeast is said to reach", "14%", true},
				{"share", "share of the solids that ferments", "86%", true},
			}, work: finish}},
			Equation: "mass balance with Balling's yields, density of the mixture", Source: "derived; OIML R 22, SPS-4",
			Range: "original 1.002 to 1.200", Within: "0.0005 of worked values", Uncertainty: "±0.005: the share of honey that ferments is not known; a tolerance is ±1.5 % vol, more often over than under",
		},
		{
			Name: "spirit", Axis: Axis{"to", "alcohol wanted", 0, 20, "%", of("spirit")}, Use: "spirit for a culture's medium",
			Ways: []Way{{Keys: []Key{
				{"volume", "medium without the spirit", "200mL", false}, {"to", "alcohol wanted", "5%", false}, {"spirit", "strength of the spirit", "40%", false},
				{"made", "of malt, or of honey, in water", "malt", true},
			}, work: spirit}},
			Equation: "v = V A / (S − A)", Source: "definition; the mixture by OIML R 22",
			Range: "0.5 to 20 % vol", Within: "0.1 % vol of the exact mixture", Uncertainty: "that of your measure; the acid, to pH 4.2, within half: read the pH",
			Cautions: []Caution{
				{"warn", "spirit and its vapour burn: turn the stove off and put every flame out before you open the bottle"},
				{"note", "use only bought spirit, clear and without flavour; making spirit at home is forbidden in most countries: check your local law"},
			},
		},
		{
			Name: "mixture", Axis: Axis{"alcohol", "strength", 0, 100, "%", of("density")}, Use: "density of ethanol in water",
			Ways:     []Way{{Keys: []Key{{"alcohol", "strength", "12%", false}, {"at", "temperature", "20C", true}}, work: mixture}},
			Equation: "OIML R 22 general formula", Source: "OIML R 22 (1975); Perry's handbook",
			Range: "0 to 100 % vol, −20 to 40 °C", Within: "0.02 kg/m³", Uncertainty: "exact for ethanol and water alone",
		},
	}
}

func strength(f *form) {
	og, fg := want(f, "og", gravity.Parse), want(f, "fg", gravity.Parse)
	brought := read(f, "brought", measure.ParseStrength)
	b, err := alcohol.BalanceOf(og, fg)
	f.fail(err)
	if brought.Known() && err == nil {
		b, err = b.With(brought.Value)
		f.fail(err)
	}
	end, err := alcohol.DryFinish(og, f.settings.Limits.Fermentable)
	f.fail(err)
	left, err := alcohol.SugarLeft(og, fg, end)
	f.fail(err)
	if og > alcohol.StrongMust {
		f.assume("over 1.130 this is on the high side: in so strong a must less alcohol is made than Balling's yields give")
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
	if !tolerance.Known() {
		f.assume(fmt.Sprintf("%.0f ± 2 %% vol is assumed for the yeast: no tolerance is given", float64(alcohol.UsualTolerance)))
	}
	usual := f.settings.Limits.Fermentable
	share := may(f, "share", measure.ParseShare, usual, fmt.Sprintf("%.0f %% of the solids ferment", float64(usual)))
	end, err := alcohol.FinishOf(og, tolerance, share)
	f.fail(err)
	if end.AtTolerance {
		f.assume("the yeast stops at its tolerance, before the sugar is gone")
	}
	if og > alcohol.StrongMust {
		f.caution("warn", "over 1.130 many yeasts stop early or never start well: begin lower and feed honey as it falls")
	}
	f.give("gravity", float64(end.Gravity), "SG", 4)
	f.give("alcohol", float64(end.Alcohol), "% vol", 1)
}

func spirit(f *form) {
	volume, to, strong := want(f, "volume", measure.ParseVolume), want(f, "to", measure.ParseStrength), want(f, "spirit", measure.ParseStrength)
	own := nutrient.CultureMediums[may(f, "made", word("malt", "honey"), "malt", "the medium is plain malt")]
	d, err := alcohol.Spirit(volume, to, strong)
	f.fail(err)
	f.give("spirit", d.Spirit.Millilitres(), "mL", 1)
	f.give("volume", d.Made.Volume.Millilitres(), "mL", 0)
	f.give("alcohol", float64(d.Made.Strength), "% vol", 2)
	f.give("citric_acid", float64(own.Acid)*float64(d.Made.Volume), "g", 2)
	f.give("nutrient", float64(own.Nutrient)*float64(d.Made.Volume), "g", 2)
}

func mixture(f *form) {
	strength, at := want(f, "alcohol", measure.ParseStrength), may(f, "at", measure.ParseTemperature, 20, "at {20 °C}")
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
