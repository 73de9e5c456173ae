package course

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// is wraps a question that the record can always answer.
func is(holds func(question) bool) func(question) (holds, known bool) {
	return func(q question) (bool, bool) { return holds(q), true }
}

func never(question) bool { return false }

// by answers that one act or measurement can make the condition true, whatever the question.
func by[T ~string](act T) func(question) string {
	return func(question) string { return string(act) }
}

func byTime(question) string { return "" }

func breakWords(before string) func(question) string {
	return func(q question) string { return before + q.cond.Break.Sign() + " break" }
}

// Conditions about gravity.

func (q question) atBreak() (holds, known bool) {
	_, met := q.breakMet()
	return met, met || q.Break(q.cond.Break.Fraction()).IsKnown() && q.Gravity.IsKnown()
}

// breakMet returns when the break was passed.
func (q question) breakMet() (time.Time, bool) {
	fraction := q.cond.Break.Fraction()
	return q.crossed(func(at time.Time) (measure.Gravity, bool) {
		g := q.breakAt(fraction, at)
		return g.Value, g.IsKnown()
	})
}

func (q question) breakLevel() (measure.Gravity, bool) {
	b := q.Break(q.cond.Break.Fraction())
	return b.Value, b.IsKnown()
}

func (q question) number() (measure.Gravity, bool) { return measure.Gravity(q.cond.Number), true }

// compares reports whether a figure is over the number of a condition (sign 1) or under it (sign -1).
func compares(of func(question) (float64, bool), sign int) func(question) (holds, known bool) {
	return func(q question) (holds, known bool) {
		n, known := of(q)
		return known && cmp.Compare(n, q.cond.Number) == sign, known
	}
}

func (q question) nowAt() (float64, bool) {
	return float64(q.Gravity.Value.Gravity), q.Gravity.IsKnown()
}

func (q question) paceNow() (float64, bool) { return q.Pace.Value, q.Pace.IsKnown() }

// toTolerance is by how much the alcohol is below the yeast's tolerance.
func (q question) toTolerance() (float64, bool) {
	t := q.Ferment.Yeast.Tolerance
	return float64(t.Value - q.Alcohol.Value), t.Known() && q.Alcohol.IsKnown()
}

// aboveMet ignores a gravity calculated from the recipe.
func (q question) aboveMet() (time.Time, bool) {
	r, met := ferment.FirstWhere(q.Readings, func(r Reading) bool {
		return r.Trusted() && r.From != FromMust && float64(r.Gravity) > q.cond.Number
	})
	return r.At, met
}

// nearWithin is how near the expected finish is near (common practice, no source).
const nearWithin measure.Gravity = 0.010

// atFinish reports whether the gravity is near the expected finish. Of an unproved culture nobody knows that: it has
// to be steady instead. What is stuck is not near it, however little sugar is left.
func (q question) atFinish() (holds, known bool) {
	if q.unproved() {
		return q.Steady.Open, true
	}
	if _, stuck := q.conditionSince(Stuck); stuck {
		return false, true
	}
	return q.within(q.Finish, nearWithin)
}

// within reports whether gravity is at most so much over a figure.
func (q question) within(f Figure[measure.Gravity], within measure.Gravity) (holds, known bool) {
	known = f.IsKnown() && q.Gravity.IsKnown()
	return known && q.Gravity.Value.Gravity <= f.Value+within+tiny, known
}

func (q question) nearFinish() (time.Time, bool) {
	if q.unproved() {
		return q.steadyMet()
	}
	return q.crossed(over(q.Finish, nearWithin))
}

// over is so far above a figure.
func over(f Figure[measure.Gravity], by measure.Gravity) target {
	return func(time.Time) (measure.Gravity, bool) { return f.Value + by, f.IsKnown() }
}

func (q question) dry() (holds, known bool) { return q.within(q.DryFinish, q.Limits.DryWithin) }

func (q question) dryMet() (time.Time, bool) {
	return q.crossed(over(q.DryFinish, q.Limits.DryWithin))
}

func (q question) steadyMet() (time.Time, bool) { return q.Steady.Met, !q.Steady.Met.IsZero() }

// Conditions about the whole record.

func named(name ConditionName) func(question) (holds, known bool) {
	return is(func(q question) bool { _, ok := q.conditionSince(name); return ok })
}

// since answers with the time since when a condition has been true.
func since(name ConditionName) func(question) (time.Time, bool) {
	return func(q question) (time.Time, bool) { return q.conditionSince(name) }
}

func (c *Course) conditionSince(name ConditionName) (time.Time, bool) {
	k, holds := ferment.FirstWhere(c.Conditions, func(k Condition) bool { return k.Name == name })
	return k.Since, holds
}

// started reports whether a start was seen; an assumed one does not count.
func (q question) started() bool { _, seen := q.startMet(); return seen }

func (q question) startMet() (time.Time, bool) {
	s := q.Started
	return s.At, s.Known && !s.Assumed && !s.At.After(q.Now)
}

// mustWasRead reports whether the must's gravity is in the file, or was measured before the pitch.
func (q question) mustWasRead() bool {
	_, read := q.mustRead()
	return read || q.Ferment.Must.Gravity.Known() || !q.Pitch.Known && q.Gravity.IsKnown()
}

func (q question) primed() bool { _, ok := q.First(ferment.Prime); return ok }

