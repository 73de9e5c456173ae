package words

import (
	"cmp"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// WordAt returns the word of a task in the list of a day: an open task is for any day if its window has more than 36
// hours left and it is not due today; one that opens today and is due tomorrow is listed tomorrow.
func WordAt(t schedule.Task, now time.Time) Word {
	w := WordOf(t)
	if w == Later && daysApart(t.Due, now) > 0 {
		return Coming
	}
	if w != Due || t.Do == schedule.Reminder || t.Round || !t.Due.IsZero() && daysApart(t.Due, now) == 0 {
		return w
	}
	if t.Until != nil || !t.Closes.IsZero() && t.Closes.Sub(now) <= 36*time.Hour {
		return w
	}
	return AnyDay
}

// WordOf returns the word of a task by its state alone.
func WordOf(t schedule.Task) Word {
	switch {
	case t.State == schedule.Done:
		return Done
	case t.State == schedule.Skipped:
		return Skipped
	case t.State == schedule.Lapsed:
		return Lapsed
	case t.Alarm != nil:
		return Danger
	case t.State == schedule.Held && t.Danger:
		return Stop
	case t.State == schedule.Held:
		return Held
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

// LineOf writes a task.
func LineOf(t schedule.Task, v app.Vessel, now time.Time) Line {
	settings, because := v.Course.Settings, reasonOf(t, v, now)
	l := Line{
		Subject: cmp.Or(t.Subject, v.ID()),
		Tag:     v.Label(),
		Trial:   v.Ferment.Trial.Name,
		Word:    WordAt(t, now),
		Act:     ActLabel(t),
		Amount:  AmountOf(t.Amount, settings.Units),
		Danger:  t.Danger,
		Until:   until(t, settings, now),
		Reason:  because.long,
		Short:   because.short,
		Task:    t,
	}
	if t.Amount != nil {
		l.Of = t.Amount.Of
	}
	switch l.Word {
	case Danger:
		l.Alarm = t.Alarm
		if e, bottled := v.Course.Last(ferment.Bottle); bottled {
			l.Until = "day " + measure.Decimal(float64(-daysApart(e.At.Time, now)), 0) + " in bottles"
		}
	case Stop:
		l.Amount, l.Of, l.Instead = Amount{Words: "not now"}, "", t.Instead
		if t.Instead == "" && t.Caution != nil { // the instruction of its caution
			_, l.Instead, _ = strings.Cut(t.Caution.Text, ": ")
		}
	case Late, Due, AnyDay:
		l.Stock, l.StockOf = StockOf(t.Amount, settings.Units)
		if len(t.Also) > 0 {
			l.First = namesOf(t.Also, func(a ferment.Act) string { return ferment.Spaced(string(a)) }) + " first"
		}
	}
	if e := t.Expected; e != nil && l.Word == Coming && l.Of == "" {
		l.Of = expectation(*e)
	}
	if t.Do == schedule.Reminder && t.Say != "" {
		l.Of, l.Reason = t.Say, "" // without the substance it says nothing
	}
	return l
}

// expectation writes the width of an expected date, and what would show it.
func expectation(e course.Expected) string {
	if e.Within == 0 {
		return "take a reading"
	}
	return "±" + Age(e.Within) + ": take a reading"
}

// around writes an expected time with its width.
func around(e course.Expected, now time.Time) string {
	return "about " + When(e.At, now) + ", ±" + Age(e.Within)
}

// Word is the first word of a line: a task's or a gate's state, or a kind of message. It has a mark.
type Word string

// The words. Due tasks are for today or any day; coming ones are for later today or another day.
const (
	Danger  Word = "danger"
	Stop    Word = "stop"
	Late    Word = "late"
	Held    Word = "held"
	Due     Word = "today"
	AnyDay  Word = "any day"
	Lapsed  Word = "missed"
	Option  Word = "option"
	Later   Word = "later"
	Coming  Word = "coming"
	Done    Word = "done"
	Skipped Word = "skipped"

	Open   Word = "ready"
	Shut   Word = "not yet"
	No     Word = "no"
	Saved  Word = "kept"
	Warn   Word = "warn"
	Ask    Word = "ask"
	Note   Word = "note"
	Passed Word = "passed"
	Course Word = "course"
	Do     Word = "do"
)

var marks = map[Word]rune{
	Due: '●', Late: '▲', Lapsed: '×', Skipped: '–',
	Option: '○', AnyDay: '○', Later: '○', Coming: '○',
	Danger: '◆', Stop: '◆', Held: '◆', Shut: '◆', No: '◆',
	Done: '✓', Open: '✓', Saved: '✓',
	Warn: '△', Ask: '△', Note: '·', Passed: '·',
	Course: '→', Do: '→',
}

// Now reports whether a task with the word may be done now.
func (w Word) Now() bool { return w == Late || w == Due || w == AnyDay }

// Wants reports whether a task with the word needs attention now.
func (w Word) Wants() bool { return w.Now() || w == Danger || w == Stop || w == Held }

// OnField reports whether a word has a coloured background.
func (w Word) OnField() bool { return w == Danger || w == Stop }

// Mark returns the sign of a word; each has a different shape.
func (w Word) Mark() rune { return marks[w] }

// String writes mark and word: "◆ held"; empty for no word.
func (w Word) String() string {
	if w == "" {
		return ""
	}
	return string(marks[w]) + " " + string(w)
}

// labels are the labels of acts and measurements that need more than their own word.
var labels = map[string]string{
	"look":    "look at the airlock",
	"choose":  "choose the ending",
	"accept":  "accept the finish",
	"started": "check that it has started",
	"aerate":  "air",
	"ph":      "pH",
}

var short = map[string]string{"look": "airlock", "choose": "ending", "started": "started?", "aerate": "air", "ph": "pH"}

// ActLabel returns what a task asks for: its step's title, or its act, "nutrient 2".
func ActLabel(t schedule.Task) string {
	if t.Title != "" {
		return t.Title
	}
	return labelFrom(labels, t)
}

// ShortLabel is ActLabel for little room: "airlock".
func ShortLabel(t schedule.Task) string { return labelFrom(short, t) }

// labelFrom returns a task in words: of its act, with the number or the name of the step.
func labelFrom(words map[string]string, t schedule.Task) string {
	word := cmp.Or(words[t.Do], ferment.Spaced(t.Do))
	switch number, isNumber := strings.CutPrefix(t.Step, t.Do+"-"); {
	case t.Step == "", t.Step == t.Do, t.Step == schedule.LateNutrient, ferment.IsMeasurement(t.Do), isNumber && t.Title != "" && number > "9":
		return word
	case isNumber && t.Do == string(ferment.Open) && number == "monthly":
		return "open the monthly bottle"
	case isNumber && t.Do == string(ferment.Open):
		return "open test bottle " + number
	case isNumber:
		return word + " " + ferment.Spaced(number)
	}
	return ferment.Spaced(t.Step)
}

// FreesLabel says what to do to free a held task: "read gravity", "rack".
func FreesLabel(do string) string {
	switch {
	case do == "":
		return ""
	case do == ferment.DoTemperature, do == ferment.DoVolume:
		return "read the " + do
	case ferment.IsMeasurement(do):
		return "read " + cmp.Or(labels[do], ferment.Spaced(do))
	}
	return cmp.Or(labels[do], ferment.Spaced(do))
}

// Unknown is written for an unknown value, never 0 or nothing.
const Unknown = "·"

// String writes the amount: "1.0 g", "9 × 330 mL".
func (a Amount) String() string {
	if a.Words != "" {
		return a.Words
	}
	return strings.TrimSpace(a.Number + " " + a.Unit)
}

// AmountOf writes how much a task needs, in the units of the cellar.
func AmountOf(a *schedule.Amount, s measure.System) Amount {
	switch {
	case a == nil:
		return Amount{}
	case a.Words != "":
		return Amount{Words: a.Words}
	case !a.Known:
		return Amount{Words: "amount unknown"}
	}
	q := measure.Of(a.Number, a.Unit)
	out := Amount{Number: measure.Decimal(q.Number, 1), Unit: q.Unit}
	if m, ok := q.Mass(); ok {
		out.Number, out.Unit = m.Parts(s)
	} else if v, ok := q.Volume(); ok && q.Unit == "mL" && s != measure.US {
		out.Number, out.Unit, _ = strings.Cut(v.Small(s), " ")
	} else if ok {
		out.Number, out.Unit = v.Parts(s)
	}
	return out
}

// StockOf writes the dose as a solution; nil if it can be weighed.
func StockOf(a *schedule.Amount, s measure.System) (*Amount, string) {
	if a == nil || a.Stock == nil {
		return nil, ""
	}
	number, unit := a.Stock.Volume.Parts(s)
	return &Amount{Number: number, Unit: unit}, "of the " + measure.Decimal(a.Stock.Percent, 0) + " % solution"
}

// Glass writes a gravity with the digits of an instrument, on the cellar's scale.
func Glass(g measure.Gravity, s ferment.Settings) string { return onScale(g, s, 3) }

// Exact writes a gravity that is compared with another.
func Exact(g measure.Gravity, s ferment.Settings) string { return onScale(g, s, 4) }

func onScale(g measure.Gravity, s ferment.Settings, places int) string {
	if s.Scale != "brix" {
		return g.Places(places)
	}
	b, err := gravity.ToBrix(g)
	if err != nil {
		return Unknown
	}
	return measure.Decimal(float64(b), places-2)
}
