package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// zone is whether nutrient may still be given, by gravity and alcohol, never by the clock.
type zone string

const (
	unstarted zone = "not started"
	open      zone = "open"
	grace     zone = "grace" // only what is due already
	late      zone = "late"  // one organic dose, by choice
	closed    zone = "closed"
	unknown   zone = "unknown" // no original gravity, so no breaks
)

// nutrition is whether and how nutrient may be given now.
type nutrition struct {
	*record
	zone    zone
	first   measure.Gravity    // the break at which the open zone ends
	grace   measure.Gravity    // down to here a due dose may be given
	last    measure.Gravity    // the break after which none may
	crossed time.Time          // when the first break was reached
	past    course.Reading     // the reading that shows the zone
	reading course.Reading     // the latest trusted one
	why     string             // reason of late and closed
	passed  ferment.BreakLimit // the break below which it is late or closed
}

// newNutrition reads off the log in which zone nutrient is: from before the start to closed for good.
func newNutrition(r *record) *nutrition {
	l, n := r.c.Limits, &nutrition{record: r, zone: unstarted}
	n.reading, _ = ferment.LastWhere(r.c.Readings, course.Reading.Trusted)
	first, last := r.c.Break(l.AmmoniumUntil.Fraction()), r.c.Break(l.OrganicUntil.Fraction())
	if !first.IsKnown() || !last.IsKnown() {
		n.zone, n.why = unknown, cmp.Or(first.Unknown, last.Unknown)
		return n
	}
	n.first, n.last = first.Value.Rounded(4), last.Value.Rounded(4)
	n.grace = (n.first - measure.Gravity(l.Grace)).Rounded(4)
	if r.is(ferment.HasStarted) {
		n.zone = open
	}
	if t, crossed := r.c.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: l.AmmoniumUntil, Text: "break " + l.AmmoniumUntil.Sign()}); crossed {
		n.crossed = t
		n.pastBreak()
	}
	if a := r.c.Alcohol; a.IsKnown() && a.Value > l.NutrientAlcohol {
		if n.zone = closed; n.past.At.IsZero() {
			n.past = n.reading
		}
		n.passed, n.why = ferment.BreakLimit{}, fmt.Sprintf("%s is over %s", a.Value, l.NutrientAlcohol)
	}
	return n
}

// pastBreak finds the zone after the first break, by the lowest reading: honey fed later does not reopen the gate. The
// zone counts from the first reading that showed it.
func (n *nutrition) pastBreak() {
	since := ferment.Where(n.c.Readings, func(r course.Reading) bool { return r.Trusted() && !r.At.Before(n.crossed) })
	if len(since) == 0 {
		return
	}
	lowest := slices.MinFunc(since, func(a, b course.Reading) int { return cmp.Compare(a.Gravity, b.Gravity) })
	n.past = since[max(slices.IndexFunc(since, func(r course.Reading) bool { return r.Gravity.Rounded(4) < n.grace }), 0)]
	switch g, l := lowest.Gravity.Rounded(4), n.c.Limits; {
	case g < n.last:
		n.zone, n.passed, n.why = closed, l.OrganicUntil, fmt.Sprintf("%s is past the %s break, %s", g, l.OrganicUntil.Sign(), n.last)
	case g < n.grace:
		n.zone, n.passed, n.why = late, l.AmmoniumUntil, fmt.Sprintf("%s is more than %s past the %s break", g, decimal(l.Grace), l.AmmoniumUntil.Sign())
	default:
		n.zone = grace
	}
}

func (n *nutrition) isOver() bool { return n.zone == late || n.zone == closed }

// hold returns what forbids nutrient now.
func (n *nutrition) hold() (Hold, bool) {
	h := Hold{name: string(ferment.NutrientGate), verdict: "held", frees: ferment.DoGravity}
	switch {
	case n.zone == unknown:
		h.frees, h.reason = "", n.why
	case n.isOver():
		h.verdict, h.frees, h.reason = "closed", "", n.why
	case n.zone == unstarted:
		h.frees, h.reason = string(ferment.Started), "no sign of fermentation yet"
	default:
		return n.unsure(n.grace)
	}
	return h, true
}

// unsure holds a dose if the reading is too old for its limit, or the limit was probably passed since.
func (n *nutrition) unsure(limit measure.Gravity) (Hold, bool) {
	h := Hold{name: string(ferment.NutrientGate), verdict: "held", frees: ferment.DoGravity}
	read, fresh, ahead := n.reading.Moment.Earliest(), n.c.Limits.Fresh, n.until(limit)
	switch {
	case n.reading.At.IsZero():
		h.reason = "gravity was never read"
	case n.Passed(read.Add(fresh)):
		h.reason = fmt.Sprintf("the reading is %s old, the limit is %s", n.age(read), span(fresh))
	case ahead != nil && ahead.Expected != nil && n.Passed(ahead.Expected.At):
		h.reason = "it has probably passed " + limit.String() + ", the limit for this dose: take gravity first"
	}
	return h, h.reason != ""
}

// withTheYeast reports whether a plan gives a dose at the pitch and it is time for it; only the caps limit it. A wild
// yeast is not fed before it has started, or other microbes in the must would be.
func (n *nutrition) withTheYeast(s ferment.Step) bool {
	atPitch := s.Due.Point.Anchor == string(ferment.Pitch) && s.Due.Offset.Number == 0
	return atPitch && !n.isWild() && (n.zone == unstarted || n.zone == open)
}

// until returns the gravity down to which a dose may be given, nil if unknown.
func (n *nutrition) until(g measure.Gravity) *Limit {
	if n.zone == unknown {
		return nil
	}
	l := &Limit{Gravity: g}
	if e, ok := n.c.Reaches(g); ok {
		l.Expected = &e
	}
	return l
}

func (n *nutrition) gate() Gate {
	g, name := Gate{Name: ferment.NutrientGate}, n.c.Limits.AmmoniumUntil.Sign()
	if h, held := n.hold(); held {
		g.Says = h.reason
		if n.isOver() {
			g.Says += "; no more nutrient"
		}
		g.Unmet = []course.Unmet{{What: h.reason, Act: h.frees}}
		return g
	}
	g.Open, g.Says = true, fmt.Sprintf("may be given down to the %s break, %s", name, n.first)
	if n.zone == grace {
		g.Says = fmt.Sprintf("past the %s break; a dose that is due may still be given, down to %s", name, n.grace)
	}
	return g
}

// span writes a duration in whole hours or minutes.
func span(d time.Duration) string {
	if d%time.Hour == 0 || d > 2*time.Hour {
		return fmt.Sprintf("%.0f h", d.Hours())
	}
	return fmt.Sprintf("%.0f min", d.Minutes())
}
