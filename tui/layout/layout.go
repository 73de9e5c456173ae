// Package layout is arithmetic on columns: how wide a text is, how it is cut,
// padded, aligned and wrapped. Widths are those of a terminal, where a wide letter
// takes two columns and an escape code none; a letter of ambiguous width takes one.
package layout

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// The smallest screen that can be drawn on.
const (
	LeastWidth  = 60
	LeastHeight = 15
)

// Fits reports whether a screen of that size can be drawn on.
func Fits(width, height int) bool { return width >= LeastWidth && height >= LeastHeight }

// Narrow is the width under which the page has the narrow columns.
const Narrow = 66

// Page is the part of a screen for text: its first column and its width.
type Page struct{ Margin, Width int }

// PageOf returns the page of a screen of that many columns.
func PageOf(columns int) Page {
	if columns < Narrow {
		return Page{Margin: 2, Width: max(columns-3, 0)}
	}
	return Page{Margin: 3, Width: columns - 5}
}

// Ending puts a text so that it ends before a column; set adds the colour.
func (r Row) Ending(column int, text string, set func(string) string) Row {
	return r.At(column-Width(text), set(text))
}

// Unstyled returns the text unchanged.
func Unstyled(text string) string { return text }

// End returns the column after the last one of the page.
func (p Page) End() int { return p.Margin + p.Width }

// Row is a row being filled from the left, in columns from 0. Texts may carry colours.
type Row struct{ text string }

// At puts a text into a column, or after one space if that is taken.
func (r Row) At(column int, text string) Row {
	if text == "" {
		return r
	}
	have := Width(r.text)
	if have > column {
		column = have + 1
	}
	return Row{r.text + spaces(column-have) + text}
}

// Until puts a text so that it ends before a column, and cuts what would overlap.
func (r Row) Until(column int, text string) Row {
	if text == "" {
		return r
	}
	from := column - Width(text)
	if Width(r.text) > from-2 {
		r.text = Cut(r.text, from-2)
	}
	return r.At(max(from, 0), text)
}

// End returns the column after the last text.
func (r Row) End() int { return Width(r.text) }

// Fits reports whether a text can end before a column, with two free columns before it.
func (r Row) Fits(column int, text string) bool {
	return text == "" || r.End()+2 <= column-Width(text)
}

// In returns the row in at most w columns, with an ellipsis if it was cut.
func (r Row) In(w int) string { return strings.TrimRight(Cut(r.text, w), " ") }

// Wrapped returns the row with a text from a column on, in as many rows as it needs; set adds the colour.
func (r Row) Wrapped(column, end int, text string, set func(string) string) []string {
	var rows []string
	for _, line := range Wrap(text, max(end-column, 8)) {
		rows, r = append(rows, r.At(column, set(line)).In(end)), Row{}
	}
	return rows
}

// Point splits a number at its decimal sign, or at its end.
func Point(number string) (before, after string) {
	i := strings.IndexByte(number, '.')
	if i < 0 {
		return number, ""
	}
	return number[:i], number[i:]
}

// AtPoint puts a number with its decimal sign in a column; set adds the colour.
func (r Row) AtPoint(column int, number string, set func(string) string) Row {
	before, _ := Point(number)
	return r.At(column-Width(before), set(number))
}

// Overlay replaces the blanks at the beginning of a row by a text.
func Overlay(lead, row string) string {
	n := Width(lead)
	if blanks := len(row) - len(strings.TrimLeft(row, " ")); blanks >= n {
		return lead + row[n:]
	}
	return strings.TrimRight(lead+" "+strings.TrimLeft(row, " "), " ")
}

// Width returns how many columns a text takes.
func Width(s string) int { return ansi.StringWidth(s) }

// Cut returns the text in at most w columns, with an ellipsis where it was cut off: after a word, if half of the width
// is used by then.
func Cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	cut := ansi.Truncate(s, w, "…")
	if cut == s {
		return s
	}
	left := strings.TrimSuffix(ansi.Strip(cut), "…")
	words := strings.TrimRight(left[:max(strings.LastIndexAny(left, " -"), 0)], " ,;:-")
	if strings.HasPrefix(ansi.Strip(s), left+" ") || 2*Width(words) < w {
		return cut
	}
	return ansi.Truncate(s, Width(words)+1, "…")
}

