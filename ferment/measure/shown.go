package measure

import "strings"

// systems are the units that belong to one system; degrees of a scale, shares
// and contents belong to both.
var systems = map[string]System{
	"g": Metric, "kg": Metric, "mg": Metric, "mL": Metric, "L": Metric, "°C": Metric, "bar": Metric, "kPa": Metric, "mm": Metric, "cm": Metric,
	"lb": US, "oz": US, "gal": US, "qt": US, "pt": US, "cup": US, "fl oz": US, "tbsp": US, "tsp": US, "°F": US, "psi": US, "in": US,
}

// shownIn is a value that is written in a system of units.
type shownIn interface{ In(System) string }

// AsTyped is a value as it was typed where that was in the system's own units,
// else as the system writes it.
func AsTyped[T shownIn](g Given[T], s System) string {
	if g.Known() && writtenIn(g.Text, s) {
		return g.Text
	}
	return g.Value.In(s)
}

// Shown is a value as a system writes it; a quart stays a quart where the person
// measures in quarts.
func Shown[T shownIn](g Given[T], s System) string {
	if s == US {
		return AsTyped(g, s)
	}
	return g.Value.In(s)
}

// writtenIn tells whether a quantity as it was typed ends with a unit of a system.
func writtenIn(text string, s System) bool {
	last := strings.LastIndexAny(text, "0123456789")
	u, _ := findUnit(text[last+1:])
	if s != US {
		s = Metric
	}
	return systems[u.name] == s
}

// In is an amount as it is shown in a system of units: as it was typed, but for
// one that was typed in the other system. A dose too small for ounces stays in
// grams, which is what a scale for doses shows.
func (q Quantity) In(s System) string {
	u, known := findUnit(q.Unit)
	shown := q.apart()
	if !known || writtenIn(q.Unit, s) {
		return shown
	}
	switch u.dimension {
	case OfMass:
		shown = Mass(q.Value()).In(s)
	case OfVolume:
		shown = Volume(q.Value()).In(s)
	}
	if s == US && strings.HasSuffix(shown, " g") {
		return q.apart()
	}
	return shown
}

// apart is the quantity as it was typed, its unit set apart.
func (q Quantity) apart() string {
	number := strings.TrimRight(q.Text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ%°/")
	if q.Unit == "" || number == "" || strings.Contains(q.Text, " ") {
		return q.Text
	}
	return number + " " + q.Unit
}
