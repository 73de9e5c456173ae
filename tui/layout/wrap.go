package layout

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Wrap breaks a text into lines of at most w columns, between words and never
// between a number and its unit; after a clause where that costs no line more.
// A word wider than a line is broken.
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

// WrapWords is Wrap without regard to clauses.
func WrapWords(text string, w int) []string {
	if w <= 0 {
		return nil
	}
	return fill(text, w, w)
}

// fill breaks a text into lines. One that is full is broken behind its last
// clause, if that ends in column atLeast or later, else behind its last word.
func fill(text string, w, atLeast int) []string {
	var lines, line []string
	for _, word := range whole(text) {
		for _, piece := range pieces(word, w) {
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

// lastClause is how many words of a line stand before the end of its last
// clause, if that is far enough to the right.
func lastClause(line []string, atLeast int) int {
	for n := len(line); n > 0; n-- {
		if strings.ContainsAny(line[n-1][len(line[n-1])-1:], ",;:.") && Width(strings.Join(line[:n], " ")) >= atLeast {
			return n
		}
	}
	return len(line)
}

// whole are the words of a text, a number and its unit as one.
func whole(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		if n := len(out); n > 0 && isNumber(out[n-1]) && isUnit(word) {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

func isNumber(word string) bool {
	return word != "" && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

var units = []string{"g", "kg", "mg", "mL", "L", "mg/L", "g/L", "h", "d", "min", "mo", "y", "%", "°C", "°F", "bar", "psi", "cm", "oz", "lb"}

func isUnit(word string) bool { return slices.Contains(units, strings.TrimRight(word, ",;:.")) }

// pieces breaks a word that is wider than a line.
func pieces(word string, w int) []string {
	if Width(word) <= w {
		return []string{word}
	}
	return strings.Fields(ansi.Hardwrap(word, w, false))
}

// Clauses are the parts of a sentence, each with the sign that ends it.
func Clauses(text string) []string {
	var out []string
	for text != "" {
		i := clauseEnd(text)
		out, text = append(out, text[:i]), strings.TrimLeft(text[i:], " ")
	}
	return out
}

// clauseEnd is where the first clause of a text ends: after a comma, a colon, a
// semicolon or a full stop that a space follows.
func clauseEnd(text string) int {
	for i := 0; i+1 < len(text); i++ {
		if strings.IndexByte(",;:.", text[i]) >= 0 && text[i+1] == ' ' {
			return i + 1
		}
	}
	return len(text)
}

// FirstClause is the beginning of a sentence, without the sign that ends it.
func FirstClause(text string) string { return strings.TrimRight(text[:clauseEnd(text)], ",;:.") }

// CutClauses is as many whole clauses of a text as fit into w columns. Where
// not even the first does, it is cut between words, with an ellipsis.
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

// CutWords is as many whole words as fit, with an ellipsis where some did not.
func CutWords(text string, w int) string {
	if Width(text) <= w {
		return text
	}
	if lines := Wrap(text, w-1); len(lines) > 0 {
		return Cut(strings.TrimRight(lines[0], ",;:. ")+"…", w)
	}
	return Cut(text, w)
}
