package words

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
)

// next is what a vessel's row says at its end: the first thing to look at where
// something is wrong, else what comes next.
func next(v subject, now time.Time) string {
	if c, ok := gravest(v.Course.Conditions); ok {
		return toLookAt(c)
	}
	if ct := v.Course.CannotTell; ct != nil {
		return "cannot tell yet: read again " + Date(ct.ReadAgain, now)
	}
	for _, t := range v.Day.Tasks {
		if WordOf(t) == Held && ferment.IsMeasurement(t.Frees) && !t.FreedBy.IsZero() {
			return "read by " + When(t.FreedBy, now)
		}
	}
	text, at, ok := nextTask(v, now)
	if b, when, expected := nextBreak(v); expected && (!ok || when.Before(at)) {
		return b + " break " + awaited(when, now)
	}
	if ok {
		return text
	}
	return nowDue(v, now)
}

// toLookAt is why a condition holds and what to look at, the first thing first.
func toLookAt(c course.Condition) string {
	look := strings.Join(c.Look, ", ")
	switch {
	case look == "":
		return c.Why
	case c.Why == "":
		return look
	}
	return c.Why + ": " + look
}

// nextTask is the first task to come, and when.
func nextTask(v subject, now time.Time) (text string, at time.Time, ok bool) {
	for _, i := range ahead(v.shown) {
		at, ok = ComesAt(*i.task, now)
		return strings.TrimSpace(ShortLabel(*i.task) + " " + i.until(now)), at, ok
	}
	return "", time.Time{}, false
}

// nowDue is a task that can be done now, where nothing else is to come.
func nowDue(v subject, now time.Time) string {
	for _, t := range v.Day.Tasks {
		if WordOf(t).Now() {
			return strings.TrimSpace(ShortLabel(t) + " " + until(t, v.Course.Settings, now))
		}
	}
	return ""
}

// Breaks are the shares of the expected fall that have a name.
var Breaks = []struct {
	Name  string
	Share float64
}{{"⅓", 1.0 / 3}, {"½", 1.0 / 2}, {"⅔", 2.0 / 3}}

// nextBreak is the break at which a nutrient step that is still open ends, and
// when it is expected.
func nextBreak(v subject) (name string, at time.Time, ok bool) {
	if !nutrientAhead(v.Day.Tasks) || !v.Course.Gravity.IsKnown() {
		return "", time.Time{}, false
	}
	for _, b := range Breaks {
		g := v.Course.Break(b.Share)
		if g.IsKnown() && v.Course.Gravity.Value.Gravity.Rounded(4) > g.Value.Rounded(4) {
			e, expected := v.Course.Reaches(g.Value)
			return b.Name, e.At, expected
		}
	}
	return "", time.Time{}, false
}

func nutrientAhead(ts []schedule.Task) bool {
	for _, t := range ts {
		if t.Do == string(ferment.Nutrient) && !t.Option {
			if w := WordOf(t); w.Now() || w == Later || w == Coming {
				return true
			}
		}
	}
	return false
}

// quiet is a quiet vessel in a sentence: until when, and what comes before.
func quiet(v subject, now time.Time) (end, sentence string) {
	end = "until " + Date(v.Day.Quiet.To, now)
	for _, i := range ahead(v.shown) {
		return end, end + "; next " + ActLabel(*i.task) + " " + i.until(now)
	}
	return end, end
}
