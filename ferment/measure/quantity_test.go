package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/measure"
)

// Factors from NIST Handbook 44, appendix C (General Tables of Units of
// Measurement), and NIST SP 811, appendix B.8; the imperial ones from the UK
// Weights and Measures Act 1985, schedule 1.
func TestEveryUnit(t *testing.T) {
	for _, c := range []struct {
		text  string
		value float64 // kg, L, °C, g/L, bar, cm
		dim   measure.Dimension
		unit  string
	}{
		{"1 g", 0.001, measure.OfMass, "g"},
		{"1 kg", 1, measure.OfMass, "kg"},
		{"1 mg", 0.000001, measure.OfMass, "mg"},
		{"1 lb", 0.45359237, measure.OfMass, "lb"},
		{"1 oz", 0.028349523125, measure.OfMass, "oz"},
		{"1 mL", 0.001, measure.OfVolume, "mL"},
		{"1 L", 1, measure.OfVolume, "L"},
		{"1 gal", 3.785411784, measure.OfVolume, "gal"},
		{"1 qt", 0.946352946, measure.OfVolume, "qt"},
		{"1 pt", 0.473176473, measure.OfVolume, "pt"},
		{"1 cup", 0.2365882365, measure.OfVolume, "cup"},
		{"1 fl oz", 0.0295735295625, measure.OfVolume, "fl oz"},
		{"1 tbsp", 0.01478676478125, measure.OfVolume, "tbsp"},
		{"1 tsp", 0.00492892159375, measure.OfVolume, "tsp"},
		{"1 imp gal", 4.54609, measure.OfVolume, "imp gal"},
		{"1 imp pt", 0.56826125, measure.OfVolume, "imp pt"},
		{"1 imp fl oz", 0.0284130625, measure.OfVolume, "imp fl oz"},
		{"100 °C", 100, measure.OfTemperature, "°C"},
		{"100 C", 100, measure.OfTemperature, "°C"},
		{"32 °F", 0, measure.OfTemperature, "°F"},
		{"212 F", 100, measure.OfTemperature, "°F"},
		{"-40 F", -40, measure.OfTemperature, "°F"},
		{"18.1 %", 18.1, measure.OfShare, "%"},
		{"14 % vol", 14, measure.OfStrength, "% vol"},
		{"5 g/L", 5, measure.OfContent, "g/L"},
		{"200 mg/L", 0.2, measure.OfContent, "mg/L"},
		{"200 ppm", 0.2, measure.OfContent, "ppm"},
		{"212 mg/g", 212, measure.OfYield, "mg/g"},
		{"2 volumes", 3.954, measure.OfCarbonation, "volumes"}, // 1.977 g/L each, at 0 °C and 1.01325 bar (gas tables)
		{"6 bar", 6, measure.OfPressure, "bar"},
		{"100 kPa", 1, measure.OfPressure, "kPa"},
		{"1 psi", 0.06894757, measure.OfPressure, "psi"},
		{"10 mm", 1, measure.OfDepth, "mm"},
		{"1 cm", 1, measure.OfDepth, "cm"},
		{"1 in", 2.54, measure.OfDepth, "in"},
		{"12", 12, measure.OfNothing, ""},
	} {
		q, err := measure.ParseQuantity(c.text)
		require.NoError(t, err, c.text)
		assert.InEpsilon(t, c.value+1, q.Value()+1, 1e-8, c.text)
		assert.Equal(t, c.dim, q.Dimension(), c.text)
		assert.Equal(t, c.unit, q.Unit, c.text)
	}
}

func TestWaysOfWritingAQuantity(t *testing.T) {
	for text, want := range map[string]float64{
		"1.5g":               0.0015,
		"1,5 g":              0.0015,
		" 1.5  G ":           0.0015,
		".5 kg":              0.5,
		"1. kg":              1,
		"+1 kg":              1,
		"980 g":              0.98,
		"2 lb 8 oz":          1.13398092500, // 2.5 lb
		"2lb8oz":             1.13398092500,
		"8 oz 2 lb":          1.13398092500,
		"1 kg 200 g 500 mg":  1.2005,
		"1 gal 2 qt":         5.678117676,
		"1 IMP GAL 1 imp pt": 5.11435125,
		"2  fl   oz":         0.059147059125,
		"−5 °C":              -5,
		"14%vol":             14,
		"999999999999 mg":    999999.999999,
	} {
		q, err := measure.ParseQuantity(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, q.Value(), 1e-9, text)
	}
}

