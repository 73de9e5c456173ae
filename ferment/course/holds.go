package course

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Holds tells whether a condition holds now, and whether the log can answer
// at all. A step's own settling, and what has happened since it, are the
// plan's to answer: see HoldsSince.
func (c Course) Holds(cond ferment.Condition) (holds, known bool) {
	return c.HoldsSince(cond, time.Time{})
}

// HoldsSince is Holds where "KEY since STEP" counts from the given time.
func (c Course) HoldsSince(cond ferment.Condition, since time.Time) (holds, known bool) {
	if holds, known, is := c.ofReadings(cond); is {
		return holds, known
	}
	if answer, is := c.ofRecord(cond, since); is {
		return answer, true
	}
	for _, e := range slices.Backward(c.Entries) {
		if h, k := entryHolds(e, cond); k {
			return h, true
		}
	}
	return false, false
}

// ofReadings answers what the gravities can answer.
func (c Course) ofReadings(cond ferment.Condition) (holds, known, is bool) {
	now, read := float64(c.Gravity.Value.Gravity), c.Gravity.IsKnown()
	under := func(f Figure[measure.Gravity], within measure.Gravity) (holds, known, is bool) {
		known = f.IsKnown() && read
		return known && c.Gravity.Value.Gravity <= f.Value+within+tiny, known, true
	}
	switch cond.Kind {
	case ferment.AtBreak:
		_, met := c.FirstMet(cond)
		return met, met || c.Break(cond.Break.Fraction()).IsKnown() && read, true
	case ferment.Below:
		return read && now < cond.Number, read, true
	case ferment.Above:
		return read && now > cond.Number, read, true
	case ferment.NearFinish:
		if c.unproved() {
			return c.Steady.Open, true, true
		}
		return under(c.Finish, nearWithin)
	case ferment.Dry:
		return under(c.DryFinish, dryWithin)
	case ferment.PaceOver:
		return c.Pace.IsKnown() && c.Pace.Value > cond.Number, c.Pace.IsKnown(), true
	case ferment.PaceUnder:
		return c.Pace.IsKnown() && c.Pace.Value < cond.Number, c.Pace.IsKnown(), true
	case ferment.ToleranceOver:
		t := c.Ferment.Yeast.Tolerance
		known = t.Known() && c.Alcohol.IsKnown()
		return known && float64(t.Value-c.Alcohol.Value) > cond.Number, known, true
	}
	return false, false, false
}

// ofRecord answers what the whole record says.
func (c Course) ofRecord(cond ferment.Condition, since time.Time) (holds, is bool) {
	has := func(name ConditionName) bool { _, ok := c.conditionSince(name); return ok }
	switch cond.Kind {
	case ferment.Steady:
		return c.Steady.Open, true
	case ferment.Stuck:
		return has(Stuck), true
	case ferment.Sluggish:
		return has(Sluggish), true
	case ferment.Restarted:
		return has(Restarted), true
	case ferment.HasFilm:
		return c.filmSeen(), true
	case ferment.HasMould:
		return c.mouldSeen(), true
	case ferment.Stabilised:
		_, ok := c.stabilised()
		return ok, true
	case ferment.HasStarted:
		return c.Started.Known && !c.Started.Assumed, true
	case ferment.NotStarted:
		return !c.Started.Known || c.Started.Assumed, true
	case ferment.IsWild:
		return c.Ferment.Yeast.IsWild(), true
	case ferment.EndingUndecided:
		return c.Ferment.Undecided(), true
	case ferment.IsPrimed:
		_, ok := c.First(ferment.Prime)
		return ok, true
	case ferment.IsDiscarded:
		return c.Over(), true
	case ferment.BacteriaWorked:
		return c.bacteriaWorked(), true
	case ferment.HasVerdict:
		return c.verdict() == cond.Word, true
	case ferment.TwoOpeningsSame:
		return c.twoOpeningsSame(), true
	case ferment.StarterAtBreak:
		return false, true
	case ferment.KeySince:
		return c.carriedSince(cond.Word, since), true
	case ferment.ActAtLeastAgo:
		e, ok := c.Last(ferment.Act(cond.Word))
		return ok && !cond.Offset.Add(e.At.Latest()).After(c.Now), true
	case ferment.ActUnderAgo:
		e, ok := c.Last(ferment.Act(cond.Word))
		return ok && cond.Offset.Add(e.At.Earliest()).After(c.Now), true
	}
	return false, false
}

