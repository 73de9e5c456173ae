package export

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// typed is what was read, and on which scale.
func typed(e *ferment.Entry) (text, scale string) {
	switch {
	case e.Gravity.Known():
		return e.Gravity.Text, "SG"
	case e.Brix.Known():
		return e.Brix.Text, "Brix"
	case e.Plato.Known():
		return e.Plato.Text, "Plato"
	case e.Oechsle.Known():
		return e.Oechsle.Text, "Oechsle"
	case e.Refractometer.Known():
		return e.Refractometer.Text, "refractometer"
	}
	return "", ""
}

func lowest(t measure.Span[measure.Temperature]) measure.Temperature  { return t.Low }
func highest(t measure.Span[measure.Temperature]) measure.Temperature { return t.High }

func temperature(e *ferment.Entry, end func(measure.Span[measure.Temperature]) measure.Temperature) string {
	if !e.Temperature.Known() {
		return ""
	}
	return number(end(e.Temperature.Value), 1)
}

// amount is a quantity in g, mL or the unit it was given in.
func amount(a ferment.Amount) (figure, unit string) {
	if a.Unknown {
		return "unknown", ""
	}
	if m, ok := a.Mass(); ok && a.Known() {
		return number(m.Grams(), 3), "g"
	}
	if v, ok := a.Volume(); ok && a.Known() {
		return number(v.Millilitres(), 1), "mL"
	}
	if !a.Known() {
		return "", ""
	}
	return number(a.Value(), 4), contentUnit(a)
}

// contentUnit is the program's own unit of what is neither mass nor volume.
func contentUnit(a ferment.Amount) string {
	if a.Dimension() == measure.OfContent {
		return "g/L"
	}
	return a.Unit
}
