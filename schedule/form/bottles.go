package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// bottled is a batch on the shelf as a form finds it.
type bottled struct {
	snapshot app.Snapshot
	vessel   app.Vessel
	stock    shelf.Shelf
	batch    int
}

// Batch is the key under which a form of bottles is given the batch that it is
// of: its place on the shelf, from 0.
const Batch = "batch"

// ofBatch is a kind of form that a batch of bottles has; without a word of which
// it is the first that has some left.
func ofBatch(make func(bottled) Form) kind {
	return func(s app.Snapshot, subject string, given Values) (Form, bool) {
		v, found := s.Find(subject)
		b := bottled{s, v, shelf.Of(v.Course), 0}
		n, err := strconv.Atoi(given[Batch])
		if err != nil {
			n = slices.IndexFunc(b.stock.Batches, func(b shelf.Batch) bool { return b.Left().Some() })
		}
		if b.batch = n; !found || n < 0 || n >= len(b.stock.Batches) || !b.of().Left().Some() {
			return Form{}, false
		}
		return make(b), true
	}
}

func (b bottled) of() shelf.Batch { return b.stock.Batches[b.batch] }

// field is the one that asks which bottle.
func (b bottled) field(purposes ...string) Field {
	f := Field{Key: "bottle", Label: "bottle", From: "its code, or what it is for: " + strings.Join(ferment.ForWords, ", ")}
	for _, p := range purposes {
		if f.Value = b.stock.Name(b.batch, p); f.Value != "" {
			break
		}
	}
	return f
}

// wrong says that no bottle is meant.
func (b bottled) wrong(name string) []Wrong {
	if b.stock.Knows(name) {
		return nil
	}
	right := shelf.Drink
	for _, l := range b.of().Lines {
		if len(l.Codes) > 0 {
			right = l.Codes[0]
			break
		}
	}
	return []Wrong{{"bottle", fmt.Sprintf("no bottle of %s is called %q: write its code or what it is for, e.g. %s", b.vessel.Label(), name, right)}}
}

// taken is what an entry takes off the shelf.
func (b bottled) taken(e ferment.Entry) (t shelf.Taken, after shelf.Shelf) {
	after = b.stock.With(e)
	if n := len(after.Taken); n > len(b.stock.Taken) {
		t = after.Taken[n-1]
	}
	return t, after
}

// less says what is left on the shelf afterwards: "GORSE 10 to 9".
func (b bottled) less(after shelf.Shelf) string {
	return fmt.Sprintf("%s %s to %s", b.vessel.Label(), b.stock.Left(), after.Left())
}

// eats warns where a bottle is missed by the tastings that are still to come.
func (b bottled) eats(t shelf.Taken) []words.Said {
	if t.Again || t.Batch != b.batch || t.Purpose == "" {
		return nil
	}
	toCome := words.TastingsToCome(b.vessel, b.of(), b.snapshot.At)
	if !b.of().Eats(t.Purpose, toCome) {
		return nil
	}
	left := words.Plural(b.of().Left(shelf.Tasting, shelf.Drink).N-1, "bottle") + " left for them"
	if t.Purpose == shelf.Tasting {
		left = "this is one of the " + words.Plural(b.of().Left(shelf.Tasting).N, "bottle") + " kept for them"
	}
	return []words.Said{{Word: words.Warn, Text: fmt.Sprintf("%s of it still to come, and %s: another batch, or one tasting fewer", words.Plural(toCome, "tasting"), left)}}
}

// drinking takes a bottle of a batch off the shelf that is drunk, given away or
// poured away. It is written as an opening that names its bottle, or as a bottle
// dumped; nothing is told of it, so that it is no opening of the plan.
func drinking(b bottled) Form {
	f := Form{Name: "drink", Title: "drink one of " + b.vessel.Label(), Subject: b.vessel.ID()}
	f.Fields = func(Values) []Field {
		return []Field{
			b.field(shelf.Drink, shelf.Keep, shelf.Tasting, shelf.Test),
			{Key: "how", Label: "what of it", Value: drunk, Words: []string{drunk, givenAway, pouredAway}},
			{Key: "note", Label: "note", From: "with whom, with what: any words, or none"},
		}
	}
	f.Work = b.drunk
	return f
}

// What can become of a bottle without a tasting.
const (
	drunk      = "drunk"
	givenAway  = "given away"
	pouredAway = "poured away"
)

