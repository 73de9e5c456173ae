package export

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// toDo are the tasks of a vessel that are to be done, with all that comes within
// some days, and none that is merely offered.
func toDo(v app.Vessel, days int, now time.Time) []words.Line {
	return slices.DeleteFunc(words.UpTo(days, v, now), func(l words.Line) bool {
		return !slices.Contains([]words.Word{words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay, words.Later, words.Coming}, l.Word)
	})
}

// what is how much of what a line asks for; of a reminder, what it is about.
func what(l words.Line) string {
	of := ""
	switch {
	case l.Word == words.Stop:
	case l.Task.Amount != nil:
		of = l.Task.Amount.Of
	case l.Task.Do == schedule.Reminder:
		of = l.Task.Say
	}
	return plain(l.Amount.String() + " " + of)
}

// stands is the word of a task that is not simply due.
func stands(w words.Word) string {
	switch w {
	case words.Danger, words.Held, words.Late, words.Stop:
		return string(w)
	}
	return ""
}

// stock is the same dose as a solution: "or 10 mL of the 10 % stock".
func stock(l words.Line, s measure.System) string {
	amount, of := words.StockOf(l.Task.Amount, s)
	if amount == nil || l.Word == words.Stop {
		return ""
	}
	return "or " + amount.String() + " " + of
}

// caution is what to take care of at a task: what stands in the day, else what
// its step is warned of.
func caution(t schedule.Task, p ferment.Protocol, units measure.System) string {
	if t.Caution != nil {
		return t.Caution.Text
	}
	for _, s := range p.Steps {
		if s.Name == t.Step {
			return schedule.CautionOfStep(s, units).Text
		}
	}
	return ""
}

// label is the tag of a vessel, fit for every format.
func label(v app.Vessel) string { return plain(v.Label()) }

// exact is a gravity with its scale, where that is not plain from the number.
func exact(g measure.Gravity, s ferment.Settings) string {
	if s.Scale == "brix" {
		return words.Exact(g, s) + " °Bx"
	}
	return words.Exact(g, s)
}

// printed says of when a printed page is.
func printed(now time.Time) string { return now.Format("Mon 2 Jan 2006, 15:04") }
