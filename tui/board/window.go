package board

import (
	"fmt"
	"strings"
)

// entry is something in a list that takes some rows and scrolls as one.
type entry struct {
	rows     []string
	gap      bool // a blank row above it
	selected bool
}

// window shows as much of a list as goes into so many rows, with the selected
// entry in it, and says how many are out of sight on either side.
func window(entries []entry, rows, indent int) []string {
	if all := flat(entries); len(all) <= rows {
		return all
	}
	first, last := 0, len(entries)
	for last-first > 1 && windowHeight(entries, first, last) > rows {
		if hasSelected(entries[first+1:last]) && !keepsSelected(entries, first, last, rows) {
			first++
		} else {
			last--
		}
	}
	return framed(entries, first, last, rows, indent)
}

// keepsSelected tells whether the selected entry would be seen if the list
// began at first and ended where the room does.
func keepsSelected(entries []entry, first, last, rows int) bool {
	for last > first+1 && windowHeight(entries, first, last) > rows {
		last--
	}
	return hasSelected(entries[first:last])
}

// windowHeight is how many rows a part of the list takes with its marks.
func windowHeight(entries []entry, first, last int) int {
	n := 0
	for i, e := range entries[first:last] {
		n += len(e.rows)
		if e.gap && i > 0 {
			n++
		}
	}
	if first > 0 {
		n++
	}
	if last < len(entries) {
		n++
	}
	return n
}

// framed is a part of the list between the marks for what is out of sight. An
// entry that fills the room alone has none.
func framed(entries []entry, first, last, rows, indent int) []string {
	body, pad := flat(entries[first:last]), strings.Repeat(" ", indent)
	if windowHeight(entries, first, last) > rows {
		return body[:min(len(body), max(rows, 0))]
	}
	if first > 0 {
		body = append([]string{fmt.Sprintf("%s↑ %d more", pad, first)}, body...)
	}
	if rest := len(entries) - last; rest > 0 {
		body = append(body, fmt.Sprintf("%s↓ %d more", pad, rest))
	}
	return body
}

func hasSelected(entries []entry) bool {
	for _, e := range entries {
		if e.selected {
			return true
		}
	}
	return false
}

func flat(entries []entry) []string {
	var out []string
	for i, e := range entries {
		if e.gap && i > 0 {
			out = append(out, "")
		}
		out = append(out, e.rows...)
	}
	return out
}
