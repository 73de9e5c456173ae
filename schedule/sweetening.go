package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// settles is how long a mead stands between stabilising and sweetening (common
// practice, no source).
const settles = 24 * time.Hour

// sweetening is why sugar may not go in once the gravity has been steady: it
// would ferment, until it is stabilised and a day has passed. Before that it is
// feeding, and nothing stands against it; nor against fruit, which is put in to
// ferment.
func (p *planner) sweetening(do string) (hold, bool) {
	if do != string(ferment.Honey) || p.c.Steady.Met.IsZero() {
		return hold{}, false
	}
	h := hold{name: "sweetening", verdict: "held"}
	at, stabilised := p.c.FirstMet(hasCondition(ferment.Stabilised))
	switch {
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
