// Package form is what a person fills in where a line is too short: racking,
// bottling, a new ferment. A form says which fields there are, works out what
// comes of them while they are typed, and what is to be written. It draws
// nothing and writes nothing.
package form

import (
	"maps"

	"cellar/jugkeeper/ferment"
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
	// Work says what comes of the values, and what is to be written.
	Work func(Values) Outcome
}

// Field is one value of a form.
type Field struct {
	Key   string
	Label string   // at most 13 columns
	Value string   // what stands there until something is typed; empty for nothing
	From  string   // where that came from, or what is wanted, with an example
	Words []string // the words that it takes, to choose among; nil for any text
}

// Values are what stands in the fields, by key, as text.
type Values map[string]string

// Outcome is what comes of the values.
type Outcome struct {
	Answer []string // the plain answer, the most important first; drawn bold
	Lines  []Line   // figures, cautions, gates, under the answer
	Wrong  []Wrong  // what is missing or cannot be read; nothing is written while there is any
	Closed string   // a gate or a stop that says no, by its name; a reason is wanted then
	Deed   ferment.Deed
}

// Line is a sentence of an outcome under its word, "" for none.
type Line struct {
	Word words.Word
	Text string
}

// Wrong is what is wrong with a field, and a right example.
type Wrong struct{ Key, Text string }

// Because is the key of the field that a closed gate opens: the typed reason to
// go on all the same. It is recorded.
const Because = "because"

// Filled is the form with what was typed laid over what stood there.
func (f Form) Filled(typed Values) (fields []Field, all Values) {
	all = maps.Clone(typed)
	if all == nil {
		all = Values{}
	}
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
