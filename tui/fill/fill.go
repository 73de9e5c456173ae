// Package fill is the filling in of forms, bench figures and tastings: the typed values, the cursor, what keys do, and
// how a field is drawn.
package fill

import (
	"cmp"
	"net/url"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// In is what was filled in so far. The fields are arguments, because a value may change which fields there are.
type In struct {
	Typed form.Values // values set by hand, by the keys of the fields
	Key   string      // of the field under the cursor
	Text  widget.Text // its text
}

// Value returns the text of a field: as typed, else its default.
func (in In) Value(f form.Field) string {
	if typed, set := in.Typed[f.Key]; set {
		return typed
	}
	return f.Value
}

// Index returns the index of the field under the cursor, 0 if it is gone.
func (in In) Index(fields []form.Field) int {
	return max(slices.IndexFunc(fields, func(f form.Field) bool { return f.Key == in.Key }), 0)
}

// Onto puts the cursor into a field and selects its text, so that typing replaces it.
func (in In) Onto(f form.Field) In {
	in.Key, in.Text = f.Key, widget.NewText(in.Value(f)).Selected()
	return in
}

// Behind puts the cursor after a field's text.
func (in In) Behind(f form.Field) In {
	in.Key, in.Text = f.Key, widget.NewText(in.Value(f))
	return in
}

// Set changes the value of the field under the cursor.
func (in In) Set(value string) In {
	in.Typed = in.Typed.With(in.Key, value)
	if in.Text.String() != value {
		in.Text = widget.NewText(value)
	}
	return in
}

// Press types into the field, or changes to another of its words, and reports whether it changed.
func (in In) Press(f form.Field, s intent.Stroke) (next In, changed bool) {
	value := in.Value(f)
	now := chosen(f.Words, value, s)
	if len(f.Words) == 0 {
		in.Text = in.Text.Press(s)
		now = in.Text.String()
	}
	if now == value {
		return in, false
	}
	return in.Set(now), true
}

// chosen returns the word that a key selects: the next one, or the next with that letter.
func chosen(words []string, from string, s intent.Stroke) string {
	at := slices.Index(words, from)
	switch {
	case len(words) == 0:
		return from
	case s.Name == "left":
		return words[(max(at, 0)+len(words)-1)%len(words)]
	case s.Name == "right":
		return words[(at+1)%len(words)]
	case s.Text == "":
		return from
	}
	for i := range words {
		word := words[(at+1+i)%len(words)]
		if strings.HasPrefix(strings.ToLower(word), strings.ToLower(s.Text)) {
			return word
		}
	}
	return from
}

// Encoded returns the values set by hand, as the text of a draft.
func (in In) Encoded() string {
	values := url.Values{}
	for key, value := range in.Typed {
		values.Set(key, value)
	}
	return values.Encode()
}

// Decoded returns the values set by hand with those of a draft added.
func (in In) Decoded(text string) In {
	values, err := url.ParseQuery(text)
	if err != nil {
		return in
	}
	for key := range values {
		in.Typed = in.Typed.With(key, values.Get(key))
	}
	return in
}

// Grid has the columns of fields on a page.
type Grid struct {
	Theme theme.Theme
	Page  layout.Page
	Value int  // column of a field's text
	From  int  // column of its source
	Text  int  // column of a sentence after its label
	Whole bool // show the source even after a long text
}

// Bar begins the row of a field, with a bar if the cursor is on it.
func (g Grid) Bar(here bool) layout.Row {
	if !here {
		return layout.Row{}
	}
	return layout.Row{}.At(0, g.Theme.In(theme.Accent, "▌"))
}

// Row returns one field: its label, its text or what is being typed, and its source.
func (g Grid) Row(in In, f form.Field, here bool, typing int, from string) layout.Row {
	value := cmp.Or(in.Value(f), words.Unknown)
	if typing > 0 {
		value = in.Text.Drawn(g.Theme, typing)
	}
	r := g.Bar(here).At(g.Page.Margin, f.Label).At(g.Value, value)
	if here || g.Whole || r.End() < g.From {
		r = r.At(g.From, g.Theme.Faint(from))
	}
	return r
}

// Told writes a line of the outcome.
func (g Grid) Told(l words.Said) []string {
	return widget.Labelled(g.Page, g.Text, g.Page.End(), widget.Word(g.Theme, l.Word), l.Text)
}

// Answer writes the answer: sentences in rows of their own, then numbers, several to a row.
func (g Grid) Answer(o form.Outcome) []string {
	rows := ferment.Flat(o.Answer, func(line string) []string {
		return layout.Row{}.Wrapped(g.Page.Margin, g.Page.End(), line, g.Theme.Bold)
	})
	r := layout.Row{}
	for _, n := range o.Numbers {
		part := words.Join(" ", g.Theme.Bold(n.Value), n.Label)
		switch {
		case r.End() == 0:
			r = r.At(g.Page.Margin, part)
		case r.End()+3+layout.Width(part) > g.Page.End():
			rows, r = append(rows, r.In(g.Page.End())), layout.Row{}.At(g.Page.Margin, part)
		default:
			r = r.At(r.End()+1, "· "+part)
		}
	}
	if r.End() > 0 {
		rows = append(rows, r.In(g.Page.End()))
	}
	return rows
}

// Assumptions writes the assumptions and sources of the answer; of equal labels in a row only the first is written.
func (g Grid) Assumptions(o form.Outcome) []string {
	var rows []string
	before := ""
	for _, b := range o.Rests {
		name := b.Name
		if name == before {
			name = ""
		}
		before = b.Name
		rows = append(rows, widget.Labelled(g.Page, g.Text, g.Page.End(), g.Theme.Faint(name), b.Text)...)
	}
	return rows
}

// Table writes a small table, its head faint; nothing for no rows. Where it is too wide, what is between the first and
// the last column is under them.
func (g Grid) Table(table [][]string) []string {
	widths, wide := map[int]int{}, -3
	for _, row := range table {
		for i, cell := range row {
			widths[i] = max(widths[i], layout.Width(cell))
		}
	}
	for _, w := range widths {
		wide += w + 3
	}
	var rows []string
	for n, row := range table {
		set := layout.Unstyled
		if n == 0 {
			set = g.Theme.Faint
		}
		r, at, last := layout.Row{}, g.Page.Margin, len(row)-1
		if wide > g.Page.Width {
			rows = append(rows, r.At(at, set(row[0])).Until(g.Page.End(), set(row[last])).In(g.Page.End()))
			for _, part := range layout.Wrap(strings.Join(row[1:last], ", "), g.Page.Width-2) {
				rows = append(rows, r.At(at+2, g.Theme.Faint(part)).In(g.Page.End()))
			}
			continue
		}
		for i, cell := range row {
			r = r.At(at, set(cell))
			at += widths[i] + 3
		}
		rows = append(rows, r.In(g.Page.End()))
	}
	return rows
}