// carriedSince tells whether an entry after a time carries a measurement or is
// of an act.
func (c Course) carriedSince(key string, since time.Time) bool {
	for _, e := range c.Entries {
		if e.At.Time.After(since) && (e.Measured(key) || e.Did == ferment.Act(key)) {
			return true
		}
	}
	return false
}

// verdict is the latest one on a culture, or on the culture that a ferment is
// pitched with.
func (c Course) verdict() string {
	for _, e := range slices.Backward(c.Entries) {
		if e.Verdict != "" {
			return e.Verdict
		}
	}
	k := c.Culture
	if k == nil {
		k = c.Ferment.Yeast.From
	}
	if k == nil {
		return ""
	}
	return VerdictOf(*k, c.Now)
}

// VerdictOf is the latest verdict on a culture up to a moment, in its log or,
// where that has none, at its head.
func VerdictOf(k ferment.Culture, now time.Time) string {
	log, _ := history(k.Log, now)
	for _, e := range slices.Backward(log) {
		if e.Verdict != "" {
			return e.Verdict
		}
	}
	return k.Verdict
}

// bacteriaWorked tells whether somebody noted that lactic bacteria were at
// work, on purpose or not.
func (c Course) bacteriaWorked() bool {
	for _, e := range c.Entries {
		for _, word := range []string{"bacteria", "malolactic"} {
			if strings.Contains(strings.ToLower(e.Of), word) {
				return true
			}
		}
	}
	return false
}

// twoOpeningsSame tells whether the last two bottles opened hissed alike.
func (c Course) twoOpeningsSame() bool {
	var hisses []float64
	for _, e := range slices.Backward(c.Entries) {
		if e.Did == ferment.Open && e.Hiss.Known() {
			hisses = append(hisses, e.Hiss.Value)
		}
		if len(hisses) == 2 {
			return hisses[0] == hisses[1]
		}
	}
	return false
}

// entryHolds tells whether one entry answers a condition, and how. The latest
// entry that answers decides.
func entryHolds(e *ferment.Entry, cond ferment.Condition) (holds, known bool) {
	switch cond.Kind {
	case ferment.IsClear:
		return e.Clarity == ferment.Clear, e.Clarity != ""
	case ferment.PHOver:
		return float64(e.PH.Value) > cond.Number, e.PH.Known() && !e.Did.ApartFromCourse()
	case ferment.PHUnder:
		return float64(e.PH.Value) < cond.Number, e.PH.Known() && !e.Did.ApartFromCourse()
	case ferment.LeesOver:
		return float64(e.Lees.Value) > cond.Number, e.Lees.Known()
	case ferment.HissOver:
		return e.Hiss.Value > cond.Number, e.Hiss.Known()
	case ferment.HissUnder:
		return e.Hiss.Value < cond.Number, e.Hiss.Known()
	case ferment.Feels:
		return e.Feel == cond.Word, e.Feel != ""
	case ferment.Saw:
		return e.Saw(cond.Word), e.Saw(cond.Word)
	case ferment.Smells:
		return strings.EqualFold(e.Smell, cond.Word), e.Smell != ""
	case ferment.HasFilm:
		return e.Saw("film"), e.Saw("film")
	case ferment.HasMould:
		return e.Saw("mould"), e.Saw("mould")
	case ferment.DryAirlock:
		return e.Airlock == "dry", e.Airlock != ""
	case ferment.HasVerdict:
		return e.Verdict == cond.Word, e.Verdict != ""
	}
	return false, false
}
