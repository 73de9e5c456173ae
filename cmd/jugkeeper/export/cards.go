package export

import (
	"strings"

	"cellar/jugkeeper/tui/layout"
)

// The paper: a page holds so many lines; two cards stand beside each other.
const (
	pageLines = 60
	pageWidth = 78
	cardWidth = 35
)

// formFeed parts pages.
const formFeed = "\f"

// cut is the line that cards are cut apart along.
var cut = strings.TrimRight(strings.Repeat("+ "+strings.Repeat("- ", (cardWidth+1)/2), 2), " ") + " +"

// cards lays cards out on pages, two in a row, with the marks to cut along.
func cards(all [][]string) string {
	var b strings.Builder
	used := 0
	for i := 0; i < len(all); i += 2 {
		pair := all[i:min(i+2, len(all))]
		row := cardRow(pair)
		if used > 0 && used+len(row)+2 > pageLines {
			b.WriteString(cut + "\n" + formFeed)
			used = 0
		}
		b.WriteString(cut + "\n" + strings.Join(row, "\n") + "\n")
		used += len(row) + 1
	}
	if used > 0 {
		b.WriteString(cut + "\n")
	}
	return b.String()
}

// cardRow is one or two cards beside each other, both as tall as the taller.
func cardRow(pair [][]string) []string {
	tall := 0
	for _, c := range pair {
		tall = max(tall, len(c))
	}
	rows := make([]string, tall)
	for y := range rows {
		for _, c := range pair {
			text := ""
			if y < len(c) {
				text = c[y]
			}
			rows[y] += ": " + layout.Pad(text, cardWidth) + " "
		}
		rows[y] += ":"
	}
	return rows
}

// written is a text in the lines of a card.
func written(texts ...string) []string {
	var out []string
	for _, t := range texts {
		out = append(out, layout.Wrap(plain(t), cardWidth)...)
	}
	return out
}

// hung is a word, and what it says beside it in the lines of a card.
func hung(word, text string, indent, width int) []string {
	var out []string
	for i, line := range layout.Wrap(plain(text), width-indent) {
		if i > 0 {
			word = ""
		}
		out = append(out, layout.Pad(word, indent)+line)
	}
	return out
}
