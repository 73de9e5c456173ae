package measure

// ParseBrix reads degrees Brix or Plato, −5 to 60.
func ParseBrix(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "Brix or Plato reading", -5, 60, "11.4")
}

// ParseOechsle reads degrees Oechsle, thousandths above water, −30 to 250.
func ParseOechsle(s string) (Given[float64], error) {
	return ParseScale[float64](s, "reading in degrees Oechsle", -30, 250, "62")
}

// ParseRefractometer reads the Brix scale of a refractometer, 0 to 90.
func ParseRefractometer(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "refractometer reading", 0, 90, "8.6")
}

// ParseHiss reads how loudly a bottle opened, 0 to 5.
func ParseHiss(s string) (Given[float64], error) {
	return ParseScale[float64](s, "hiss", 0, 5, "3")
}

// ParseScore reads a taster's score, 0 to 100.
func ParseScore(s string) (Given[float64], error) {
	return ParseScale[float64](s, "score", 0, 100, "72")
}
