package main

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/words"
)

// table writes a table: in columns, or with --plain row by row, every cell after
// its heading. An empty row parts it from the next table, whose headings follow.
func (w world) table(f flags, rows [][]string) {
	lines := aligned(rows)
	if f.plain {
		lines = spoken(rows)
	}
	for _, line := range lines {
		fmt.Fprintln(w.out(f), line)
	}
}

// aligned pads the cells of a table to columns.
func aligned(table [][]string) []string {
	var widths []int
	for _, row := range table {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], len([]rune(cell)))
		}
	}
	rows := make([]string, len(table))
	for n, row := range table {
		var line strings.Builder
		for i, cell := range row {
			line.WriteString(cell + strings.Repeat(" ", widths[i]-len([]rune(cell))+2))
		}
		rows[n] = strings.TrimRight(line.String(), " ")
	}
	return rows
}

// spoken are the rows of a table as they are read aloud: "gravity: LIME-A 1.057;
// LIME-B 1.066; apart 0.009".
func spoken(table [][]string) []string {
	var lines, head []string
	for _, row := range table {
		switch {
		case len(row) == 0:
			head = nil
			lines = append(lines, "")
		case head == nil:
			head = row
			if row[0] != "" {
				lines = append(lines, row[0])
			}
		default:
			lines = append(lines, row[0]+": "+strings.Join(headed(head, row), "; "))
		}
	}
	return lines
}

// headed are the cells of a row after the first, each after its heading.
func headed(head, row []string) []string {
	var cells []string
	for i, cell := range row[1:] {
		if cell == "" {
			continue
		}
		of := ""
		if i+1 < len(head) {
			of = head[i+1]
		}
		cells = append(cells, words.Join(" ", of, cell))
	}
	return cells
}
