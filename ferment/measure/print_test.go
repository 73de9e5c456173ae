package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/measure"
)

func TestPrintedQuantities(t *testing.T) {
	type in interface{ In(measure.System) string }
	for _, c := range []struct {
		q          in
		metric, us string
	}{
		{measure.Grams(0), "0.0 g", "0.0 g"},
		{measure.Grams(0.02), "0.02 g", "0.0 g"},
		{measure.Grams(0.094), "0.09 g", "0.1 g"},
		{measure.Grams(0.095), "0.1 g", "0.1 g"},
		{measure.Grams(1.5), "1.5 g", "1.5 g"},
		{measure.Grams(9.94), "9.9 g", "0.35 oz"},
		{measure.Grams(9.95), "10 g", "0.35 oz"},
		{measure.Grams(980), "980 g", "2.16 lb"},
		{measure.Grams(10000), "10.00 kg", "22.05 lb"},
		{measure.Mass(0.45359237), "454 g", "16.00 oz"},
		{measure.Volume(0), "0 mL", "0.0 fl oz"},
		{measure.Millilitres(50), "50 mL", "1.7 fl oz"},
		{measure.Millilitres(99), "99 mL", "3.3 fl oz"},
		{measure.Millilitres(100), "0.10 L", "3.4 fl oz"},
		{measure.Volume(0.94), "0.94 L", "31.8 fl oz"},
		{measure.Volume(0.9464), "0.95 L", "0.25 gal"},
		{measure.Volume(3.6), "3.60 L", "0.95 gal"},
		{measure.Volume(-0.2), "−0.20 L", "−6.8 fl oz"},
		{measure.Temperature(22), "22 °C", "71.6 °F"},
		{measure.Temperature(19.5), "19.5 °C", "67.1 °F"},
		{measure.Temperature(-0.04), "0 °C", "31.9 °F"},
		{measure.Temperature(-5), "−5 °C", "23 °F"},
		{measure.Pressure(6), "6.0 bar", "87 psi"},
	} {
		assert.Equal(t, c.metric, c.q.In(measure.Metric))
		assert.Equal(t, c.us, c.q.In(measure.US))
	}
}

func TestQuantitiesAsText(t *testing.T) {
	for want, q := range map[string]interface{ String() string }{
		"1.0840":    measure.Gravity(1.084),
		"20.2 °Bx":  measure.Brix(20.2),
		"22 °C":     measure.Temperature(22),
		"3.60 L":    measure.Volume(3.6),
		"980 g":     measure.Grams(980),
		"3.6 % vol": measure.Strength(3.6),
		"18.1 %":    measure.Share(18.1),
		"6.0 bar":   measure.Pressure(6),
		"3.4":       measure.PH(3.4),
		"1.5 cm":    measure.Depth(1.5),
		"200 mg/L":  measure.MilligramsPerLitre(200),
		"999 mg/L":  measure.Content(0.999),
		"1.0 g/L":   measure.Content(1),
	} {
		assert.Equal(t, want, q.String())
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		v      float64
		places int
		want   string
	}{{1.25, 1, "1.2"}, {-1.5, 1, "−1.5"}, {-0.04, 1, "0.0"}, {-0.06, 1, "−0.1"}, {0, 0, "0"}, {-0.4, 0, "0"}} {
		assert.Equal(t, c.want, measure.Decimal(c.v, c.places), c)
	}
}

func TestGravityPlaces(t *testing.T) {
	assert.Equal(t, "1.046", measure.Gravity(1.0464).Places(3))
	assert.Equal(t, "1.0464", measure.Gravity(1.0464).Places(4))
	assert.InDelta(t, 84, measure.Gravity(1.084).Points(), 1e-9)
	assert.Equal(t, measure.Gravity(1.0465), measure.Gravity(1.04645001).Rounded(4))
	assert.Equal(t, measure.Gravity(1.0464), measure.Gravity(1.04644999).Rounded(4))
}

// Printed masses, volumes and temperatures parse back to within half of their last digit.
func TestPrintedQuantitiesAreReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		system := rapid.SampledFrom([]measure.System{measure.Metric, measure.US}).Draw(t, "system")
		m := measure.Mass(rapid.Float64Range(0, 30).Draw(t, "kg"))
		back, err := measure.ParseMass(m.In(system))
		require.NoError(t, err)
		require.InDelta(t, float64(m), float64(back.Value), 0.0051)
		v := measure.Volume(rapid.Float64Range(0, 100).Draw(t, "L"))
		backV, err := measure.ParseVolume(v.In(system))
		require.NoError(t, err)
		require.InDelta(t, float64(v), float64(backV.Value), 0.019)
		c := measure.Temperature(rapid.Float64Range(-29, 119).Draw(t, "°C"))
		backC, err := measure.ParseTemperature(c.In(system))
		require.NoError(t, err)
		require.InDelta(t, float64(c), float64(backC.Value), 0.0501)
	})
}

func TestSmallVolumes(t *testing.T) {
	for v, want := range map[measure.Volume]string{0.0125: "12.5 mL", 0.0995: "100 mL", 0.18: "180 mL", 1.25: "1.25 L"} {
		assert.Equal(t, want, v.Small(measure.Metric))
	}
	assert.Equal(t, "6.1 fl oz", measure.Volume(0.18).Small(measure.US))
}
