package schedule

import (
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

type verdict struct {
	state   State // empty if there is no such task
	reason  string
	at      time.Time // when it lapsed
	hold    Hold
	undated bool               // its times do not apply yet
	ended   bool               // it lapsed because what it is for has come
	past    ferment.BreakLimit // the break that ended it
}

// rule decides the state of an occurrence, or leaves it to the next rule.
type rule func(*planner, occurrence) (verdict, bool)

// rules are tried in order; the last one always decides.
var rules = []rule{excepted, inBottles, ended, undated, unready, mergedAway, shutForGood, missed, comesLater, standing}

// lapsed is the verdict on a task that is too late.
func lapsed(at time.Time, why string) (verdict, bool) {
	return verdict{state: Lapsed, reason: why, at: at}, true
}

// excepted: there is no task while one of its exceptions holds.
func excepted(p *planner, o occurrence) (verdict, bool) {
	return verdict{}, p.anyHolds(o.step.Unless)
}

// inBottles: once all is bottled, tasks about the vessel are over, and so is what was due before.
func inBottles(p *planner, o occurrence) (verdict, bool) {
	bottled, ok := p.c.Last(ferment.Bottle)
	before := ok && !o.opens.IsZero() && !o.opens.After(bottled.At.Time)
	return verdict{}, p.c.Stage == course.Bottled && (before || !slices.Contains(afterBottling, ferment.Act(o.step.Do)))
}

var afterBottling = []ferment.Act{ferment.Open, ferment.Taste, ferment.Squeeze, ferment.Chill, ferment.Move, ferment.Choose, ferment.Accept}

// ended: the step's end has come. Occurrences that had not opened by then are removed, except that the first is shown
// as lapsed.
func ended(p *planner, o occurrence) (verdict, bool) {
	end := p.endOf(o.step, p.now)
	switch {
	case !end.known:
		return verdict{}, false
	case o.n > 1 && !o.opens.Before(end.at):
		return verdict{}, true
	case o.due.known && !o.opens.IsZero() && o.ends().Before(end.at) && p.Passed(o.ends()):
		return verdict{}, false
	}
	v, is := lapsed(end.at, p.say.ended(*o.step.Ends))
	v.ended = o.step.Do != string(ferment.Aerate) // air that was not given is missed
	return v, is
}

func undated(p *planner, o occurrence) (verdict, bool) {
	return verdict{state: Waiting, reason: p.waitsFor(o), undated: true}, !o.due.known
}

// unready: until its conditions hold the step waits, without a date; only once for a young ferment.
func unready(p *planner, o occurrence) (verdict, bool) {
	i := p.unmet(o.step.When)
	if i < 0 {
		return verdict{}, false
	}
	c := o.step.When[i]
	switch {
	case p.c.IsOver(p, c) && p.Passed(o.opens):
		return lapsed(o.ends(), "it is not "+p.c.Words(c)+" any more")
	case p.Passed(o.ends()) && (o.step.Missed == ferment.Drop || o.replaced(p.now)):
		return verdict{}, true
	}
	return verdict{state: Waiting, reason: "waits until it is " + p.c.Words(c), undated: true}, true
}

// mergedAway lets a dose lapse that is given with another one.
func mergedAway(p *planner, o occurrence) (verdict, bool) {
	m, merged := p.merged[o.slot]
	if !merged {
		return verdict{}, false
	}
	return lapsed(m.at, "now part of "+ferment.Spaced(p.steps[m.into.i].Name))
}

// shutForGood: gravity or alcohol has closed a planned dose, or the dose was not due yet when the open zone ended, or
// all the nitrogen was given.
func shutForGood(p *planner, o occurrence) (verdict, bool) {
	n := p.nutrient
	switch {
	case o.step.Gate != ferment.NutrientGate:
		return verdict{}, false
	case n.isOver():
		return verdict{state: Lapsed, reason: n.why, at: n.past.At, past: n.passed}, true
	case n.zone == unknown && !p.c.Steady.Met.IsZero():
		return lapsed(p.c.Steady.Met, "the gravity has been steady")
	case n.zone == grace && o.opens.After(n.crossed):
		b := p.c.Limits.AmmoniumUntil
		return verdict{state: Lapsed, reason: fmt.Sprintf("it was not due yet at the %s break", b.Sign()), at: n.past.At, past: b}, true
	case p.doses.allGiven():
		return lapsed(p.doses.lastGiven, p.doses.givenWords())
	}
	return verdict{}, false
}

// missed: its window is over, and it cannot be done late.
func missed(p *planner, o occurrence) (verdict, bool) {
	switch s := o.step; {
	case o.opens.IsZero() || !p.Passed(o.ends()):
		return verdict{}, false
	case o.replaced(p.now):
		return lapsed(o.next, "replaced by the next")
	case s.Option || s.Missed == ferment.Drop:
		return lapsed(o.ends(), "its time is over")
	case s.Missed == ferment.Ask && p.Passed(o.askedUntil()):
		return lapsed(o.askedUntil(), "it was not written down whether it was done")
	}
	return verdict{}, false
}

// comesLater: its window opens after the day's list, or after a dose that must be given before.
func comesLater(p *planner, o occurrence) (verdict, bool) {
	opens := o.opens
	if at, delayed := p.delayed[o.slot]; delayed {
		opens = at
	}
	if p.Passed(opens) || opens.Before(p.dayEnd) && opens.Equal(o.opens) {
		return verdict{}, false
	}
	return verdict{state: Waiting, reason: p.waitsFor(o)}, true
}

// standing is the last rule: held, due, late, or over.
func standing(p *planner, o occurrence) (verdict, bool) {
	if h, held := p.heldBy(*o.step); held {
		return verdict{state: Held, reason: h.reason, hold: h}, true
	}
	v, s := verdict{state: Due, reason: p.say.when(o.step.Due) + p.say.again(*o.step)}, *o.step
	past := p.age(o.ends()) + " late; may "
	switch isLate := !o.opens.IsZero() && p.Passed(o.ends()); {
	case isLate && s.Missed == ferment.Ask:
		v = verdict{state: Late, reason: "the time for it is over: was it done"}
	case isLate && s.Gate == ferment.NutrientGate:
		v = verdict{state: Late, reason: past + "be given down to " + p.nutrient.grace.String()}
	case isLate:
		v = verdict{state: Late, reason: past + "still be done"}
	case s.Say != "":
		v.reason = s.Say + p.say.again(s)
	case o.n > 1:
		v.reason = p.say.comes(s, o.n)
	}
	return v, true
}

func (p *planner) waitsFor(o occurrence) string { return "comes " + p.say.comes(*o.step, o.n) }
