// Package form has what a person fills in where a line is too short: racking,
// bottling, a new ferment. A form says which fields there are, computes the outcome
// while they are typed, and what is to be written. It draws and writes nothing.
package form

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Form is a page of fields for one act at one moment.
type Form struct {
	Name    string // what keys and drafts call it: rack, bottle, new
	Title   string // what it is, in words: "rack LIME-A"
	Subject string // the ferment, lot or culture that it is of; empty for none

	// Fields are those that the values so far ask for, in their order. The first
	// may choose what the others are.
	Fields func(Values) []Field
	// Work computes what the values result in, and what is to be written.
	Work func(Values) Outcome
	// Asks are the questions about what is to be written, before it is.
	Asks func(ferment.Change) []app.Ask
}

// Field is one value of a form.
type Field struct {
	Key   string
	Label string   // at most 13 columns
	Value string   // its text until something is typed; empty for none
	From  string   // where that came from, or what is wanted, with an example
	Does  string   // what the value is, where the label does not say it
	Words []string // the words that it takes, to choose among; nil for any text
	More  bool     // folded until it is asked for: what stands there is usual
}

// Values are the texts of the fields, by key.
type Values map[string]string

// With returns the values with one more.
func (v Values) With(key, value string) Values {
	out := Values{}
	maps.Copy(out, v)
	out[key] = value
	return out
}

// Outcome is what the values result in.
type Outcome struct {
	Answer  []string     // the plain answer, the most important first; drawn bold
	Numbers []Number     // the same of a figure: what was worked out
	Lines   []words.Said // figures, cautions, gates, under the answer
	Table   [][]string   // a small table, its heads first; nil for most
	Rests   []Basis      // what it rests on: what was assumed, the equation, its source
	Log     string       // the entry line that it comes to; empty where it is no act
	Wrong   []Wrong      // what is missing or cannot be read; nothing is written while there is any
	Closed  string       // a gate or a stop that says no, by its name; a reason is wanted then
	Change  ferment.Change
}

// Number is one that was worked out, with its unit, and what it is.
type Number struct{ Value, Label string }

// Basis is something that an answer rests on, with its name.
type Basis struct{ Name, Text string }

// Wrong is what is wrong with a field, and a right example.
type Wrong struct{ Key, Text string }

// Because is the key of the field of a closed gate: the reason to go on, which is recorded.
const Because = "because"

// Filled gives the fields, and all values: those typed, else the fields' own.
func (f Form) Filled(typed Values) (fields []Field, all Values) {
	all = Values{}
	maps.Copy(all, typed)
	for n := -1; n != len(fields); { // a value may ask for further fields, and they for others
		n = len(fields)
		fields = f.Fields(all)
		for _, field := range fields {
			if _, set := typed[field.Key]; !set {
				all[field.Key] = field.Value
			}
		}
	}
	return fields, all
}

// Outcome works the form out, and asks for a reason where something is closed.
func (f Form) Outcome(typed Values) ([]Field, Outcome) {
	fields, all := f.Filled(typed)
	o := f.Work(all)
	if o.Closed != "" {
		fields = append(fields, Field{Key: Because, Label: "all the same", From: "because: a typed reason, which is recorded"})
		if all[Because] == "" {
			o.Wrong = append(o.Wrong, Wrong{Because, "a reason is wanted to go on all the same, e.g. for a friend's tasting tonight"})
		}
	}
	return fields, o
}

// Open returns a form of a ferment, lot or culture with values given; not ok for none such.
func Open(name string, s app.Snapshot, subject string, given Values) (Form, bool) {
	kind, known := kinds[name]
	if !known {
		return Form{}, false
	}
	f, ok := kind(s, subject, given)
	f.Asks = func(c ferment.Change) []app.Ask { return app.UnlikelyChange(s, c) }
	return f, ok
}

// shownValue returns a field's text in the cellar's units; under a fluid ounce mL stay.
func shownValue(text string, units measure.System) string {
	q, err := measure.ParseQuantity(text)
	if v, is := q.Volume(); err == nil && is && v < measure.LitresPerUSGallon/128 {
		return text
	}
	return measure.Converted(text, units)
}

type kind func(s app.Snapshot, subject string, given Values) (Form, bool)

var kinds = map[string]kind{
	"rack": ofVessel(Rack), "bottle": ofVessel(Bottle), "new": newKind,
	"drink": ofBatch("drink", "drink one of ", bottled.drinking), "open": ofBatch("open", "open a bottle of ", bottled.opening),
	"culture": cultureKind, "passage": passageKind, "lot": lotKind, "use": useKind,
}

func ofVessel(make func(app.Snapshot, app.Vessel, Values) Form) kind {
	return func(s app.Snapshot, subject string, given Values) (Form, bool) {
		v, is := s.Find(subject)
		if !is || v.Culture != nil {
			return Form{}, false
		}
		return make(s, v, given), true
	}
}

func (o *Outcome) say(word words.Word, text string) {
	o.Lines = append(o.Lines, words.Said{Word: word, Text: text})
}

func (o *Outcome) sayf(word words.Word, format string, args ...any) {
	o.say(word, fmt.Sprintf(format, args...))
}

func (o *Outcome) answer(text string) { o.Answer = append(o.Answer, text) }

// warn says a caution with the word of its severity.
func (o *Outcome) warn(c schedule.Caution) {
	o.say(words.Word(cmp.Or(c.Loud, schedule.Note)), c.Text)
}

// refuse says what is against the act, and closes the outcome by its name.
func (o *Outcome) refuse(no *schedule.No) {
	word := words.No
	if no.Verdict == "stop" {
		word = words.Stop
	}
	o.say(word, words.Join(": ", strings.Join(no.Why, "; "), no.Instead))
	o.close(no.Name)
}

// mayDo refuses the task where something in the record is against it.
func (o *Outcome) mayDo(t schedule.Task, v app.Vessel) {
	if no := schedule.Refusal(t, v.Day, v.Course); no != nil {
		o.refuse(no)
	}
}

func (o *Outcome) close(name string) {
	switch {
	case o.Closed == "":
		o.Closed = name
	case !slices.Contains(strings.Split(o.Closed, " and "), name):
		o.Closed += " and " + name
	}
}

// gate says what is unmet of a shut gate and what would meet it, and closes the outcome.
func (o *Outcome) gate(g schedule.Gate) {
	if g.Open {
		o.say(words.Open, string(g.Name)+": nothing is missing")
		return
	}
	o.close(string(g.Name))
	for i, u := range g.Unmet {
		text := words.Join(": ", u.What, u.Frees)
		if i == 0 {
			text = string(g.Name) + " is shut: " + text
		} else if why, _, _ := strings.Cut(u.Frees, ";"); o.said(why) {
			continue
		}
		o.say(words.Shut, text)
	}
}

func (o *Outcome) said(text string) bool {
	return text != "" && slices.ContainsFunc(o.Lines, func(l words.Said) bool { return strings.Contains(l.Text, text) })
}
