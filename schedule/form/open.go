package form

import (
	"cmp"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func init() { kinds["open"] = ofBatch(opening) }

// opening opens a bottle of a batch as a test, for the task that asks for it:
// how it hissed and foamed, how sweet it was. Where something in the record
// stops it, a typed reason is wanted.
func opening(b bottled) Form {
	f := Form{Name: "open", Title: "open a bottle of " + b.vessel.Label(), Subject: b.vessel.ID()}
	f.Fields = func(Values) []Field {
		return []Field{
			b.field(shelf.Test, shelf.Drink, shelf.Tasting, shelf.Keep),
			{Key: "hiss", Label: "hiss", From: "0 nothing, 1 a sigh, 3 lively, 5 it gushes"},
			{Key: "foam", Label: "foam", From: "how high in the glass, e.g. 2 cm"},
			{Key: "sweet", Label: "sweetness", From: "any words: yes, a little, dry"},
			{Key: "gravity", Label: "gravity", From: "of the flat sample, if it was read, e.g. 0.998"},
			{Key: "note", Label: "note", From: "any words, or none"},
		}
	}
	f.Work = b.opened
	return f
}

func (b bottled) opened(v Values) Outcome {
	e := ferment.Entry{At: ferment.At(b.snapshot.At), Did: ferment.Open, Bottle: strings.TrimSpace(v["bottle"]), Note: v["note"]}
	e.Taste.Palate = strings.TrimSpace(v["sweet"])
	o := Outcome{Wrong: b.wrong(e.Bottle)}
	var wrong []Wrong
	e.Hiss, wrong = read(wrong, v, "hiss", measure.ParseHiss)
	e.Foam, wrong = read(wrong, v, "foam", depthIn(b.snapshot.Cellar.Settings.Units))
	e.Gravity, wrong = read(wrong, v, "gravity", measure.ParseGravity)
	o.Wrong = append(o.Wrong, wrong...)
	if len(wrong) == 0 && !e.Hiss.Known() && !e.Foam.Known() && e.Taste.Palate == "" {
		o.Wrong = append(o.Wrong, Wrong{"hiss", "nothing is told of it yet: write how loudly it hissed, 0 to 5, e.g. 3"})
	}
	task := b.task()
	e.Step = task.Step
	e = b.mayOpen(&o, e, task, v)
	_, after := b.taken(e)
	o.Answer = []string{b.less(after)}
	if e.Hiss.Known() {
		o.Lines = append(o.Lines, b.says(e, after)...)
	}
	o.Lines = append(o.Lines, b.care()...)
	o.Deed.Entries = []ferment.Logged{{Subject: b.vessel.ID(), Entries: []ferment.Entry{e}}}
	return o
}

// task is the opening that the plan asks for now, else one that no plan asks
// for.
func (b bottled) task() schedule.Task {
	for _, t := range b.vessel.Day.Tasks {
		if t.Do == string(ferment.Open) && (t.State == schedule.Due || t.State == schedule.Late || t.State == schedule.Held) {
			return t
		}
	}
	return schedule.Task{Do: string(ferment.Open)}
}

// mayOpen closes a form where something in the record stops the opening; the
// entry then carries what was passed and the typed reason.
func (b bottled) mayOpen(o *Outcome, e ferment.Entry, t schedule.Task, v Values) ferment.Entry {
	no := schedule.Refusal(t, b.vessel.Day, b.vessel.Course)
	if no == nil {
		return e
	}
	o.Closed = no.Name
	o.Lines = append(o.Lines, Line{words.Stop, joined("; ", append(no.Why, no.Instead)...)})
	e.Overrode, e.Because = no.Name, v[Because]
	return e
}

// says is what follows from an opening: the danger that it tells of, and the
// tasks that it sets off.
func (b bottled) says(e ferment.Entry, after shelf.Shelf) []Line {
	var lines []Line
	c := b.vessel.Course
	c.Entries = append(c.Entries[:len(c.Entries):len(c.Entries)], &e)
	if now := schedule.BottledCaution(c, after, b.batch); now != nil && now.Loud == schedule.Stop {
		lines = append(lines, Line{words.Stop, now.Text})
	}
	for _, effect := range app.Meaning(b.snapshot, b.vessel, e).Effects {
		t := effect.Task
		if t.State == schedule.Due || t.State == schedule.Late {
			lines = append(lines, Line{words.WordOf(t), joined(": ", words.ActLabel(t), t.Say)})
		}
	}
	return lines
}

// read is a field's value, nothing for an empty one.
func read[T any](wrong []Wrong, v Values, key string, parse func(string) (measure.Given[T], error)) (measure.Given[T], []Wrong) {
	text := strings.TrimSpace(v[key])
	if text == "" {
		return measure.Given[T]{}, wrong
	}
	given, err := parse(text)
	if err != nil {
		return measure.Given[T]{}, append(wrong, Wrong{key, err.Error()})
	}
	return given, wrong
}

// depthIn reads a depth; a number alone is in centimetres, or in inches in US
// units.
func depthIn(units measure.System) func(string) (measure.Given[measure.Depth], error) {
	unit := map[measure.System]string{measure.US: " in"}[units]
	return func(text string) (measure.Given[measure.Depth], error) {
		if strings.Trim(text, "0123456789.,") == "" {
			text += cmp.Or(unit, " cm")
		}
		return measure.ParseDepth(text)
	}
}
