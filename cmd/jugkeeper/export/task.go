package export

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/schedule/sheet"
)

// toDo are the tasks of a vessel that are to be done, with all that comes within
// some days, and none that is merely offered.
func toDo(v desk.Vessel, days int, now time.Time) []sheet.Line {
	return slices.DeleteFunc(sheet.UpTo(days, v, now), func(l sheet.Line) bool {
		return !slices.Contains([]sheet.Word{sheet.Stop, sheet.Late, sheet.Held, sheet.Due, sheet.Later, sheet.Coming}, l.Word)
	})
}

// what is how much of what a line asks for; of a reminder, what it is about.
func what(l sheet.Line) string {
	of := ""
	switch {
	case l.Word == sheet.Stop:
	case l.Task.Amount != nil:
		of = l.Task.Amount.Of
	case l.Task.Do == schedule.Reminder:
		of = l.Task.Say
	}
	return plain(l.Amount.String() + " " + of)
}

// stands is the word of a task that is not simply due.
func stands(w sheet.Word) string {
	switch w {
	case sheet.Held, sheet.Late, sheet.Stop:
		return string(w)
	}
	return ""
}

// stock is the same dose as a solution: "or 10 mL of the 10 % stock".
func stock(l sheet.Line, s measure.System) string {
	amount, of := sheet.StockOf(l.Task.Amount, s)
	if amount == nil || l.Word == sheet.Stop {
		return ""
	}
	return "or " + amount.String() + " " + of
}

// caution is what to take care of at a task: what stands in the day, else what
// its step is warned of.
func caution(t schedule.Task, p ferment.Protocol) string {
	if t.Caution != nil {
		return t.Caution.Text
	}
	for _, s := range p.Steps {
		if s.Name == t.Step {
			return schedule.CautionOfStep(s).Text
		}
	}
	return ""
}

// label is the tag of a vessel, fit for every format.
func label(v desk.Vessel) string { return plain(v.Label()) }

// exact is a gravity with its scale, where that is not plain from the number.
func exact(g measure.Gravity, s ferment.Settings) string {
	if s.Scale == "brix" {
		return sheet.Exact(g, s) + " °Bx"
	}
	return sheet.Exact(g, s)
}

// printed says of when a printed page is.
func printed(now time.Time) string { return now.Format("Mon 2 Jan 2006, 15:04") }
