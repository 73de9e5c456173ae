// Package form has the forms for acts that need more than a line: racking, bottling, a new ferment. A form has its
// fields, and computes the outcome and the change to write while a person types. It draws and writes nothing.
package form

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Form is a page of fields for one act at one moment.
type Form struct {
	Name    string // in keys and drafts: rack, bottle, new
	Title   string // in words: "rack LIME-A"
	Subject string // the ferment, lot or culture; empty for none

	// Fields returns the fields for the values so far, in order. The first may decide about the others.
	Fields func(Values) []Field
	// Work computes the outcome of the values, and the change to write.
	Work func(Values) Outcome
	// Asks returns the questions about a change before it is written.
	Asks func(ferment.Change) []app.Ask
}

// Field is one value of a form.
type Field struct {
	Key   string
	Label string   // at most 13 columns
	Value string   // default text; empty for none
	From  string   // source of the default, or what is wanted, with an example
	Does  string   // what the value is, if the label does not say it
	Words []string // words to choose from; nil for free text
	More  bool     // folded, because the default is usual
}

// Values are the texts of the fields, by key.
type Values map[string]string

// With returns a copy with one more value.
func (v Values) With(key, value string) Values {
	out := Values{}
	maps.Copy(out, v)
	out[key] = value
	return out
}

// Outcome is the result of the values.
type Outcome struct {
	Answer  []string      // the answer, the most important part first; drawn bold
	Numbers []Number      // results of a figure
	Lines   []words.Said  // figures, cautions, gates, below the answer
	Table   [][]string    // a small table with a head; nil for most
	Curves  []bench.Curve // a figure over the range of one of its inputs; nil for most
	Rests   []Basis       // assumptions, equation, source
	Log     string        // the entry line for it; empty if it is not an act
	Wrong   []Wrong       // missing or unreadable values; nothing is written while there are any
	Closed  string        // name of the gate or stop that forbids it, so that a reason is needed
	Change  ferment.Change
}

// Number is a result with its unit, and its label.
type Number struct{ Value, Label string }

// Basis is an assumption or source of an answer, with its label.
type Basis struct{ Name, Text string }

// Wrong is what is wrong with a field, with a right example.
type Wrong struct{ Key, Text string }

// Because is the key of the reason to write in spite of a closed gate.
const Because = "because"

// Filled returns the fields, and all values: as typed, else the defaults.
func (f Form) Filled(typed Values) (fields []Field, all Values) {
	all = Values{}
	maps.Copy(all, typed)
	for n := -1; n != len(fields); { // a value may add further fields
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

// Outcome returns fields and outcome; a closed one gets a field for the reason.
func (f Form) Outcome(typed Values) ([]Field, Outcome) {
	fields, all := f.Filled(typed)
	o := f.Work(all)
	if o.Closed != "" {
		fields = append(fields, Field{Key: Because, Label: "do it anyway", From: "type the reason; it is recorded"})
		if all[Because] == "" {
			o.Wrong = append(o.Wrong, Wrong{Because, "doing it anyway needs a reason, e.g. for a friend's tasting tonight"})
		}
	}
	return fields, o
}

// Open returns a form of a ferment, lot or culture with values; not ok if there is none.
func Open(name string, s app.Snapshot, subject string, given Values) (Form, bool) {
	kind, known := kinds[name]
	if !known {
		return Form{}, false
	}
	f, ok := kind(s, subject, given)
	f.Asks = func(c ferment.Change) []app.Ask { return app.UnlikelyChange(s, c) }
	return f, ok
}

// shownValue converts a field's text to the cellar's units; less than a fluid ounce stays in mL.
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

// ofVessel makes a kind of form that needs a ferment.
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

func (o *Outcome) warn(c schedule.Caution) {
	o.say(words.Word(cmp.Or(c.Loud, schedule.Note)), c.Text)
}

// refuse adds what forbids the act, and closes the outcome by its name.
func (o *Outcome) refuse(no *schedule.No) {
	word := words.No
	if no.Verdict == "stop" {
		word = words.Stop
	}
	o.say(word, words.Join(": ", strings.Join(no.Why, "; "), no.Instead))
	o.close(no.Name)
}

// refuseForbidden refuses the task if something in the record forbids it.
func (o *Outcome) refuseForbidden(t schedule.Task, v app.Vessel) {
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

// gate adds the unmet conditions of a shut gate with what would meet them, and closes the outcome.
func (o *Outcome) gate(g schedule.Gate) {
	if g.Open {
		o.say(words.Open, string(g.Name)+": nothing is missing")
		return
	}
	o.close(string(g.Name))
	for i, u := range g.Unmet {
		text := words.Join(": ", u.What, u.Frees)
		if i == 0 {
			text = string(g.Name) + " is not ready: " + text
		} else if why, _, _ := strings.Cut(u.Frees, ";"); o.said(why) {
			continue
		}
		o.say(words.Shut, text)
	}
}

// said reports whether a line of the outcome has the text already.
func (o *Outcome) said(text string) bool {
	return text != "" && slices.ContainsFunc(o.Lines, func(l words.Said) bool { return strings.Contains(l.Text, text) })
}
