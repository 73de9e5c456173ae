package forecast

import (
	"cmp"
	"math"
	"slices"

	"cellar/jugkeeper/ferment"
)

// series is the data of a fit: gravities since the curve began.
type series struct {
	days, gravity []float64
	deviation     []float64 // of each: that of the instrument and that of the shape
}

// misfit is the typical distance of a real course from any smooth shape, as a share of its fall (an assumption, tuned
// with the bands). With few readings it is larger: with as many as unsure its variance is doubled.
const (
	misfit = 0.015
	unsure = 10

	usualMiss = 0.3 // the mean square of a residual, in deviations
	asUsual   = 1.5 // a sum of squares that counts as usual besides
)

// explanation is one fitted shape with one end, and its weight.
type explanation struct {
	form   form
	end    end
	at     []float64 // ln k, ln kλ, the shape's number, the end
	weight float64   // probability; those of all explanations add up to 1
	ripe   bool      // its end is the yeast's tolerance, so it is not a stop at any gravity
	root   triangle  // of the curvature at the minimum
}

// explain fits each shape with each end. Where the likeliest is further from the readings than their errors, the
// errors are widened and it fits again, so that a course like no shape is not forecast too surely. Where the last
// reading is above the curve, they are not: a stop begins like that.
func (b basis) explain(s series) []explanation {
	es, n := b.fit(s), len(s.days)
	likeliest := slices.MaxFunc(es, func(a, b explanation) int { return cmp.Compare(a.weight, b.weight) })
	r := make([]float64, n+4)
	b.misses(likeliest.form, likeliest.end, s)(likeliest.at, r)
	wider := math.Sqrt((asUsual + dot(r[:n], r[:n])) / (asUsual + usualMiss*float64(n)))
	if wider > 1 && r[n-1] >= -1 {
		s.deviation = ferment.Map(s.deviation, func(d float64) float64 { return d * wider })
		es = b.fit(s)
	}
	return es
}

// fit returns each shape with each end, weighted by their evidence (Laplace's approximation of the integral).
func (b basis) fit(s series) []explanation {
	var out []explanation
	var logs []float64
	for _, f := range b.forms() {
		start := []float64{f.rate.mean, f.lag.mean, f.shape.mean, 0}
		for i, e := range b.ends() {
			start[3] = e.gravity.mean
			m := leastSquares(b.misses(f, e, s), len(s.days)+4, start, 1e-4, 60)
			root, logEvidence := laplace(m)
			out = append(out, explanation{form: f, end: e, at: m.x, root: root, ripe: b.byYeast && i == 0})
			logs = append(logs, logEvidence+math.Log(e.weight)-math.Log(f.rate.sd*f.lag.sd*f.shape.sd*e.gravity.sd))
			copy(start, m.x) // the fit with the next end is near this one
		}
	}
	weigh(out, logs)
	return out
}

// misses returns the residuals of the readings, then those of the priors.
func (b basis) misses(f form, e end, s series) residuals {
	return func(x, r []float64) {
		c := f.curve(pace{x[0], x[1], x[2]})
		for i, d := range s.days {
			r[i] = (x[3] + (b.origin-x[3])*c.left(d) - s.gravity[i]) / s.deviation[i]
		}
		n := len(s.days)
		r[n], r[n+1], r[n+2], r[n+3] = f.rate.miss(x[0]), f.lag.miss(x[1]), f.shape.miss(x[2]), e.gravity.miss(x[3])
	}
}

// laplace returns the root of the curvature at a minimum, and the logarithm of the integral around it.
func laplace(m minimum) (triangle, float64) {
	root, log := m.root(0), -m.squares/2
	for i, row := range root {
		log -= math.Log(row[i])
	}
	return root, log
}

// weigh sets the weights of explanations from the logarithms of their likelihoods.
func weigh(es []explanation, logs []float64) {
	best, sum := slices.Max(logs), 0.0
	for i, l := range logs {
		es[i].weight = math.Exp(l - best)
		sum += es[i].weight
	}
	for i := range es {
		es[i].weight /= sum
	}
}

// weighByPrior gives each end its prior weight, less what the last gravity has passed of it, divided among its shapes by
// the readings. While a fall has not slowed, readings cannot distinguish the ends, and a short fall would explain a
// slow, constant pace too well.
func weighByPrior(es []explanation, last float64) {
	of := map[end]float64{} // each end with all forms
	for _, e := range es {
		of[e.end] += e.weight
	}
	logs := make([]float64, len(es))
	for i, e := range es {
		logs[i] = math.Log(e.weight / max(of[e.end], math.SmallestNonzeroFloat64) * e.end.weight * e.end.gravity.below(last))
	}
	weigh(es, logs)
}

type normal struct{ mean, sd float64 }

func (n normal) miss(v float64) float64 { return (v - n.mean) / n.sd }

