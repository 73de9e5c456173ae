package gravity

import "cellar/jugkeeper/ferment/measure"

// SugarVolume is the volume in L that a kilogram of dissolved sugar takes up,
// within 0.5 % up to 30 °Bx: 13.5 lb raise a liquid by one US gallon (27 CFR
// 24.181). SPS-4 gives 0.615 in weak and 0.620 in strong solutions.
const SugarVolume = 0.6182

// FromBrix returns the specific gravity of a solution of sucrose:
//
//	SG = ρ(w, 20 °C) / ρ(0, 20 °C)
//
// with the density of ICUMSA SPS-4. Degrees Plato are the same scale to 0.002.
// Range −5.28 to 85 °Bx, outside an error. Below zero, where no solution
// exists, the polynomial simply goes on: it is the scale on which a liquid
// lighter than water is read. Source: ICUMSA Specification SPS-4 (1998); NBS
// Circular C440 table 114 agrees to 2e-4 up to 60 °Bx. A honey must of the
// same solids differs by less than ±0.001.
func FromBrix(b measure.Brix) (measure.Gravity, error) {
	if err := measure.InRange("sugar", b, lowestBrix, HighestBrix, "°Bx"); err != nil {
		return 0, err
	}
	return specific(sucrose(float64(b)/100, 20)), nil
}

// ToBrix returns the sugar that a specific gravity means, the inverse of
// FromBrix, found numerically. Range 0.980 to 1.4485, outside an error. Once
// there is alcohol it is the apparent sugar, not the real one.
func ToBrix(g measure.Gravity) (measure.Brix, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return min(brixOf(g), HighestBrix), nil
}

func brixOf(g measure.Gravity) measure.Brix {
	return strengthOf(Density(g)*waterAt20, 20)
}

// strengthOf returns the sugar at which a solution has a density at a temperature,
// searched somewhat beyond the range of the scale.
func strengthOf(d Density, t float64) measure.Brix {
	terms, sought := sucroseTermsAt(t), float64(d-water(t))
	return measure.Root(-10, 90, func(b measure.Brix) float64 {
		w := float64(b) / 100
		return w*poly(w, terms[:]) - sought
	})
}

// sucroseTerms are the rows A to E, each with w¹ first, of the density of a
// solution of sucrose in kg/m³, w the mass fraction, u = (t − 20)/100:
//
//	ρ(w, t) = ρ_water(t) + Σ A wⁱ + u Σ B wⁱ + u² Σ C wⁱ + u³ Σ D wⁱ + u⁴ Σ E wⁱ
//
// Source: ICUMSA Specification SPS-4 (1998), the equation of Bettin, Emmerich,
// Spieweck and Toth. Stated for up to 70 °Bx and 0 to 40 °C, within 6e-4 of NBS
// Circular C440 at 85.
var sucroseTerms = [5][]float64{
	{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890},
	{-46.2720, -7.1720, 1.1597, 5.1126, 17.5254},
	{59.7712, 7.2491, 12.3630, -35.4791},
	{-47.2207, -21.6977, 27.6301},
	{18.3184, 12.3081},
}

func sucrose(w, t float64) Density {
	terms := sucroseTermsAt(t)
	return water(t) + Density(w*poly(w, terms[:]))
}

// sucroseTermsAt returns the rows A to E at one temperature in one: Σ terms wⁱ is
// what the sugar adds to the water.
func sucroseTermsAt(t float64) [6]float64 {
	u, power := (t-20)/100, 1.0
	var sum [6]float64
	for _, terms := range sucroseTerms {
		for i, x := range terms {
			sum[i] += power * x
		}
		power *= u
	}
	return sum
}
