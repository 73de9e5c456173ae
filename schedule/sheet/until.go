package sheet

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
)

// until is the right-hand column: until when, or when.
func until(t schedule.Task, s ferment.Settings, now time.Time) string {
	switch WordOf(t) {
	case Stop:
		return wasDue(t, now)
	case Done, Skipped:
		return When(t.Settled, now)
	case Lapsed:
		return ""
	case Later, Coming:
		return comes(t, now)
	case Held:
		if !t.FreedBy.IsZero() {
			return "by " + moment(t, t.FreedBy, now)
		}
	}
	switch {
	case t.Until != nil && !t.Option && stillToCome(t.Until.Expected, now):
		return "by ≈ " + When(t.Until.Expected.At, now)
	case t.Until != nil:
		return "down to " + Exact(t.Until.Gravity, s)
	case t.Closes.After(now):
		return "by " + moment(t, t.Closes, now)
	}
	return ""
}

// stillToCome tells whether an expected time is ahead. Once it is past only a
// reading tells, and the gravity itself is said instead of the time.
func stillToCome(e *course.Expected, now time.Time) bool { return e != nil && e.At.After(now) }

// awaited is an expected time, "≈ 18:00"; one that is past has not been read yet.
func awaited(at, now time.Time) string {
	if !at.After(now) {
		return "≈ now"
	}
	return "≈ " + When(at, now)
}

// comes is when a task that is not open yet is to be done.
func comes(t schedule.Task, now time.Time) string {
	at, ok := ComesAt(t, now)
	switch {
	case !ok:
		return ""
	case t.Expected != nil:
		return awaited(at, now)
	}
	return moment(t, at, now)
}

// ComesAt is when a task that is not open yet is to be done: when it is due,
// or when it opens, where that is today and the other is not.
func ComesAt(t schedule.Task, now time.Time) (at time.Time, ok bool) {
	switch {
	case t.Expected != nil:
		return t.Expected.At, true
	case t.Due.IsZero():
		return t.Opens, !t.Opens.IsZero()
	case t.State == schedule.Due && daysApart(t.Due, now) > 0 && !t.Opens.IsZero():
		return t.Opens, true
	}
	return t.Due, true
}

// moment names a time of a task by the hour, or by the day alone where its
// window is days wide.
func moment(t schedule.Task, at, now time.Time) string {
	if t.Closes.Sub(t.Opens) > 2*day && daysApart(at, now) != 0 {
		return Date(at, now)
	}
	return When(at, now)
}

func wasDue(t schedule.Task, now time.Time) string {
	switch n := daysApart(t.Due, now); {
	case t.Due.IsZero() || n > 0:
		return ""
	case n == 0:
		return "was due today"
	}
	return "was due " + Date(t.Due, now)
}