// below returns the chance of less than v.
func (n normal) below(v float64) float64 { return math.Erfc(-n.miss(v)/math.Sqrt2) / 2 }

func (n normal) at(z float64) float64 { return n.mean + z*n.sd }

// basis is what is known of a ferment besides its readings: where the curve begins, where it should end, its
// temperature and its yeast.
type basis struct {
	original    float64 // gravity, with all that was fed
	origin      float64 // gravity at which the curve begins: original, or that after the last feeding
	finish      float64 // gravity
	dry         float64 // gravity at which the sugar is gone: finish, or lower
	margin      float64 // over the finish: a rest above that is a stop
	measured    bool    // the end is known by a forced test
	byYeast     bool    // the yeast's tolerance may end it before the sugar is gone
	fed         bool    // nutrient was added
	temperature float64 // °C, NaN where none is recorded
	wild        bool
	next        Next // what others of the cellar did
}

// fall is the expected fall of the curve; whole also counts what fell before the curve began.
func (b basis) fall() float64  { return b.origin - b.finish }
func (b basis) whole() float64 { return b.original - b.finish }

// form is a shape with the priors of its numbers.
type form struct {
	curve            func(pace) curve
	rate, lag, shape normal
}

// forms returns the two shapes. The mean rate reaches dry in about eleven days at 20 °C for a fall of 0.095, twice as
// fast for 10 °C more; a fall of that size in about two weeks with growth factors is reported for honey (Steinkraus and
// Morse 1966). The public logs of honey are too few to test it: these are assumptions.
func (b basis) forms() [2]form {
	rate := normal{math.Log(0.19) + math.Log(0.095/b.whole()) + b.next.rate.mean, math.Hypot(b.next.rate.sd, 0.66)}
	if !math.IsNaN(b.temperature) {
		rate = normal{rate.mean + 0.069*(b.temperature-20), b.next.rate.sd}
	}
	lag := normal{-1.3 + b.next.lag.mean, b.next.lag.sd}
	return [2]form{
		{newRichards, rate, lag, normal{0, 0.7}},
		{newDecline, normal{rate.mean + 0.37, rate.sd}, normal{lag.mean + 0.5, lag.sd}, normal{0.65, 0.35}},
	}
}

// end is a gravity at which a ferment may end, and its probability.
type end struct {
	gravity normal
	weight  float64
}

// The standard deviations of an end, for 1 % vol of tolerance and as shown by a forced test (assumptions, no source).
const (
	perStrength = 0.008
	testSpread  = 0.002
	outlives    = 0.25 // chance that a yeast ferments past its tolerance until dry
)

// stopping returns the chance at the start that it stops on the way: of home meads that were left to rest 4 to 6 of 12
// stayed over 1.008; with nutrient half of the usual chance (assumptions). What the yeast did in this cellar counts
// against twelve ferments that did as usual.
func (b basis) stopping() float64 {
	chance := 0.25
	switch {
	case b.wild:
		chance = 0.35
	case b.fed:
		chance = 0.125
	}
	return (12*chance + float64(b.next.Stopped)) / float64(12+len(b.next.Like))
}

// The parts of that chance: it ends a little sweet, of which half is no stop; it slows to a stop; it stops suddenly
// (assumptions, tuned on simulated stalls).
const (
	sweetly  = 0.30
	slowly   = 0.50
	suddenly = 0.35
)

// ends returns three ends: dry, slightly sweet, and stuck (assumptions, no source; the standard deviation of the first
// was tuned on the series of the tests). If the yeast's tolerance is reached before dry, they are: at the tolerance,
// dry all the same, and stuck; its tolerance in this cellar counts against four ferments.
func (b basis) ends() [3]end {
	stops := b.stopping()
	over := b.next.over
	out := [3]end{
		{normal{b.finish + over.mean, over.sd}, 1 - (sweetly+slowly)*stops},
		{normal{b.finish + over.mean + 0.010, 0.006}, sweetly * stops},
		{normal{b.finish + 0.40*b.fall(), 0.20 * b.fall()}, slowly * stops},
	}
	if b.byYeast {
		dry := outlives * 4 / float64(4+b.next.limited)
		out[0] = end{normal{b.finish, b.spread()}, 1 - slowly*stops - dry}
		out[1] = end{normal{b.dry + over.mean, over.sd}, dry}
	}
	if b.measured {
		out[0] = end{normal{b.finish, testSpread}, 0.98}
		out[1].weight, out[2].weight = 0.01, 0.01
	}
	return out
}

// spread returns the standard deviation of an end at the yeast's tolerance.
func (b basis) spread() float64 { return perStrength * b.next.reaches.sd }

// above returns the gravity over which a rest may be a stall.
func (b basis) above() float64 {
	if b.byYeast {
		return b.finish + b.margin + b.spread()
	}
	return b.finish + b.margin
}