func TestQuantityThatCannotBeRead(t *testing.T) {
	for text, want := range map[string]string{
		"":                   `"" is not a quantity (a number and a unit, e.g. 1.5 g, 3.6 L or 22 °C)`,
		"g":                  "is not a quantity",
		"a lot":              "is not a quantity",
		"NaN g":              "is not a quantity",
		"inf g":              "is not a quantity",
		"1.2.3 g":            "is not a quantity",
		"1,234.5 g":          "is not a quantity",
		". g":                "is not a quantity",
		"- 5 g":              "is not a quantity",
		"1_000 g":            `has the unknown unit "_"`,
		"1e3 g":              `has the unknown unit "e"`,
		"0x10 g":             `has the unknown unit "x"`,
		"1000000000000000 g": "is not a quantity", // sixteen digits
		"3 stone":            `has the unknown unit "stone"`,
		"3 imp":              `has the unknown unit "imp"`,
		"2 lb 8 mL":          "adds up things that do not go together",
		"2 lb 8":             "adds up things that do not go together",
		"2 8":                "adds up things that do not go together",
		"5 % 5 %":            "adds up things that do not go together",
		"19 °C 2 °C":         "adds up things that do not go together",
		"2 lb -8 oz":         "has the unknown unit",
	} {
		_, err := measure.ParseQuantity(text)
		assert.ErrorContains(t, err, want, text)
	}
}

func TestQuantitiesMadeByTheProgram(t *testing.T) {
	for _, c := range []struct {
		number float64
		unit   string
		want   string
	}{
		{1.5, "g", "1.5 g"}, {980, "g", "980 g"}, {0.1 + 0.2, "kg", "0.3 kg"}, {3, "", "3"}, {1.0 / 3, "L", "0.333333 L"},
	} {
		q := measure.Of(c.number, c.unit)
		assert.Equal(t, c.want, q.String())
		again, err := measure.ParseQuantity(q.Text)
		require.NoError(t, err)
		assert.InDelta(t, c.number, again.Number, 1e-6)
	}
	assert.False(t, measure.Quantity{}.Known())
	assert.True(t, measure.Of(0, "g").Known())
}

func TestSpoonsAreVolumes(t *testing.T) {
	for text, spoon := range map[string]bool{"1 tsp": true, "2 tbsp": true, "0.5 cup": true, "14 mL": false, "1.5 g": false} {
		q, err := measure.ParseQuantity(text)
		require.NoError(t, err)
		assert.Equal(t, spoon, q.Spoon(), text)
		_, isMass := q.Mass()
		_, isVolume := q.Volume()
		assert.NotEqual(t, isMass, isVolume, text)
	}
}

func TestUnitNamed(t *testing.T) {
	for text, want := range map[string]string{"ML": "mL", "fl  OZ": "fl oz", "c": "°C", "Ppm": "ppm", "": "", "stone": ""} {
		name, known := measure.UnitNamed(text)
		assert.Equal(t, want, name, text)
		assert.Equal(t, want != "", known, text)
	}
}

// FuzzQuantity: what can be read as a quantity is a finite number, and is read
// the same from its own text.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{"1.5 g", "2 lb 8 oz", "1,5G", "−5 °C", "17 °C to 24 °C", "imp fl oz", "1,046", "14 % vol", "999999999999999 mg", "1.055"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if q, err := measure.ParseQuantity(text); err == nil {
			require.Less(t, q.Value(), 1e18)
			require.Greater(t, q.Value(), -1e18)
			again, err := measure.ParseQuantity(q.Text)
			require.NoError(t, err)
			require.Equal(t, q, again)
		}
		if g, err := measure.ParseGravity(text); err == nil {
			require.GreaterOrEqual(t, g.Value, measure.LowestGravity)
			require.LessOrEqual(t, g.Value, measure.HighestGravity)
			require.True(t, g.Known())
		}
		if s, err := measure.ParseTemperatures(text); err == nil {
			require.LessOrEqual(t, s.Value.Low, s.Value.High)
			again, err := measure.ParseTemperatures(s.Text)
			require.NoError(t, err)
			require.Equal(t, s, again)
		}
	})
}

func TestLastDigit(t *testing.T) {
	for text, want := range map[string]float64{
		"8.2 kg": 0.1, "8 kg": 1, "980 g": 0.001, "115,6 g": 0.0001, "2 lb 8 oz": 0.45359237 / 16, "3.60 L": 0.01, "1 cup": 3.785411784 / 16,
		"": 0, "honey": 0, "3 parrots": 0,
	} {
		assert.InDelta(t, want, measure.LastDigit(text), 1e-12, text)
	}
}
