package course

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestConditionsSayWhatToLookAt: measured and good values are not mentioned, unmeasured ones are (common practice, no
// source).
func TestConditionsSayWhatToLookAt(t *testing.T) {
	const stuck = "0 pitch | 1 1.090 | 6 1.045 %s | 9 1.044 %s"
	const stir, fresh = "stir the lees up", "add a fresh yeast, grown first and used to the alcohol"
	for _, c := range []struct {
		temperature, ph string
		want            []string
	}{
		{"15C", "", []string{"warm it to 18 °C: it is at 15 °C", stir, "measure the pH: none is recorded"}},
		{"18C", "", []string{stir, "measure the pH: none is recorded"}},
		{"", "", []string{"note its temperature: none is recorded", stir, "measure the pH: none is recorded"}},
		{"20C", "ph3.1", []string{stir}},
		{"20C", "ph3.0", []string{stir, "pH 3.0 is low for yeast: potassium bicarbonate, 0.3 g/L"}},
	} {
		cr := after(t, 9, fmt.Sprintf(stuck, c.temperature, c.ph))
		require.Equal(t, "stuck", names(cr))
		look := cr.Conditions[0].Look
		n := len(look)
		require.GreaterOrEqual(t, n, 3)
		assert.Equal(t, c.want, look[:n-3])
		assert.Regexp(t, `^check the nutrient: 0 of \d+ mg/L of nitrogen given$`, look[n-3])
		assert.Regexp(t, `^check the yeast: it has made 7\.\d of the 16 % vol that it is said to reach$`, look[n-2], "56 points of 1.100, about 7.4 % vol")
		assert.Equal(t, fresh, look[n-1])
	}
}
