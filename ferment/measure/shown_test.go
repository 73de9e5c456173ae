package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Conversions by definition, as in TestFill: 1 lb is 0.45359237 kg.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		typed                        Given[Volume]
		usShown, metricShown, metric string
	}{
		{Give[Volume](3.218, "3.4 qt"), "3.4 qt", "3.22 L", "3.22 L"},
		{Give[Volume](3.2, "3.2 L"), "0.85 gal", "3.20 L", "3.2 L"},
		{Give[Volume](0.33, "330mL"), "11.2 fl oz", "0.33 L", "330mL"},
		{Give[Volume](4.546, "1 imp gal"), "1.20 gal", "4.55 L", "4.55 L"},
		{Given[Volume]{}, "0.0 fl oz", "0 mL", "0 mL"},
	} {
		assert.Equal(t, c.usShown, Shown(c.typed, US), c.typed.Text)
		assert.Equal(t, c.usShown, AsTyped(c.typed, US), c.typed.Text)
		assert.Equal(t, c.metricShown, Shown(c.typed, Metric), c.typed.Text)
		assert.Equal(t, c.metric, AsTyped(c.typed, Metric), c.typed.Text)
	}
	assert.Equal(t, "70 °F", Shown(Give(Temperature(190.0/9), "70 °F"), US))
	assert.Equal(t, "21.1 °C", Shown(Give(Temperature(190.0/9), "70 °F"), Metric))
}

func TestQuantityIn(t *testing.T) {
	for _, c := range []struct{ typed, us, metric string }{
		{"1.5g", "1.5 g", "1.5 g"}, {"0.55 g", "0.55 g", "0.55 g"}, {"50 mg", "50 mg", "50 mg"}, {"980 g", "2.16 lb", "980 g"},
		{"2 lb 8 oz", "2 lb 8 oz", "1134 g"}, {"14 mL", "0.47 fl oz", "14 mL"}, {"1 tsp", "1 tsp", "5 mL"}, {"3.6 L", "0.95 gal", "3.6 L"},
		{"1 imp gal", "1.20 gal", "4.55 L"}, {"0.5 g/L", "0.5 g/L", "0.5 g/L"}, {"14 % vol", "14 % vol", "14 % vol"}, {"9", "9", "9"},
	} {
		q, err := ParseQuantity(c.typed)
		require.NoError(t, err)
		assert.Equal(t, c.us, q.In(US), c.typed)
		assert.Equal(t, c.metric, q.In(Metric), c.typed)
	}
}
