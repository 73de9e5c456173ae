package ferment

// Nearest is the known word that a mistyped one most likely means, "" where
// none is near.
func Nearest(word string, known []string) string { return "" }
