package words

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// reason is why a task is in its state, in two lengths: up to 40 columns with what to do first, and whole sentences. A
// task that is only due has no short one.
type reason struct{ short, long string }

// reasonOf returns why a task is in its state, in two lengths.
func reasonOf(t schedule.Task, v app.Vessel, now time.Time) reason {
	switch WordOf(t) {
	case Done:
		return reason{}
	case Danger:
		return reason{long: counted(t.Alarm.Risk, v)}
	case Held:
		return heldFor(t, v, now)
	case Late:
		return lateBy(t, v, now)
	case Lapsed:
		return missedFor(t)
	}
	if last, ok := v.Course.Last(ferment.Degas); ok && t.Open && t.Do == string(ferment.Degas) && now.Sub(last.At.Time) >= day {
		return reason{long: "last degassed " + Age(now.Sub(last.At.Time)) + " ago; " + whyOf(t)}
	}
	return reason{long: whyOf(t)}
}

// whyOf returns the reason as the plan has it.
func whyOf(t schedule.Task) string {
	text := cmp.Or(t.Reason, t.Say)
	if t.Asks {
		text = strings.TrimSuffix(text, "?") + "?"
	}
	return strings.TrimSuffix(text, ".")
}

// counted adds to a risk how many bottles under pressure are left.
func counted(risk string, v app.Vessel) string {
	n := 0
	for _, b := range shelf.Of(v.Course).Batches {
		if left := b.Left(); !b.Still() && !left.Unknown {
			n += left.N
		}
	}
	if n < 1 {
		return risk
	}
	return Sentences(risk, fmt.Sprintf("Bottles left: %d", n))
}

// heldFor says what a held task waits for: a start, a reading, a time, a look, a gate.
func heldFor(t schedule.Task, v app.Vessel, now time.Time) reason {
	g, fresh := v.Course.Gravity, cmp.Or(v.Course.Limits.Fresh, ferment.DefaultLimits().Fresh)
	h := cmp.Or(t.Hold, &schedule.Hold{})
	switch dose := t.Do == string(ferment.Nutrient); {
	case t.Frees == string(ferment.Started):
		return reason{"check for bubbles first (not started)", "No sign of fermentation yet. Check for bubbles, or take gravity."}
	case dose && t.Frees == ferment.DoGravity && g.IsKnown() && now.Sub(g.Value.At) > fresh:
		age := Age(now.Sub(g.Value.At))
		return reason{"take gravity first (last " + age + " ago)",
			fmt.Sprintf("The last reading is %s old; a dose needs one from the last %s. Take gravity first.", age, Age(fresh))}
	case dose && t.Frees == ferment.DoGravity && g.IsKnown() && t.Until != nil:
		limit, last := Glass(t.Until.Gravity, v.Course.Settings), Glass(g.Value.Gravity, v.Course.Settings)
		return reason{"take gravity first: likely past " + limit,
			fmt.Sprintf("The last reading was %s, but it has probably passed %s, the limit for this dose. Take gravity first.", last, limit)}
	case dose && !g.IsKnown() && t.Frees == ferment.DoGravity:
		return reason{"take gravity first (none so far)", "No gravity is written down. Take gravity first."}
	case h.Wait != nil:
		short, since := "wait until "+When(h.Wait.Until, now), h.Wait.What+" "+Age(now.Sub(h.Wait.Since))+" ago"
		long := Sentences(Capital(since), Capital(short))
		if more := short + " (" + since + ")"; len(more) <= 40 {
			short = more
		}
		return reason{short, long}
	}
	if i := slices.IndexFunc(v.Day.Gates, func(g schedule.Gate) bool { return g.Name == h.Gate && len(g.Unmet) > 0 }); i >= 0 {
		return notReady(v.Day.Gates[i], v)
	}
	frees := cmp.Or(t.Answer, FreesLabel(t.Frees))
	long := Sentences(Capital(whyOf(t)), Capital(frees))
	if frees == "" {
		long = Capital(whyOf(t))
	}
	short := t.Answer
	switch {
	case h.Need.Kind == ferment.Smells:
		short = "smell the culture first"
	case h.Need.Kind == ferment.Saw && (h.Need.Word == "gas" || h.Need.Word == "sediment"):
		short = "wait for gas and sediment"
	case h.Need.Kind == ferment.IsClear:
		short = "look first: is it clear?"
	case short == "" && frees != "":
		short = frees + " first"
	}
	return reason{cmp.Or(short, "not yet: its page says why"), long}
}

