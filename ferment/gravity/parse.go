package gravity

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Parse reads a gravity on any scale: 1.084, 20.2bx, 20.2p, 84oe, 11.2be, 218g/L
// of solids. Range and errors are those of the scale.
func Parse(text string) (measure.Given[measure.Gravity], error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, scale := range scales {
		for _, mark := range scale.marks {
			if number, is := strings.CutSuffix(s, mark); is {
				n, err := measure.ParseNumber(strings.TrimSpace(number))
				if err != nil {
					return measure.Given[measure.Gravity]{}, err
				}
				g, err := scale.gravity(n)
				return measure.Give(g, text), err
			}
		}
	}
	return measure.ParseGravity(text)
}

var scales = []struct {
	marks   []string
	gravity func(float64) (measure.Gravity, error)
}{
	{[]string{"°bx", "bx"}, func(n float64) (measure.Gravity, error) { return FromBrix(measure.Brix(n)) }},
	{[]string{"°oe", "oe"}, func(n float64) (measure.Gravity, error) { return FromOechsle(Oechsle(n)) }},
	{[]string{"°be", "°bé", "be", "bé"}, func(n float64) (measure.Gravity, error) { return FromBaume(Baume(n)) }},
	{[]string{"g/l"}, func(n float64) (measure.Gravity, error) { return FromSolids(measure.Content(n)) }},
	{[]string{"°p", "p"}, func(n float64) (measure.Gravity, error) { return FromBrix(measure.Brix(n)) }},
}
