package forecast_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/forecast"
)

// must describes a simulated ferment. The public series contain none that stalls.
type must struct {
	sugar, nitrogen float64 // g/L, mg/L
	death           float64 // a day, at 100 g/L of ethanol; it grows with the square of the ethanol
	second          float64 // share of a second yeast, which dies five times as fast
	coldOn          float64 // day of a cold shock after which a tenth of the pace and half of the yeast remain
	every           float64 // days between readings
	temperature     float64 // °C; 0 is 21
	limit           float64 // ethanol, % vol, at which the yeast stops; 0 for none
	told            float64 // the tolerance that its maker states; 0 for none
	noise, offset   float64 // of a reading, gravity
	days            float64 // how long it is observed; 0 is 30
}

func (m must) String() string {
	return fmt.Sprintf("%g g/L, %g mg/L, death %g, second %g, cold on %g, every %g", m.sugar, m.nitrogen, m.death, m.second, m.coldOn, m.every)
}

// ferments simulates growth limited by nitrogen with loss of viability by ethanol, by the usual balances, and reads
// gravity to 0.001. The parameters are invented, similar to those of wine.
func (m must) ferments() run {
	const step = 0.01
	out := run{name: m.String(), told: m.told}
	dice := rand.New(rand.NewPCG(uint64(m.sugar*10+m.nitrogen), uint64(100*m.every)))
	temperature, days := cmp.Or(m.temperature, 21), cmp.Or(m.days, 30)
	pace := math.Pow(2, (temperature-21)/10)
	yeast := [2]float64{0.15 * (1 - m.second), 0.15 * m.second}
	death := [2]float64{m.death, 5 * m.death}
	sugar, nitrogen, warm := m.sugar, m.nitrogen, 1.0
	next := 0.0
	for day := 0.0; day < days; day += step {
		if day >= next-step/2 {
			gone := m.sugar - sugar
			g := gravityOf(sugar+20+0.04*gone, 0.96*0.511*gone)
			g += m.offset + m.noise*dice.NormFloat64()
			out.points = append(out.points, point{next, math.Round(g*1000) / 1000, temperature})
			next += m.every
		}
		if m.coldOn > 0 && math.Abs(day-m.coldOn) < step/2 {
			warm, yeast[0], yeast[1] = 0.1, yeast[0]/2, yeast[1]/2
		}
		ethanol := 0.49 * (m.sugar - sugar)
		able := pace * warm
		if m.limit > 0 {
			able *= max(0, 1-math.Pow(ethanol/7.8924/m.limit, 3))
		}
		for i := range yeast {
			grown := able * 2.0 * nitrogen / (nitrogen + 15) * yeast[i]
			eaten := able * 14 * yeast[i] * sugar / (sugar + 10)
			yeast[i] += step * (grown - death[i]*math.Pow(ethanol/100, 2)*yeast[i])
			nitrogen = max(0, nitrogen-step*grown*65)
			sugar = max(0, sugar-step*eaten)
		}
	}
	return out
}

// musts returns a grid of musts, many of which stall.
func musts() []must {
	var out []must
	for _, sugar := range []float64{190, 250} {
		for _, nitrogen := range []float64{40, 80, 150} {
			for _, death := range []float64{0.1, 0.5, 1.2} {
				for _, second := range []float64{0, 0.6} {
					for _, cold := range []float64{0, 3, 6} {
						out = append(out, must{sugar: sugar, nitrogen: nitrogen, death: death, second: second, coldOn: cold, every: 1 + second/0.6})
					}
				}
			}
		}
	}
	return out
}

// confident reports whether the window is narrow and ends early.
func confident(f forecast.Forecast) bool {
	return !f.Done.At.IsZero() && f.Done.Late.Sub(f.Done.Early) < 7*24*time.Hour && f.Done.Late.Before(dayAt(14))
}

func TestStallsNeverGetAConfidentDate(t *testing.T) {
	stalled, told := 0, 0
	for _, m := range musts() {
		r := m.ferments()
		if r.finish() <= 1.012 {
			continue
		}
		stalled++
		heard := false
		for n := 2; n <= len(r.points); n++ {
			f := forecast.Of(r.after(n))
			day := r.points[n-1].day
			// A shock cannot be forecast; it counts from the first reading after it.
			if day > m.coldOn {
				assert.False(t, confident(f), "%s, on day %g at %.3f: %v to %v", r.name, day, r.points[n-1].gravity, f.Done.Early, f.Done.Late)
			}
			heard = heard || f.Says == forecast.PerhapsStalled
		}
		if heard {
			told++
		}
	}
	require.Greater(t, stalled, 50)
	assert.Greater(t, float64(told)/float64(stalled), 0.95, "a stall is told of in the end")
}

// TestConstantPaceForecastsNoStop: only a slowing pace announces a stop; the chance of one stays near its prior, and
// falls with what is left.
func TestConstantPaceForecastsNoStop(t *testing.T) {
	r := run{name: "constant", points: []point{{0, 1.086, 20}}}
	var stops []float64
	for day := 1.0; day <= 12; day++ {
		r.points = append(r.points, point{day, 1.086 - 0.006*day, 20})
		f := forecast.Of(r.after(len(r.points)))
		assert.Equal(t, forecast.OnItsWay, f.Says, "day %g: %s", day, f.Why)
		stops = append(stops, f.Stops)
	}
	assert.Less(t, slices.Max(stops), 0.28, "one in four at the start, without nutrient")
	assert.Less(t, stops[11], 0.15, "near its end")
}
