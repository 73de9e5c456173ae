package schedule

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// calendar dates the steps of a plan, by a record and by what its entries have settled.
type calendar struct {
	*record
	steps   []ferment.Step
	index   map[string]int       // step name → place in steps
	settled map[slot]bool        // done or skipped
	history map[int][]settlement // the same by step, in order of time
	met     map[ferment.Condition]instant
	depth   int
}

func newCalendar(r *record, steps []ferment.Step) *calendar {
	k := &calendar{record: r, steps: steps, index: map[string]int{}, settled: map[slot]bool{}, history: map[int][]settlement{},
		met: map[ferment.Condition]instant{}}
	for i, s := range steps {
		k.index[s.Name] = i
	}
	return k
}

// deepest is the longest chain of steps that depend on each other, so that a circular plan ends as one without dates.
const deepest = 24

// when returns the instant of a time in a plan, by what had happened as of a moment.
func (k *calendar) when(w ferment.When, asOf time.Time) instant {
	// A step may be dated by another step: when calls anchor, anchor calls stepTime, and that calls series, which calls
	// when again. Every call has the same asOf, so that an entry is judged by what was known at its time. A circle of
	// steps ends at the depth limit as "not known".
	if k.depth >= deepest {
		return instant{}
	}
	k.depth++
	defer func() { k.depth-- }()
	each := func(ws []ferment.When) []instant {
		return ferment.Map(ws, func(one ferment.When) instant { return k.when(one, asOf) })
	}
	at := instant{}
	switch pt := w.Point; {
	case len(w.First) > 0:
		return firstOf(each(w.First))
	case len(w.Last) > 0:
		return lastOf(each(w.Last))
	case pt.Condition != nil:
		at = k.conditionMet(*pt.Condition, asOf)
	case pt.EndOf != "":
		if i, ok := k.index[pt.EndOf]; ok && k.steps[i].Quiet != nil {
			at = k.when(k.steps[i].Quiet.To, asOf) // "quiet" inside its own end means its beginning
		}
	default:
		at = k.anchor(pt.Anchor, pt.Last, asOf)
	}
	return at.moved(w.Offset)
}

// conditionMet returns when a condition was first met, or when it is expected by the readings.
func (k *calendar) conditionMet(cond ferment.Condition, asOf time.Time) instant {
	switch cond.Kind {
	case ferment.StepDone:
		return k.anchor(cond.Word, false, asOf)
	case ferment.HasStarted:
		if s := k.c.Started; s.Known && (s.Assumed || !s.At.After(asOf)) {
			return known(s.At.In(k.zone))
		}
		return instant{}
	}
	i, ok := k.met[cond]
	if !ok {
		if t, met := k.c.FirstMet(cond); met {
			i = known(t.In(k.zone))
		} else if g, level := k.c.LevelOf(cond); level {
			if e, reached := k.c.Reaches(g); reached {
				i = instant{expected: &e}
			}
		}
		k.met[cond] = i // the log has one answer; asOf only decides whether it was known by then
	}
	if i.known && i.at.After(asOf) {
		return instant{}
	}
	return i
}

// anchor returns when an act, a measurement or, if there is none, a step was done.
func (k *calendar) anchor(name string, last bool, asOf time.Time) instant {
	switch name {
	case "planned pitch":
		return k.plannedPitch()
	case "quiet":
		if i := slices.IndexFunc(k.steps, func(s ferment.Step) bool { return s.Quiet != nil }); i >= 0 {
			return k.when(k.steps[i].Quiet.From, asOf)
		}
		return instant{}
	case string(ferment.Pitch):
		if at := k.c.Pitch.At; k.c.Pitch.Known && !last {
			if at.After(asOf) {
				return instant{}
			}
			return known(at.In(k.zone))
		}
	case string(ferment.Mix):
		return k.mixed()
	}
	if ts := k.upTo(name, asOf); len(ts) > 0 {
		if last {
			return known(ts[len(ts)-1])
		}
		return known(ts[0])
	}
	if i, is := k.index[name]; is {
		return k.stepTime(i, asOf)
	}
	return instant{}
}

// mixed returns when the must was made: as recorded, else the first entry of the log; zero for an empty log.
func (k *calendar) mixed() instant {
	if ts := k.times[string(ferment.Mix)]; len(ts) > 0 {
		return known(ts[0])
	}
	if len(k.entries) > 0 {
		return known(k.entries[0].At.Time.In(k.zone))
	}
	return known(time.Time{})
}

// plannedPitch returns the pitch that is noted for a future day, or the actual pitch; else three days after the must
// was made, for the starter.
func (k *calendar) plannedPitch() instant {
	if e, noted := ferment.FirstWhere(k.c.Later, func(e *ferment.Entry) bool { return e.Did == ferment.Pitch }); noted {
		return known(e.At.Time.In(k.zone))
	}
	if k.c.Pitch.Known {
		return known(k.c.Pitch.At.In(k.zone))
	}
	return k.mixed().moved(ferment.Offset{Number: 3, Unit: ferment.Day})
}

