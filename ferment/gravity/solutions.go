package gravity

import (
	"cmp"

	"cellar/jugkeeper/ferment/measure"
)

// SugarVolume is the volume in L that a kilogram of dissolved sugar takes up, within 0.5 % up to 30 °Bx: 13.5 lb
// raise a liquid by one US gallon (27 CFR 24.181). SPS-4 gives 0.615 in weak and 0.620 in strong solutions.
const SugarVolume = 0.6182

// FromBrix converts the sugar of a sucrose solution to a specific gravity:
//
//	SG = ρ(w, 20 °C) / ρ(0, 20 °C)
//
// with the density of ICUMSA SPS-4. Degrees Plato are the same scale to 0.002. Range −5.28 to 85 °Bx, outside an
// error. Below zero, where no solution exists, the polynomial is continued: instruments read liquids lighter than
// water on that scale. Source: ICUMSA Specification SPS-4 (1998); NBS Circular C440 table 114 agrees to 2e-4 up to 60
// °Bx. A honey must of the same solids differs by less than ±0.001.
func FromBrix(b measure.Brix) (measure.Gravity, error) {
	if err := measure.InRange("sugar", b, lowestBrix, HighestBrix, "°Bx"); err != nil {
		return 0, err
	}
	return specific(sucrose(float64(b)/100, 20)), nil
}

// ToBrix converts a specific gravity to sugar, the inverse of FromBrix, found numerically. Range 0.980 to 1.4485,
// outside an error. With alcohol it is the apparent sugar, not the real one.
func ToBrix(g measure.Gravity) (measure.Brix, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return min(brixOf(g), HighestBrix), nil
}

// brixOf returns the sucrose solution of a gravity at 20 °C.
func brixOf(g measure.Gravity) measure.Brix {
	return strengthOf(Density(g)*waterAt20, 20)
}

// strengthOf returns the sugar of a solution by its density at a temperature. It searches a
// little beyond the range of the scale.
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
// Source: ICUMSA Specification SPS-4 (1998), the equation of Bettin, Emmerich, Spieweck and Toth. Stated for up to 70
// °Bx and 0 to 40 °C, within 6e-4 of NBS Circular C440 at 85.
var sucroseTerms = [5][]float64{
	{385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890},
	{-46.2720, -7.1720, 1.1597, 5.1126, 17.5254},
	{59.7712, 7.2491, 12.3630, -35.4791},
	{-47.2207, -21.6977, 27.6301},
	{18.3184, 12.3081},
}

// sucrose returns the density of a sucrose solution, for its share of sugar by mass and its temperature.
func sucrose(w, t float64) Density {
	terms := sucroseTermsAt(t)
	return water(t) + Density(w*poly(w, terms[:]))
}

// sucroseTermsAt adds up the rows A to E for one temperature: Σ terms wⁱ is then the
// density that the sugar adds to that of water.
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

// EthanolWater returns the density of ethanol in water:
//
//	ρ = A₁ + Σ A_k p^(k−1) + Σ B_k (t − 20)^k + ΣΣ C_ik p^k (t − 20)^i
//
// in kg/m³, p the mass fraction of ethanol, t in °C. Range 0 to 100 % by mass and −20 to 40 °C, outside an error.
// Source: OIML International Recommendation R 22, International alcoholometric tables (1975), the text of Council
// Directive 76/766/EEC; Perry's table (1997) agrees to 6e-5 g/mL.
func EthanolWater(byMass measure.Share, t measure.Temperature) (Density, error) {
	err := cmp.Or(
		measure.InRange("alcohol", byMass, 0, 100, "% by mass"),
		measure.InRange("temperature of the mixture", t, -20, 40, "°C"),
	)
	if err != nil {
		return 0, err
	}
	return ethanolWater(float64(byMass)/100, float64(t)), nil
}

// EthanolByMass converts a strength to the share by mass of ethanol in water:
//
//	% vol = 100 p ρ(p, 20 °C) / ρ(1, 20 °C)
//
// solved for p. Range 0 to 100 % vol, outside an error. Source: OIML R 22 (1975), which defines strength by volume at
// 20 °C. The US definition at 60 °F differs by 0.05 to 0.1 % vol in a wine.
func EthanolByMass(s measure.Strength) (measure.Share, error) {
	if err := measure.InRange("alcohol", s, 0, 100, "% vol"); err != nil {
		return 0, err
	}
	return measure.Share(100 * ethanolShare(s)), nil
}

// EthanolByVolume converts a share by mass of ethanol to a strength, the inverse of
// EthanolByMass. Range 0 to 100 %, outside an error.
func EthanolByVolume(byMass measure.Share) (measure.Strength, error) {
	if err := measure.InRange("alcohol", byMass, 0, 100, "% by mass"); err != nil {
		return 0, err
	}
	return ethanolStrength(float64(byMass) / 100), nil
}

// ethanolAt20 is the density of ethanol at 20 °C, 789.239 kg/m³, by which strengths are defined.
var ethanolAt20 = ethanolWater(1, 20)

// ethanolShare returns the share by mass of a strength: ethanolStrength turned round.
func ethanolShare(s measure.Strength) float64 {
	return measure.Root(0, 1, func(p float64) float64 { return float64(ethanolStrength(p) - s) })
}

func ethanolStrength(p float64) measure.Strength {
	return measure.Strength(100 * p * float64(ethanolWater(p, 20)/ethanolAt20))
}

// ethanolWater returns the density of ethanol in water, for its share by mass and its temperature (OIML R 22).
func ethanolWater(p, t float64) Density {
	d := t - 20
	sum := poly(p, ethanolA)
	if d == 0 { // the usual case: strengths are defined at 20 °C
		return Density(sum)
	}
	sum += d * poly(d, ethanolB)
	power := d
	for _, terms := range ethanolC {
		sum += power * p * poly(p, terms)
		power *= d
	}
	return Density(sum)
}

// The coefficients as printed in the Recommendation: A begins with p⁰, B with (t − 20)¹,
// and each row of C with p¹; the rows of C begin with (t − 20)¹.
var (
	ethanolA = []float64{
		9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4,
		3.062874042e5, -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4,
	}
	ethanolB = []float64{
		-2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11,
	}
	ethanolC = [5][]float64{
		{
			1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2,
			3.924090430035045e3, -1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4,
			1.852373922069467e4, -7.420201433430137e3, 1.285617841998974e3,
		},
		{
			-1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993, 1.353034988843029e1,
			-5.029988758547014e1, 1.096355666577570e2, -1.422753946421155e2, 1.080435942856230e2,
			-4.414153236817392e1, 7.442971530188783,
		},
		{
			-6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220,
			-2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
			-5.411227621436812e-1,
		},
		{4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6},
		{-2.788074354782409e-8, 1.345612883493354e-8},
	}
)