func (b bottled) drunk(v Values) Outcome {
	e := ferment.Entry{At: ferment.At(b.snapshot.At), Did: ferment.Open, Bottle: strings.TrimSpace(v["bottle"]), Note: v["note"]}
	switch v["how"] {
	case pouredAway:
		e.Did = ferment.Dump
	case givenAway:
		e.Note = words.Join("; ", givenAway, v["note"])
	}
	o := Outcome{Wrong: b.wrong(e.Bottle)}
	if e.Did == ferment.Open && !b.of().Still() {
		e = b.mayOpen(&o, e, schedule.Task{Do: string(ferment.Open)}, v)
	}
	t, after := b.taken(e)
	if len(o.Wrong) == 0 && t.Again {
		o.Wrong = []Wrong{{"bottle", t.Code + " is gone already: write another, or what it is for, e.g. drink"}}
	}
	o.Answer = []string{b.less(after) + ", " + after.Left(shelf.Drink).String() + " of them to drink"}
	o.Lines = append(append(o.Lines, b.eats(t)...), b.fromReserve(t)...)
	o.Lines = append(o.Lines, b.care()...)
	o.Change.Entries = []ferment.Logged{{Subject: b.vessel.ID(), Entries: []ferment.Entry{e}}}
	return o
}

// fromReserve says that a bottle was kept for something else.
func (b bottled) fromReserve(t shelf.Taken) []words.Said {
	switch t.Purpose {
	case shelf.Test:
		return []words.Said{{Word: words.Note, Text: "it is one of those for a test: opened with nothing told of it, it tells nothing of the others"}}
	case shelf.Keep:
		return []words.Said{{Word: words.Note, Text: "it is one of those that are kept"}}
	}
	return nil
}

// care is what to be careful of with a bottle under pressure.
func (b bottled) care() []words.Said {
	var lines []words.Said
	if c := schedule.BottledCaution(b.vessel.Course, b.stock, b.batch); c != nil && c.Loud == schedule.Stop {
		lines = append(lines, words.Said{Word: words.Stop, Text: c.Text})
	}
	if !b.of().Still() {
		lines = append(lines, words.Said{Word: words.Warn, Text: schedule.CautionOf("open-cool", b.snapshot.Cellar.Settings.Units).Text})
	}
	return lines
}

// opening opens a bottle of a batch as a test, for the task that asks for it:
// how it hissed and foamed, how sweet it was. Where something in the record
// stops it, a typed reason is wanted.
func opening(b bottled) Form {
	f := Form{Name: "open", Title: "open a bottle of " + b.vessel.Label(), Subject: b.vessel.ID()}
	f.Fields = func(Values) []Field {
		return []Field{
			b.field(shelf.Test, shelf.Drink, shelf.Tasting, shelf.Keep),
			{Key: "hiss", Label: "hiss", From: "0 nothing, 1 a sigh, 3 lively, 5 it gushes"},
			{Key: "foam", Label: "foam", From: measure.Fill("how high in the glass, e.g. {2 cm}", b.snapshot.Cellar.Settings.Units)},
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
	e.Foam, wrong = read(wrong, v, "foam", func(text string) (measure.Given[measure.Depth], error) {
		return measure.ParseDepth(measure.WithUnit(text, measure.Turned("2 cm", b.snapshot.Cellar.Settings.Units)))
	})
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
	o.Change.Entries = []ferment.Logged{{Subject: b.vessel.ID(), Entries: []ferment.Entry{e}}}
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
	o.Lines = append(o.Lines, words.Said{Word: words.Stop, Text: words.Join("; ", append(no.Why, no.Instead)...)})
	e.Overrode, e.Because = no.Name, v[Because]
	return e
}

// says is what follows from an opening: the danger that it tells of, and the
// tasks that it sets off.
func (b bottled) says(e ferment.Entry, after shelf.Shelf) []words.Said {
	var lines []words.Said
	c := b.vessel.Course
	c.Entries = append(c.Entries[:len(c.Entries):len(c.Entries)], &e)
	if now := schedule.BottledCaution(c, after, b.batch); now != nil && now.Loud == schedule.Stop {
		lines = append(lines, words.Said{Word: words.Stop, Text: now.Text})
	}
	for _, effect := range app.Meaning(b.snapshot, b.vessel, e).Effects {
		t := effect.Task
		if t.State == schedule.Due || t.State == schedule.Late {
			lines = append(lines, words.Said{Word: words.WordOf(t), Text: words.Join(": ", words.ActLabel(t), t.Say)})
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
