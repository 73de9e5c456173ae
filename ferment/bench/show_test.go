package bench

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// 1 psi is 0.0689475729 bar, 1 fl oz 29.5735296 mL, 1 oz 28.3495231 g (NIST SP
// 811 and the definitions of 1959).
func TestAnswerInUSUnits(t *testing.T) {
	work := func(name string, units measure.System, values map[string]string) Answer {
		f, err := Find(name)
		require.NoError(t, err)
		settings := ferment.DefaultSettings(time.UTC)
		settings.Units = units
		a, err := f.Work(values, settings)
		require.NoError(t, err)
		return a
	}
	values := map[string]string{"co2": "5 g/L", "alcohol": "11 %", "at": "20 °C"}
	us := work("pressure", measure.US, values)
	assert.Equal(t, []string{"pressure, psi", "no sugar left", "1 point left", "2 points", "3 points"}, us.Table.Head)
	assert.Equal(t, []string{"68 °F", "45", "55", "65", "75"}, us.Table.Rows[1])
	assert.Equal(t, []string{"20 °C", "3.1", "3.8", "4.5", "5.1"}, work("pressure", measure.Metric, values).Table.Rows[1])

	values = map[string]string{"volume": "3.05L", "alcohol": "11.5%", "warmest": "19C", "target": "5g/L", "bottle": "330mL"}
	us = work("prime", measure.US, values)
	assert.Contains(t, us.Assumed, "hottest place of the bottles: 86 °F")
	assert.Contains(t, us.Assumed, "it has kept the CO₂ of one atmosphere at 66 °F, the warmest since the bubbling ended")
	assert.Contains(t, us.Cautions[0].Text, " psi at 86 °F")
	metric := work("prime", measure.Metric, values)
	assert.Contains(t, metric.Assumed, "hottest place of the bottles: 30 °C")
	assert.Contains(t, metric.Assumed, "it has kept the CO₂ of one atmosphere at 19 °C, the warmest since the bubbling ended")
}

func TestResultInUSUnits(t *testing.T) {
	for _, c := range []struct {
		of   Result
		want string
	}{
		{Result{"salt", 0.32, "g", 2}, "0.32 g"}, // as precise as the dose
		{Result{"honey", 151.5, "g", 1}, "5.34 oz"},
		{Result{"stock", 3.21, "mL of 10 %", 2}, "0.11 fl oz of 10 %"},
		{Result{"drawn_in", 2, "L", 1}, "0.53 gal"},
		{Result{"gauge", 2.4, "bar", 2}, "35 psi"},
		{Result{"per_litre", 9.34, "g/L", 2}, "9.34 g/L"},
		{Result{"density", 998.2, "kg/m³", 1}, "998.2 kg/m³"},
	} {
		number, unit := c.of.In(measure.US)
		assert.Equal(t, c.want, number+" "+unit, c.of.Name)
	}
}

// An example can be typed as it is.
func TestExamplesInUSUnits(t *testing.T) {
	for _, f := range Figures() {
		for _, w := range f.Ways {
			values := map[string]string{}
			for _, k := range w.Keys {
				values[k.Name] = k.ExampleIn(measure.US)
				assert.NotRegexp(t, `[0-9] ?(mL|L|kg|g|°?C|bar)\b[^/]?$`, values[k.Name], f.Name)
			}
			_, err := f.Work(values, ferment.DefaultSettings(time.UTC))
			assert.NoError(t, err, f.Name)
		}
	}
}
