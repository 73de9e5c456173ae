package forecast

import "math"

// series is what is fitted: gravities since the curve began.
type series struct {
	days, gravity []float64
	deviation     []float64 // of each: the instrument's and the shape's together
}

// misfit is how far a real course lies off any smooth shape, as a share of its
// fall (an assumption, tuned with the bands).
const misfit = 0.015

// unsure is how many readings it takes until they tell the misfit themselves:
// of fewer a bend is taken less seriously, or three readings with one slow day
// would count as stuck.
const unsure = 20

// explanation is one shape with one end, fitted, and how well it explains what
// was read.
type explanation struct {
	form   form
	at     []float64 // ln k, ln kλ, the shape's number, the end
	weight float64   // of all explanations, together 1
	ripe   bool      // its end is the yeast's tolerance: no stop, wherever it lies
	root   matrix    // upper triangle, of the curvature at the best
}

// explain fits each shape with each end, and weighs them by their evidence:
// Laplace's integral over the numbers of each.
func (b basis) explain(s series) []explanation {
	var out []explanation
	var logs []float64
	for _, f := range b.forms() {
		start := []float64{f.rate.mean, f.lag.mean, f.shape.mean, 0}
		for i, e := range b.ends() {
			start[3] = e.gravity.mean
			m := loose.leastSquares(b.misses(f, e, s), len(s.days)+4, start)
			root, logEvidence := laplace(m)
			out = append(out, explanation{form: f, at: m.x, root: root, ripe: b.byYeast && i == 0})
			logs = append(logs, logEvidence+math.Log(e.weight)-math.Log(f.rate.sd*f.lag.sd*f.shape.sd*e.gravity.sd))
			copy(start, m.x)
		}
	}
	weigh(out, logs)
	return out
}

// misses are those of the readings, then those of what was believed.
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

// laplace is the root of the curvature at a minimum, and the logarithm of the
// integral around it, without what is the same for all.
func laplace(m minimum) (matrix, float64) {
	root := m.slopes
	root.reflect(make([]float64, root.rows))
	log := -m.squares / 2
	for j := range root.columns {
		log -= math.Log(math.Abs(root.column(j)[j]))
	}
	return root, log
}

func weigh(es []explanation, logs []float64) {
	best, sum := math.Inf(-1), 0.0
	for _, l := range logs {
		best = max(best, l)
	}
	for i, l := range logs {
		es[i].weight = math.Exp(l - best)
		sum += es[i].weight
	}
	for i := range es {
		es[i].weight /= sum
	}
}

// asBelieved gives each end the weight that was believed before anything was
// read, shared among its shapes as the readings say. While a fall has not
// slowed they do not tell the ends apart: a slow, constant pace would otherwise
// look like a coming stop, because a short fall explains a slow pace better.
func (b basis) asBelieved(es []explanation) {
	for i, e := range b.ends() {
		of := 0.0
		for j := i; j < len(es); j += len(b.ends()) {
			of += es[j].weight
		}
		for j := i; j < len(es) && of > 0; j += len(b.ends()) {
			es[j].weight *= e.weight / of
		}
	}
}
