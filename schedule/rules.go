package schedule

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
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
