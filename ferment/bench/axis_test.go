package bench_test

import (
	"maps"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
)

// Every figure whose answer depends on one input first has a curve over it, and the curve at that input is the answer.
func TestCurvesAreTheFigures(t *testing.T) {
	s := ferment.DefaultSettings(time.UTC)
	for _, f := range bench.Figures() {
		if f.Name == "blend" { // two or three meads, of three values each
			continue
		}
		values := map[string]string{}
		for _, k := range f.Ways[0].Keys {
			if !k.Optional {
				values[k.Name] = k.ExampleIn(measure.Metric)
			}
		}
		curves := f.Over(values, s)
		require.NotEmpty(t, curves, f.Name)
		for i, c := range curves {
			require.Greater(t, len(c.X), 10, "%s: %s", f.Name, f.Axis.Of[i])
			at := maps.Clone(values)
			half := len(c.X) / 2
			at[f.Axis.Key] = f.Axis.At(c.X[half])
			assert.InDelta(t, c.X[half], f.Axis.Share(at[f.Axis.Key]), 0.003, f.Name)
			a, err := f.Work(at, s)
			require.NoError(t, err)
			r, _ := ferment.FirstWhere(a.Results, func(r bench.Result) bool { return r.Name == c.Name })
			assert.Equal(t, r.Value, c.Y[half], f.Name)
		}
	}
}

func TestWhereOnTheAxis(t *testing.T) {
	a := bench.Axis{Key: "at", From: 0, To: 40, Unit: "°C"}
	for typed, want := range map[string]float64{"20C": 0.5, "20 °C": 0.5, "68F": 0.5} {
		assert.InDelta(t, want, a.Share(typed), 1e-9, typed)
	}
	for _, typed := range []string{"41C", "-1C", "warm", ""} {
		assert.Zero(t, a.Share(typed), typed)
	}
}
