package measure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/measure"
)

func TestInRange(t *testing.T) {
	for _, c := range []struct {
		v    measure.Temperature
		want string
	}{
		{0, ""}, {40, ""}, {19.5, ""},
		{40.1, "temperature 40.1 °C is outside 0 to 40 °C"},
		{-1, "temperature -1 °C is outside 0 to 40 °C"},
		{measure.Temperature(math.NaN()), "temperature NaN °C is outside 0 to 40 °C"},
		{measure.Temperature(math.Inf(1)), "temperature +Inf °C is outside 0 to 40 °C"},
	} {
		err := measure.InRange("temperature", c.v, 0, 40, "°C")
		if c.want == "" {
			assert.NoError(t, err)
			continue
		}
		assert.EqualError(t, err, c.want)
	}
	assert.Error(t, measure.InRange("mass", math.Inf(1), 0, math.Inf(1), ""))
}
