// Package guide is what can be looked up inside the program: words, cautions
// with their sources, where each figure comes from, what to do when it is
// urgent.
package guide

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// Chapter is one page of the guide.
type Chapter struct {
	Name  string // one word
	Title string
	Parts []Part
}

// Part is one thing that can be looked up.
type Part struct {
	Head   string // a word or two; empty where the text stands alone
	Mark   words.Word
	Text   string
	Source string // where it comes from; empty where it is our own word
}

// Chapters returns the pages of the guide but for the keys, which depend on the
// settings.
func Chapters() []Chapter {
	return []Chapter{
		{"words", "what the words and marks mean", glossary()},
		{"cautions", "what can do harm, and what to do; local codes and licensed practice come before anything here", cautions()},
		{"urgent", "bottles under pressure, foam, a broken jug", urgent},
		{"discard", "what is thrown away, untasted", discard},
		{"gates", "what opens a bottle, and what resets it", gates},
		{"figures", "where each figure comes from, and how sure it is", figures()},
		{"files", "where the record is, and how it is kept", append(files[:len(files):len(files)], entryKeys()...)},
		{"law", "check your local law", law},
	}
}

func entryKeys() []Part {
	return ferment.Map(ferment.Keys(), func(k ferment.Key) Part { return Part{Head: k.Name, Text: k.Reference()} })
}

func glossary() []Part {
	parts := ferment.Map(Marks, func(m Mark) Part { return Part{Mark: m.Word, Text: m.Means} })
	parts = append(parts, ferment.Map(append(Terms, stages...), func(t Term) Part { return Part{Head: t.Term, Text: t.Means} })...)
	return parts
}

func cautions() []Part {
	var parts []Part
	for _, c := range schedule.Cautions() {
		parts = append(parts, Part{Head: strings.ReplaceAll(c.Name, "-", " "), Text: c.Text, Source: c.Source})
	}
	return append(parts, further...)
}

func figures() []Part {
	var parts []Part
	for _, f := range bench.Figures() {
		parts = append(parts, Part{Head: f.Name, Text: f.Use, Source: f.Equation + "; " + f.Source + "; how sure: " + f.Uncertainty})
	}
	return parts
}
