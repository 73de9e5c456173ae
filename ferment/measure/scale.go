package measure

// ParseBrix reads degrees Brix or Plato of −5 to 60.
func ParseBrix(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "number of °Brix", -5, 60, "11.4")
}

// ParseOechsle reads degrees Oechsle of −30 to 250, thousandths above water.
func ParseOechsle(s string) (Given[float64], error) {
	return ParseScale[float64](s, "number of °Oechsle", -30, 250, "62")
}

// ParseHiss reads how loudly a bottle opened, 0 to 5.
func ParseHiss(s string) (Given[float64], error) {
	return ParseScale[float64](s, "hiss", 0, 5, "3")
}

// ParseScore reads a taster's score, 0 to 100.
func ParseScore(s string) (Given[float64], error) {
	return ParseScale[float64](s, "score", 0, 100, "72")
}
