package schedule

import (
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/protocol"
)

// planner calculates one day, for one course.
type planner struct {
	*ledger
	say      wording
	gates    *gates
	nutrient *nutrition
	doses    doses
	quiet    *Quiet
	horizon  time.Time // repeated steps are followed up to it
}

func newPlanner(p ferment.Protocol, c *course.Course) *planner {
	r := newRecord(c)
	n := newNutrition(r)
	pl := &planner{gates: newGates(filling{record: r}, n), nutrient: n}
	steps := stepsFor(p, c)
	pl.say = wording{r.c, steps}
	pl.doses = newDoses(r, steps)
	pl.ledger = newLedger(newCalendar(r, steps))
	return pl
}

// stepsFor returns the steps for the subject, with their defaults; those of the plan itself if it is complete.
func stepsFor(p ferment.Protocol, c *course.Course) []ferment.Step {
	other := func(s ferment.Step) bool { return s.Culture != (c.Culture != nil) }
	pitches := func(s ferment.Step) bool { return s.Do == string(ferment.Pitch) && !other(s) }
	adds := c.Culture == nil && !slices.ContainsFunc(p.Steps, pitches)
	if p.Complete && !adds && !slices.ContainsFunc(p.Steps, other) {
		return p.Steps
	}
	steps := slices.DeleteFunc(slices.Clone(p.Steps), other)
	if adds {
		steps = slices.Insert(steps, 0, barePitch)
	}
	for i := range steps {
		complete(&steps[i])
	}
	return steps
}

func complete(s *ferment.Step) {
	protocol.Complete(s)
	if s.Do == string(ferment.Nutrient) && s.Gate == ferment.NoGate {
		s.Gate = ferment.NutrientGate
	}
}

// barePitch is the pitch for a plan that has none.
var barePitch = ferment.Step{
	Name: string(ferment.Pitch), Do: string(ferment.Pitch), Amount: byFigure, Missed: ferment.Late,
	Due:    ferment.When{Point: ferment.Point{Anchor: string(ferment.Mix)}, Text: string(ferment.Mix)},
	Window: ferment.Window{Opens: ferment.Offset{Unit: ferment.Hour}, Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}},
}

// heldBy returns the reason against a step now: a danger, a need, an earlier dose, a gate.
func (p *planner) heldBy(s ferment.Step) (Hold, bool) {
	if h, held := p.gates.stopped(s.Do); held {
		return h, true
	}
	if i := p.unmet(s.Needs); i >= 0 {
		c := s.Needs[i]
		h := Hold{Need: c, name: c.Text, verdict: "held", frees: p.c.FreedBy(p, c), asks: p.c.AskedBy(p, c), reason: p.c.Unmet(p, c)}
		if last, done := p.Done(c.Word, true); done && c.Kind == ferment.ActAtLeastAgo {
			h.Wait = &Wait{"the last " + ferment.Spaced(c.Word) + " was", last, c.Offset.Add(last)}
		}
		return h, true
	}
	if h, held := p.tooSoon(s.Do); held {
		return h, true
	}
	if h, held := p.sweetening(s.Do); held {
		return h, true
	}
	switch {
	case s.Gate == ferment.NutrientGate && p.c.Settings.Unread:
		return Hold{name: string(s.Gate), verdict: "held", reason: ferment.Unlimited}, true
	case s.Gate == ferment.NoGate, s.Gate == ferment.NutrientGate && p.nutrient.withTheYeast(s):
		return Hold{}, false
	case s.Gate == ferment.NutrientGate:
		return p.nutrient.hold()
	}
	return p.gates.shut(s.Gate)
}

// tooSoon returns the reason if a dose or a buffer is too soon after the last addition.
func (r *record) tooSoon(do string) (Hold, bool) {
	const bufferSpacing = 6 * time.Hour // both make it foam (common practice, no source)
	switch ferment.Act(do) {
	case ferment.Nutrient:
		if h, soon := r.spaced(ferment.Nutrient, r.c.Limits.Spacing, "doses must be"); soon {
			return h, true
		}
		return r.spaced(ferment.Buffer, bufferSpacing, "a dose and a buffer must be")
	case ferment.Buffer:
		return r.spaced(ferment.Nutrient, bufferSpacing, "a dose and a buffer must be")
	}
	return Hold{}, false
}

// spaced holds an act for some time after the last one of its kind.
func (r *record) spaced(act ferment.Act, spacing time.Duration, rule string) (Hold, bool) {
	last, ok := r.c.Last(act)
	if !ok {
		return Hold{}, false
	}
	went, again := string(act), last.At.Latest().Add(spacing)
	if last.Amount.Known() {
		went = last.Amount.Text
	}
	why := fmt.Sprintf("%s went in at %s; %s %s apart: not before %s", went, r.Clock(last.At.Time), rule, span(spacing), r.Clock(again))
	return Hold{name: "spacing", verdict: "too soon", reason: why, Wait: &Wait{went + " went in", last.At.Time, again}}, !r.Passed(again)
}

// sweetening returns the reason against sugar once the gravity was steady: it would ferment, until a day after
// stabilising. Before that it is feeding, allowed unless sulphite was given; so is fruit, which is meant to ferment.
func (r *record) sweetening(do string) (Hold, bool) {
	const rest = 24 * time.Hour // from stabilising to sweetening (common practice, no source)
	if do != string(ferment.Honey) || r.c.Steady.Met.IsZero() && !r.sulphited() {
		return Hold{}, false
	}
	h := Hold{name: "sweetening", verdict: "held"}
	at, stabilised := r.c.FirstMet(hasCondition(ferment.Stabilised))
	switch {
	case !stabilised && r.c.Steady.Met.IsZero():
		h.reason, h.frees = "it has sulphite and was never steady, so it is not stabilised: the sugar would ferment", ferment.DoGravity
		h.instead = "wait until it is steady; then add sulphite and sorbate, wait a day, and add honey"
	case !stabilised:
		h.reason, h.frees = "it has been steady and is not stabilised: the sugar would ferment", string(ferment.Sulphite)
		h.instead = "add sulphite and sorbate first, then wait a day"
	case !r.Passed(at.Add(rest)):
		h.Wait = &Wait{"it was stabilised", at, at.Add(rest)}
		h.reason = "stabilised " + r.Clock(at) + ": not before " + r.Clock(at.Add(rest))
	default:
		return Hold{}, false
	}
	return h, true
}

// early returns the reason against an act that would remove the yeast before the end.
func (r *record) early(do string) (Hold, bool) {
	const stillWorks = 2 // points a day (common practice, no source)
	h := Hold{name: "too early", verdict: "too early", frees: ferment.DoGravity}
	if !r.c.Pitch.Known || r.c.Steady.Open || r.c.Pace.Value < stillWorks {
		return Hold{}, false
	}
	falls := "it still falls, " + measure.Decimal(r.c.Pace.Value, 1) + " points a day"
	switch ferment.Act(do) {
	case ferment.Rack:
		h.reason = falls + ": racking now would leave behind the yeast that should finish it"
		h.instead = "leave it on its lees until it is near its finish"
	case ferment.Sulphite:
		h.reason = falls + ", and sulphite alone does not stop yeast"
		h.instead = "wait until it is steady, then add sulphite and sorbate together"
	default:
		return Hold{}, false
	}
	return h, true
}
