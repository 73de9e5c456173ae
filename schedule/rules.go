package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// rule decides an occurrence, or leaves it to the next.
type rule func(*planner, occurrence) (verdict, bool)

// rules in their order; the last one always decides.
var rules = []rule{notThere, inBottles, ended, undated, unready, mergedAway, shutForGood, missed, comesLater, standing}

func (p *planner) judge(o occurrence) verdict {
	for _, r := range rules {
		if v, decided := r(p, o); decided {
			return v
		}
	}
	return verdict{}
}

// notThere: while one of its exceptions holds there is no such task.
func notThere(p *planner, o occurrence) (verdict, bool) {
	return verdict{}, p.anyHolds(p.steps[o.step].Unless)
}

// inBottles: with everything in bottles, what is done to a vessel is over, and
// so is what was to be done before.
func inBottles(p *planner, o occurrence) (verdict, bool) {
	bottled, ok := p.c.Last(ferment.Bottle)
	before := ok && !o.opens.IsZero() && !o.opens.After(bottled.At.Time)
	return verdict{}, p.c.Stage == course.Bottled && (before || !afterBottling[p.steps[o.step].Do])
}

var afterBottling = map[string]bool{
	string(ferment.Open): true, string(ferment.Taste): true, string(ferment.Squeeze): true,
	string(ferment.Chill): true, string(ferment.Move): true, string(ferment.Choose): true, string(ferment.Accept): true,
}

// ended: what ends the step has come. Occurrences that had not opened by then
// are not there, the first is shown as lapsed all the same.
func ended(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	end := p.endOfStep(s, p.now)
	if !end.known {
		return verdict{}, false
	}
	if o.n > 1 && !o.opens.Before(end.at) {
		return verdict{}, true
	}
	if o.due.known && !o.opens.IsZero() && o.ends().Before(end.at) && p.passed(o.ends()) {
		return verdict{}, false
	}
	return verdict{state: Lapsed, reason: p.label(s) + ": " + p.endReason(*s.Ends), at: end.at}, true
}

// undated: it hangs on something that has not happened.
func undated(p *planner, o occurrence) (verdict, bool) {
	return verdict{state: Waiting, reason: p.waitsFor(o), undated: true}, !o.due.known
}

// unready: until its conditions hold it waits, without a date; one that needs
// the ferment to be young does not come again.
func unready(p *planner, o occurrence) (verdict, bool) {
	c, unmet := p.firstUnmet(p.steps[o.step].When)
	if !unmet {
		return verdict{}, false
	}
	s := p.steps[o.step]
	if p.c.IsOver(inPlan{p}, c) && p.passed(o.opens) {
		return verdict{state: Lapsed, reason: p.label(s) + ": it is not " + p.c.Words(c) + " any more", at: o.ends()}, true
	}
	if p.passed(o.ends()) && (s.Missed == ferment.Drop || o.replaced(p.now)) {
		return verdict{}, true
	}
	return verdict{state: Waiting, reason: "waits until it is " + p.c.Words(c), undated: true}, true
}

// missed: its window is over, and it is not one that may be done late.
func missed(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	if o.opens.IsZero() || !p.passed(o.ends()) {
		return verdict{}, false
	}
	if !o.next.IsZero() && p.passed(o.next) {
		return verdict{state: Lapsed, reason: p.label(s) + ": replaced by the next", at: o.next}, true
	}
	switch {
	case s.Option:
		return verdict{state: Lapsed, reason: p.label(s) + ": its time is over", at: o.ends()}, true
	case s.Missed == ferment.Drop:
		return verdict{state: Lapsed, reason: p.label(s) + ": its window closed, and it is not made up", at: o.ends()}, true
	case s.Missed == ferment.Ask && p.passed(askedUntil(o)):
		return verdict{state: Lapsed, reason: p.label(s) + ": nobody said whether it was done", at: askedUntil(o)}, true
	}
	return verdict{}, false
}

// comesLater: its window opens after the day's list, or after a dose that goes
// before it.
func comesLater(p *planner, o occurrence) (verdict, bool) {
	opens := o.opens
	if at, delayed := p.delayed[o.slot]; delayed {
		opens = at
	}
	if p.passed(opens) || opens.Before(p.dayEnd) && opens.Equal(o.opens) {
		return verdict{}, false
	}
	return verdict{state: Waiting, reason: p.waitsFor(o)}, true
}

// standing: it is in the day's list: held, late or due.
func standing(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	if h, held := p.heldBy(s, o); held {
		return verdict{state: Held, reason: h.reason, hold: h}, true
	}
	if !o.opens.IsZero() && p.passed(o.ends()) {
		return verdict{state: Late, reason: p.lateReason(s, o)}, true
	}
	return verdict{state: Due, reason: p.dueReason(s, o)}, true
}

// holds tells whether a condition holds now. What the record cannot answer
// does not hold.
func (p *planner) holds(c ferment.Condition) bool {
	holds, known := p.c.HoldsIn(inPlan{p}, c)
	return holds && known
}

func (p *planner) anyHolds(cs []ferment.Condition) bool {
	for _, c := range cs {
		if p.holds(c) {
			return true
		}
	}
	return false
}

// firstUnmet is the first condition that does not hold.
func (p *planner) firstUnmet(cs []ferment.Condition) (ferment.Condition, bool) {
	for _, c := range cs {
		if !p.holds(c) {
			return c, true
		}
	}
	return ferment.Condition{}, false
}

// inPlan is what a condition may ask of the plan, as of now.
type inPlan struct{ *planner }

// Done is when an act, a measurement or a step was done.
func (p inPlan) Done(name string, last bool) (time.Time, bool) {
	i := p.anchor(name, last, p.now)
	return i.at, i.known
}

// Noted is when an act or a measurement was last written down.
func (p inPlan) Noted(name string) (time.Time, bool) {
	ts := p.times[name]
	if len(ts) == 0 {
		return time.Time{}, false
	}
	return ts[len(ts)-1], true
}

// Does is what a step of the plan does.
func (p inPlan) Does(step string) string {
	if i, ok := p.index[step]; ok {
		return p.steps[i].Do
	}
	return step
}

// Passed tells whether a time has come.
func (p inPlan) Passed(t time.Time) bool { return p.passed(t) }

// Clock is a time as near as it needs to be named.
func (p inPlan) Clock(t time.Time) string { return p.clock(t) }

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