// notReady says what is missing before bottling, the first of it in full.
func notReady(g schedule.Gate, v app.Vessel) reason {
	first := g.Unmet[0]
	long := Sentences("Not ready to bottle: "+first.What, Capital(first.Frees))
	if n := len(g.Unmet) - 1; n > 0 {
		long = Sentences(long, Plural(n, "more thing")+" on its page")
	}
	steady, days := int(v.Course.Steady.Days), v.Course.Limits.SteadyDays
	switch {
	case first.What == "a forced test":
		return reason{"start the forced test first", "Sugar may be left that restarts in the bottle. Start the forced test: it shows in 5 to 7 days."}
	case first.Act == string(ferment.ForcedTest):
		return reason{"read the forced test first", long}
	case first.What == "clear":
		return reason{"not yet: look, is it clear?", "Not clear by the record. Wait until print can be read through the jug, then write it down: clear."}
	case first.What == "a test bottle":
		return reason{"add one soft test bottle first", "One soft bottle among the glass ones shows the pressure. Add it to the bottling."}
	case first.Act == string(ferment.Rack):
		return reason{"rack it off the sediment first", long}
	case first.Act == ferment.DoGravity && steady > 0 && steady < days:
		return reason{fmt.Sprintf("not yet: steady %d of %d days", steady, days), long}
	case len(first.What) <= 30:
		return reason{"not yet: " + first.What, long}
	}
	return reason{"not yet: its page says why", long}
}

// lateBy says how late a task is, and until when it can be done.
func lateBy(t schedule.Task, v app.Vessel, now time.Time) reason {
	if t.Asks {
		return reason{"was it done? mark it, or skip it", "The time for this is over and nothing is written down. Was it done? Mark it as done with its time, or skip it."}
	}
	late := "late"
	if now.Sub(t.Closes) >= time.Minute && !t.Closes.IsZero() {
		late = inWords(now.Sub(t.Closes)) + " late"
	}
	switch mixed, has := v.Course.First(ferment.Mix); {
	case t.Remedy, t.Step == schedule.Reading, t.Step == schedule.WhatNext:
		return reason{late, Sentences(Capital(late), Capital(whyOf(t)))}
	case t.Until != nil:
		limit := Glass(t.Until.Gravity, v.Course.Settings)
		return reason{late + ": give it above " + limit, late + ": give it before gravity reaches " + limit}
	case t.Do == string(ferment.Pitch) && has:
		return reason{late + ": add the yeast today",
			"The must has been without yeast for " + inWords(now.Sub(mixed.At.Time)) + ". Add it today, before something else grows."}
	case t.Do == string(ferment.Rack):
		return reason{late + ": take it off the old yeast", Capital(late) + ". Left on the sediment, the mead tastes of old yeast."}
	}
	return reason{late, Sentences(Capital(late)+": do it now if it can still be done", Capital(t.Say))}
}

// inWords writes an age: "9 days", "14 h".
func inWords(d time.Duration) string {
	if n, is := strings.CutSuffix(Age(d), " d"); is {
		return n + " days"
	}
	return Age(d)
}

var gone = map[ferment.BreakLimit]string{{Of: 1, In: 3}: "a third", {Of: 1, In: 2}: "half", {Of: 2, In: 3}: "two thirds"}

func missedFor(t schedule.Task) reason {
	long := whyOf(t)
	switch {
	case t.Do == string(ferment.Nutrient) && gone[t.Past] != "":
		return reason{"too late: " + gone[t.Past] + " of the sugar is gone", "too late: " + long}
	case t.Do == string(ferment.Aerate):
		return reason{"too late: do not add air now", "too late: do not add air now; it would stale the mead"}
	}
	return reason{long, long}
}

// part writes a time as a part of its day: "noon", "Sun noon"; a date if over a week away.
func part(t, now time.Time) string {
	t = t.In(now.Location())
	i := slices.IndexFunc([]int{22, 15, 11, 5}, func(from int) bool { return t.Hour() >= from })
	if i < 0 { // the small hours count to the night before
		i, t = 0, t.AddDate(0, 0, -1)
	}
	switch n := daysApart(t, now); {
	case n <= 0:
		return []string{"tonight", "this evening", "noon", "this morning"}[i]
	case n < 7:
		return t.Format("Mon") + " " + []string{"night", "evening", "noon", "morning"}[i]
	}
	return Date(t, now)
}