// Pad returns the text in exactly w columns, cut or filled up at the right.
func Pad(s string, w int) string {
	s = Cut(s, w)
	return s + spaces(w-Width(s))
}

// Right returns the text in exactly w columns, cut or filled up at the left.
func Right(s string, w int) string {
	s = Cut(s, w)
	return spaces(w-Width(s)) + s
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }

// Wrap breaks a text into lines of at most w columns, between words but not between a number and its unit; after a
// clause if that costs no extra line. A word wider than a line is broken.
func Wrap(text string, w int) []string {
	if w <= 0 {
		return nil
	}
	lines := WrapWords(text, w)
	if clauses := fill(text, w, 3*w/5); len(clauses) == len(lines) {
		return clauses
	}
	return lines
}

// WrapWords is Wrap without preferring clauses.
func WrapWords(text string, w int) []string {
	if w <= 0 {
		return nil
	}
	return fill(text, w, w)
}

// fill breaks a text into lines, after a clause that ends in column atLeast or later, else after a word.
func fill(text string, w, atLeast int) []string {
	var lines, line []string
	for _, word := range whole(text) {
		pieces := []string{word}
		if Width(word) > w {
			pieces = strings.Fields(ansi.Hardwrap(word, w, false))
		}
		for _, piece := range pieces {
			if len(line) > 0 && Width(strings.Join(line, " "))+1+Width(piece) > w {
				n := lastClause(line, atLeast)
				lines, line = append(lines, strings.Join(line[:n], " ")), slices.Clone(line[n:])
			}
			line = append(line, piece)
		}
	}
	if len(line) > 0 {
		lines = append(lines, strings.Join(line, " "))
	}
	return lines
}

// lastClause returns how many words of a line there are up to the end of its last clause, if that is far enough to the
// right.
func lastClause(line []string, atLeast int) int {
	for n := len(line); n > 0; n-- {
		if strings.ContainsAny(line[n-1][len(line[n-1])-1:], ",;:.") && Width(strings.Join(line[:n], " ")) >= atLeast {
			return n
		}
	}
	return len(line)
}

// whole splits a text into words, with a number and its unit, or month, as one.
func whole(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		n := len(out)
		if n > 0 && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789") && slices.Contains(units, strings.TrimRight(word, ",;:.")) {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

var units = []string{"g", "kg", "mg", "mL", "L", "mg/L", "g/L", "h", "d", "min", "mo", "y", "%", "°C", "°F", "bar", "psi", "cm", "oz", "lb",
	"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// Clauses returns the parts of a sentence, each with the sign that ends it.
func Clauses(text string) []string {
	var out []string
	for text != "" {
		i := clauseEnd(text)
		out, text = append(out, text[:i]), strings.TrimLeft(text[i:], " ")
	}
	return out
}

// clauseEnd returns where the first clause ends: after , : ; or . that a space follows.
func clauseEnd(text string) int {
	for i := 0; i+1 < len(text); i++ {
		if strings.IndexByte(",;:.", text[i]) >= 0 && text[i+1] == ' ' && !strings.HasSuffix(text[:i+1], "e.g.") {
			return i + 1
		}
	}
	return len(text)
}

// CutClauses returns the whole clauses of a text that fit into w columns, or at least some words.
func CutClauses(text string, w int) string {
	out := ""
	for _, c := range Clauses(text) {
		longer := strings.TrimLeft(out+" "+c, " ")
		if Width(strings.TrimRight(longer, ",;:.")) > w {
			break
		}
		out = longer
	}
	if out == "" {
		return CutWords(text, w)
	}
	return strings.TrimRight(out, ",;:.")
}

// CutWords returns as many whole words as fit, with an ellipsis if some did not.
func CutWords(text string, w int) string {
	if Width(text) <= w {
		return text
	}
	if lines := WrapWords(text, w-1); len(lines) > 0 {
		return Cut(strings.TrimRight(lines[0], ",;:. ")+"…", w)
	}
	return Cut(text, w)
}
