package measure

// ParseBrix reads degrees Brix, −5 to 60.
func ParseBrix(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "Brix reading", -5, 60, "20.2")
}

// ParsePlato reads degrees Plato, −5 to 60.
func ParsePlato(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "Plato reading", -5, 60, "20.2")
}

// ParseOechsle reads degrees Oechsle, thousandths above water, −30 to 250.
func ParseOechsle(s string) (Given[float64], error) {
	return ParseScale[float64](s, "reading in degrees Oechsle", -30, 250, "84")
}

// ParseRefractometer reads the Brix scale of a refractometer, 0 to 90.
func ParseRefractometer(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "refractometer reading", 0, 90, "11.4")
}

// ParseHiss reads how loudly a bottle opened, 0 to 5.
func ParseHiss(s string) (Given[float64], error) {
	return ParseScale[float64](s, "hiss", 0, 5, "3")
}

// ParseScore reads a taster's score, 0 to 100.
func ParseScore(s string) (Given[float64], error) {
	return ParseScale[float64](s, "score", 0, 100, "70")
}
