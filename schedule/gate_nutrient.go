package schedule

import (
	"cmp"
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// zone is how far nutrient may still be given: gravity and alcohol say so, the
// clock never.
type zone string

const (
	unstarted zone = "not started"
	open      zone = "open"
	grace     zone = "grace" // what is due already may be given
	late      zone = "late"  // one organic dose, by choice
	closed    zone = "closed"
	unknown   zone = "unknown" // no original gravity, so no breaks
)

// nutrition is the nutrient gate as it stands.
type nutrition struct {
	zone    zone
	first   measure.Gravity // the break at which the open zone ends
	grace   measure.Gravity // where a due dose may still be given
	last    measure.Gravity // the break past which nothing may
	crossed time.Time       // when the first break was met
	past    course.Reading  // the reading that shows the zone
	reading course.Reading  // the latest that is trusted
	read    bool
	fresh   bool
	why     string // of late and closed
}

func (p *planner) nutritionNow() nutrition {
	l := p.c.Limits
	n := nutrition{zone: unstarted}
	n.reading, n.read = p.latestReading()
	if n.read {
		n.fresh = !p.passed(n.reading.Moment.Earliest().Add(l.Fresh))
	}
	first, last := p.c.Break(l.AmmoniumUntil.Fraction()), p.c.Break(l.OrganicUntil.Fraction())
	if !first.IsKnown() || !last.IsKnown() {
		n.zone, n.why = unknown, cmp.Or(first.Unknown, last.Unknown)
		return n
	}
	n.first, n.last = first.Value.Rounded(4), last.Value.Rounded(4)
	n.grace = (n.first - measure.Gravity(l.Grace)).Rounded(4)
	if p.holds(hasCondition(ferment.HasStarted)) {
		n.zone = open
	}
	if t, crossed := p.c.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: l.AmmoniumUntil, Text: "break " + l.AmmoniumUntil.Sign()}); crossed {
		n.crossed = t
		p.pastBreak(&n)
	}
	if a := p.c.Alcohol; a.IsKnown() && a.Value > l.NutrientAlcohol {
		n.zone, n.past = closed, n.reading
		n.why = fmt.Sprintf("%s is over %s", a.Value, l.NutrientAlcohol)
	}
	return n
}

// pastBreak finds the zone behind the first break, by the lowest reading since:
// honey fed later raises gravity and does not open the gate again.
func (p *planner) pastBreak(n *nutrition) {
	lowest, ok := p.lowestSince(n.crossed)
	if !ok {
		return
	}
	g, l := lowest.Gravity.Rounded(4), p.c.Limits
	n.past = lowest
	name := l.AmmoniumUntil.Sign()
	switch {
	case g < n.last:
		n.zone, n.why = closed, fmt.Sprintf("%s is past the %s break, %s", g, l.OrganicUntil.Sign(), n.last)
	case g < n.grace:
		n.zone, n.why = late, fmt.Sprintf("%s is more than %s past the %s break", g, decimal(l.Grace), name)
	default:
		n.zone = grace
	}
}

func (p *planner) latestReading() (course.Reading, bool) {
	for i := len(p.c.Readings) - 1; i >= 0; i-- {
		if r := p.c.Readings[i]; r.Doubt == "" && !r.Replaced {
			return r, true
		}
	}
	return course.Reading{}, false
}

func (p *planner) lowestSince(t time.Time) (course.Reading, bool) {
	var lowest course.Reading
	found := false
	for _, r := range p.c.Readings {
		if r.Doubt == "" && !r.Replaced && !r.At.Before(t) && (!found || r.Gravity < lowest.Gravity) {
			lowest, found = r, true
		}
	}
	return lowest, found
}

// nutrientHold is why a dose may not be given yet.
func (p *planner) nutrientHold() (hold, bool) {
	n := p.nutrient
	h := hold{name: string(ferment.NutrientGate), verdict: "held", frees: ferment.DoGravity}
	switch {
	case n.zone == unknown:
		h.frees, h.reason = "", n.why
	case n.zone == closed, n.zone == late:
		h.verdict, h.frees, h.reason = "closed", "", n.why
	case n.zone == unstarted:
		h.frees, h.reason = string(ferment.Started), "no start is recorded and no fall of 0.003 was read"
	default:
		return p.stale()
	}
	return h, true
}

// withTheYeast tells whether a plan gives a dose at the pitch, and it is still
// time for that: then only the caps stand against it. Wild yeast is fed once it
// works, since what else is in the must would be fed as well.
func (p *planner) withTheYeast(s ferment.Step) bool {
	atPitch := s.Due.Point.Anchor == string(ferment.Pitch) && s.Due.Offset.Number == 0
	return atPitch && !p.isWild() && (p.nutrient.zone == unstarted || p.nutrient.zone == open)
}

// stale is the hold of a reading that says too little by now.
func (p *planner) stale() (hold, bool) {
	n := p.nutrient
	if n.read && n.fresh {
		return hold{}, false
	}
	h := hold{name: string(ferment.NutrientGate), verdict: "held", frees: ferment.DoGravity, reason: "gravity was never read"}
	if n.read {
		h.reason = fmt.Sprintf("the reading is %s old, the limit is %s", p.age(n.reading.Moment.Earliest()), span(p.c.Limits.Fresh))
	}
	return h, true
}

// shutForGood: gravity or alcohol has closed a planned dose, or it was not due
// yet when the open zone ended, or all that is wanted has been given.
func shutForGood(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	if s.Gate != ferment.NutrientGate {
		return verdict{}, false
	}
	n := p.nutrient
	lapsed := verdict{state: Lapsed, at: n.past.At}
	switch {
	case n.zone == closed, n.zone == late:
		lapsed.reason = p.label(s) + ": " + n.why
	case n.zone == unknown && !p.c.Steady.Met.IsZero():
		lapsed.at, lapsed.reason = p.c.Steady.Met, p.label(s)+": the gravity has been steady"
	case n.zone == grace && o.opens.After(n.crossed):
		lapsed.reason = fmt.Sprintf("%s: it was not due yet at the %s break", p.label(s), p.c.Limits.AmmoniumUntil.Sign())
	case p.doses.allGiven():
		lapsed.at, lapsed.reason = p.doses.lastGiven, p.label(s)+": "+p.doses.givenWords()
	default:
		return verdict{}, false
	}
	return lapsed, true
}

// nutrientUntil is the gravity down to which a planned dose may be given.
func (p *planner) nutrientUntil() *Limit {
	if p.nutrient.zone == unknown {
		return nil
	}
	return p.limitAt(p.nutrient.grace)
}

func (p *planner) limitAt(g measure.Gravity) *Limit {
	l := &Limit{Gravity: g}
	if e, ok := p.c.Reaches(g); ok {
		l.Expected = &e
	}
	return l
}

// nutrientGate is the gate as the gates are shown.
func (p *planner) nutrientGate() Gate {
	n := p.nutrient
	g := Gate{Name: ferment.NutrientGate}
	if h, held := p.nutrientHold(); held {
		g.Says = h.reason
		if n.zone == late || n.zone == closed {
			g.Says += "; it stays shut"
		}
		g.Unmet = []course.Unmet{{What: h.reason, Act: h.frees}}
		return g
	}
	g.Open, g.Says = true, fmt.Sprintf("open down to the %s break, %s", p.c.Limits.AmmoniumUntil.Sign(), n.first)
	if n.zone == grace {
		g.Says = fmt.Sprintf("past the %s break; what is due may be given down to %s", p.c.Limits.AmmoniumUntil.Sign(), n.grace)
	}
	return g
}
