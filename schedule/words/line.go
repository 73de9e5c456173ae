package words

import (
	"cmp"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// anyDay is how much time an open window must have left for its task to wait.
const anyDay = 36 * time.Hour

// WordAt is the word of a task in the list of a day: what is open may wait for
// any day where its window has more than 36 hours left and it is not meant for
// today.
func WordAt(t schedule.Task, now time.Time) Word {
	w := WordOf(t)
	if w != Due || t.Do == schedule.Reminder || !t.Due.IsZero() && daysApart(t.Due, now) == 0 {
		return w
	}
	if t.Until != nil || !t.Closes.IsZero() && t.Closes.Sub(now) <= anyDay {
		return w
	}
	return AnyDay
}

// WordOf is the word of a task by its state alone.
func WordOf(t schedule.Task) Word {
	switch t.State {
	case schedule.Done:
		return Done
	case schedule.Skipped:
		return Skipped
	case schedule.Lapsed:
		return Lapsed
	}
	if t.Alarm != nil {
		return Danger
	}
	switch t.State {
	case schedule.Held:
		if t.Danger {
			return Stop
		}
		return Held
	}
	switch {
	case t.Option:
		return Option
	case t.State == schedule.Late:
		return Late
	case t.State == schedule.Due && t.Open:
		return Due
	case t.State == schedule.Due:
		return Later
	}
	return Coming
}

// LineOf is a task in words.
func LineOf(t schedule.Task, v app.Vessel, now time.Time) Line {
	settings := v.Course.Settings
	l := Line{
		Subject: t.Subject,
		Tag:     v.Label(),
		Trial:   v.Ferment.Trial.Name,
		Word:    WordAt(t, now),
		Act:     ActLabel(t),
		Amount:  AmountOf(t.Amount, settings.Units),
		Danger:  t.Danger,
		Until:   until(t, settings, now),
		Reason:  reason(t),
		Task:    t,
	}
	if l.Subject == "" {
		l.Subject = v.ID()
	}
	if t.Amount != nil {
		l.Of = t.Amount.Of
	}
	if t.Until != nil {
		l.Limit, l.Ahead = "down to "+Exact(t.Until.Gravity, settings), forecast(t.Until.Expected, now)
	}
	switch l.Word {
	case Danger:
		l.Alarm, l.Reason = t.Alarm, t.Alarm.Risk
	case Stop:
		l.Amount, l.Of, l.Instead = Amount{Words: "not now"}, "", instead(t)
	case Late, Due, AnyDay:
		l.Stock, l.StockOf = StockOf(t.Amount, settings.Units)
		l.First = first(t.Also)
	}
	if l.Word == Held {
		l.Frees = frees(t)
	}
	if e := t.Expected; e != nil && l.Word == Coming && l.Of == "" {
		l.Of = expectation(*e)
	}
	if t.Do == schedule.Reminder && t.Say != "" {
		l.Of, l.Reason = t.Say, "" // without what it is of it says nothing
	}
	return l
}

// expectation goes with a date that is only expected: how wide it is, and what
// would tell.
func expectation(e course.Expected) string {
	if e.Within == 0 {
		return "take a reading"
	}
	return "±" + Age(e.Within) + ": take a reading"
}

// forecast is when something is expected, never without its width.
func forecast(e *course.Expected, now time.Time) string {
	if e == nil {
		return ""
	}
	return "about " + When(e.At, now) + ", ±" + Age(e.Within)
}

func first(acts []ferment.Act) string {
	words := make([]string, len(acts))
	for i, a := range acts {
		words[i] = spaced(string(a))
	}
	if len(words) == 0 {
		return ""
	}
	return strings.Join(words, " and ") + " first"
}

// reason is the one sentence of a task, without the name of what it is about.
func reason(t schedule.Task) string {
	if t.State == schedule.Done {
		return ""
	}
	why := strings.TrimPrefix(t.Reason, spaced(t.Step)+": ")
	if why == "" {
		why = t.Say
	}
	if t.Asks {
		why = strings.TrimSuffix(why, "?") + "?"
	}
	return strings.TrimSuffix(why, ".")
}

// frees is what to do about a held task, unless its reason says so already.
func frees(t schedule.Task) string {
	f := cmp.Or(t.Answer, FreesLabel(t.Frees))
	if f != "" && strings.HasSuffix(t.Reason, f) {
		return ""
	}
	return f
}

// instead is what to do now where a stop stands: what the task says, else what
// its caution says to do.
func instead(t schedule.Task) string {
	if t.Instead != "" || t.Caution == nil {
		return t.Instead
	}
	_, do, _ := strings.Cut(t.Caution.Text, ": ")
	return do
}
