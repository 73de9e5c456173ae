package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Conversions by definition: 1 US gallon is 3.785411784 L and 128 fl oz, 1 in
// is 2.54 cm, 1 psi is 0.0689476 bar, °F = 1.8 °C + 32.
func TestProse(t *testing.T) {
	for _, c := range []struct{ metric, us string }{
		{"100 to 200 mL, dry yeast, 25 to 27 °C, five days", "3.4 to 6.8 fl oz, dry yeast, 77 to 81 °F, five days"},
		{"hot into cold glass: not more than 30 °C apart", "hot into cold glass: not more than 54 °F apart"},
		{"must and yeast within 10 °C of each other", "must and yeast within 18 °F of each other"},
		{"1.3 bar, 2.3 bar or 3.2 bar at 28 °C", "19 psi, 33 psi or 46 psi at 82 °F"},
		{"e.g. 3.2 L, or give 0.2 L", "e.g. 0.85 gal, or give 0.05 gal"},
		{"2 to 3 cm of headspace", "0.8 to 1.2 in of headspace"},
		{"5 g/L and 200 mg/L, 10 mL/L, LIME-A 3 Lime, 12 % vol", "5 g/L and 200 mg/L, 10 mL/L, LIME-A 3 Lime, 12 % vol"},
		{"w1, 0.10 L, 1.036, 5.0 % vol", "w1, 0.03 gal, 1.036, 5.0 % vol"},
		{"w1 or 2 L", "w1 or 0.53 gal"},
		{"weighed, e.g. 8.2 kg; as it is weighed, e.g. 120 g", "weighed, e.g. 18.08 lb; as it is weighed, e.g. 4.23 oz"},
		{"1000 to 1500 g", "2.20 to 3.31 lb"},
		{"1.5 g, 3.0 g in a bottle, a 5 g packet", "1.5 g, 3.0 g in a bottle, a 5 g packet"},
		{"6.0 mL of a 50 % syrup", "0.20 fl oz of a 50 % syrup"},
		{"hiss 0 to 5, foam in cm, sweetness", "hiss 0 to 5, foam in inches, sweetness"},
		{"gravity 1.0445 and 19.5C typed", "gravity 1.0445 and 19.5C typed"},
	} {
		assert.Equal(t, c.us, Prose(c.metric, US))
		assert.Equal(t, c.metric, Prose(c.metric, Metric))
	}
}
