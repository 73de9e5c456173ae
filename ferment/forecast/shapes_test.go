package forecast

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func drawPace(t *rapid.T) pace {
	return pace{rapid.Float64Range(-4, 1).Draw(t, "rate"), rapid.Float64Range(-3.5, 1).Draw(t, "lag"), rapid.Float64Range(-0.7, 1.4).Draw(t, "shape")}
}

func TestCurvesFallFromOneToZero(t *testing.T) {
	for name, of := range map[string]func(pace) curve{"richards": newRichards, "decline": newDecline} {
		rapid.Check(t, func(t *rapid.T) {
			c := of(drawPace(t))
			assert.InDelta(t, 1, c.left(0), 1e-12, name)
			before := 1.0
			for day := 0.5; day < 400; day *= 1.3 {
				now := c.left(day)
				assert.LessOrEqual(t, now, before+1e-12, "%s on day %v", name, day)
				assert.GreaterOrEqual(t, now, 0.0)
				before = now
			}
		})
	}
}

func TestReachesInvertsTheCurve(t *testing.T) {
	for name, of := range map[string]func(pace) curve{"richards": newRichards, "decline": newDecline} {
		rapid.Check(t, func(t *rapid.T) {
			c, left := of(drawPace(t)), rapid.Float64Range(0.02, 0.97).Draw(t, "left")
			if day := c.reaches(left); day > 0 {
				assert.InDelta(t, left, c.left(day), 1e-7, name)
			}
		})
	}
}

func TestRichardsContainsTheKnownCurves(t *testing.T) {
	// Zwietering et al. 1990, table 2: the modified logistic and Gompertz with the asymptote 1, as what is left, and
	// first order after the lag.
	const k, lag = 0.4, 2.5
	p := func(nu float64) pace { return pace{math.Log(k), math.Log(k * lag), math.Log1p(nu)} }
	gompertz := func(t float64) float64 { return 1 - math.Exp(-math.Exp(k*math.E*(lag-t)+1)) }
	logistic := func(t float64) float64 { return 1 - 1/(1+math.Exp(4*k*(lag-t)+2)) }
	first := func(t float64) float64 { return math.Min(1, math.Exp(-k*(t-lag))) }
	for day := 0.0; day < 20; day += 0.7 {
		assert.InDelta(t, gompertz(day)/gompertz(0), newRichards(p(0)).left(day), 1e-12)
		assert.InDelta(t, gompertz(day)/gompertz(0), newRichards(p(1e-9)).left(day), 1e-8, "smooth beside 0")
		assert.InDelta(t, logistic(day)/logistic(0), newRichards(p(1)).left(day), 1e-12)
		assert.InDelta(t, first(day), newRichards(p(-0.999999)).left(day), 1e-4)
	}
}

func TestDeclineSolvesItsEquation(t *testing.T) {
	for _, order := range []float64{0.3, 0.65, 1, 1.4} {
		c := newDecline(pace{math.Log(0.3), math.Log(0.5), order}).(decline)
		s, h := 1.0, 0.001
		slope := func(day, s float64) float64 {
			awake := 1 / (1 + math.Exp(-(day-c.lag)/c.width))
			return -c.rate * awake * math.Pow(max(s, 0), order)
		}
		for day := 0.0; day < 6; day += h {
			mid := s + h/2*slope(day, s)
			s += h * slope(day+h/2, mid)
		}
		assert.InDelta(t, s, c.left(6), 1e-4, "order %v", order)
	}
}