// stepTime returns when a step was settled; for a lapsed one its due time.
func (k *calendar) stepTime(i int, asOf time.Time) instant {
	if h := k.history[i]; len(h) > 0 && !h[0].at.After(asOf) {
		return known(h[0].at)
	}
	if k.steps[i].Quiet != nil {
		return k.when(k.steps[i].Quiet.From, asOf)
	}
	o, ok := k.series(i, asOf).occurrence(1)
	if !ok || !o.due.known {
		return instant{}
	}
	if t, ok := k.measuredIn(o, asOf); ok {
		return known(t)
	}
	if o.step.Do == string(ferment.Bottle) {
		return instant{} // nothing is in bottles before somebody says so
	}
	if k.endOf(o.step, asOf).known || o.missed(asOf) {
		return known(o.due.at)
	}
	return instant{}
}

// series returns the times of a step as they were known at a time.
func (k *calendar) series(i int, asOf time.Time) series {
	step := &k.steps[i]
	s := series{i: i, step: step, first: k.when(step.Due, asOf)}
	if s.round = k.inRound(step); s.round && s.first.known {
		s.first.at = k.roundNear(s.first.at)
	} else if e := s.first.expected; s.round && e != nil {
		s.first.expected = &course.Expected{At: k.roundNear(e.At.In(k.zone)), Within: e.Within}
	}
	if name, moves := movingAnchor(step.Due); moves {
		s.moving = k.anchor(name, true, asOf).at
		for _, h := range k.history[i] {
			if !h.base.Equal(s.moving) {
				s.before++
			}
		}
	}
	if r := step.Repeat; r != nil {
		if r.From != nil {
			s.from = k.when(*r.From, asOf)
		}
		if r.Until != nil {
			s.until = k.when(*r.Until, asOf)
		}
	}
	return s
}

// inRound reports whether a step is a weekly look that belongs to the cellar's weekly round.
func (k *calendar) inRound(s *ferment.Step) bool {
	return !k.isCulture() && k.c.Settings.Round != "" && s.Do == string(ferment.Look) && s.Repeat != nil &&
		(s.Repeat.Every == ferment.Offset{Number: 7, Unit: ferment.Day} || s.Repeat.Every == ferment.Offset{Number: 1, Unit: ferment.Week})
}

// roundNear returns the morning of the day of the round that is nearest to a time.
func (k *calendar) roundNear(at time.Time) time.Time {
	at = at.AddDate(0, 0, -3)
	for !strings.EqualFold(at.Weekday().String(), k.c.Settings.Round) {
		at = at.AddDate(0, 0, 1)
	}
	y, m, d := at.Date()
	return time.Date(y, m, d, 0, int(k.c.Settings.Morning/time.Minute), 0, 0, at.Location())
}

// endOf returns when a step ended for good, up to a moment.
func (k *calendar) endOf(s *ferment.Step, asOf time.Time) instant {
	if s.Ends == nil {
		return instant{}
	}
	if c := s.Ends.Point.Condition; c != nil && c.Kind == ferment.HasStarted && k.c.Started.Assumed {
		return instant{} // never by the clock alone
	}
	end := k.when(*s.Ends, asOf)
	if end.known && end.at.After(asOf) {
		return instant{}
	}
	return end
}

// measuredIn returns when a measurement settled an occurrence: the first one in its window, or after it if it may be
// late.
func (k *calendar) measuredIn(o occurrence, asOf time.Time) (time.Time, bool) {
	if !ferment.IsMeasurement(o.step.Do) || o.opens.IsZero() {
		return time.Time{}, false
	}
	ts := k.upTo(o.step.Do, asOf)
	n, _ := slices.BinarySearchFunc(ts, o.opens, time.Time.Compare)
	if n == len(ts) || !o.mayBeDone(ts[n]) {
		return time.Time{}, false
	}
	return ts[n], true
}

// holds reports whether a condition holds now; false if the record cannot tell.
func (k *calendar) holds(c ferment.Condition) bool {
	holds, known := k.c.HoldsIn(k, c)
	return holds && known
}

func (k *calendar) anyHolds(cs []ferment.Condition) bool { return slices.ContainsFunc(cs, k.holds) }

// unmet returns the index of the first condition that does not hold, -1 for none.
func (k *calendar) unmet(cs []ferment.Condition) int {
	return slices.IndexFunc(cs, func(c ferment.Condition) bool { return !k.holds(c) })
}

// Done returns when an act, a measurement or a step was done, as of now.
func (k *calendar) Done(name string, last bool) (time.Time, bool) {
	i := k.anchor(name, last, k.now)
	return i.at, i.known
}

// Noted returns when an act or a measurement was last logged.
func (k *calendar) Noted(name string) (time.Time, bool) {
	ts := k.times[name]
	if len(ts) == 0 {
		return time.Time{}, false
	}
	return ts[len(ts)-1], true
}

func (k *calendar) Doing(name string) string { return wording{k.c, k.steps}.doing(name) }

// Does returns what a step does; a name that is no step is the act itself.
func (k *calendar) Does(step string) string {
	if i, ok := k.index[step]; ok {
		return k.steps[i].Do
	}
	return step
}
