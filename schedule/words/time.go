package words

import (
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
)

const day = 24 * time.Hour

// When writes a time: the hour today, with the day within a week, else the date.
func When(t, now time.Time) string {
	t = t.In(now.Location())
	switch n := daysApart(t, now); {
	case n == 0:
		return t.Format("15:04")
	case n > -7 && n < 7:
		return t.Format("Mon 15:04")
	}
	return Date(t, now)
}

// Date writes a day: with its weekday if near, with its year if another.
func Date(t, now time.Time) string {
	t = t.In(now.Location())
	n := max(daysApart(t, now), -daysApart(t, now))
	switch {
	case n <= 60:
		return t.Format("Mon 2 Jan")
	case n <= 180, t.Year() == now.Year():
		return t.Format("2 Jan")
	}
	return t.Format("2 Jan 06")
}

// Age writes a duration: minutes under two hours, hours to 48, days to 99, months, years.
func Age(d time.Duration) string {
	d = max(d, 0)
	days := int(d / day)
	switch {
	case d < 2*time.Hour:
		return fmt.Sprintf("%d min", d/time.Minute)
	case d <= 48*time.Hour:
		return fmt.Sprintf("%d h", d/time.Hour)
	case days <= 99:
		return fmt.Sprintf("%d d", days)
	case days < 730:
		return fmt.Sprintf("%d mo", min((days+3)*12/365, 23)) // 182 days are six months
	}
	return fmt.Sprintf("%d y", days/365)
}

// daysApart returns how many midnights are between now and t.
func daysApart(t, now time.Time) int {
	return int(midnight(t.In(now.Location())).Sub(midnight(now)) / day)
}

// midnight returns the calendar day of t in UTC, so that days have equal length.
func midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// clock writes times: short on a screen, complete on paper.
type clock struct{ hour, day, part func(t, now time.Time) string }

var (
	screen = clock{When, Date, part}
	paper  = clock{PaperHour, PaperDay, PaperDay}
)

// PaperHour writes a time in full: "Thu 8 Oct 04:00", with its year if another.
func PaperHour(t, now time.Time) string {
	if t = t.In(now.Location()); t.Year() != now.Year() {
		return t.Format("Mon 2 Jan 2006 15:04")
	}
	return t.Format("Mon 2 Jan 15:04")
}

// PaperDay writes a day in full: "Thu 8 Oct 2026".
func PaperDay(t, now time.Time) string { return t.In(now.Location()).Format("Mon 2 Jan 2006") }

// PaperTime writes when an entry was made, in full; without hour if it has only the day.
func PaperTime(m ferment.Moment, now time.Time) string {
	if m.DayOnly {
		return PaperDay(m.Time, now)
	}
	return PaperHour(m.Time, now)
}

// UntilOnPaper writes until when a task can be done, or when it comes, for reading on another day. An expected time has
// its width.
func UntilOnPaper(t schedule.Task, s ferment.Settings, now time.Time) string {
	if w := WordOf(t); w == Later || w == Coming {
		switch {
		case t.Expected != nil:
			return About(*t.Expected, now)
		case OfADay(t):
			return PaperDay(t.Due, now)
		}
	}
	return paper.until(t, s, now)
}

// About writes an expected time: "about Thu 8 Oct 04:00, ±4 h: take a reading".
func About(e course.Expected, now time.Time) string {
	return "about " + paper.hour(e.At, now) + ", " + expectation(e)
}

// until writes the right-hand column: until when, or when.
func until(t schedule.Task, s ferment.Settings, now time.Time) string {
	return screen.until(t, s, now)
}

// until returns when a task must be done by, or was due, was done or comes, as its state has it; empty for no such
// time.
func (k clock) until(t schedule.Task, s ferment.Settings, now time.Time) string {
	switch WordOf(t) {
	case Danger, Lapsed, Held: // the reason of a held one says what to do now
		return ""
	case Stop:
		switch n := daysApart(t.Due, now); {
		case t.Due.IsZero() || n > 0:
			return ""
		case n == 0:
			return "was due today"
		}
		return "was due " + k.day(t.Due, now)
	case Done, Skipped:
		return k.hour(t.Settled, now)
	case Later, Coming:
		at, ok := ComesAt(t, now)
		switch {
		case !ok:
			return ""
		case t.Expected != nil:
			return k.awaited(at, now)
		}
		return k.moment(t, at, now)
	}
	switch {
	case t.Until != nil && !t.Option && t.Until.Expected != nil && t.Until.Expected.At.Add(-t.Until.Expected.Within).After(now): // once past, only a reading shows it
		return "by " + k.part(t.Until.Expected.At.Add(-t.Until.Expected.Within), now)
	case t.Until != nil:
		return "above " + Exact(t.Until.Gravity, s)
	case t.Closes.After(now):
		return "by " + k.moment(t, t.Closes, now)
	}
	return ""
}

// awaited writes an expected time, "≈ 18:00"; one that is past was not read yet.
func (k clock) awaited(at, now time.Time) string {
	if !at.After(now) {
		return "≈ now"
	}
	return "≈ " + k.hour(at, now)
}

// ComesAt returns when a task that is not open yet comes: when it is due.
func ComesAt(t schedule.Task, now time.Time) (at time.Time, ok bool) {
	switch {
	case t.Expected != nil:
		return t.Expected.At, true
	case t.Due.IsZero():
		return t.Opens, !t.Opens.IsZero()
	}
	return t.Due, true
}

// moment writes a time of a task, by the hour, or by the day if its window is wide.
func (k clock) moment(t schedule.Task, at, now time.Time) string {
	if ByDay(t) && daysApart(at, now) != 0 {
		return k.day(at, now)
	}
	return k.hour(at, now)
}

// OfADay reports whether a task is for a day at any hour, such as a reminder.
func OfADay(t schedule.Task) bool { return t.Do == schedule.Reminder || t.Step == schedule.ReadAgain }

// ByDay reports whether a task is for a day rather than an hour: its window is over two days.
func ByDay(t schedule.Task) bool { return t.Closes.Sub(t.Opens) > 2*day }

// comesOn returns the day under which a coming task is listed: when it is due.
func comesOn(t schedule.Task, now time.Time) time.Time {
	if t.State == schedule.Due {
		return t.Due
	}
	at, _ := ComesAt(t, now)
	return at
}

// hourOf writes the hour at which a task comes: "08:00", "about 14:00", "from 20:00", "any time".
func hourOf(t schedule.Task, at time.Time) string {
	switch {
	case OfADay(t), ByDay(t) && t.Expected == nil, t.Expected != nil && t.Expected.Within >= day/2:
		return "any time"
	case t.Expected != nil:
		return "about " + at.Format("15:04")
	case t.Due.IsZero():
		return "from " + at.Format("15:04")
	}
	return at.Format("15:04")
}
