package course

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// steadiest simulates ferments that fall by so many points a fortnight, read a
// week apart with a repeatability of 0.0005 on a scale of 0.001, and gives the
// share whose gate has opened by each reading.
func steadiest(points float64, step float64, readings int) []float64 {
	const times = 600
	draw := rand.New(rand.NewPCG(14, 10))
	opened := make([]float64, readings+1)
	for range times {
		gravity, at, first := 1.000+draw.Float64()/1000, pitchedAt.AddDate(0, 0, 40), 0
		f := ferment.Ferment{Must: ferment.Must{Gravity: measure.Give(measure.Gravity(1.100), "1.100")}, Log: []ferment.Entry{{Did: ferment.Pitch, At: ferment.At(pitchedAt)}}}
		for n := 1; n <= readings && first == 0; n++ {
			read := math.Round((gravity+draw.NormFloat64()*0.0005)/step) * step
			text := fmt.Sprintf("%.*f", map[bool]int{true: 3, false: 4}[step == 0.001], read)
			f.Log = append(f.Log, ferment.Entry{At: ferment.At(at), Order: n, Line: n, Gravity: measure.Give(measure.Gravity(read), text),
				Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 18, High: 18}, "18C")})
			if Of(f, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), at).Steady.Open {
				first = n
			}
			gravity, at = gravity-points/2000, at.AddDate(0, 0, 7)
		}
		for n := first; n <= readings && first > 0; n++ {
			opened[n] += 1.0 / times
		}
	}
	return opened
}

// TestSteadyBySimulation: a truly steady mead opens by the fourth reading in at
// least 80 of 100, one that falls a point a fortnight in at most 20, one that
// falls two in at most 2.
func TestSteadyBySimulation(t *testing.T) {
	var table strings.Builder
	for _, step := range []float64{0.001} {
		for _, points := range []float64{0, 0.5, 1, 2} {
			opened := steadiest(points, step, 8)
			fmt.Fprintf(&table, "| %.4f | %.1f | %.1f | %.1f | %.1f | %.1f |\n", step, points, 100*opened[3], 100*opened[4], 100*opened[6], 100*opened[8])
			switch points {
			case 0:
				assert.GreaterOrEqual(t, opened[4], 0.80)
			case 1:
				assert.LessOrEqual(t, opened[4], 0.20)
			case 2:
				assert.LessOrEqual(t, opened[8], 0.02)
			}
		}
	}
	t.Log("\n" + table.String())
}