// namesBacteria reports whether lactic bacteria were noted, on purpose or not.
func namesBacteria(e *ferment.Entry) bool {
	of := strings.ToLower(e.Of)
	return strings.Contains(of, "bacteria") || strings.Contains(of, "malolactic")
}

// twoOpeningsSame reports whether the last two opened bottles had the same hiss.
func (q question) twoOpeningsSame() bool {
	var hisses []float64
	for _, e := range slices.Backward(q.Entries) {
		if e.Did == ferment.Open && e.Hiss.Known() {
			hisses = append(hisses, e.Hiss.Value)
		}
		if len(hisses) == 2 {
			return hisses[0] == hisses[1]
		}
	}
	return false
}

// verdict returns the latest verdict on a culture, or on the culture that a ferment was pitched with.
func (c *Course) verdict() string {
	if e, given := ferment.LastWhere(c.Entries, hasVerdict); given {
		return e.Verdict
	}
	if k := cmp.Or(c.Culture, c.Ferment.Yeast.From); k != nil {
		return VerdictOf(*k, c.Now)
	}
	return ""
}

func hasVerdict(e *ferment.Entry) bool { return e.Verdict != "" }

// VerdictOf returns the latest verdict on a culture up to a moment, by its log, else by its file.
func VerdictOf(k ferment.Culture, now time.Time) string {
	log, _ := history(k.Log, now)
	if e, given := ferment.LastWhere(log, hasVerdict); given {
		return e.Verdict
	}
	return k.Verdict
}

// Conditions about one entry.

type answer func(e *ferment.Entry, c ferment.Condition) (holds, known bool)

// latest asks the entries from the last backward: the first that knows decides.
func latest(of answer) func(question) (holds, known bool) {
	return func(q question) (bool, bool) {
		for _, e := range slices.Backward(q.Entries) {
			if holds, known := of(e, q.cond); known {
				return holds, true
			}
		}
		return false, false
	}
}

// first returns the time of the first entry for which the answer is yes.
func first(of answer) func(question) (time.Time, bool) {
	return func(q question) (time.Time, bool) {
		for _, e := range q.Entries {
			if holds, known := of(e, q.cond); known && holds {
				return e.At.Time, true
			}
		}
		return time.Time{}, false
	}
}

// says answers whether a word of an entry is the one named, else that of the condition.
func says(of func(*ferment.Entry) string, word string) answer {
	return func(e *ferment.Entry, c ferment.Condition) (holds, known bool) {
		return strings.EqualFold(of(e), cmp.Or(word, c.Word)), of(e) != ""
	}
}

func clarity(e *ferment.Entry) string     { return string(e.Clarity) }
func feel(e *ferment.Entry) string        { return e.Feel }
func smell(e *ferment.Entry) string       { return e.Smell }
func airlock(e *ferment.Entry) string     { return e.Airlock }
func verdictThen(e *ferment.Entry) string { return e.Verdict }

// sees answers whether a word was seen, else that of the condition.
func sees(word string) answer {
	return func(e *ferment.Entry, c ferment.Condition) (holds, known bool) {
		saw := e.Saw(cmp.Or(word, c.Word))
		return saw, saw
	}
}

// clear uses the latest clarity since something was added.
func (q question) clear() (holds, known bool) {
	e, seen := ferment.LastWhere(q.Entries, func(e *ferment.Entry) bool { return e.Clarity != "" })
	if !seen || !e.At.Time.After(q.disturbedBy(q.Now)) {
		return false, false
	}
	return e.Clarity == ferment.Clear, true
}

// compared is like compares, for a number of an entry.
func compared(of func(*ferment.Entry) (float64, bool), sign int) answer {
	return func(e *ferment.Entry, c ferment.Condition) (holds, known bool) {
		n, known := of(e)
		return cmp.Compare(n, c.Number) == sign, known
	}
}

func ph(e *ferment.Entry) (float64, bool) {
	return float64(e.PH.Value), e.PH.Known() && !e.Did.ApartFromCourse()
}

func lees(e *ferment.Entry) (float64, bool) { return float64(e.Lees.Value), e.Lees.Known() }

func hiss(e *ferment.Entry) (float64, bool) { return e.Hiss.Value, e.Hiss.Known() }

// Conditions about the plan.

// notedSince reports whether a key was recorded after a step was done.
func (q question) notedSince() bool {
	step, done := q.plan.Done(q.cond.Step, false)
	noted, ok := q.plan.Noted(q.cond.Word)
	return done && ok && noted.After(step)
}

// lastAgo reports whether an act was last done at least as long ago as the offset (far), or more recently.
func (q question) lastAgo(far bool) bool {
	last, done := q.plan.Done(q.cond.Word, true)
	return done && q.plan.Passed(q.cond.Offset.Add(last)) == far
}

func (q question) ifNeverDone() string {
	if _, ok := q.plan.Noted(q.cond.Word); ok {
		return ""
	}
	return q.cond.Word
}

// notBefore says until when a step rests after it was done.
func (q question) notBefore() string {
	if q.ifNeverDone() != "" {
		return ""
	}
	last, _ := q.plan.Done(q.cond.Word, true)
	return q.cond.Word + " was " + q.plan.Clock(last) + ": not before " + q.plan.Clock(q.cond.Offset.Add(last))
}

func (q question) stepMet() (time.Time, bool) { return q.plan.Done(q.cond.Word, false) }
