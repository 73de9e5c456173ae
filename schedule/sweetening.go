package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// settles is how long a mead stands between stabilising and sweetening (common
// practice, no source).
const settles = 24 * time.Hour

// sweetening is why sugar may not go in once the gravity has been steady: it
// would ferment, until it is stabilised and a day has passed. Before that it is
// feeding, and nothing stands against it, unless somebody has given sulphite to
// stop it; nor against fruit, which is put in to ferment.
func (p *planner) sweetening(do string) (hold, bool) {
	if do != string(ferment.Honey) || p.c.Steady.Met.IsZero() && !p.sulphited() {
		return hold{}, false
	}
	h := hold{name: "sweetening", verdict: "held"}
	at, stabilised := p.c.FirstMet(hasCondition(ferment.Stabilised))
	switch {
	case !stabilised && p.c.Steady.Met.IsZero():
		h.reason, h.frees = "it has sulphite and was never steady, so it is not stabilised: the sugar would ferment", ferment.DoGravity
		h.instead = "wait until it is steady; then sulphite and sorbate, a day's rest, and honey"
	case !stabilised:
		h.reason, h.frees = "it has been steady and is not stabilised: the sugar would ferment", string(ferment.Sulphite)
		h.instead = "sulphite and sorbate first, then a day's rest"
	case !p.passed(at.Add(settles)):
		h.reason = "stabilised " + p.clock(at) + ": not before " + p.clock(at.Add(settles))
	default:
		return hold{}, false
	}
	return h, true
}

// sulphited tells whether sulphite went in after the pitch.
func (p *planner) sulphited() bool {
	e, ok := p.c.Last(ferment.Sulphite)
	return ok && p.c.Pitch.Known && e.At.Time.After(p.c.Pitch.At)
}

// stillWorks is the pace in points a day from which it is too early to take a
// mead off its yeast or to think of stopping it (common practice, no source).
const stillWorks = 2

// early is why an act that no plan asks for now comes before the end of the
// ferment: the yeast is taken away that should finish it, or cannot be stopped.
func (p *planner) early(do string) (hold, bool) {
	h := hold{name: "too early", verdict: "too early", frees: ferment.DoGravity}
	if !p.c.Pitch.Known || p.c.Steady.Open || p.c.Pace.Value < stillWorks {
		return hold{}, false
	}
	falls := "it still falls, " + measure.Decimal(p.c.Pace.Value, 1) + " points a day"
	switch ferment.Act(do) {
	case ferment.Rack:
		h.reason = falls + ": racked now, the yeast that should finish it stays behind"
		h.instead = "leave it on its lees until it is near its finish"
	case ferment.Sulphite:
		h.reason = falls + ", and sulphite alone does not stop yeast"
		h.instead = "wait until it is steady, then sulphite and sorbate together"
	default:
		return hold{}, false
	}
	return h, true
}
