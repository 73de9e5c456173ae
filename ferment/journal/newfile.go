package journal

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// NewFerment returns the file of a new ferment, which reads back as it is: what is
// known is written, the rest is a comment to fill in.
func NewFerment(f ferment.Ferment) ([]byte, error) {
	d := draft{Ferment: f}
	lines := []string{"# yaml-language-server: $schema=../" + schemaFile("ferment"), fmt.Sprintf("format: %d", Newest)}
	for _, key := range fermentTable.fields[1:] {
		switch key.key {
		case "must":
			lines = append(lines, groupLines("must", mustTable, &d.Must, map[string][]item{
				"honey": itemsFrom(d.Must.Honey, lineItem(honeyTable)),
				"fruit": itemsFrom(d.Must.Fruit, lineItem(fruitTable)),
			})...)
		case "yeast":
			lines = append(lines, groupLines("yeast", yeastTable, &d.Yeast, nil)...)
		case "log":
			lines = append(append(lines, "log:"), itemLines(itemsFrom(d.Log, entryItem), "  ", " ")...)
		default:
			lines = append(lines, keyLine(key, &d, ""))
		}
	}
	text := []byte(strings.Join(lines, "\n") + "\n")
	again := ReadFerment(openFile(d.ID), text, time.UTC)
	if len(again.Problems) > 0 {
		return text, &ProblemError{again.Problems}
	}
	got := draft{Ferment: again.Value}
	if got, want := fermentTable.braces(&got, compared), fermentTable.braces(&d, compared); got != want {
		return text, fmt.Errorf("%s would be read as %s instead of %s", openFile(d.ID), short(got, 400), short(want, 400))
	}
	return text, nil
}

// keyLine returns a key of a new file and what it is about, a comment without a value.
func keyLine[T any](f field[T], from *T, margin string) string {
	line, value := margin+f.key+": ", f.write(from, block)
	if value == "" {
		line, value = margin+"# "+f.key+": ", f.example
	}
	about := f.does
	if f.shape.form == Word {
		about += " (" + or(f.shape.words) + ")"
	}
	if about == "" {
		return line + value
	}
	return fmt.Sprintf("%-39s # %s", line+value, about)
}

// groupLines returns a noun with a key a line, and its lists an item a line. One of
// which nothing is known is a comment.
func groupLines[T any](key string, t *table[T], from *T, lists map[string][]item) []string {
	lines := []string{key + ":"}
	if t.braces(from, flow) == "" {
		lines[0] = "# " + lines[0]
	}
	for _, f := range t.fields {
		if items := lists[f.key]; len(items) > 0 {
			lines = append(append(lines, "  "+f.key+":"), itemLines(items, "    ", " ")...)
		} else {
			lines = append(lines, keyLine(f, from, "  "))
		}
	}
	return lines
}
