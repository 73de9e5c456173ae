package forecast

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// certified is a data set of the NIST/ITL Statistical Reference Datasets.
type certified struct {
	x, y             []float64
	starts           [2][]float64
	values           []float64
	squares          float64
	standardDeviates []float64
}

// readCertified reads a published file: start and certified values with standard deviations in the rows "b1 = …", then
// the data, y before x.
func readCertified(t *testing.T, name string) certified {
	t.Helper()
	text, err := os.ReadFile("../../testdata/reference/nist-" + name + ".dat")
	require.NoError(t, err)
	var c certified
	data := false
	for line := range strings.Lines(string(text)) {
		var i int
		var a, b, v, sd float64
		switch {
		case scans(line, "Residual Sum of Squares: %g", &c.squares):
		case scans(strings.Replace(strings.TrimSpace(line), "=", " ", 1), "b%d %g %g %g %g", &i, &a, &b, &v, &sd):
			c.starts[0], c.starts[1] = append(c.starts[0], a), append(c.starts[1], b)
			c.values, c.standardDeviates = append(c.values, v), append(c.standardDeviates, sd)
		case strings.HasPrefix(line, "Data:") && strings.Contains(line, "y  "):
			data = true
		case data && scans(line, "%g %g", &a, &b):
			c.y, c.x = append(c.y, a), append(c.x, b)
		}
	}
	require.Greater(t, len(c.x), 8, name)
	require.NotEmpty(t, c.values, name)
	return c
}

func scans(line, form string, into ...any) bool {
	n, err := fmt.Sscanf(strings.TrimSpace(line), form, into...)
	return err == nil && n == len(into)
}

func TestSolverAgainstCertifiedRegressions(t *testing.T) {
	// NIST/ITL StRD, nonlinear regression; the certified values have eleven digits, and a good solver reproduces six of
	// them from either start.
	models := map[string]func(b []float64, x float64) float64{
		"Misra1a": func(b []float64, x float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) },
		"Rat42":   func(b []float64, x float64) float64 { return b[0] / (1 + math.Exp(b[1]-b[2]*x)) },
		"Rat43":   func(b []float64, x float64) float64 { return b[0] / math.Pow(1+math.Exp(b[1]-b[2]*x), 1/b[3]) },
		"Thurber": func(b []float64, x float64) float64 {
			return (b[0] + x*(b[1]+x*(b[2]+x*b[3]))) / (1 + x*(b[4]+x*(b[5]+x*b[6])))
		},
	}
	for name, model := range models {
		c := readCertified(t, name)
		for s, start := range c.starts {
			m := leastSquares(func(b, r []float64) {
				for i, x := range c.x {
					r[i] = model(b, x) - c.y[i]
				}
			}, len(c.x), start, 1e-13, 2000)
			assert.True(t, m.stopped, "%s from start %d", name, s+1)
			assert.InEpsilon(t, c.squares, m.squares, 1e-9, "%s from start %d", name, s+1)
			sd := deviations(m, len(c.x))
			for i, want := range c.values {
				assert.InEpsilon(t, want, m.x[i], 5e-7, "%s from start %d: b%d", name, s+1, i+1)
				assert.InEpsilon(t, c.standardDeviates[i], sd[i], 1e-4, "%s from start %d: deviation of b%d", name, s+1, i+1)
			}
		}
	}
}

// deviations returns the standard deviations of the fitted parameters, from the same root of the curvature as the
// draws.
func deviations(m minimum, n int) []float64 {
	root, _ := laplace(m)
	p := len(root)
	variance := make([]float64, p)
	for i := range p {
		unit := make([]float64, p)
		unit[i] = 1
		for j, v := range root.up(unit) {
			variance[j] += v * v * m.squares / float64(n-p)
		}
	}
	for j, v := range variance {
		variance[j] = math.Sqrt(v)
	}
	return variance
}
