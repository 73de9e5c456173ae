package measure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRoot(t *testing.T) {
	cases := []struct {
		name      string
		low, high float64
		f         func(float64) float64
		want      float64
		most      int // evaluations
	}{
		{"straight", 0, 10, func(x float64) float64 { return x - 3 }, 3, 6},
		{"bent up", 0, 2, func(x float64) float64 { return x*x - 2 }, math.Sqrt2, 20},
		{"bent far", 0, 90, func(x float64) float64 { return math.Exp(x) - 20 }, math.Log(20), 50},
		{"bent down", 1e-9, 50, func(x float64) float64 { return math.Log(x) - 1 }, math.E, 30},
		{"flat at the root", -1, 2, func(x float64) float64 { return x * x * x }, 0, 200},
		{"a step", 0, 1, func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0.3, 200},
		{"below all", 0, 1, func(x float64) float64 { return x - 2 }, 1, 2},
		{"above all", 0, 1, func(x float64) float64 { return x + 2 }, 0, 2},
	}
	for _, c := range cases {
		evaluations := 0
		got := Root(c.low, c.high, func(x float64) float64 { evaluations++; return c.f(x) })
		assert.InDelta(t, c.want, got, 1e-11, c.name)
		assert.LessOrEqual(t, evaluations, c.most, c.name)
	}
}
