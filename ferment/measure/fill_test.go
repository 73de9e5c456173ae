package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Conversions by definition: 1 US gallon is 3.785411784 L and 128 fl oz, 1 in
// is 2.54 cm, 1 psi is 0.0689476 bar, 1 lb is 0.45359237 kg, °F = 1.8 °C + 32.
func TestFill(t *testing.T) {
	for _, c := range []struct{ text, us, metric string }{
		{"{100 to 200 mL}, dry yeast, {25 to 27 °C}, five days", "3.4 to 6.8 fl oz, dry yeast, 77 to 81 °F, five days", "100 to 200 mL, dry yeast, 25 to 27 °C, five days"},
		{"hot into cold glass: not more than {30 °C apart}", "hot into cold glass: not more than 54 °F apart", "hot into cold glass: not more than 30 °C apart"},
		{"must and yeast within {10 °C of each other}", "must and yeast within 18 °F of each other", "must and yeast within 10 °C of each other"},
		{"at {−5 °C}, {2 or 3 bar}", "at 23 °F, 29 or 44 psi", "at −5 °C, 2 or 3 bar"},
		{"e.g. {3.2 L}, or give {0.2 L}", "e.g. 0.85 gal, or give 0.05 gal", "e.g. 3.2 L, or give 0.2 L"},
		{"{2 to 3 cm} of headspace, foam in {cm}", "0.8 to 1.2 in of headspace, foam in inches", "2 to 3 cm of headspace, foam in cm"},
		{"weighed, e.g. {8.2 kg}, {120 g}, {1000 to 1500 g}", "weighed, e.g. 18.08 lb, 4.23 oz, 2.20 to 3.31 lb", "weighed, e.g. 8.2 kg, 120 g, 1000 to 1500 g"},
		{"{1.5 g}, {10 g}, a bottle of {330mL}", "1.5 g, 10 g, a bottle of 11.2 fl oz", "1.5 g, 10 g, a bottle of 330mL"},
		{"{6.0 mL} of syrup", "0.20 fl oz of syrup", "6.0 mL of syrup"},
		{"spilled 2 L, the jug stood at 30 cm", "spilled 2 L, the jug stood at 30 cm", "spilled 2 L, the jug stood at 30 cm"},
		{"{kind: glass jug}, {5 g/L}, {3 Lime}, {", "{kind: glass jug}, {5 g/L}, {3 Lime}, {", "{kind: glass jug}, {5 g/L}, {3 Lime}, {"},
	} {
		assert.Equal(t, c.us, Fill(c.text, US))
		assert.Equal(t, c.metric, Fill(c.text, Metric))
		assert.Equal(t, c.metric, Fill(c.text, ""))
	}
}
