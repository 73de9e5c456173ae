package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// quietNow returns the quiet period that holds now. It is broken while one of the
// conditions holds that want hands, and for good by fruit, on which a mead works
// again.
func (k *calendar) quietNow() *Quiet {
	fruit, fruited := k.c.Last(ferment.FruitIn)
	for _, s := range k.steps {
		if s.Quiet == nil {
			continue
		}
		from, to := k.when(s.Quiet.From, k.now), k.when(s.Quiet.To, k.now)
		holds := from.known && to.known && k.Passed(from.at) && !k.Passed(to.at)
		if holds && !k.anyHolds(s.Quiet.BrokenBy) && !(fruited && k.momentOf(fruit).After(from.at)) {
			return &Quiet{From: from.at, To: to.at}
		}
	}
	return nil
}

// hush hides the routine steps in a quiet period: what would be due waits for
// the end, what lapses unseen is not there. What was late before stays, and so do looks
// at the airlock, what has a gate, and what is dangerous.
func (k *calendar) hush(ts []Task, quiet *Quiet) []Task {
	if quiet == nil {
		return ts
	}
	out := ts[:0]
	for _, t := range ts {
		routine := t.Routine && !t.Danger
		switch {
		case routine && t.State == Lapsed && !t.Opens.IsZero() && !t.Opens.Before(quiet.From):
			continue
		case routine && (t.State == Due || t.State == Held):
			was, words := t, "quiet until "+dated(quiet.To)
			if i, ok := k.index[t.Step]; ok && k.steps[i].Missed == ferment.Drop && !t.Closes.After(quiet.To) {
				t = t.waiting(words, time.Time{})
			} else {
				t = t.waiting(words, later(t.Opens, quiet.To))
				t.Due, t.Closes = was.Due, was.Closes
			}
		}
		out = append(out, t)
	}
	return out
}
