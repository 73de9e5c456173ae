package bench

import (
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// glassFigures are what an instrument shows and what it means.
func glassFigures() []Figure {
	return []Figure{
		{
			Name: "scale", Use: "one density on every scale",
			Ways:     []Way{{Keys: []Key{{"from", "a density on any scale: 1.100, 23.8bx, 100oe, 13.2be, 261g/L", "23.8bx", false}}, work: scale}},
			Equation: "ICUMSA SPS-4 density of sucrose over that of water", Source: "ICUMSA SPS-4; NBS Circular 440, table 114",
			Range: "0.980 to 1.450, 0 to 85 °Bx", Within: "2e-4 SG, 0.05 °Bx to 60", Uncertainty: "exact for sucrose; honey is within 0.001",
		},
		{
			Name: "hydrometer", Use: "a hydrometer read at another temperature",
			Ways: []Way{{Keys: []Key{
				{"reads", "what the hydrometer shows", "1.084", false}, {"sample", "temperature of the sample", "30C", false},
				{"calibrated", "temperature on the instrument", "20C", true}, {"original", "original gravity, where it ferments already", "1.084", true},
				{"error", "what it reads in water, less 1", "0.001", true},
			}, work: hydrometer}},
			Equation: "buoyancy: ρ(t) = R (1 − γ (t − t0)), the liquid's own expansion", Source: "SPS-4 and OIML R 22 (1975); saccharometer correction table",
			Range: "0 to 40 °C", Within: "0.02 °Bx, 0.0002 SG", Uncertainty: "±0.001, ±0.002 with gas in the sample",
		},
		{
			Name: "refractometer", Use: "gravity from a refractometer once alcohol is there",
			Ways: []Way{{Keys: []Key{
				{"original", "°Brix before the pitch, or the original gravity", "23.8", false}, {"reads", "what the refractometer shows, °Brix", "8.6", false},
				{"sample", "temperature of the sample, for one without compensation", "20C", true},
			}, work: refractometer}},
			Equation: "Lorentz-Lorenz mixture, closed by Balling's balance", Source: "sucrose refraction (ICUMSA); ethanol 0.2775 cm³/g from memory; Balling 1865",
			Range: "original 1 to 50 °Bx", Within: "0.5 °Bx; 0.003 SG; exact at the start", Uncertainty: "±0.003; never enough to open a gate",
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
	density, err := gravity.Of(g)
	f.fail(err)
	f.give("sg", float64(g), "SG", 4)
	f.give("brix", float64(brix), "°Bx", 2)
	f.give("plato", float64(brix), "°P", 2)
	f.give("oechsle", float64(oechsle), "°Oe", 1)
	f.give("baume", float64(baume), "°Bé", 2)
	f.give("solids", float64(solids), "g/L", 1)
	f.give("density", float64(density), "kg/m³", 1)
}

// scaleGravity reads a density beyond what a jug can show, up to 85 °Bx.
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
		Error:      may(f, "error", number("error", -0.02, 0.02, "0.001"), 0, "it reads 1.000 in water"),
	}
	if f.err != nil {
		return
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
		f.assume("an instrument that allows for the temperature itself")
	}
	if f.err != nil {
		return
	}
	g, err := alcohol.Refractometer(original, reads)
	f.fail(err)
	start, err := gravity.FromBrix(original)
	f.fail(err)
	if f.err != nil {
		return
	}
	if start > 1.120 {
		f.caution("warn", "over 1.120 it is outside what it was checked on: take a hydrometer")
	}
	strength, err := alcohol.FromGravities(start, g)
	f.fail(err)
	f.give("gravity", float64(g), "SG", 4)
	f.give("alcohol", float64(strength), "% vol", 1)
}
