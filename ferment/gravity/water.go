package gravity

import "cellar/jugkeeper/ferment/measure"

// Water is the density of air-free water at one atmosphere:
//
//	ρ = (999.83952 + 16.952577 t − 7.9905127e-3 t² − 46.241757e-6 t³
//	    + 105.84601e-9 t⁴ − 281.03006e-12 t⁵) / (1 + 16.887236e-3 t)
//
// in kg/m³, t in °C. Range 0 to 40 °C, outside an error. Source: Bettin and
// Spieweck 1990, the water of ICUMSA SPS-4 (1998). Kell 1975, Tanaka 2001 and
// IAPWS-95 differ from it by at most 0.005 kg/m³.
func Water(t measure.Temperature) (Density, error) {
	if err := measure.InRange("temperature of the water", t, 0, 40, "°C"); err != nil {
		return 0, err
	}
	return water(float64(t)), nil
}

var waterTerms = []float64{999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12}

func water(t float64) Density {
	return Density(poly(t, waterTerms) / (1 + 16.887236e-3*t))
}
